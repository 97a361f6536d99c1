//! Past days out of an archive, one document at a time.

use chrono::{NaiveDate, TimeDelta};

use super::Request;
use super::desk::{Desk, Document, Freshness, Parse};
use super::need::Need;
use super::single::what;
use crate::weather::WeatherError;
use crate::weather::settings::Service;
use crate::weather::sources::record::Record;
use crate::weather::sources::{nasa_power, open_meteo};
use crate::weather::years::Archive;

/// Archives go on correcting their latest months; days older than this stay as they are.
const SETTLED_AFTER: TimeDelta = TimeDelta::days(180);
/// For days that stay as they are: kept for good.
const FOR_GOOD: TimeDelta = TimeDelta::days(36_500);
/// For days that may still be filled in or corrected.
const FOR_A_DAY: TimeDelta = TimeDelta::days(1);

/// The hours from `first` to `last`, both days included, and what the user should know about how
/// they came.
///
/// # Errors
/// When the archive does not give them and no earlier reply is kept.
pub(in crate::weather) async fn days_of_archive(
    request: &Request<'_>,
    archive: Archive,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<(Record, Vec<String>), WeatherError> {
    let mut desk = Desk::new(request)?;
    let place = &request.place;
    let (service, url, parse): (_, _, Parse<Record>) = match archive {
        Archive::OpenMeteo => {
            let base = request.settings.archive_base()?;
            let url = open_meteo::archive_url(&base, place, first, last);
            (Service::OpenMeteo, url, open_meteo::parse_archive)
        }
        Archive::NasaPower => {
            let base = request.settings.base(Service::NasaPower)?;
            let url = nasa_power::hourly_url(&base, place, first, last);
            (Service::NasaPower, url, nasa_power::parse)
        }
    };
    let is_settled = last < (request.now - SETTLED_AFTER).date_naive();
    let document = Document {
        service,
        what: what(&desk, service, &format!("{first}_{last}")),
        url,
        freshness: Freshness::Always(if is_settled { FOR_GOOD } else { FOR_A_DAY }),
        need: Need::Archive,
    };
    let obtained = match desk.obtain(&document, parse).await {
        Ok(obtained) => obtained,
        Err(missed) => missed.or_last_good(&mut desk)?,
    };
    let mut record = obtained.value;
    record.series.provenance.fetched_at = obtained.fetched_at;
    record.series.provenance.stale = obtained.stale;
    Ok((record, desk.warnings))
}
