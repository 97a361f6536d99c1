//! The shape of the plan's JSON. Names here are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Figure;
use super::wire_open::OpenRoof;
use super::wire_record::{KnownError, Learned, PassedOver};

/// One working day on one roof. Instants are RFC 3339 with the site's offset; `units` says the
/// unit of each kind of number; `null` is unknown, never zero.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlanJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Local day on which the shift starts, `YYYY-MM-DD`.
    pub date: String,
    /// IANA zone of the shift.
    pub time_zone: String,
    /// Whether the crew works on that weekday.
    pub workday: bool,
    /// Unit of each kind of number.
    pub units: Units,
    /// Where the weather comes from and what it lacks.
    pub weather: Weather,
    /// The shift and its breaks.
    pub shift: Shift,
    /// The day at a glance.
    pub summary: Summary,
    /// The hours that the shift touches.
    pub hours: Vec<Hour>,
    /// The shift from end to end, by verdict.
    pub spans: Vec<Span>,
    /// Mandatory test welds, ascending.
    pub checkpoints: Vec<Checkpoint>,
    /// Tests that may well fall due though the forecast itself does not ask for them.
    pub stand_by: Vec<StandBy>,
    /// Seam that can be laid; `null` on a site of hand welders.
    pub footage: Option<Footage>,
    /// How much roof may be opened before rain; `null` where none is to be sealed before.
    #[serde(default)]
    pub open_roof: Option<OpenRoof>,
    /// What the plan leaves out or bends, and why.
    pub notes: Vec<String>,
    /// What to see to, most important first.
    pub advice: Vec<Advice>,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

/// Unit of each kind of number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Units {
    /// `degF` or `degC`.
    pub temperature: String,
    /// `ft/min` or `m/min`.
    pub speed: String,
    /// `mph` or `m/s`.
    pub wind: String,
    /// `in` or `mm`.
    pub rain: String,
    /// `ft` or `m`.
    pub length: String,
    /// `ft2` or `m2`.
    #[serde(default)]
    pub area: String,
}

/// Where the weather comes from and what it lacks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Weather {
    /// `nws`, `met-norway`, `open-meteo` or `file`.
    pub source: String,
    /// When the service issued it, where it says so.
    pub issued_at: Option<String>,
    /// When it was fetched or read.
    pub fetched_at: String,
    /// Whole minutes from `fetched_at` to the moment of planning.
    pub age_minutes: i64,
    /// The service could not be asked; an earlier reply stands in.
    pub stale: bool,
    /// The credit that the license asks for.
    pub attribution: String,
    /// Kinds of value that no hour of the shift has.
    pub missing: Vec<String>,
    /// Kinds of value that some hours of the shift lack.
    pub partly_missing: Vec<String>,
    /// Hours whose air temperature was bridged from their neighbors.
    pub bridged: Vec<String>,
    /// How far such forecasts were off at this site's trials; `null` before there are enough.
    pub known_error: Option<KnownError>,
}

/// The shift and its breaks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Shift {
    /// First minute of work.
    pub start: String,
    /// End of work.
    pub end: String,
    /// Ascending.
    pub breaks: Vec<Break>,
}

/// A break.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Break {
    /// As the crew calls it.
    pub name: String,
    /// Its first minute.
    pub start: String,
    /// The minute after its last.
    pub end: String,
}

/// The day at a glance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Summary {
    /// Lowest air temperature of the shift.
    pub air_min: Option<Figure>,
    /// Highest air temperature of the shift.
    pub air_max: Option<Figure>,
    /// Highest less lowest: a difference.
    pub air_swing: Option<Figure>,
    /// Lowest sheet temperature of the shift.
    pub sheet_min: Option<Figure>,
    /// Highest sheet temperature of the shift.
    pub sheet_max: Option<Figure>,
    /// Hours of working time, breaks left out, that nothing holds.
    pub weldable_hours: Option<Figure>,
    /// First working minute that can be welded.
    pub first_weldable: Option<String>,
    /// When the sheet is dry, where the shift begins with a wet one.
    pub dry: Option<Dry>,
    /// Number of checkpoints.
    pub checkpoints: usize,
    /// How many tests the day may take.
    pub tests: Option<TestCount>,
}

/// When the sheet is dry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Dry {
    /// With the likeliest drying.
    pub from: String,
    /// With strong convection.
    pub earliest: String,
    /// With weak convection; `null` when it stays wet through the shift.
    pub latest: Option<String>,
}

/// How many tests the day may take.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct TestCount {
    /// One course in ten takes this or fewer.
    pub p10: usize,
    /// The middle.
    pub p50: usize,
    /// One course in ten takes this or more.
    pub p90: usize,
    /// Courses of the day that were looked at.
    pub courses: usize,
    /// `ensemble` or `error-model`.
    pub from: String,
}

/// How sure a weather-driven test is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Likelihood {
    /// In how many of a hundred courses it falls due.
    pub percent: Option<Figure>,
    /// In nine of ten of those it falls due after this.
    pub earliest: String,
    /// In nine of ten of those it falls due before this.
    pub latest: String,
}

/// A test that may well fall due.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StandBy {
    /// The middle of the times at which it falls due.
    pub about: String,
    /// How sure.
    pub likelihood: Likelihood,
    /// The same in words.
    pub text: String,
}

/// Seam that can be laid, after tests and breaks, at the speeds suggested.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Footage {
    /// All automatic welders together.
    pub total: Option<Figure>,
    /// The site's target.
    pub target: Option<Figure>,
    /// When it is reached; `null` when it is not or there is none.
    pub target_reached_at: Option<String>,
    /// What is missing to the target.
    pub missing: Option<Figure>,
    /// By span and welder.
    pub stretches: Vec<FootageStretch>,
}

/// Seam of one welder in one span.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FootageStretch {
    /// Start of the span.
    pub start: String,
    /// End of the span.
    pub end: String,
    /// The welder.
    pub welder: String,
    /// Its seam.
    pub length: Option<Figure>,
}

/// A value with its range; the physics is not surer than that.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Range {
    /// Low end.
    pub low: Option<Figure>,
    /// High end.
    pub high: Option<Figure>,
}

/// One hour of the shift.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Hour {
    /// Its first minute.
    pub time: String,
    /// Air temperature at `time`.
    pub air: Option<Figure>,
    /// Sheet temperature at `time`.
    pub sheet: Option<Figure>,
    /// Its range.
    pub sheet_range: Option<Range>,
    /// Dew point at `time`.
    pub dew_point: Option<Figure>,
    /// Relative humidity in percent.
    pub humidity: Option<Figure>,
    /// Mean wind at `time`.
    pub wind: Option<Figure>,
    /// Strongest gust of the hour.
    pub gust: Option<Figure>,
    /// Rain and melted snow of the hour.
    pub rain: Option<Figure>,
    /// Depth of fresh snow of the hour, in the unit of rain.
    pub snow: Option<Figure>,
    /// `weld`, `care` or `hold`.
    pub verdict: Verdict,
    /// Why.
    pub reasons: Vec<String>,
}

/// Whether there can be welding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing speaks against it.
    Weld,
    /// With the measures that the reasons name.
    Care,
    /// No welding.
    Hold,
}

/// A stretch of the shift.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Span {
    /// Its first minute.
    pub start: String,
    /// The minute after its last.
    pub end: String,
    /// `weld`, `care` or `hold`.
    pub verdict: Verdict,
    /// Why.
    pub reasons: Vec<String>,
}

/// A mandatory test weld.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Checkpoint {
    /// Stable across re-planning, unique in the day.
    pub id: String,
    /// When.
    pub time: String,
    /// What asks for it.
    pub cause: Cause,
    /// The same in words.
    pub because: String,
    /// Ambient at that minute.
    pub air: Option<Figure>,
    /// Sheet temperature at that minute.
    pub sheet: Option<Figure>,
    /// Its range.
    pub sheet_range: Option<Range>,
    /// How far the middle of the heat window has moved since the checkpoint before: a difference
    /// of heat, with its range; positive asks for more heat.
    pub center_shift: Option<Figure>,
    /// Its range.
    pub center_shift_range: Option<Range>,
    /// How sure a weather-driven test is; `null` for the others.
    pub likelihood: Option<Likelihood>,
    /// Ambient less that of the checkpoint before: a difference; `null` at the first.
    pub change_since_last: Option<Figure>,
    /// How long the test takes.
    pub minutes: u32,
    /// One for each welder.
    pub settings: Vec<Setting>,
}

/// What asks for a checkpoint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// Start of the shift.
    Start,
    /// End of a break.
    AfterBreak,
    /// Ambient has moved.
    AmbientChange,
    /// The sheet has moved.
    SheetChange,
    /// The longest time without a test is over.
    Elapsed,
    /// A hold is over.
    AfterHold,
}

/// What one welder starts from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Setting {
    /// Its name.
    pub welder: String,
    /// The rule's speed within the welder's range; `null` for a hand welder.
    pub start_speed: Option<Figure>,
    /// The trial to make.
    pub trial: Trial,
    /// Where the middle is expected, where the sheet of the record and of now are known.
    pub expected_center: Option<Figure>,
    /// Difference of heat that one unit of speed is worth here.
    pub heat_per_speed: Option<Figure>,
    /// What this crew's own record expects, beside the trial and never instead of it; `null` until
    /// it has earned to be heard.
    pub learned: Option<Learned>,
    /// Newer trials on this welder that the heats do not start from, newest first.
    #[serde(default)]
    pub passed_over: Vec<PassedOver>,
}

/// Several heats at one speed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Trial {
    /// How the heats were chosen.
    pub kind: TrialKind,
    /// Held for every heat; `null` for a hand welder.
    pub speed_held: Option<Figure>,
    /// Ascending.
    pub heats: Vec<Figure>,
    /// The earlier window that a bracket starts from.
    pub from: Option<From>,
    /// Why those heats and that speed.
    pub because: String,
}

/// How heats were chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TrialKind {
    /// From the welder's lowest heat to its maximum.
    FullRange,
    /// An earlier center and one step to each side.
    Bracket,
}

/// An earlier heat window.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct From {
    /// Its center.
    pub center: Option<Figure>,
    /// Its speed.
    pub speed: Option<Figure>,
    /// Local day of the trial; `null` where the center was given by hand.
    pub day: Option<String>,
    /// The speed held is no longer the record's, so that the middle will have moved.
    pub middle_moved: bool,
}

/// Something to see to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Advice {
    /// What it is about.
    pub topic: String,
    /// What to do.
    pub text: String,
}
