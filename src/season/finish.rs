//! Would the job have been done in time, in each of the years on record?

use chrono::{Datelike, NaiveDate, Weekday};

use super::day::SeasonDay;
use super::percentile::nearest_rank;
use crate::units::Length;

/// A job, the day it starts and the day by which it ought to be done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FinishQuestion {
    /// Seam of the whole job, above zero.
    pub footage: Length,
    /// First day of work.
    pub start: NaiveDate,
    /// Last day that still counts, not before `start` and less than a year after it.
    pub finish: NaiveDate,
}

/// How the years on record answer.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishOdds {
    /// What was asked.
    pub question: FinishQuestion,
    /// One for each year on record that has a workday of the window, ascending.
    pub years: Vec<FinishYear>,
}

/// The job in the weather of one year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FinishYear {
    /// The year of its first day.
    pub year: i32,
    /// Seam laid on the days that are covered, m, the job's last day included.
    pub seam_m: f64,
    /// The day on which the job was done.
    pub done_on: Option<NaiveDate>,
    /// Workdays of the window without weather.
    pub uncovered: u32,
}

impl FinishYear {
    /// Whether the year says yes or no. Done in spite of gaps is done; not done with gaps is open.
    pub const fn is_decided(&self) -> bool {
        self.done_on.is_some() || self.uncovered == 0
    }
}

impl FinishOdds {
    /// Years that say yes or no.
    pub fn decided(&self) -> usize {
        self.years.iter().filter(|year| year.is_decided()).count()
    }

    /// Years in which the job was done in time.
    pub fn finished(&self) -> usize {
        self.years.iter().filter(|year| year.done_on.is_some()).count()
    }

    /// Of a hundred decided years; `None` where no year is decided.
    pub fn percent(&self) -> Option<f64> {
        let decided = self.decided();
        #[expect(clippy::cast_precision_loss, reason = "some years")]
        (decided > 0).then(|| 100.0 * self.finished() as f64 / decided as f64)
    }

    /// Days from the start after which the job was done in `percent` of a hundred decided years;
    /// `None` where that many years did not finish in time.
    pub fn days_to_finish(&self, percent: usize) -> Option<i64> {
        let mut days: Vec<i64> = self
            .years
            .iter()
            .filter(|year| year.is_decided())
            .map(|year| {
                let from = in_year(self.question.start, year.year);
                year.done_on.map_or(i64::MAX, |done| (done - from).num_days())
            })
            .collect();
        days.sort_unstable();
        nearest_rank(&days, percent).filter(|days| *days < i64::MAX)
    }
}

/// Puts the question to every year of `days`, which are ascending.
pub(super) fn finish_odds(
    question: FinishQuestion,
    workdays: &[Weekday],
    days: &[SeasonDay],
) -> FinishOdds {
    let years = days.first().zip(days.last()).map(|(a, b)| a.date.year() - 1..=b.date.year());
    let years = years.into_iter().flatten();
    FinishOdds {
        question,
        years: years.filter_map(|year| finish_year(&question, workdays, days, year)).collect(),
    }
}

fn finish_year(
    question: &FinishQuestion,
    workdays: &[Weekday],
    days: &[SeasonDay],
    year: i32,
) -> Option<FinishYear> {
    let start = in_year(question.start, year);
    let finish = in_year(question.finish, year + question.finish.year() - question.start.year());
    let window = start.iter_days().take_while(|date| *date <= finish);
    let mut answer = FinishYear { year, seam_m: 0.0, done_on: None, uncovered: 0 };
    let mut on_record = false;
    for date in window.filter(|date| workdays.contains(&date.weekday())) {
        let found = days.binary_search_by_key(&date, |day| day.date).ok().map(|at| &days[at]);
        on_record |= found.is_some();
        let Some(work) = found.and_then(|day| day.workday.as_ref()) else {
            answer.uncovered += 1;
            continue;
        };
        if answer.done_on.is_none() {
            answer.seam_m += f64::from(work.seam_m);
            answer.done_on = (answer.seam_m >= question.footage.meters()).then_some(date);
        }
    }
    on_record.then_some(answer)
}

/// The same day of another year; February 29 is February 28 where there is none.
pub(super) fn in_year(date: NaiveDate, year: i32) -> NaiveDate {
    date.with_year(year).or_else(|| date.pred_opt()?.with_year(year)).unwrap_or(date)
}
