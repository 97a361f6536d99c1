//! Past years of one roof: by month, week, weekday and season.

use chrono::{Datelike, NaiveDate, Weekday};

use super::budget::{MonthBudget, budget};
use super::day::SeasonDay;
use super::finish::{FinishOdds, FinishQuestion, finish_odds};
use super::moving::{Job, JobMoves, job_moves};
use super::seasons::Season;
use super::tally::Tally;
use crate::site::Site;

/// What the years on record say of one roof.
#[derive(Debug, Clone, PartialEq)]
pub struct YearsBehind {
    /// Every workday, ascending.
    pub days: Vec<SeasonDay>,
    /// How far the record carries, year by year.
    pub years: Vec<(i32, Tally)>,
    /// All of it.
    pub whole: Tally,
    /// By calendar month, 1 to 12.
    pub months: Vec<(u32, Tally)>,
    /// By ISO week, 1 to 53.
    pub weeks: Vec<(u32, Tally)>,
    /// By weekday, Monday first.
    pub weekdays: Vec<(Weekday, Tally)>,
    /// Spring, fall and the rest of the year.
    pub seasons: Vec<(Season, Tally)>,
    /// North positive.
    latitude_deg: f64,
    /// What test welds cost a month.
    pub budget: Vec<MonthBudget>,
    /// Whether the job would have been done in time, where that was asked.
    pub finish: Option<FinishOdds>,
    /// What moving the job by a month would save, where that was asked.
    pub moves: Option<JobMoves>,
}

/// Gathers the workdays of a site. Months, weeks and weekdays without any are left out.
pub fn years_behind(
    site: &Site,
    mut days: Vec<SeasonDay>,
    question: Option<FinishQuestion>,
) -> YearsBehind {
    days.sort_by_key(|day| day.date);
    days.dedup_by_key(|day| day.date);
    let years = days.chunk_by(|one, next| one.date.year() == next.date.year());
    let years =
        years.filter_map(|of_year| Some((of_year.first()?.date.year(), Tally::of(of_year))));
    let weekday = |number: u32| Weekday::try_from(u8::try_from(number).unwrap_or(0)).ok();
    let weekdays = group(&days, 0..=6, |day| day.date.weekday().num_days_from_monday());
    YearsBehind {
        years: years.collect(),
        whole: Tally::of(&days),
        months: group(&days, 1..=12, |day| day.date.month()),
        weeks: group(&days, 1..=53, |day| day.date.iso_week().week()),
        weekdays: weekdays.into_iter().filter_map(|(n, t)| Some((weekday(n)?, t))).collect(),
        seasons: by_season(site.latitude_deg, &days),
        latitude_deg: site.latitude_deg,
        budget: budget(&site.rules, &days),
        finish: question.map(|question| finish_odds(question, &site.shift.workdays, &days)),
        moves: None,
        days,
    }
}

impl YearsBehind {
    /// With what moving `job` by a month would save at the site.
    pub fn with_moves(mut self, site: &Site, job: Job) -> Self {
        self.moves = Some(job_moves(&site.rules, &site.shift.workdays, &self.days, job));
        self
    }

    /// The season of a date at the site.
    pub fn season_of(&self, date: NaiveDate) -> Season {
        Season::of(date, self.latitude_deg)
    }
}

fn by_season(latitude_deg: f64, days: &[SeasonDay]) -> Vec<(Season, Tally)> {
    let of = |season: Season| {
        let is_of = |day: &&SeasonDay| Season::of(day.date, latitude_deg) == season;
        (season, Tally::of(days.iter().filter(is_of)))
    };
    Season::ALL.into_iter().map(of).filter(|(_, tally)| tally.workdays > 0).collect()
}

fn group(
    days: &[SeasonDay],
    keys: std::ops::RangeInclusive<u32>,
    key_of: impl Fn(&SeasonDay) -> u32,
) -> Vec<(u32, Tally)> {
    keys.map(|key| (key, Tally::of(days.iter().filter(|day| key_of(day) == key))))
        .filter(|(_, tally)| tally.workdays > 0)
        .collect()
}
