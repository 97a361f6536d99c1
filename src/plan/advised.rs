//! What there is to see to, with the numbers it rests on.

use chrono::{DateTime, Utc};

use super::to_open::RoofToOpen;
use crate::units::{Temperature, WindSpeed};

/// Something to see to, with the numbers it rests on.
#[derive(Debug, Clone, PartialEq)]
pub enum Advice {
    /// The forecast could not be renewed.
    Stale,
    /// Thunder in the shift.
    Lightning {
        /// The rule's clearing time.
        clear_minutes: u32,
    },
    /// Wind or gusts at which work stops.
    StormWind {
        /// The rule's limit.
        from: WindSpeed,
    },
    /// Rain in or after the shift: what is open must be sealed.
    Seal {
        /// When the rain begins.
        rain_from: DateTime<Utc>,
        /// By when to be sealed.
        sealed_by: DateTime<Utc>,
        /// It begins after the shift.
        after_shift: bool,
    },
    /// How much roof may be opened before that rain.
    Open(RoofToOpen),
    /// Dark before the roof could be sealed later.
    Dusk {
        /// End of civil twilight.
        dark_from: DateTime<Utc>,
    },
    /// Rain or snow holds the welding.
    Wet,
    /// The sheet is wet or near the dew point.
    Dew,
    /// Frost or ice on the roof.
    Ice,
    /// Heat for people.
    Heat {
        /// Highest heat index of the shift.
        index: Temperature,
        /// What the public schedule asks for.
        schedule: HeatSchedule,
        /// A rest of this many minutes asks for a test after it.
        test_after_minutes: u32,
    },
    /// Cold air.
    Cold {
        /// The rule's limit.
        below: Temperature,
        /// Lowest wind chill of the shift, where it is defined.
        wind_chill: Option<Temperature>,
    },
    /// Wind that asks for a shield.
    Shield,
    /// Gusts that ask for hands.
    Gust,
    /// The generator is short of the watts that hang on it.
    GeneratorShort {
        /// What it gives at this height and heat, watts; the most, where the height is unknown.
        available_w: f64,
        /// What the welders on it take, watts.
        wanted_w: f64,
    },
    /// The generator carries the load and is still rated below common practice.
    GeneratorSmall {
        /// Its rating, watts.
        rated_w: f64,
        /// What the rating ought to be, watts.
        wanted_w: f64,
    },
    /// Something else hangs on the welder's generator.
    GeneratorShared,
    /// The cord takes too much.
    CordDrop {
        /// The welder.
        welder: String,
        /// Drop in percent of the supply.
        drop_pct: f64,
        /// Watts that arrive, in percent of the rated.
        watts_pct: f64,
    },
}

/// What the public work and rest schedule asks for in the hottest hour, at moderate work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeatSchedule {
    /// Nothing beyond the usual, or the humidity for it is unknown.
    Usual,
    /// Minutes of work and of rest in an hour.
    Rest {
        /// Work.
        work_minutes: u32,
        /// Rest.
        rest_minutes: u32,
    },
    /// Hotter than the schedule goes.
    Beyond,
}

/// What an advice is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topic {
    /// Rain, snow, dew, ice, sealing.
    Wet,
    /// Cold air or sheet.
    Cold,
    /// Heat.
    Heat,
    /// Wind and gusts.
    Wind,
    /// Lightning.
    Lightning,
    /// Darkness.
    Dark,
    /// Generator and cord.
    Power,
    /// The forecast itself.
    Forecast,
}

impl Advice {
    /// What it is about.
    pub const fn topic(&self) -> Topic {
        match self {
            Self::Stale => Topic::Forecast,
            Self::Lightning { .. } => Topic::Lightning,
            Self::StormWind { .. } | Self::Shield | Self::Gust => Topic::Wind,
            Self::Seal { .. } | Self::Open(_) | Self::Wet | Self::Dew | Self::Ice => Topic::Wet,
            Self::Dusk { .. } => Topic::Dark,
            Self::Heat { .. } => Topic::Heat,
            Self::Cold { .. } => Topic::Cold,
            Self::GeneratorShort { .. }
            | Self::GeneratorSmall { .. }
            | Self::GeneratorShared
            | Self::CordDrop { .. } => Topic::Power,
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
            Self::Lightning => "lightning",
            Self::Dark => "dark",
            Self::Power => "power",
            Self::Forecast => "forecast",
        }
    }
}
