//! Which time zone the place has, for a site file that does not say.

use chrono::TimeDelta;
use chrono_tz::Tz;

use super::desk::{Desk, Document, Freshness};
use super::need::Need;
use super::single::what;
use super::{Request, nws};
use crate::weather::WeatherError;
use crate::weather::settings::{Service, Source};
use crate::weather::sources::nws::in_coverage;
use crate::weather::sources::open_meteo;

/// Places rarely change their zone.
const ZONE_FRESH: TimeDelta = TimeDelta::days(30);

/// Asks the source which IANA zone the place has.
///
/// The NWS says so about a point, Open-Meteo when asked; MET Norway does not know, and what a file
/// says is in its forecast's provenance. Replies are kept as those of [`super::forecast_for`].
///
/// # Errors
/// As [`super::forecast_for`], of a source that would know.
pub async fn time_zone_for(request: &Request<'_>) -> Result<Option<Tz>, WeatherError> {
    let mut desk = Desk::new(request)?;
    match request.settings.source {
        Source::Auto if in_coverage(&request.place) => match nws::time_zone(&mut desk).await {
            Err(WeatherError::OutsideCoverage { .. }) => Ok(None),
            found => found,
        },
        Source::Nws => nws::time_zone(&mut desk).await,
        Source::OpenMeteo => open_meteo_zone(&mut desk).await,
        Source::Auto | Source::MetNorway | Source::File => Ok(None),
    }
}

async fn open_meteo_zone(desk: &mut Desk<'_>) -> Result<Option<Tz>, WeatherError> {
    let service = Service::OpenMeteo;
    let base = desk.request.settings.base(service)?;
    let document = Document {
        service,
        what: what(desk, service, "zone"),
        url: open_meteo::time_zone_url(&base, &desk.request.place),
        freshness: Freshness::Always(ZONE_FRESH),
        need: Need::Forecast,
    };
    match desk.obtain(&document, |body, _| open_meteo::parse_time_zone(body)).await {
        Ok(obtained) => Ok(obtained.value),
        Err(missed) => Ok(missed.or_last_good(desk)?.value),
    }
}
