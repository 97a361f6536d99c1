//! What a plan says. Every output shows these values and decides nothing of its own.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::advised::Advice;
use super::mandatory::Checkpoint;
use super::reasons::{Note, Reason, Verdict};
use super::roof_moment::RoofMoment;
use crate::physics::surface::Range;
use crate::testweld::SiteError;
use crate::units::{Length, RainDepth, Temperature, TemperatureDifference, UnitSystem, WindSpeed};
use crate::weather::Field;
use crate::words::Language;

/// One working day on one roof.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// Name of the site.
    pub site: String,
    /// The site's own id, where it has one.
    pub site_id: Option<String>,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// How results are shown.
    pub units: UnitSystem,
    /// In which the crew reads them.
    pub language: Language,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// Whether the crew works on that weekday.
    pub workday: bool,
    /// The shift and its breaks as instants.
    pub shift: ShiftSpan,
    /// Where the weather comes from and what it lacks.
    pub weather: PlanWeather,
    /// The day at a glance.
    pub summary: Summary,
    /// The hours that the shift touches.
    pub hours: Vec<PlanHour>,
    /// The shift from end to end, without holes or overlaps.
    pub spans: Vec<Span>,
    /// Mandatory test welds, ascending.
    pub checkpoints: Vec<Checkpoint>,
    /// Tests that may well fall due though the forecast itself does not ask for them.
    pub stand_by: Vec<StandBy>,
    /// Seam that can be laid; `None` on a site of hand welders.
    pub footage: Option<Footage>,
    /// Air and sheet minute by minute, for the picture.
    pub course: Vec<RoofMoment>,
    /// What the plan leaves out or bends, and why.
    pub notes: Vec<Note>,
    /// What to see to, most important first.
    pub advice: Vec<Advice>,
}

/// The shift as instants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShiftSpan {
    /// First minute of work.
    pub start: DateTime<Utc>,
    /// End of work.
    pub end: DateTime<Utc>,
    /// Ascending.
    pub breaks: Vec<BreakSpan>,
}

/// A break as instants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BreakSpan {
    /// As the crew calls it.
    pub name: String,
    /// Its first minute.
    pub start: DateTime<Utc>,
    /// The minute after its last.
    pub end: DateTime<Utc>,
    /// Whether it is long enough to ask for a test after it.
    pub needs_test: bool,
    /// The id of the checkpoint at its end, unique in the day.
    pub checkpoint_id: String,
}

/// Where the weather comes from and what it lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanWeather {
    /// Name of the source.
    pub source: String,
    /// When the service issued it.
    pub issued_at: Option<DateTime<Utc>>,
    /// When it was fetched or read.
    pub fetched_at: DateTime<Utc>,
    /// From `fetched_at` to the moment of planning.
    pub age: TimeDelta,
    /// The service could not be asked; an earlier reply stands in.
    pub stale: bool,
    /// The credit that the license asks for.
    pub attribution: String,
    /// Kinds of value that no hour of the shift has.
    pub missing: Vec<Field>,
    /// Kinds of value that some hours of the shift have and others lack.
    pub partly_missing: Vec<Field>,
    /// Hours whose air temperature was bridged from their neighbors.
    pub bridged: Vec<DateTime<Utc>>,
    /// How far such forecasts were off at this site's trials; `None` before there are enough.
    pub known_error: Option<KnownError>,
}

/// How far forecasts were off at this site's trials, at the lead of this one.
///
/// The planned times stand on the forecast as it is; this enters how sure they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownError {
    /// What the book's readings say, drawn toward the default.
    pub site: SiteError,
    /// Spread around the bias at the start of the shift.
    pub spread: TemperatureDifference,
    /// The spread that is taken without readings.
    pub default_spread: TemperatureDifference,
    /// The likelihoods go by it; else they go by an ensemble's members as they are.
    pub in_likelihoods: bool,
}

/// The day at a glance.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// Lowest air temperature of the shift.
    pub air_min: Temperature,
    /// Highest air temperature of the shift.
    pub air_max: Temperature,
    /// Working time, breaks left out, in which nothing holds the welding.
    pub weldable: TimeDelta,
    /// First working minute that can be welded.
    pub first_weldable: Option<DateTime<Utc>>,
    /// End of the last working minute that can be welded.
    pub last_weldable: Option<DateTime<Utc>>,
    /// Lowest and highest sheet temperature of the shift, as far as it is known.
    pub sheet: Option<(Temperature, Temperature)>,
    /// When the sheet is dry, where the shift begins with a wet one.
    pub dry: Option<Dry>,
    /// How many tests the day may take.
    pub tests: Option<TestCount>,
}

/// One hour of the shift.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanHour {
    /// Start of the hour.
    pub time: DateTime<Utc>,
    /// Air at the start of the hour; bridged where one hour is missing.
    pub air: Option<Temperature>,
    /// Sheet at the start of the hour.
    pub sheet: Option<Range<Temperature>>,
    /// Dew point at the start of the hour.
    pub dew_point: Option<Temperature>,
    /// Relative humidity in percent.
    pub humidity_pct: Option<f64>,
    /// Mean wind.
    pub wind: Option<WindSpeed>,
    /// Strongest gust of the hour.
    pub gust: Option<WindSpeed>,
    /// This hour's share of the rain.
    pub rain: Option<RainDepth>,
    /// This hour's share of the fresh snow.
    pub snow: Option<RainDepth>,
    /// The judgment on the hour.
    pub verdict: Verdict,
    /// What led to it.
    pub reasons: Vec<Reason>,
}

/// A stretch of time of one verdict for the same reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Its first minute.
    pub start: DateTime<Utc>,
    /// The minute after its last.
    pub end: DateTime<Utc>,
    /// Whether there can be welding.
    pub verdict: Verdict,
    /// Why not, or why with care.
    pub reasons: Vec<Reason>,
}

/// How sure a weather-driven test is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Likelihood {
    /// In how many of a hundred likely courses of the day the test falls due.
    pub percent: f64,
    /// In nine of ten of those it falls due after this.
    pub earliest: DateTime<Utc>,
    /// In nine of ten of those it falls due before this.
    pub latest: DateTime<Utc>,
}

/// A test that the forecast itself does not ask for, but that may well fall due.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandBy {
    /// How sure, and when.
    pub likelihood: Likelihood,
    /// The middle of the times at which it falls due.
    pub about: DateTime<Utc>,
}

/// How many tests the day may take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TestCount {
    /// One day in ten takes this or fewer.
    pub p10: usize,
    /// The middle.
    pub p50: usize,
    /// One day in ten takes this or more.
    pub p90: usize,
    /// Courses that were looked at.
    pub courses: usize,
    /// Courses with at least one test for a change of air or sheet.
    pub with_change: usize,
    /// They are an ensemble's members; else they come from the error model.
    pub from_ensemble: bool,
}

/// When the sheet is dry, where the shift begins with a wet one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dry {
    /// With the likeliest drying.
    pub from: DateTime<Utc>,
    /// With strong convection.
    pub earliest: DateTime<Utc>,
    /// With weak convection; `None` when it stays wet through the shift.
    pub latest: Option<DateTime<Utc>>,
}

/// Seam that can be laid.
#[derive(Debug, Clone, PartialEq)]
pub struct Footage {
    /// By span and welder, spans without any left out.
    pub stretches: Vec<FootageStretch>,
    /// All automatic welders together.
    pub total: Length,
    /// The site's target, if it has one.
    pub target: Option<FootageTarget>,
}

/// Seam of one welder in one span.
#[derive(Debug, Clone, PartialEq)]
pub struct FootageStretch {
    /// Start of the span.
    pub start: DateTime<Utc>,
    /// End of the span.
    pub end: DateTime<Utc>,
    /// The welder.
    pub welder: String,
    /// After tests and breaks.
    pub length: Length,
}

/// How the day stands against the site's target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FootageTarget {
    /// The target.
    pub length: Length,
    /// When it is reached; `None` when it is not.
    pub reached_at: Option<DateTime<Utc>>,
}

impl DayPlan {
    /// The same plan for readers of `language`.
    pub fn in_language(&self, language: Language) -> Self {
        Self { language, ..self.clone() }
    }

    /// What stands for the site: see [`site_key`](crate::site::site_key).
    pub fn site_key(&self) -> String {
        let id = self.site_id.as_deref();
        crate::site::site_key(id, &self.site, self.latitude_deg, self.longitude_deg)
    }
}
