//! The shape of the outlook's JSON. Names here are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::wire_job::Moves;
use super::wire_order::DayOrder;
use crate::render::json::Figure;

/// Many days of many sites, ahead by the forecast or behind by the record. `null` is unknown, never
/// zero; times are RFC 3339 with the site's offset.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OutlookJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// `days-ahead` or `years-behind`.
    pub mode: Mode,
    /// Ahead, the site with the worst day first; behind, the one that loses most of its work.
    pub sites: Vec<Site>,
    /// Sites that there is no outlook for.
    pub failed: Vec<FailedSite>,
    /// Which roof to go to first, on each day whose times are told and that has two roofs or more;
    /// `null` looking back.
    #[serde(default)]
    pub order: Option<Vec<DayOrder>>,
}

/// Which way an outlook looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Mode {
    /// By the forecast.
    DaysAhead,
    /// By the record.
    YearsBehind,
}

/// One site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Site {
    /// Its name.
    pub site: String,
    /// Its file, as it was named.
    pub file: String,
    /// IANA zone of the shift.
    pub time_zone: String,
    /// Unit of each kind of number.
    pub units: Units,
    /// Where the weather comes from; `null` where no day could be planned.
    pub attribution: Option<String>,
    /// What was left out or made of the weather of past years, a sentence each.
    pub notes: Vec<String>,
    /// The service could not be asked; an earlier reply stands in.
    pub stale: bool,
    /// The workdays ahead; `null` looking back.
    pub days: Option<Vec<Day>>,
    /// The past years; `null` looking ahead.
    pub record: Option<Record>,
}

/// Unit of each kind of number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Units {
    /// `degF` or `degC`.
    pub temperature: String,
    /// `ft` or `m`.
    pub length: String,
}

/// A site that there is no outlook for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FailedSite {
    /// Its file, as it was named.
    pub file: String,
    /// Why, in a sentence.
    pub reason: String,
}

/// A workday ahead.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Day {
    /// `YYYY-MM-DD`.
    pub date: String,
    /// Whether the forecast covers the shift; where not, everything else is `null`.
    pub covered: bool,
    /// Test welds of the plan.
    pub tests: Option<u32>,
    /// The same by cause.
    pub causes: Option<Causes>,
    /// How many tests the day may take.
    pub tests_likely: Option<Spread>,
    /// In how many of a hundred likely courses of the day air or sheet ask for at least one test.
    pub change_percent: Option<Figure>,
    /// When the tests fall due; `null` beyond day three.
    pub test_times: Option<Vec<String>>,
    /// Highest less lowest air: a difference.
    pub air_swing: Option<Figure>,
    /// Highest less lowest sheet: a difference.
    pub sheet_swing: Option<Figure>,
    /// Working hours that nothing holds.
    pub weldable_hours: Option<Figure>,
    /// First minute that can be welded; `null` beyond day three.
    pub first_weldable: Option<String>,
    /// When a sheet that is wet at the start of the shift is dry; `null` beyond day three.
    pub dry_from: Option<String>,
    /// The shift begins on a sheet wet from the night.
    pub begins_wet: Option<bool>,
    /// Minutes of work that holds and test welds take: the measure of the worst day.
    pub lost_minutes: Option<u32>,
    /// Rain, wind or the water on the sheet is unknown in some hour: what holds was judged without.
    pub partly_known: Option<bool>,
    /// The advice in a word.
    pub advice: Option<String>,
}

/// Test welds by what asks for them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Causes {
    /// Start of the shift.
    pub start: u8,
    /// End of a break.
    pub after_break: u8,
    /// Ambient had moved.
    pub ambient_change: u8,
    /// The sheet had moved.
    pub sheet_change: u8,
    /// The longest time without a test was over.
    pub elapsed: u8,
    /// A hold was over.
    pub after_hold: u8,
}

/// Nearest-rank percentiles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Spread {
    /// One in ten is this or less.
    pub p10: Figure,
    /// The middle.
    pub p50: Figure,
    /// Nine in ten are this or less.
    pub p90: Figure,
}

/// Past years of one site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Record {
    /// Of a hundred minutes of work, those lost to holds and test welds.
    pub lost_percent: Option<Figure>,
    /// All days.
    pub whole: Days,
    /// Year by year.
    pub years: Vec<Days>,
    /// By calendar month.
    pub months: Vec<Days>,
    /// By ISO week.
    pub weeks: Vec<Days>,
    /// By weekday.
    pub weekdays: Vec<Days>,
    /// `spring` and `fall`, three whole months each by the hemisphere, and the `rest` of the year.
    pub seasons: Vec<Days>,
    /// What test welds take a month.
    pub budget: Vec<Budget>,
    /// The odds of a job; `null` where they were not asked for.
    pub finish: Option<Finish>,
    /// What moving the job by a month would save; `null` where it was not asked for.
    #[serde(default)]
    pub moves: Option<Moves>,
}

/// Many workdays counted together. Only `workdays` counts those without weather.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Days {
    /// Which: `2013`, `Apr`, `week 15`, `Tue`, `spring`, `all`.
    pub of: String,
    /// Workdays.
    pub workdays: u32,
    /// Workdays that the record covers.
    pub covered: u32,
    /// Covered days judged without rain, wind or the water on the sheet in some hour.
    pub partly_known: u32,
    /// Test welds of a day.
    pub tests: Option<Spread>,
    /// All test welds.
    pub tests_in_all: u32,
    /// Shares of the covered days, percent.
    pub percent_of_days: Option<Shares>,
    /// Weldable hours of a day.
    pub weldable_hours: Option<Spread>,
    /// All of them.
    pub weldable_hours_in_all: Option<Figure>,
    /// All hours lost, by what held them.
    pub lost_hours: Lost,
    /// Days that begin wet with dew or frost; `null` where the water on the sheet is known of not one
    /// day.
    pub dew_days: Option<u32>,
    /// Minutes from the start of the shift to the first weldable one on such days.
    pub dew_delay_minutes: Option<Spread>,
    /// Earliest first weldable minute, `HH:MM`.
    pub earliest_start: Option<String>,
    /// Latest first weldable minute, `HH:MM`.
    pub latest_start: Option<String>,
    /// Covered days without a weldable minute.
    pub never_weldable: u32,
}

/// Shares of days by their number of tests, percent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Shares {
    /// None or one.
    pub none_or_one: Option<Figure>,
    /// Two.
    pub two: Option<Figure>,
    /// Three.
    pub three: Option<Figure>,
    /// Four or more.
    pub four_or_more: Option<Figure>,
}

/// Hours lost, by what held them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Lost {
    /// Snow.
    pub snow: Option<Figure>,
    /// Rain.
    pub rain: Option<Figure>,
    /// Thunder.
    pub thunder: Option<Figure>,
    /// Water, dew or frost on the sheet.
    pub wet_sheet: Option<Figure>,
    /// Storm wind.
    pub wind_stop: Option<Figure>,
}

/// What test welds take in a calendar month.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Budget {
    /// `Jan` to `Dec`.
    pub month: String,
    /// Years whose month is whole, and counts.
    pub months_counted: usize,
    /// Years whose month has a gap, and does not.
    pub months_with_gaps: usize,
    /// Minutes of testing.
    pub minutes: Option<Spread>,
    /// Times the crew's size.
    pub crew_hours: Option<Spread>,
    /// Times what an hour costs, in the currency of `crew_cost_per_hour`.
    pub cost: Option<Spread>,
}

/// The odds that a job is done in time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finish {
    /// Seam of the whole job.
    pub footage: Option<Figure>,
    /// First day, `YYYY-MM-DD`.
    pub start: String,
    /// Last day.
    pub finish: String,
    /// Years that say yes or no.
    pub decided: usize,
    /// Years in which it was done in time.
    pub finished: usize,
    /// The same in percent.
    pub percent: Option<Figure>,
    /// Year by year.
    pub years: Vec<FinishYear>,
}

/// The job in the weather of one year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FinishYear {
    /// Of its first day.
    pub year: i32,
    /// When it was done, `YYYY-MM-DD`.
    pub done_on: Option<String>,
    /// Seam laid on the covered days until it was done.
    pub seam: Option<Figure>,
    /// Workdays of the job without weather.
    pub uncovered: u32,
}

/// The JSON Schema of the outlook, as kept in `docs/outlook.schema.json`.
pub fn outlook_schema() -> String {
    written(&schemars::schema_for!(OutlookJson))
}

/// Indented, with a line end. The wire types hold strings and finite numbers only, so that writing
/// them cannot fail.
pub(super) fn written(value: &impl Serialize) -> String {
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
