//! The services whose forecast is one document.

use chrono::TimeDelta;

use super::desk::{Desk, Document, Freshness};
use crate::weather::settings::Service;
use crate::weather::sources::{met_norway, open_meteo};
use crate::weather::{Forecast, WeatherError};

/// What MET Norway's `Expires` mostly says, for when it is missing.
const MET_FRESH: TimeDelta = TimeDelta::minutes(30);
/// Open-Meteo says nothing about it; its models run every hour at best.
const OPEN_METEO_FRESH: TimeDelta = TimeDelta::minutes(60);

pub(super) async fn met_norway(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    let service = Service::MetNorway;
    desk.request.settings.user_agent(service)?;
    let base = desk.request.settings.base(service)?;
    let document = Document {
        service,
        what: what(desk, service, "complete"),
        url: met_norway::forecast_url(&base, &desk.request.place),
        freshness: Freshness::AsTold(MET_FRESH),
    };
    get(desk, &document, met_norway::parse_forecast).await
}

pub(super) async fn open_meteo(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    let service = Service::OpenMeteo;
    let base = desk.request.settings.base(service)?;
    let document = Document {
        service,
        what: what(desk, service, "forecast"),
        url: open_meteo::forecast_url(&base, &desk.request.place),
        freshness: Freshness::Always(OPEN_METEO_FRESH),
    };
    get(desk, &document, open_meteo::parse_forecast).await
}

/// Service, kind of document and place.
pub(super) fn what(desk: &Desk<'_>, service: Service, kind: &str) -> String {
    let (latitude, longitude) = desk.place_words();
    format!("{}_{kind}_{latitude}_{longitude}", service.name())
}

async fn get(
    desk: &mut Desk<'_>,
    document: &Document,
    parse: fn(
        &[u8],
        chrono::DateTime<chrono::Utc>,
    ) -> Result<Forecast, crate::weather::sources::ParseError>,
) -> Result<Forecast, WeatherError> {
    let obtained = match desk.obtain(document, parse).await {
        Ok(obtained) => obtained,
        Err(missed) => missed.or_last_good(desk)?,
    };
    let mut forecast = obtained.value;
    forecast.provenance.fetched_at = obtained.fetched_at;
    forecast.provenance.stale = obtained.stale;
    Ok(forecast)
}
