//! What asks for a checkpoint, as JSON. Units stand in the keys.

use serde::{Deserialize, Serialize};

use crate::plan::{Cause, Reason};
use crate::units::{RainDepth, Temperature, TemperatureDifference, WindSpeed};

#[derive(Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub(super) enum CauseWire {
    Start {},
    AfterBreak { name: String, minutes: i64 },
    AmbientChange {},
    SheetChange {},
    Elapsed { hours: f64 },
    AfterHold { opens_the_day: bool, held_by: Vec<ReasonWire> },
}

#[derive(Serialize, Deserialize)]
#[serde(tag = "reason", rename_all = "kebab-case", deny_unknown_fields)]
pub(super) enum ReasonWire {
    Rain { total_mm: f64, over_hours: u32 },
    Snow { total_mm: f64, over_hours: u32 },
    Thunder {},
    WetSheet { depth_mm: f64, frost: bool },
    WindStop { from_m_per_s: f64 },
    DewNear { within_k: f64 },
    Cold { below_c: f64 },
    Gust { from_m_per_s: f64 },
    WindShield { from_m_per_s: f64 },
    Heat { from_c: f64 },
    Dark {},
}

impl CauseWire {
    pub(super) fn of(cause: &Cause) -> Self {
        match cause {
            Cause::Start => Self::Start {},
            Cause::AfterBreak { name, minutes } => {
                Self::AfterBreak { name: name.clone(), minutes: *minutes }
            }
            Cause::AmbientChange => Self::AmbientChange {},
            Cause::SheetChange => Self::SheetChange {},
            Cause::Elapsed { hours } => Self::Elapsed { hours: *hours },
            Cause::AfterHold { opens_the_day, held_by } => Self::AfterHold {
                opens_the_day: *opens_the_day,
                held_by: held_by.iter().map(ReasonWire::of).collect(),
            },
        }
    }

    pub(super) fn read(self) -> Cause {
        match self {
            Self::Start {} => Cause::Start,
            Self::AfterBreak { name, minutes } => Cause::AfterBreak { name, minutes },
            Self::AmbientChange {} => Cause::AmbientChange,
            Self::SheetChange {} => Cause::SheetChange,
            Self::Elapsed { hours } => Cause::Elapsed { hours },
            Self::AfterHold { opens_the_day, held_by } => Cause::AfterHold {
                opens_the_day,
                held_by: held_by.into_iter().map(ReasonWire::read).collect(),
            },
        }
    }
}

impl ReasonWire {
    fn of(reason: &Reason) -> Self {
        match *reason {
            Reason::Rain { total, over_hours } => {
                Self::Rain { total_mm: total.millimeters(), over_hours }
            }
            Reason::Snow { total, over_hours } => {
                Self::Snow { total_mm: total.millimeters(), over_hours }
            }
            Reason::Thunder => Self::Thunder {},
            Reason::WetSheet { depth, frost } => {
                Self::WetSheet { depth_mm: depth.millimeters(), frost }
            }
            Reason::WindStop { from } => Self::WindStop { from_m_per_s: from.meters_per_second() },
            Reason::DewNear { within } => Self::DewNear { within_k: within.kelvin() },
            Reason::Cold { below } => Self::Cold { below_c: below.celsius() },
            Reason::Gust { from } => Self::Gust { from_m_per_s: from.meters_per_second() },
            Reason::WindShield { from } => {
                Self::WindShield { from_m_per_s: from.meters_per_second() }
            }
            Reason::Heat { from } => Self::Heat { from_c: from.celsius() },
            Reason::Dark => Self::Dark {},
        }
    }

    fn read(self) -> Reason {
        let wind = WindSpeed::from_meters_per_second;
        let depth = RainDepth::from_millimeters;
        match self {
            Self::Rain { total_mm, over_hours } => {
                Reason::Rain { total: depth(total_mm), over_hours }
            }
            Self::Snow { total_mm, over_hours } => {
                Reason::Snow { total: depth(total_mm), over_hours }
            }
            Self::Thunder {} => Reason::Thunder,
            Self::WetSheet { depth_mm, frost } => {
                Reason::WetSheet { depth: depth(depth_mm), frost }
            }
            Self::WindStop { from_m_per_s } => Reason::WindStop { from: wind(from_m_per_s) },
            Self::DewNear { within_k } => {
                Reason::DewNear { within: TemperatureDifference::from_kelvin(within_k) }
            }
            Self::Cold { below_c } => Reason::Cold { below: Temperature::from_celsius(below_c) },
            Self::Gust { from_m_per_s } => Reason::Gust { from: wind(from_m_per_s) },
            Self::WindShield { from_m_per_s } => Reason::WindShield { from: wind(from_m_per_s) },
            Self::Heat { from_c } => Reason::Heat { from: Temperature::from_celsius(from_c) },
            Self::Dark {} => Reason::Dark,
        }
    }
}
