//! The U.S. National Weather Service: a point leads to a grid cell, whose raw layers are the
//! forecast; where a layer is empty, the hourly periods of the same cell stand in for it.
//!
//! A layer's value holds for a whole interval. Amounts of rain and snow are the interval's total,
//! mostly of six hours: no truly hourly rain exists here.

mod grid;
mod hourly;
mod interval;
mod parse;
mod point;
mod url;

pub use parse::{GridFacts, grid_facts, parse_forecast, parse_hourly};
pub use point::{GridCell, parse_point};
pub use url::{grid_url, hourly_url, in_coverage, point_url};

/// The service's own host.
pub const BASE: &str = "https://api.weather.gov";
/// Public domain; the credit is a courtesy.
pub const ATTRIBUTION: &str = "Forecast by the U.S. National Weather Service (weather.gov)";
