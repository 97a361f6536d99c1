//! One year of one roof, out of its weather: the one place where the days of a record come from.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use chrono::{Datelike, NaiveDate, TimeDelta};
use chrono_tz::Tz;

use super::day::SeasonDay;
use super::engine::{Engine, sun_over};
use crate::physics::ephemeris::Ephemeris;
use crate::plan::shift_times;
use crate::site::Site;
use crate::weather::Forecast;

/// Raised whenever the same weather would give other days; what was kept before is then not used.
pub const SEASON_VERSION: u32 = 4;

/// The sun over each year, worked out once for all roofs.
#[derive(Debug, Default)]
pub struct Suns {
    years: Mutex<BTreeMap<i32, Option<Arc<Ephemeris>>>>,
}

impl Suns {
    /// The sun over every shift of `year` in any zone; `None` outside 1900 to 2100.
    fn over(&self, year: i32) -> Option<Arc<Ephemeris>> {
        let mut years = self.years.lock().unwrap_or_else(PoisonError::into_inner);
        let over = || {
            let start = |year| NaiveDate::from_ymd_opt(year, 1, 1)?.and_hms_opt(0, 0, 0);
            // No zone is a day away from UTC, and a shift ends within a day of its start.
            let from = start(year)?.and_utc() - TimeDelta::days(1);
            sun_over(from, start(year + 1)?.and_utc() + TimeDelta::days(2))
        };
        years.entry(year).or_insert_with(over).clone()
    }
}

/// Every workday of `year` on the site's clock, ascending.
///
/// `record` ought to reach a day beyond either end of the year: the first morning's dew settles in
/// the evening before, and a night shift ends in the next year. A day that lacks air temperatures is
/// there without a [`SeasonDay::workday`]; one whose shift a clock change swallows is left out.
pub fn site_year(
    site: &Site,
    time_zone: Tz,
    record: &Forecast,
    year: i32,
    suns: &Suns,
) -> Vec<SeasonDay> {
    let sun = suns.over(year);
    let has_shift = |date: &NaiveDate| shift_times(&site.shift, *date, time_zone, |_, _, _, _| {});
    let dates = workdays(site, year).filter(|date| has_shift(date).is_ok());
    let mut days = Vec::new();
    Engine::new(site, time_zone).days(record, sun, dates, |day, _| days.push(day));
    days
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
