//! Many roofs side by side, the worst first.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::ahead::{DayAhead, DaysAhead};
use super::record::YearsBehind;
use crate::site::Site;
use crate::units::UnitSystem;

/// What every output says of a roof before it says anything else.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SiteHead {
    /// Free text.
    pub name: String,
    /// The site file, as it was named.
    pub file: String,
    /// How results are shown.
    pub units: UnitSystem,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// First minute of work, local.
    pub shift_start: NaiveTime,
    /// How long one test weld takes.
    pub trial_minutes: u32,
}

/// A roof and its days ahead.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteAhead {
    /// Which roof.
    pub head: SiteHead,
    /// Its days.
    pub ahead: DaysAhead,
}

/// A roof and its past years.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteYears {
    /// Which roof.
    pub head: SiteHead,
    /// Its years.
    pub record: YearsBehind,
    /// Where the weather comes from, with the credit that its license asks for.
    pub attribution: String,
    /// Whether it is a typical year, put together from months of several, on the dates of one.
    pub is_typical: bool,
    /// What was left out or made of the weather, a sentence each.
    pub notes: Vec<String>,
}

/// A roof that there is no outlook for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failed {
    /// The site file, as it was named.
    pub file: String,
    /// Why, in a sentence.
    pub reason: String,
}

/// One day of one roof among many.
#[derive(Debug, Clone, Copy)]
pub struct WorstDay<'a> {
    /// Which roof.
    pub head: &'a SiteHead,
    /// Which day.
    pub date: NaiveDate,
    /// What it comes to.
    pub day: &'a DayAhead,
    /// Minutes of work that it takes; see [`DayAhead::cost_minutes`].
    pub cost_minutes: u32,
}

impl SiteHead {
    /// Of a site in the zone of its shift.
    pub fn of(site: &Site, file: &str, time_zone: Tz) -> Self {
        Self {
            name: site.name.clone(),
            file: file.to_owned(),
            units: site.units,
            time_zone,
            shift_start: site.shift.start,
            trial_minutes: site.rules.trial_minutes,
        }
    }

    /// The wall clock `minutes` into a shift, on a day without a clock change.
    pub fn clock_after(&self, minutes: u16) -> String {
        let at = self.shift_start + TimeDelta::minutes(i64::from(minutes));
        at.format("%H:%M").to_string()
    }

    /// The local day of an instant.
    pub fn day_of(&self, at: DateTime<Utc>) -> NaiveDate {
        at.with_timezone(&self.time_zone).date_naive()
    }
}

impl SiteYears {
    /// Of a hundred working minutes on the covered days, those that holds and test welds take.
    pub fn cost_percent(&self) -> Option<f64> {
        let whole = &self.record.whole;
        let lost = f64::from(whole.working_in_all.saturating_sub(whole.weldable_in_all));
        let tests = f64::from(whole.tests_in_all) * f64::from(self.head.trial_minutes);
        (whole.working_in_all > 0).then(|| 100.0 * (lost + tests) / f64::from(whole.working_in_all))
    }
}

/// Puts the roof with the worst day first; then by name and file.
pub fn worst_first(sites: &mut [SiteAhead]) {
    sites.sort_by(|one, other| {
        let cost = |site: &SiteAhead| site.ahead.worst_cost(site.head.trial_minutes);
        let name = |site: &SiteAhead| (site.head.name.clone(), site.head.file.clone());
        cost(other).cmp(&cost(one)).then_with(|| name(one).cmp(&name(other)))
    });
}

/// The `most` worst days of all roofs: those that take the most minutes of work; of equal ones the
/// one with more tests, then the earlier, then by name.
pub fn worst_days(sites: &[SiteAhead], most: usize) -> Vec<WorstDay<'_>> {
    let mut days: Vec<WorstDay<'_>> = sites
        .iter()
        .flat_map(|site| {
            site.ahead.days.iter().filter_map(|row| {
                let day = row.ahead.as_ref()?;
                let cost_minutes = day.cost_minutes(site.head.trial_minutes);
                Some(WorstDay { head: &site.head, date: row.date, day, cost_minutes })
            })
        })
        .collect();
    days.sort_by(|one, other| {
        let key = |day: &WorstDay<'_>| (day.cost_minutes, day.day.work.tests.total());
        key(other)
            .cmp(&key(one))
            .then_with(|| one.date.cmp(&other.date))
            .then_with(|| one.head.name.cmp(&other.head.name))
    });
    days.truncate(most);
    days
}
