//! A forecast that is one document, and the service of which no more is asked.

use chrono::TimeDelta;

use super::desk::{Desk, Document, Freshness, Parse};
use super::need::Need;
use crate::weather::settings::Service;
use crate::weather::sources::met_norway;
use crate::weather::{Forecast, WeatherError};

/// What MET Norway's `Expires` mostly says, for when it is missing.
const MET_FRESH: TimeDelta = TimeDelta::minutes(30);

pub(super) async fn met_norway(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    let service = Service::MetNorway;
    desk.request.settings.user_agent(service)?;
    let base = desk.request.settings.base(service)?;
    let document = Document {
        service,
        what: what(desk, service, "complete"),
        url: met_norway::forecast_url(&base, &desk.request.place),
        freshness: Freshness::AsTold(MET_FRESH),
        need: Need::Forecast,
    };
    Ok(get(desk, &document, met_norway::parse_forecast).await?.0)
}

/// Service, kind of document and place.
pub(super) fn what(desk: &Desk<'_>, service: Service, kind: &str) -> String {
    let (latitude, longitude) = desk.place_words();
    format!("{}_{kind}_{latitude}_{longitude}", service.name())
}

/// The forecast, and whether the service sent it just now.
pub(super) async fn get(
    desk: &mut Desk<'_>,
    document: &Document,
    parse: Parse<Forecast>,
) -> Result<(Forecast, bool), WeatherError> {
    let obtained = match desk.obtain(document, parse).await {
        Ok(obtained) => obtained,
        Err(missed) => missed.or_last_good(desk)?,
    };
    let mut forecast = obtained.value;
    forecast.provenance.fetched_at = obtained.fetched_at;
    forecast.provenance.stale = obtained.stale;
    Ok((forecast, obtained.new))
}
