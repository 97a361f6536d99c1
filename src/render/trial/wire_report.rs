//! The shapes of the book's JSON: trials with their history, the daily report, the month.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::wire::UnitsWord;
use super::wire_judged::JudgedJson;
use crate::render::json::Figure;

/// What `book --format json` prints.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BookJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Oldest first.
    pub trials: Vec<KeptJson>,
    /// Trials that were withdrawn, oldest first: they count for nothing.
    #[serde(default)]
    pub withdrawn: Vec<WithdrawnJson>,
    /// What all this does not say.
    pub caution: String,
}

/// A trial as the book holds it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KeptJson {
    /// By which it is called.
    pub id: String,
    /// When its present form was written down.
    pub written_at: String,
    /// Who gave it its present form, and why; `null` where it was never corrected.
    pub corrected: Option<CorrectedJson>,
    /// Air for its minute as forecast.
    pub air_forecast: Option<Figure>,
    /// Settings really run on it, oldest first.
    pub ran: Vec<RanAtJson>,
    /// The trial and its verdict.
    pub judged: JudgedJson,
    /// What it said before, oldest first.
    pub earlier: Vec<EarlierJson>,
    /// When it was withdrawn, oldest first; one that stands among trials was put back since.
    #[serde(default)]
    pub withdrawals: Vec<WithdrawalJson>,
}

/// A withdrawal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WithdrawalJson {
    /// When it was written down.
    pub at: String,
    /// Who.
    pub by: String,
    /// Why.
    pub why: String,
}

/// A trial that was withdrawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WithdrawnJson {
    /// What took it out.
    pub withdrawn: WithdrawalJson,
    /// As it stood last.
    pub trial: KeptJson,
}

/// What `record --withdraw` prints.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RecordedWithdrawalJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Whether it is in the book; not after a dry run.
    pub written: bool,
    /// What was withdrawn.
    pub withdrawn: WithdrawnJson,
    /// What all this does not say.
    pub caution: String,
}

/// What a trial said before it was corrected.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EarlierJson {
    /// When that form was written down.
    pub written_at: String,
    /// Who gave it that form, and why; `null` for the first.
    pub corrected: Option<CorrectedJson>,
    /// The trial as it stood, and its verdict.
    pub judged: JudgedJson,
}

/// A correction.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CorrectedJson {
    /// Who.
    pub by: String,
    /// Why.
    pub why: String,
}

/// A setting that was run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RanAtJson {
    /// When that was written down.
    pub written_at: String,
    /// What the machine was set to.
    pub heat: Option<Figure>,
    /// `null` for a hand welder.
    pub speed: Option<Figure>,
}

/// The daily quality report.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ReportJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Local day on which the shift starts.
    pub date: String,
    /// IANA zone of the shift.
    pub time_zone: String,
    /// What the numbers mean: °F, mph and in, or °C, m/s and mm.
    pub units: UnitsWord,
    /// When the report was made.
    pub made_at: String,
    /// The plan that the day is held against; `null` where none is at hand.
    pub plan: Option<PlanAtHandJson>,
    /// As forecast; `null` where no plan of the day is at hand.
    pub weather: Option<ReportWeatherJson>,
    /// Every checkpoint of the plan.
    pub checkpoints: Vec<CheckpointJson>,
    /// Every welder of the site, and any other that was tested.
    pub welders: Vec<WelderJson>,
    /// Every trial of the day, oldest first.
    pub trials: Vec<KeptJson>,
    /// Trials of the day that were withdrawn, oldest first: they count for nothing.
    #[serde(default)]
    pub withdrawn: Vec<WithdrawnJson>,
    /// What all this does not say.
    pub caution: String,
}

/// The plan that a day is held against.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PlanAtHandJson {
    /// `at-shift-start`: the last one made before the shift began; `made-later`: none was kept
    /// before, the first made after; `planned-again`: none was kept, planned for this report.
    pub standing: String,
    /// When it was made.
    pub made_at: String,
    /// First minute of work, as planned.
    pub shift_start: String,
    /// End of work, as planned.
    pub shift_end: String,
}

/// The weather as forecast.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ReportWeatherJson {
    /// Its source.
    pub source: String,
    /// When the service issued it, where it says so.
    pub issued_at: Option<String>,
    /// When it was fetched or read.
    pub fetched_at: String,
    /// An earlier reply stood in.
    pub stale: bool,
    /// The credit that the license asks for.
    pub attribution: String,
    /// Lowest air of the shift.
    pub air_min: Option<Figure>,
    /// Highest air of the shift.
    pub air_max: Option<Figure>,
    /// The hours that the shift touches.
    pub hours: Vec<ReportHourJson>,
}

/// One hour as forecast; `null` is unknown, never zero.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ReportHourJson {
    /// Its first minute.
    pub time: String,
    /// Air at `time`.
    pub air: Option<Figure>,
    /// Relative humidity, percent.
    pub humidity: Option<Figure>,
    /// Mean wind.
    pub wind: Option<Figure>,
    /// Strongest gust.
    pub gust: Option<Figure>,
    /// Rain of the hour.
    pub rain: Option<Figure>,
    /// `weld`, `care` or `hold`.
    pub verdict: String,
}

/// A checkpoint and what was done for it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CheckpointJson {
    /// Its id in the plan.
    pub id: String,
    /// When it fell due.
    pub due: String,
    /// Why it is in the plan.
    pub because: String,
    /// Air as planned for it.
    pub air: Option<Figure>,
    /// Over all welders that were tested on the day.
    pub status: StatusWord,
    /// In the site's order.
    pub welders: Vec<WelderStatusJson>,
}

/// Whether a checkpoint was kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StatusWord {
    /// A conclusive trial, in time.
    Done,
    /// A conclusive trial, too late.
    Late,
    /// Trials, and none conclusive.
    ProvedNothing,
    /// No trial.
    Missed,
    /// No trial so far, and the time allowed is over.
    Overdue,
    /// The time allowed is not over yet.
    NotDue,
}

/// One welder at one checkpoint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WelderStatusJson {
    /// Its name.
    pub welder: String,
    /// Whether it was tested.
    pub status: StatusWord,
    /// Minutes after the checkpoint, where it was late or is overdue.
    pub late_minutes: Option<i64>,
    /// The ids of its trials.
    pub trials: Vec<String>,
}

/// A welder's day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct WelderJson {
    /// Its name.
    pub welder: String,
    /// How many trials were made on it; with none it may not have been used.
    pub trials: usize,
}

/// A month for the office.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct MonthJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// `YYYY-MM`.
    pub month: String,
    /// Checkpoints of the days whose plan is at hand.
    pub planned: usize,
    /// Checkpoints kept, in time or late.
    pub made: usize,
    /// Of those, how many were late.
    pub late: usize,
    /// Checkpoints missed or with nothing proved.
    pub missed: usize,
    /// Trials in the book.
    pub trials: usize,
    /// Trials that were withdrawn, counted nowhere else.
    #[serde(default)]
    pub withdrawn: usize,
    /// By the site's rule for one test weld.
    pub minutes_spent: u64,
    /// Days with a trial and no plan at hand.
    pub days_without_plan: usize,
    /// Ascending.
    pub days: Vec<MonthDayJson>,
}

/// One day of a month.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct MonthDayJson {
    /// Which.
    pub date: String,
    /// `null` where no plan is at hand.
    pub planned: Option<usize>,
    /// No plan of the day was kept: it was planned again from the forecast at hand.
    pub planned_again: bool,
    /// Kept, in time or late.
    pub made: usize,
    /// Of those, how many were late.
    pub late: usize,
    /// Missed or with nothing proved.
    pub missed: usize,
    /// Trials in the book.
    pub trials: usize,
}
