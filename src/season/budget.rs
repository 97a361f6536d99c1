//! What test welds cost a month: minutes, crew hours, money.

use chrono::Datelike;

use super::day::SeasonDay;
use super::percentile::Spread;
use crate::site::Rules;

/// Test welds of one calendar month over the years on record.
///
/// A month of a year counts only when the record covers every workday of it: a month with a gap
/// would come out too cheap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthBudget {
    /// 1 to 12.
    pub month: u32,
    /// Years whose month counts.
    pub complete: usize,
    /// Years whose month has a workday without weather.
    pub with_gaps: usize,
    /// Minutes of testing in the month.
    pub minutes: Option<Spread<u32>>,
    /// From the site file.
    pub crew_size: Option<u32>,
    /// From the site file.
    pub crew_cost_per_hour: Option<f64>,
}

impl MonthBudget {
    /// Hours of crew that `minutes` of testing take; `None` where the site does not say how many.
    pub fn crew_hours(&self, minutes: u32) -> Option<f64> {
        Some(f64::from(minutes) / 60.0 * f64::from(self.crew_size?))
    }

    /// What they cost; `None` where the site does not say.
    pub fn cost(&self, minutes: u32) -> Option<f64> {
        Some(self.crew_hours(minutes)? * self.crew_cost_per_hour?)
    }
}

/// The calendar months of `days`, which are ascending; months without a workday are left out.
pub(super) fn budget(rules: &Rules, days: &[SeasonDay]) -> Vec<MonthBudget> {
    (1..=12)
        .filter_map(|month| {
            let of_month: Vec<&[SeasonDay]> = days
                .chunk_by(|one, next| {
                    (one.date.year(), one.date.month()) == (next.date.year(), next.date.month())
                })
                .filter(|chunk| chunk.first().is_some_and(|day| day.date.month() == month))
                .collect();
            (!of_month.is_empty()).then(|| of_years(rules, month, &of_month))
        })
        .collect()
}

fn of_years(rules: &Rules, month: u32, years: &[&[SeasonDay]]) -> MonthBudget {
    let tests = |days: &&[SeasonDay]| -> Option<u32> {
        days.iter().map(|day| day.workday.as_ref().map(|work| work.tests.total())).sum()
    };
    let minutes: Vec<u32> =
        years.iter().filter_map(tests).map(|n| n * rules.trial_minutes).collect();
    MonthBudget {
        month,
        complete: minutes.len(),
        with_gaps: years.len() - minutes.len(),
        minutes: Spread::of(minutes),
        crew_size: rules.crew_size,
        crew_cost_per_hour: rules.crew_cost_per_hour,
    }
}
