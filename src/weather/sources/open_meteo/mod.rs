//! Open-Meteo: the forecast, the ensemble and the archive endpoint, asked in UTC and unix time, and their replies.
//!
//! Rain, gust and radiation stamped `t` belong to the hour that ends at `t`; temperatures and mean
//! wind hold at `t`. The reply is read by its own `hourly_units`, whatever was asked for.

mod ensemble;
mod parse;
mod table;
mod url;
mod wire;

pub use ensemble::{Member, parse_ensemble};
pub use parse::{parse_archive, parse_forecast, parse_time_zone};
pub use url::{archive_url, ensemble_url, forecast_url, time_zone_url};

/// The free host: for non-commercial use only.
pub const FREE_BASE: &str = "https://api.open-meteo.com";
/// The host for holders of a key.
pub const CUSTOMER_BASE: &str = "https://customer-api.open-meteo.com";
/// The free host of the ensembles: for non-commercial use only.
pub const ENSEMBLE_FREE_BASE: &str = "https://ensemble-api.open-meteo.com";
/// The host of the ensembles for holders of a key.
pub const ENSEMBLE_CUSTOMER_BASE: &str = "https://customer-ensemble-api.open-meteo.com";
/// The free host of the archive: for non-commercial use only.
pub const ARCHIVE_FREE_BASE: &str = "https://archive-api.open-meteo.com";
/// The host of the archive for holders of a key.
pub const ARCHIVE_CUSTOMER_BASE: &str = "https://customer-archive-api.open-meteo.com";
/// The first year of the archive.
pub const ARCHIVE_FIRST_YEAR: i32 = 1940;
/// The credit that the license (CC BY 4.0) asks for; values are converted and moved to their hour.
pub const ATTRIBUTION: &str = "Weather data by Open-Meteo.com (https://open-meteo.com/), \
     CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/), converted";
/// The same for the archive, with that of the reanalysis behind it.
pub const ARCHIVE_ATTRIBUTION: &str = "Weather data by Open-Meteo.com (https://open-meteo.com/), \
     CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/), converted; contains modified \
     Copernicus Climate Change Service information (ERA5)";
/// What a problem with the body is reported against.
const EXPECTED: &str = "a forecast of Open-Meteo";
