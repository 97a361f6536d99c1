//! The shape of an explanation's JSON. Names here are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::wire_roof::{People, Range, Sheet, Sky, Sun, Water, Weather};
use crate::render::json::{Figure, KnownError, Setting, Verdict};

/// Every number behind one minute of one roof. Instants are RFC 3339 with the site's offset;
/// `units` says the unit of each kind of number; `null` is unknown, never zero; `see` is where the
/// project's documents explain a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExplanationJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Local day on which the shift starts, `YYYY-MM-DD`.
    pub date: String,
    /// IANA zone of the shift.
    pub time_zone: String,
    /// Start of the minute.
    pub time: String,
    /// What a clock change did to the wall time asked for; `null` for nothing.
    pub clock_change: Option<ClockChange>,
    /// Unit of each kind of number.
    pub units: Units,
    /// `nws`, `met-norway`, `open-meteo` or `file`.
    pub source: String,
    /// The shift; `null` where the forecast carries no plan for the day.
    pub shift: Option<Stretch>,
    /// What the minute is in the day.
    pub stage: Stage,
    /// The break that it lies in.
    pub break_name: Option<String>,
    /// What the rules come to.
    pub verdict: Verdict,
    /// Reasons of the rules that fire.
    pub reasons: Vec<String>,
    /// The test weld that begins in this minute.
    pub test_here: Option<TestHere>,
    /// The forecast at this minute.
    pub weather: Weather,
    /// The sun and its radiation.
    pub sun: Sun,
    /// How the sky radiates.
    pub sky: Sky,
    /// The sheet.
    pub sheet: Sheet,
    /// Water on the sheet.
    pub water: Water,
    /// What people feel.
    pub people: People,
    /// Every rule with its value against its limit.
    pub rules: Rules,
    /// What has changed since the last test; `null` outside the shift and before its first test.
    pub since_last_test: Option<SinceTest>,
    /// The start-speed rule step by step; `null` where the air is unknown.
    pub start_speed: Option<StartSpeed>,
    /// How far such forecasts were off at this site's trials; `null` before there are enough.
    pub known_error: Option<KnownError>,
    /// Where that is explained.
    #[serde(default)]
    pub see_known_error: String,
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
    /// `in` or `mm`, of rain, snow and film.
    pub rain: String,
    /// `in/h` or `mm/h`.
    pub evaporation: String,
    /// `W/m2`.
    pub radiation: String,
    /// `W/(m2 K)`.
    pub convection: String,
    /// `hPa`.
    pub pressure: String,
    /// `deg`.
    pub angle: String,
    /// `%`, of humidity, cloud cover and chances.
    pub percent: String,
}

/// What a clock change does to a wall time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ClockChange {
    /// It occurs twice that day; the first is meant.
    Twice,
    /// It does not occur that day; it is read with the offset in force before the change.
    Skipped,
}

/// A stretch of time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stretch {
    /// Its first minute.
    pub start: String,
    /// The minute after its last.
    pub end: String,
}

/// What a minute is in the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// The crew works.
    Work,
    /// In a break.
    Break,
    /// Welding is held.
    Hold,
    /// Before the shift.
    BeforeShift,
    /// After the shift.
    AfterShift,
    /// There is no plan for the day.
    Unplanned,
}

/// A test weld of the plan that begins in this minute.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TestHere {
    /// Its id in the plan.
    pub id: String,
    /// Its cause in the plan.
    pub cause: String,
    /// What each welder starts from, as in the plan.
    #[serde(default)]
    pub settings: Vec<Setting>,
    /// Where what carries over from earlier trials is explained.
    #[serde(default)]
    pub see_carried: String,
    /// Where what is learned from them is explained.
    #[serde(default)]
    pub see_learned: String,
}

/// The rules that judge a minute.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rules {
    /// In the order in which reasons are given.
    pub checks: Vec<RuleCheck>,
    /// Where this is explained.
    pub see: String,
}

/// One rule held against this minute.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RuleCheck {
    /// Its name.
    pub rule: String,
    /// The key of its limit under `[rules]` in the site file; `null` where it is no setting.
    pub key: Option<String>,
    /// What the minute is at least when it fires.
    pub verdict: Verdict,
    /// What it looks at; `null` where that is unknown, which holds nothing.
    pub value: Option<Figure>,
    /// For thunder: whether the source's own word names it, where that decides.
    pub named: Option<bool>,
    /// How the value is held against the limit.
    pub comparison: Comparison,
    /// The threshold in force.
    pub limit: Option<Figure>,
    /// Which of `units` value and limit are in.
    pub unit: String,
    /// The value is at or beyond the limit, or thunder is named.
    pub reached: bool,
    /// A graver rule that says it already.
    pub said_by: Option<String>,
    /// It counts toward the verdict.
    pub fires: bool,
    /// What it has to say, where it is reached.
    pub reason: Option<String>,
}

/// How a value is held against a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Comparison {
    /// At the limit or beyond.
    AtLeast,
    /// Beyond the limit.
    Above,
    /// Short of the limit.
    Below,
}

/// What has changed since the last test, and what that asks for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SinceTest {
    /// Id of the last test before this minute.
    pub id: String,
    /// When it was.
    pub time: String,
    /// Ambient then.
    pub air: Option<Figure>,
    /// Ambient now less ambient then: a difference.
    pub air_change: Option<Figure>,
    /// A change of this asks for a test.
    pub air_limit: Option<Figure>,
    /// It has come.
    pub air_due: bool,
    /// Share of the step from sheet to air that the sheet's face gains, 0 to 1.
    pub face_share: Option<Range>,
    /// How far the middle of the heat window has moved: a difference of heat.
    pub center_shift: Option<Range>,
    /// A shift of this asks for a test.
    pub center_limit: Option<Figure>,
    /// It has come.
    pub center_due: bool,
    /// Whole minutes since.
    pub minutes: i64,
    /// After this many hours a test is due.
    pub max_hours_between: Option<Figure>,
    /// They are over.
    pub elapsed_due: bool,
    /// The next break with a test after it.
    pub next_break: Option<NextBreak>,
    /// Whole minutes to the end of the shift.
    pub minutes_to_end: i64,
    /// No test in these last minutes.
    pub last_test_before_end_minutes: u32,
    /// This minute is one of them.
    pub too_late: bool,
    /// Where testing is explained.
    pub see: String,
    /// Where the middle of the heat window is explained.
    pub see_center: String,
}

/// The next break with a test after it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NextBreak {
    /// As the crew calls it.
    pub name: String,
    /// When it begins.
    pub start: String,
    /// A change this close before it waits for the test after it.
    pub merge_within_minutes: u32,
    /// It is that close.
    pub waits: bool,
}

/// The start-speed rule step by step; the rule itself is worked in °F and ft/min.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StartSpeed {
    /// Ambient, °F.
    pub ambient_fahrenheit: Option<Figure>,
    /// To the nearest ten, a tie to the slower, °F.
    pub rounded_fahrenheit: Option<Figure>,
    /// That over ten, plus two, ft/min.
    pub by_rule_feet_per_minute: Option<Figure>,
    /// One for each automatic welder.
    pub welders: Vec<WelderSpeed>,
    /// Where this is explained.
    pub see: String,
}

/// The rule's speed kept within one welder's range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WelderSpeed {
    /// Its name.
    pub welder: String,
    /// Slowest.
    pub slowest: Option<Figure>,
    /// Fastest.
    pub fastest: Option<Figure>,
    /// What it starts from.
    pub speed: Option<Figure>,
    /// The range has changed it.
    pub clamped: bool,
}
