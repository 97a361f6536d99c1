//! The part of a day's plan that its quality report needs, as the plan stood when it was made.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::checkpoint::Kept;
use crate::plan::{Cause, Checkpoint, DayPlan, Verdict};
use crate::units::{RainDepth, Temperature, WindSpeed};

/// A day's plan as it is kept for the report.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptPlan {
    /// When the day was planned.
    pub made_at: DateTime<Utc>,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// Degrees, north positive.
    pub latitude_deg: f64,
    /// Degrees, east positive.
    pub longitude_deg: f64,
    /// First minute of work.
    pub shift_start: DateTime<Utc>,
    /// End of work.
    pub shift_end: DateTime<Utc>,
    /// Ascending.
    pub breaks: Vec<KeptBreak>,
    /// The forecast behind it.
    pub weather: KeptWeather,
    /// Lowest and highest air of the shift.
    pub air_range: (Temperature, Temperature),
    /// Air over the shift: at its start, at every full hour and at its end; in between it runs
    /// straight.
    pub air: Vec<(DateTime<Utc>, Option<Temperature>)>,
    /// The hours that the shift touches.
    pub hours: Vec<KeptHour>,
    /// Mandatory test welds, ascending.
    pub checkpoints: Vec<KeptCheckpoint>,
}

/// A break as planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptBreak {
    /// As the crew calls it.
    pub name: String,
    /// Its first minute.
    pub start: DateTime<Utc>,
    /// The minute after its last.
    pub end: DateTime<Utc>,
}

/// Where a plan's weather came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptWeather {
    /// Name of the source.
    pub source: String,
    /// When the service issued it.
    pub issued_at: Option<DateTime<Utc>>,
    /// When it was fetched or read.
    pub fetched_at: DateTime<Utc>,
    /// An earlier reply stood in.
    pub stale: bool,
    /// The credit that the license asks for.
    pub attribution: String,
}

/// One hour of the shift, as forecast.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptHour {
    /// Start of the hour.
    pub time: DateTime<Utc>,
    /// Air at the start of the hour.
    pub air: Option<Temperature>,
    /// Relative humidity in percent.
    pub humidity_pct: Option<f64>,
    /// Mean wind.
    pub wind: Option<WindSpeed>,
    /// Strongest gust of the hour.
    pub gust: Option<WindSpeed>,
    /// This hour's share of the rain.
    pub rain: Option<RainDepth>,
    /// The judgment on the hour.
    pub verdict: Verdict,
}

/// A mandatory test weld as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptCheckpoint {
    /// Its id in the plan.
    pub id: String,
    /// When.
    pub time: DateTime<Utc>,
    /// The word for what asks for it, as in the plan's JSON.
    pub cause: String,
    /// What asks for it, in the words that the crew read.
    pub because: String,
    /// Ambient at that minute.
    pub air: Temperature,
    /// How long the test takes.
    pub minutes: u32,
    /// The welders to be tested, in the site's order.
    pub welders: Vec<String>,
}

/// The plan that a day is held against.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanAtHand {
    /// The plan.
    pub plan: KeptPlan,
    /// What it stands for.
    pub standing: Standing,
}

/// What a plan at hand stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// The last that was made before the shift began: what the crew went to work with.
    AtShiftStart,
    /// No earlier one was kept; the first made after the shift began.
    MadeLater,
    /// None was kept; planned for the report from the forecast at hand.
    PlannedAgain,
}

impl Standing {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::AtShiftStart => "at-shift-start",
            Self::MadeLater => "made-later",
            Self::PlannedAgain => "planned-again",
        }
    }
}

impl KeptPlan {
    /// What a report needs of `plan`, made at `made_at`; `because` puts a cause into words.
    pub fn of(
        plan: &DayPlan,
        made_at: DateTime<Utc>,
        because: &dyn Fn(&Checkpoint) -> String,
    ) -> Self {
        let weather = &plan.weather;
        Self {
            made_at,
            date: plan.date,
            time_zone: plan.time_zone,
            latitude_deg: plan.latitude_deg,
            longitude_deg: plan.longitude_deg,
            shift_start: plan.shift.start,
            shift_end: plan.shift.end,
            breaks: plan
                .shift
                .breaks
                .iter()
                .map(|stop| KeptBreak { name: stop.name.clone(), start: stop.start, end: stop.end })
                .collect(),
            weather: KeptWeather {
                source: weather.source.clone(),
                issued_at: weather.issued_at,
                fetched_at: weather.fetched_at,
                stale: weather.stale,
                attribution: weather.attribution.clone(),
            },
            air_range: (plan.summary.air_min, plan.summary.air_max),
            air: air(plan),
            hours: plan
                .hours
                .iter()
                .map(|hour| KeptHour {
                    time: hour.time,
                    air: hour.air,
                    humidity_pct: hour.humidity_pct,
                    wind: hour.wind,
                    gust: hour.gust,
                    rain: hour.rain,
                    verdict: hour.verdict,
                })
                .collect(),
            checkpoints: plan
                .checkpoints
                .iter()
                .map(|point| KeptCheckpoint {
                    id: point.id.clone(),
                    time: point.time,
                    cause: point.cause.name().to_owned(),
                    because: because(point),
                    air: point.air,
                    minutes: point.minutes,
                    welders: point.settings.iter().map(|one| one.welder.clone()).collect(),
                })
                .collect(),
        }
    }

    /// Whether both say the same of the day, whenever they were made and their forecasts fetched.
    pub fn says_the_same(&self, other: &Self) -> bool {
        let dateless = |plan: &Self| {
            let mut plan = plan.clone();
            plan.made_at = DateTime::UNIX_EPOCH;
            plan.weather.fetched_at = DateTime::UNIX_EPOCH;
            plan.weather.issued_at = None;
            plan.weather.stale = false;
            plan
        };
        dateless(self) == dateless(other)
    }

    /// The one checkpoint for which a trial made at `when` counts by its time; `None` where there is
    /// none or more than one.
    pub fn only_checkpoint_at(&self, when: DateTime<Utc>) -> Option<&KeptCheckpoint> {
        let next = |place: usize| self.checkpoints.get(place + 1);
        let mut taking = self
            .checkpoints
            .iter()
            .enumerate()
            .filter(|(place, point)| Kept::of(point, next(*place), self.shift_end).takes(when));
        let (_, first) = taking.next()?;
        taking.next().is_none().then_some(first)
    }

    /// Air as forecast for a minute of the shift; `None` outside it and where it is not known.
    pub fn air_at(&self, when: DateTime<Utc>) -> Option<Temperature> {
        let after = self.air.iter().position(|(time, _)| *time > when);
        let last = self.air.len().checked_sub(1)?;
        let before = after.unwrap_or(last + 1).checked_sub(1)?;
        let (from, low) = *self.air.get(before)?;
        let Some(&(until, high)) = after.and_then(|after| self.air.get(after)) else {
            // The last value holds for its own minute.
            return (when < from + TimeDelta::minutes(1)).then_some(low).flatten();
        };
        let share = (when - from).as_seconds_f64() / (until - from).as_seconds_f64();
        if share <= 0.0 {
            return low;
        }
        let (low, high) = (low?.celsius(), high?.celsius());
        Some(Temperature::from_celsius(low + share * (high - low)))
    }
}

/// Air runs straight from one hour to the next, so a few values carry all of it.
fn air(plan: &DayPlan) -> Vec<(DateTime<Utc>, Option<Temperature>)> {
    let hours: Vec<DateTime<Utc>> = plan.hours.iter().map(|hour| hour.time).collect();
    let last = plan.course.len().saturating_sub(1);
    plan.course
        .iter()
        .enumerate()
        .filter(|(place, moment)| {
            *place == 0 || *place == last || hours.binary_search(&moment.time).is_ok()
        })
        .map(|(_, moment)| (moment.time, moment.air))
        .collect()
}

impl KeptCheckpoint {
    /// Whether the clock alone says when it falls due: the start of work, the end of a break.
    pub fn is_by_the_clock(&self) -> bool {
        let after_break =
            Cause::AfterBreak { name: String::new(), minutes: 0 }.name() == self.cause;
        after_break || Cause::Start.name() == self.cause
    }
}

/// Of all plans kept of one day, in the order in which they were kept, the one that counts.
pub fn plan_that_counts(mut plans: Vec<KeptPlan>) -> Option<PlanAtHand> {
    let before = plans.iter().rposition(|plan| plan.made_at <= plan.shift_start);
    let standing = match before {
        Some(_) => Standing::AtShiftStart,
        None => Standing::MadeLater,
    };
    let place = before.unwrap_or(0);
    (place < plans.len()).then(|| PlanAtHand { plan: plans.swap_remove(place), standing })
}
