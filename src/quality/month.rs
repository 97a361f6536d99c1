//! A month for the office: test welds planned, made, missed, and the minutes that they took.

use chrono::NaiveDate;

use super::checkpoint::Status;
use super::day::DayReport;
use super::kept_plan::Standing;

/// The days of a month that have a plan or a trial.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthSummary {
    /// The first of the month.
    pub month: NaiveDate,
    /// How long a test weld takes, by the site's rule.
    pub trial_minutes: u32,
    /// Ascending; days without a plan and without a trial are left out.
    pub days: Vec<MonthDay>,
}

/// One day of a month.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MonthDay {
    /// Which.
    pub date: NaiveDate,
    /// Checkpoints of the plan; `None` where no plan of that day is at hand.
    pub planned: Option<usize>,
    /// No plan of the day was kept: it was planned again from the forecast at hand.
    pub planned_again: bool,
    /// Checkpoints that were kept, in time or late.
    pub made: usize,
    /// Of those, how many were late.
    pub late: usize,
    /// Checkpoints that were missed or proved nothing.
    pub missed: usize,
    /// Trials in the book, on all welders.
    pub trials: usize,
    /// Trials that were withdrawn; counted nowhere else.
    pub withdrawn: usize,
}

/// Adds up the reports of one month, in any order.
///
/// The minutes spent are an estimate: the site's rule for each trial, however long it really took.
pub fn month_summary(month: NaiveDate, trial_minutes: u32, reports: &[DayReport]) -> MonthSummary {
    let mut days: Vec<MonthDay> = reports
        .iter()
        .filter(|report| {
            report.plan.is_some() || !report.trials.is_empty() || !report.withdrawn.is_empty()
        })
        .map(|report| MonthDay {
            date: report.date,
            planned: report.plan.as_ref().map(|_| report.checkpoints.len()),
            planned_again: report
                .plan
                .as_ref()
                .is_some_and(|at_hand| at_hand.standing == Standing::PlannedAgain),
            made: report.count(Status::is_made),
            late: report.count(|status| matches!(status, Status::Late { .. })),
            missed: report.count(|status| matches!(status, Status::Missed | Status::ProvedNothing)),
            trials: report.trials.len(),
            withdrawn: report.withdrawn.len(),
        })
        .collect();
    days.sort_by_key(|day| day.date);
    MonthSummary { month, trial_minutes, days }
}

impl MonthSummary {
    /// Checkpoints planned on the days whose plan is at hand.
    pub fn planned(&self) -> usize {
        self.days.iter().filter_map(|day| day.planned).sum()
    }

    /// Checkpoints kept.
    pub fn made(&self) -> usize {
        self.days.iter().map(|day| day.made).sum()
    }

    /// Of those, how many were late.
    pub fn late(&self) -> usize {
        self.days.iter().map(|day| day.late).sum()
    }

    /// Checkpoints missed.
    pub fn missed(&self) -> usize {
        self.days.iter().map(|day| day.missed).sum()
    }

    /// Trials in the book.
    pub fn trials(&self) -> usize {
        self.days.iter().map(|day| day.trials).sum()
    }

    /// Trials that were withdrawn.
    pub fn withdrawn(&self) -> usize {
        self.days.iter().map(|day| day.withdrawn).sum()
    }

    /// Days of which no plan is at hand.
    pub fn days_without_plan(&self) -> usize {
        self.days.iter().filter(|day| day.planned.is_none()).count()
    }

    /// Days of which no plan was kept and that were planned again.
    pub fn days_planned_again(&self) -> usize {
        self.days.iter().filter(|day| day.planned_again).count()
    }

    /// Trials times the site's minutes.
    pub fn minutes_spent(&self) -> u64 {
        self.trials() as u64 * u64::from(self.trial_minutes)
    }
}
