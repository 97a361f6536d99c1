//! Weather: one normalized hourly series, and the services and files that it comes from.
//!
//! [`Forecast`] is what the rest of the house sees. Units, time stamps and field names of the
//! services end at their parsers, in [`sources`].

mod forecast;
mod place;
pub mod sources;

pub use forecast::{
    AirCover, Field, Forecast, ForecastSpan, Hour, HourSum, Provenance, floor_hour,
};
pub use place::Place;
