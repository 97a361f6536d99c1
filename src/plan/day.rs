//! What a plan says. Every output shows these values and decides nothing of its own.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::advised::Advice;
use super::reasons::{Note, Reason, Verdict};
use super::roof::RoofMoment;
use crate::physics::fusion::CenterShift;
use crate::physics::surface::Range;
use crate::testweld::{Estimate, Origin, PassedOver, SiteError, WhyFullRange};
use crate::units::{
    Length, RainDepth, Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed,
};
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
    /// What the book's readings say, drawn towards the default.
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

/// A moment at which a test weld is mandatory.
#[derive(Debug, Clone, PartialEq)]
pub struct Checkpoint {
    /// Stable across re-planning; unique in the day.
    pub id: String,
    /// When.
    pub time: DateTime<Utc>,
    /// What asks for it.
    pub cause: Cause,
    /// Ambient at that minute.
    pub air: Temperature,
    /// Sheet temperature at that minute.
    pub sheet: Option<Range<Temperature>>,
    /// How far the middle of the heat window has moved since the checkpoint before.
    pub center_shift: Option<CenterShift>,
    /// How sure a weather-driven test is; `None` for the others.
    pub likelihood: Option<Likelihood>,
    /// Ambient against that of the checkpoint before; `None` at the first.
    pub change_since_last: Option<TemperatureDifference>,
    /// When the checkpoint before was; `None` at the first.
    pub last_time: Option<DateTime<Utc>>,
    /// How long the test takes.
    pub minutes: u32,
    /// One for each welder, in the site's order.
    pub settings: Vec<Setting>,
}

/// What asks for a checkpoint.
#[derive(Debug, Clone, PartialEq)]
pub enum Cause {
    /// Start of the shift.
    Start,
    /// End of a break.
    AfterBreak {
        /// As the crew calls it.
        name: String,
        /// How long it was.
        minutes: i64,
    },
    /// Ambient has moved since the last test.
    AmbientChange,
    /// The sheet has moved since the last test.
    SheetChange,
    /// The longest time without a test is over.
    Elapsed {
        /// The rule's hours.
        hours: f64,
    },
    /// A hold is over.
    AfterHold {
        /// Whether this is the first test of the day, the shift having begun in the hold.
        opens_the_day: bool,
        /// What held.
        held_by: Vec<Reason>,
    },
}

/// A [`Cause`] without its particulars.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CauseKind {
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

/// What one welder starts from at a checkpoint.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Its name.
    pub welder: String,
    /// The rule's speed for the air at the checkpoint; `None` for a hand welder.
    pub start_speed: Option<TravelSpeed>,
    /// The rule's speed before it was kept within the welder's range, where that changed it.
    pub speed_before_clamp: Option<TravelSpeed>,
    /// Which heats to try.
    pub trial: Trial,
    /// Where the middle is expected, where the sheet of the record and of now are known.
    pub expected_center: Option<Temperature>,
    /// Heat that one ft/min is worth here: what to slow down by when the machine is at its maximum.
    pub heat_per_foot_per_minute: Option<TemperatureDifference>,
    /// Newer trials on this welder that the heats do not start from, newest first.
    pub passed_over: Vec<PassedOver>,
    /// What this crew's own record expects, beside the heats and never instead of them; `None`
    /// until it has earned to be heard.
    pub learned: Option<Estimate>,
}

/// One trial: several heats at one speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// Held for every heat; `None` for a hand welder.
    pub speed_held: Option<TravelSpeed>,
    /// Ascending, at least one.
    pub heats: Vec<Temperature>,
    /// How they were chosen.
    pub kind: Heats,
}

/// How the heats of a trial were chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Heats {
    /// From the welder's lowest to its maximum.
    FullRange(WhyFullRange),
    /// An earlier center and one step to each side.
    Bracket {
        /// The earlier center.
        center: Temperature,
        /// The speed of that record.
        record_speed: Option<TravelSpeed>,
        /// Where the record comes from.
        origin: Origin,
        /// The rule's speed is too far from the record's: the middle will have moved.
        middle_moved: bool,
    },
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

impl Cause {
    /// What kind of cause it is.
    pub const fn kind(&self) -> CauseKind {
        match self {
            Self::Start => CauseKind::Start,
            Self::AfterBreak { .. } => CauseKind::AfterBreak,
            Self::AmbientChange => CauseKind::AmbientChange,
            Self::SheetChange => CauseKind::SheetChange,
            Self::Elapsed { .. } => CauseKind::Elapsed,
            Self::AfterHold { .. } => CauseKind::AfterHold,
        }
    }

    /// The word in the plan's JSON.
    pub const fn name(&self) -> &'static str {
        self.kind().name()
    }
}

impl CauseKind {
    /// The word in the plan's JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::AfterBreak => "after-break",
            Self::AmbientChange => "ambient-change",
            Self::SheetChange => "sheet-change",
            Self::Elapsed => "elapsed",
            Self::AfterHold => "after-hold",
        }
    }
}
