//! What a plan says. Every output shows these values and decides nothing of its own.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use crate::testweld::{Origin, WhyFullRange};
use crate::units::{
    RainDepth, Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed,
};
use crate::weather::Field;

/// One working day on one roof.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// Name of the site.
    pub site: String,
    /// North positive.
    pub latitude_deg: f64,
    /// East positive.
    pub longitude_deg: f64,
    /// How results are shown.
    pub units: UnitSystem,
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
    /// The credit that the licence asks for.
    pub attribution: String,
    /// Kinds of value that no hour of the shift has.
    pub missing: Vec<Field>,
    /// Kinds of value that some hours of the shift have and others lack.
    pub partly_missing: Vec<Field>,
    /// Hours whose air temperature was bridged from their neighbors.
    pub bridged: Vec<DateTime<Utc>>,
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
}

/// One hour of the shift.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanHour {
    /// Start of the hour.
    pub time: DateTime<Utc>,
    /// Air at the start of the hour; bridged where one hour is missing.
    pub air: Option<Temperature>,
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

/// Whether there can be welding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Nothing speaks against it.
    Weld,
    /// With the measures that the reasons name.
    Care,
    /// No welding.
    Hold,
}

/// Why a stretch of time is not simply weldable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// Measurable rain.
    Rain {
        /// As the source gives it.
        total: RainDepth,
        /// Hours that the total covers.
        over_hours: u32,
    },
    /// Measurable snow.
    Snow {
        /// Depth of fresh snow as the source gives it.
        total: RainDepth,
        /// Hours that the total covers.
        over_hours: u32,
    },
    /// Thunder, until half an hour after the last hour with it.
    Thunder,
    /// Water, dew or frost stands on the sheet.
    WetSheet {
        /// Water left on it.
        depth: RainDepth,
        /// It is frozen.
        frost: bool,
    },
    /// Wind or gusts at which work on the roof stops.
    WindStop {
        /// The rule's limit.
        from: WindSpeed,
    },
    /// The sheet is hardly warmer than the dew point.
    DewNear {
        /// The rule's margin.
        within: TemperatureDifference,
    },
    /// Cold air.
    Cold {
        /// The rule's limit.
        below: Temperature,
    },
    /// Gusts that ask for a second hand on every sheet.
    Gust {
        /// The rule's limit.
        from: WindSpeed,
    },
    /// Wind that cools the lap and steals the air flow.
    WindShield {
        /// The rule's limit.
        from: WindSpeed,
    },
    /// Heat index at which people need water, shade and rest.
    Heat {
        /// The rule's limit.
        from: Temperature,
    },
    /// Before civil dawn or after civil dusk.
    Dark,
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

/// What the plan leaves out or bends, and why.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// The date is not one of the crew's workdays.
    NotAWorkday,
    /// A change that falls due shortly before a break waits for the test after it.
    ChangeWaits {
        /// When it falls due.
        due: DateTime<Utc>,
        /// Ambient against that of the last checkpoint.
        change: TemperatureDifference,
        /// The break.
        break_name: String,
        /// When the test after it is.
        test_at: DateTime<Utc>,
    },
    /// A test falls due too close to the end of the shift.
    TooLate {
        /// When it falls due.
        due: DateTime<Utc>,
        /// What asks for it.
        cause: Cause,
    },
    /// Welding does not resume before the shift ends.
    HeldToTheEnd {
        /// When the hold began.
        from: DateTime<Utc>,
    },
    /// A welder's speed was kept within its range.
    SpeedClamped {
        /// The welder.
        welder: String,
    },
    /// Rain is unknown in part of the shift.
    RainUnknown,
    /// The clock changes during the shift.
    ClockChange {
        /// Real minutes of the shift less those on the wall clock.
        gained_minutes: i64,
    },
}

/// Something to see to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// What it is about.
    pub topic: Topic,
    /// Which advice: a key into the words of `render`.
    pub key: &'static str,
}

/// What an advice is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topic {
    /// Rain and snow.
    Wet,
    /// Cold air or sheet.
    Cold,
    /// Heat.
    Heat,
    /// Wind and gusts.
    Wind,
    /// The forecast itself.
    Forecast,
}

impl Verdict {
    /// The word in every output.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Weld => "weld",
            Self::Care => "care",
            Self::Hold => "hold",
        }
    }
}

impl Cause {
    /// The word in the plan's JSON.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::AfterBreak { .. } => "after-break",
            Self::AmbientChange => "ambient-change",
            Self::SheetChange => "sheet-change",
            Self::Elapsed { .. } => "elapsed",
            Self::AfterHold { .. } => "after-hold",
        }
    }
}

impl Topic {
    /// The word in the plan's JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Wet => "wet",
            Self::Cold => "cold",
            Self::Heat => "heat",
            Self::Wind => "wind",
            Self::Forecast => "forecast",
        }
    }
}
