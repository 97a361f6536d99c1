//! The one question that the rest of the house asks: the forecast for a place.

mod archive;
mod desk;
mod file;
mod need;
mod nws;
mod open_meteo;
mod question;
mod single;
mod zone;

use std::path::Path;

use chrono::{DateTime, Utc};

pub(super) use archive::days_of_archive;
use desk::Desk;
pub use zone::time_zone_for;

use super::fetch::Patience;
use super::settings::{Service, Source, SourceSettings};
use super::sources::nws::in_coverage;
use super::{Forecast, Place, WeatherError};

/// What is asked.
#[derive(Debug, Clone, Copy)]
pub struct Request<'a> {
    /// Where the roof is.
    pub place: Place,
    /// Whom to ask, and on what terms.
    pub settings: &'a SourceSettings,
    /// The time by the caller's clock; this room reads none.
    pub now: DateTime<Utc>,
    /// Where replies are kept between runs. It is made when it is missing, and done without when it
    /// cannot be made.
    pub cache_dir: &'a Path,
    /// Open no socket: kept replies and files only.
    pub offline: bool,
    /// How long to wait.
    pub patience: Patience,
}

/// What comes back.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The forecast; [`super::Provenance::stale`] says when it is an earlier one.
    pub forecast: Forecast,
    /// What the user should know about how it came, a sentence each.
    pub warnings: Vec<String>,
    /// From when on the source has something new to say, by its own word; `None` where it was a file
    /// or could not be asked.
    pub ask_again_at: Option<DateTime<Utc>>,
}

/// Gets the forecast: from the cache while it is fresh, else from the service, else the last good
/// one, marked as stale. Open-Meteo's comes with an ensemble's members where that can be had.
///
/// Runs on a tokio runtime with time and I/O enabled. Asks one thing at a time.
///
/// # Errors
/// When there is no forecast, fresh or kept: see [`WeatherError`].
pub async fn forecast_for(request: &Request<'_>) -> Result<Answer, WeatherError> {
    let mut desk = Desk::new(request)?;
    let forecast = match request.settings.source {
        Source::Auto => auto(&mut desk).await,
        Source::Nws => nws::forecast(&mut desk).await,
        Source::MetNorway => single::met_norway(&mut desk).await,
        Source::OpenMeteo => open_meteo::forecast(&mut desk).await,
        Source::File => file::forecast(request),
    }?;
    let ask_again_at = desk.fresh_until.filter(|_| !forecast.provenance.stale);
    Ok(Answer { forecast, warnings: desk.warnings, ask_again_at })
}

/// The NWS inside its coverage; MET Norway outside of it, and when the NWS has nothing to give.
async fn auto(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    let first = if in_coverage(&desk.request.place) {
        match nws::forecast(desk).await {
            Err(WeatherError::OutsideCoverage { .. }) => None,
            // What concerns the site file concerns both.
            Err(error @ (WeatherError::NoContact { .. } | WeatherError::BadContact { .. })) => {
                return Err(error);
            }
            Err(error) => Some(error),
            found => return found,
        }
    } else {
        None
    };
    match (single::met_norway(desk).await, first) {
        (Ok(forecast), Some(first)) => {
            if !matches!(first, WeatherError::OfflineWithoutCopy { .. }) {
                desk.warnings.push(format!("{first}; {} stands in", Service::MetNorway));
            }
            Ok(forecast)
        }
        (Err(second), Some(first)) => {
            Err(WeatherError::Neither { first: Box::new(first), second: Box::new(second) })
        }
        (result, None) => result,
    }
}
