//! The trial as the crew wrote it down: what was set, what was seen. Nothing here is judged.

use chrono::{DateTime, Utc};

use super::strip::Strip;
use crate::site::{Kind, Polymer};
use crate::units::{Temperature, Thickness, TravelSpeed};

/// One test weld at one welder at one time: several heats, each cut into strips and peeled.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// When it was made.
    pub when: DateTime<Utc>,
    /// Who made it.
    pub who: String,
    /// Name of the welder, as the site file has it.
    pub welder: String,
    /// Automatic or hand.
    pub welder_kind: Kind,
    /// What the sheet is made of.
    pub polymer: Polymer,
    /// The sheet's nominal thickness.
    pub thickness: Thickness,
    /// The sheet's lot, where it was read.
    pub lot: Option<String>,
    /// The roll, where it was read.
    pub roll: Option<String>,
    /// Air in the shade, read by the crew.
    pub ambient: Temperature,
    /// The sheet's own surface, by infrared thermometer, where it was read.
    pub sheet: Option<Temperature>,
    /// The machine's weights, in the crew's words.
    pub weights: Option<String>,
    /// The machine's air flow, in the crew's words.
    pub air_flow: Option<String>,
    /// Held for every heat; `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// In any order.
    pub heats: Vec<HeatTrial>,
    /// Anything else.
    pub note: Option<String>,
}

/// One heat of a trial and its strips.
///
/// The three overrides are there so that a record can say what went wrong: a heat welded at
/// another speed, weight or air flow than the rest. They make the trial prove nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatTrial {
    /// What the machine was set to.
    pub heat: Temperature,
    /// Where it differed from the trial's.
    pub speed: Option<TravelSpeed>,
    /// Where they differed from the trial's.
    pub weights: Option<String>,
    /// Where it differed from the trial's.
    pub air_flow: Option<String>,
    /// In any order.
    pub strips: Vec<Strip>,
}

impl Trial {
    /// The speed at which `heat` was welded: its own where it has one, else the trial's.
    pub fn speed_of(&self, heat: &HeatTrial) -> Option<TravelSpeed> {
        heat.speed.or(self.speed)
    }

    /// The one speed at which every heat was welded; `None` where there is none.
    pub fn speed_held(&self) -> Option<TravelSpeed> {
        let first = self.speed_of(self.heats.first()?)?;
        let same = |heat| self.speed_of(heat).is_some_and(|speed| speed.same_as(first));
        self.heats.iter().all(same).then_some(first)
    }
}

impl HeatTrial {
    /// A heat at the trial's own speed, weights and air flow.
    pub const fn new(heat: Temperature, strips: Vec<Strip>) -> Self {
        Self { heat, speed: None, weights: None, air_flow: None, strips }
    }
}
