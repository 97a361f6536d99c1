//! The mandatory test welds of a plan: when, why, and what each welder starts from.

use chrono::{DateTime, Utc};

use super::day::Likelihood;
use super::reasons::Reason;
use crate::physics::fusion::CenterShift;
use crate::physics::surface::Range;
use crate::testweld::{Estimate, Origin, PassedOver, WhyFullRange};
use crate::units::{Temperature, TemperatureDifference, TravelSpeed};

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
