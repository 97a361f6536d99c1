//! Verdicts, the reasons behind them, and what a plan leaves out or bends.

use chrono::{DateTime, Utc};

use super::day::KnownError;
use super::mandatory::Cause;
use crate::units::{RainDepth, Temperature, TemperatureDifference, WindSpeed};

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

/// What the plan leaves out or bends, and why.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// The date is not one of the crew's workdays.
    NotAWorkday,
    /// A change that falls due shortly before a break waits for the test after it.
    ChangeWaits {
        /// When it falls due.
        due: DateTime<Utc>,
        /// It is the sheet's, not the air's.
        of_sheet: bool,
        /// Against that of the last checkpoint.
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
    /// Whether the sheet is dry cannot be told for the whole of the shift.
    FilmUnknown,
    /// The water on the sheet is followed from this moment only, taken as dry there.
    ShortRunUp {
        /// The first moment that the forecast carries.
        from: DateTime<Utc>,
    },
    /// The book knows how far such forecasts are off at this site.
    ForecastOff(KnownError),
    /// The clock changes during the shift.
    ClockChange {
        /// Real minutes of the shift less those on the wall clock.
        gained_minutes: i64,
    },
}

impl Verdict {
    /// Each of them.
    pub const ALL: [Self; 3] = [Self::Weld, Self::Care, Self::Hold];

    /// The word in every output.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Weld => "weld",
            Self::Care => "care",
            Self::Hold => "hold",
        }
    }
}
