//! Open-Meteo: the forecast, and beside it the members of an ensemble where they can be had.

use chrono::{DateTime, TimeDelta, Utc};

use super::desk::{Desk, Document, Freshness, Obtained};
use super::need::Need;
use super::single::{get, what};
use crate::weather::settings::Service;
use crate::weather::sources::open_meteo::{self, Member};
use crate::weather::{Forecast, WeatherError};

const SERVICE: Service = Service::OpenMeteo;
/// The service says nothing about it; its models run every hour at best.
const FRESH: TimeDelta = TimeDelta::minutes(60);
/// The ensemble runs every six hours.
const ENSEMBLE_FRESH: TimeDelta = TimeDelta::hours(3);
/// An ensemble that was fetched further from the forecast than this is two runs away from it: its
/// members would differ from the forecast by what is new rather than by what is uncertain.
const TOGETHER: TimeDelta = TimeDelta::hours(12);

/// The forecast, with the members where they can be had.
///
/// The ensemble is asked for after a new forecast only, so that nothing is sent while the forecast
/// is fresh, whatever became of the ensemble.
pub(super) async fn forecast(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    let base = desk.request.settings.base(SERVICE)?;
    let document = Document {
        service: SERVICE,
        what: what(desk, SERVICE, "forecast"),
        url: open_meteo::forecast_url(&base, &desk.request.place),
        freshness: Freshness::Always(FRESH),
        need: Need::Forecast,
    };
    let (forecast, new) = get(desk, &document, open_meteo::parse_forecast).await?;
    let forecast_at = forecast.provenance.fetched_at;
    let ensemble = ensemble_document(desk)?;
    let members = if new {
        ask_for_members(desk, &ensemble, forecast_at).await
    } else {
        desk.kept(&ensemble, open_meteo::parse_ensemble)
    };
    Ok(match members.filter(|members| belong_together(forecast_at, members)) {
        Some(members) => forecast.with_members(members.value),
        None => forecast,
    })
}

/// The members; without them the forecast is as good, and the user is told what came of them.
async fn ask_for_members(
    desk: &mut Desk<'_>,
    document: &Document,
    forecast_at: DateTime<Utc>,
) -> Option<Obtained<Vec<Member>>> {
    let missed = match desk.obtain(document, open_meteo::parse_ensemble).await {
        Ok(obtained) => return Some(obtained),
        Err(missed) => missed,
    };
    let cause = match &missed.error {
        WeatherError::Service { failure, .. } => failure.to_string(),
        error => error.to_string(),
    };
    let kept = missed.last_good.filter(|kept| belong_together(forecast_at, kept));
    let instead = match &kept {
        Some(kept) => {
            format!("that fetched {} stands in", kept.fetched_at.format("%Y-%m-%d %H:%M UTC"))
        }
        None => "how sure the tests are is told without one".to_owned(),
    };
    desk.warnings.push(format!("no ensemble from {SERVICE}: {cause}; {instead}"));
    kept
}

fn belong_together(forecast_at: DateTime<Utc>, members: &Obtained<Vec<Member>>) -> bool {
    (members.fetched_at - forecast_at).abs() <= TOGETHER
}

fn ensemble_document(desk: &Desk<'_>) -> Result<Document, WeatherError> {
    let base = desk.request.settings.ensemble_base()?;
    Ok(Document {
        service: SERVICE,
        what: what(desk, SERVICE, "ensemble"),
        url: open_meteo::ensemble_url(&base, &desk.request.place),
        freshness: Freshness::Always(ENSEMBLE_FRESH),
        need: Need::Ensemble,
    })
}
