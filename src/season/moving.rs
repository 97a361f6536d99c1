//! What would it save to move a job by a month? By the record, each year against itself.

use chrono::{Datelike, Months, NaiveDate, TimeDelta, Weekday};

use super::day::SeasonDay;
use super::finish::{FinishQuestion, in_year};
use super::percentile::Spread;
use crate::site::Rules;
use crate::units::Length;

/// A job that is not done after this many days tells nothing: the record goes no further for it.
const LONGEST: TimeDelta = TimeDelta::days(366);

/// A job: when it starts, and how much there is of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Job {
    /// First day of work.
    pub start: NaiveDate,
    /// Last day, not before `start` and less than a year after it.
    pub finish: NaiveDate,
    /// Seam of the whole job, above zero; `None` where the job is its workdays from `start` to
    /// `finish`.
    pub footage: Option<Length>,
}

/// The job as planned, and a month earlier and later.
#[derive(Debug, Clone, PartialEq)]
pub struct JobMoves {
    /// What was asked.
    pub job: Job,
    /// As planned.
    pub planned: Vec<JobYear>,
    /// A month earlier, a month later.
    pub moved: [JobMove; 2],
    rules: Rules,
}

/// The job moved by a month.
#[derive(Debug, Clone, PartialEq)]
pub struct JobMove {
    /// -1 or 1.
    pub months: i32,
    /// Its first day then.
    pub start: NaiveDate,
    /// Year by year, moved.
    pub years: Vec<JobYear>,
    /// Years that count both as planned and moved: what each saves, as planned less moved.
    pub saved: Vec<JobSaved>,
}

/// The job in the weather of one year that covers it to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JobYear {
    /// The year of the first day as planned.
    pub year: i32,
    /// First day of work.
    pub first: NaiveDate,
    /// Last day of work.
    pub last: NaiveDate,
    /// Workdays that it takes.
    pub workdays: u32,
    /// Test welds that it takes.
    pub tests: u32,
    /// Minutes of it that can be welded.
    pub weldable_minutes: u32,
}

/// What one year saves by the move; below zero where it takes more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JobSaved {
    /// The year of the first day as planned.
    pub year: i32,
    /// Workdays.
    pub workdays: i64,
    /// Test welds.
    pub tests: i64,
    /// Weldable minutes that it gains: moved less planned.
    pub weldable_gained: i64,
}

impl Job {
    /// The question of the odds, where the job has a length of seam.
    pub fn question(&self) -> Option<FinishQuestion> {
        let Self { start, finish, footage } = *self;
        footage.map(|footage| FinishQuestion { footage, start, finish })
    }
}

impl JobMoves {
    /// What so many minutes of testing cost, below zero for fewer; `None` where the site does not say
    /// how large the crew is and what it costs.
    pub fn cost(&self, minutes: i64) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "minutes of a job")]
        let hours = minutes as f64 / 60.0;
        Some(hours * f64::from(self.rules.crew_size?) * self.rules.crew_cost_per_hour?)
    }

    /// Minutes of testing that so many tests are, below zero for fewer.
    pub fn minutes(&self, tests: i64) -> i64 {
        tests * i64::from(self.rules.trial_minutes)
    }

    /// Whether a day was worked on the job, month by month of the move: earlier, as planned, later.
    pub fn is_worked(&self, date: NaiveDate) -> [bool; 3] {
        let [earlier, later] = &self.moved;
        let within =
            |years: &[JobYear]| years.iter().any(|year| year.first <= date && date <= year.last);
        [within(&earlier.years), within(&self.planned), within(&later.years)]
    }
}

impl JobMove {
    /// The spread of one of the savings over the years; `None` where no year counts both ways.
    pub fn spread(&self, of: impl Fn(&JobSaved) -> i64) -> Option<Spread<i64>> {
        Spread::of(self.saved.iter().map(of).collect())
    }

    /// Years that save tests by the move.
    pub fn years_saving_tests(&self) -> usize {
        self.saved.iter().filter(|year| year.tests > 0).count()
    }
}

/// Puts the job, and the job moved by a month either way, into every year of `days`, which are
/// ascending. A year counts only where the record covers every workday of it until it is done: none
/// is filled in.
pub fn job_moves(rules: &Rules, workdays: &[Weekday], days: &[SeasonDay], job: Job) -> JobMoves {
    let record = Record { workdays, days, job };
    let planned = record.years(0);
    let moved = [-1, 1].map(|months| {
        let years = record.years(months);
        let saved = planned.iter().filter_map(|planned| {
            let moved = years.iter().find(|moved| moved.year == planned.year)?;
            Some(saved(planned, moved))
        });
        let saved = saved.collect();
        JobMove { months, start: shifted(job.start, months), years, saved }
    });
    JobMoves { job, planned, moved, rules: *rules }
}

fn saved(planned: &JobYear, moved: &JobYear) -> JobSaved {
    let less = |one: u32, other: u32| i64::from(one) - i64::from(other);
    JobSaved {
        year: planned.year,
        workdays: less(planned.workdays, moved.workdays),
        tests: less(planned.tests, moved.tests),
        weldable_gained: less(moved.weldable_minutes, planned.weldable_minutes),
    }
}

struct Record<'a> {
    workdays: &'a [Weekday],
    days: &'a [SeasonDay],
    job: Job,
}

impl Record<'_> {
    fn years(&self, months: i32) -> Vec<JobYear> {
        let ends = self.days.first().zip(self.days.last());
        let years = ends.map(|(first, last)| first.date.year() - 1..=last.date.year() + 1);
        years.into_iter().flatten().filter_map(|year| self.year(year, months)).collect()
    }

    /// `None` where the record does not carry the job to its end.
    fn year(&self, year: i32, months: i32) -> Option<JobYear> {
        let planned = in_year(self.job.start, year);
        let first = shifted(planned, months);
        let mut answer =
            JobYear { year, first, last: first, workdays: 0, tests: 0, weldable_minutes: 0 };
        let wanted = self.days_wanted(planned);
        if self.job.footage.is_none() && wanted == 0 {
            return None;
        }
        let mut seam_m = 0.0;
        let dates = first.iter_days().take_while(|date| *date - first < LONGEST);
        for date in dates.filter(|date| self.workdays.contains(&date.weekday())) {
            let at = self.days.binary_search_by_key(&date, |day| day.date).ok()?;
            let work = self.days[at].workday.as_ref()?;
            answer.last = date;
            answer.workdays += 1;
            answer.tests += work.tests.total();
            answer.weldable_minutes += u32::from(work.weldable_minutes);
            seam_m += f64::from(work.seam_m);
            let is_done = match self.job.footage {
                Some(footage) => seam_m >= footage.meters(),
                None => answer.workdays >= wanted,
            };
            if is_done {
                return Some(answer);
            }
        }
        None
    }

    /// Workdays from the start to the finish as planned: moved, a job without a length of seam takes
    /// as many, whichever weekday it starts on.
    fn days_wanted(&self, planned: NaiveDate) -> u32 {
        let span = self.job.finish - self.job.start;
        let dates = planned.iter_days().take_while(|date| *date - planned <= span);
        let count = dates.filter(|date| self.workdays.contains(&date.weekday())).count();
        u32::try_from(count).unwrap_or(u32::MAX)
    }
}

/// The same day of the month before or after, or its last where it is shorter.
fn shifted(date: NaiveDate, months: i32) -> NaiveDate {
    let by = Months::new(months.unsigned_abs());
    let moved = match months {
        ..0 => date.checked_sub_months(by),
        _ => date.checked_add_months(by),
    };
    moved.unwrap_or(date)
}
