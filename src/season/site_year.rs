//! One year of one roof, out of its weather: the one place where the days of a record come from.

use chrono::{Datelike, NaiveDate, TimeDelta};
use chrono_tz::Tz;

use super::day::SeasonDay;
use super::scalar::day_of;
use crate::plan::{PlanError, PlanInput, plan_day};
use crate::site::Site;
use crate::testweld::NoRecords;
use crate::weather::Forecast;

/// Raised whenever the same weather would give other days; what was kept before is then not used.
pub const SEASON_VERSION: u32 = 1;

/// Beyond the reach of the error model, so that no likelihoods are worked out: a record has none.
const LONG_BEFORE: TimeDelta = TimeDelta::days(400);

/// Every workday of `year` on the site's clock, ascending.
///
/// `record` ought to reach a day beyond either end of the year: the first morning's dew settles in
/// the evening before, and a night shift ends in the next year. A day that lacks air temperatures is
/// there without a [`SeasonDay::workday`]; one whose shift a clock change swallows is left out.
pub fn site_year(site: &Site, time_zone: Tz, record: &Forecast, year: i32) -> Vec<SeasonDay> {
    let mut record = record.clone();
    record.provenance.issued_at = Some(record.first() - LONG_BEFORE);
    let now = record.provenance.fetched_at;
    let earlier = NoRecords { carry_days: site.rules.carry_days };
    workdays(site, year)
        .filter_map(|date| {
            let (forecast, earlier) = (&record, &earlier);
            match plan_day(&PlanInput { site, time_zone, date, now, forecast, earlier }) {
                Ok(plan) => Some(day_of(&plan)),
                Err(PlanError::AirMissing { .. }) => Some(SeasonDay { date, workday: None }),
                Err(PlanError::ShiftVanishes { .. } | PlanError::DateOutOfReach { .. }) => None,
            }
        })
        .collect()
}

/// The dates of `year` on which the crew works.
fn workdays(site: &Site, year: i32) -> impl Iterator<Item = NaiveDate> {
    let first = NaiveDate::from_ymd_opt(year, 1, 1);
    first
        .into_iter()
        .flat_map(|first| first.iter_days())
        .take_while(move |date| date.year() == year)
        .filter(|date| site.shift.workdays.contains(&date.weekday()))
}
