//! Open-Meteo: the forecast endpoint, asked in UTC and unix time, and its reply.
//!
//! Rain, gust and radiation stamped `t` belong to the hour that ends at `t`; temperatures and mean
//! wind hold at `t`. The reply is read by its own `hourly_units`, whatever was asked for.

mod parse;
mod table;
mod url;
mod wire;

pub use parse::{parse_forecast, parse_time_zone};
pub use url::{forecast_url, time_zone_url};

/// The free host: for non-commercial use only.
pub const FREE_BASE: &str = "https://api.open-meteo.com";
/// The host for holders of a key.
pub const CUSTOMER_BASE: &str = "https://customer-api.open-meteo.com";
/// The credit that the license (CC BY 4.0) asks for; values are converted and moved to their hour.
pub const ATTRIBUTION: &str = "Weather data by Open-Meteo.com (https://open-meteo.com/), \
     CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/), converted";
/// What a problem with the body is reported against.
const EXPECTED: &str = "a forecast of Open-Meteo";
