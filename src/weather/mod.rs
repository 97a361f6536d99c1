//! Weather: one normalized hourly series, and the services and files that it comes from.
//!
//! [`Forecast`] is what the rest of the house sees, and [`forecast_for`] is how it is asked for.
//! Units, time stamps and field names of the services end at their parsers, in [`sources`]. Only
//! this room uses the network; it reads no clock.

mod ask;
mod cache;
mod error;
mod fetch;
mod forecast;
mod hour;
mod hour_line;
mod joined;
mod place;
mod settings;
pub mod sources;
pub mod years;

pub use ask::{Answer, Request, forecast_for, time_zone_for};
pub use error::WeatherError;
pub use fetch::{Failure, Jitter, Patience};
pub use forecast::{AirCover, Forecast, ForecastSpan, Provenance, floor_hour};
pub use hour::{Field, Hour, HourSum};
pub use hour_line::HourLine;
pub use place::Place;
pub use settings::{Service, Source, SourceSettings};
