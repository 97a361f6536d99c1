//! What a change of speed is worth in heat, for the case that speed is all that is left.

use crate::site::Welder;
use crate::units::{TemperatureDifference, TravelSpeed};

/// How much hotter the air has to be for 1 ft/min more, near a given speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatPerSpeed {
    /// For 1 ft/min; above zero.
    pub for_one_foot_per_minute: TemperatureDifference,
    /// The speed near which that holds; above zero.
    pub near: TravelSpeed,
}

/// What is left to do with the speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpeedRoom {
    /// Travel slower or faster.
    Change {
        /// The speed of the trial.
        from: TravelSpeed,
        /// The speed for the next one.
        to: TravelSpeed,
        /// What the change is worth in heat.
        worth: TemperatureDifference,
        /// The machine travels no slower or faster, so it is worth less than a heat step.
        stopped_by_machine: bool,
    },
    /// The machine is at its slowest or fastest already.
    None {
        /// Where it is.
        at: TravelSpeed,
    },
    /// A hand welder: the operator's own hand is the speed.
    ByHand,
}

impl HeatPerSpeed {
    /// 26 °F for 1 ft/min near 10 ft/min and 80 °F: one 100 °F step is about 3.8 ft/min.
    ///
    /// A model, not a measurement: hot air on a semi-infinite solid, with the heat transfer that
    /// the trade's start-speed rule implies. Source: CarslawJaeger1959, section 2.7 (surface
    /// temperature under convection); the values of air and sheet are in `docs/test-welds.md`.
    pub const fn modeled() -> Self {
        Self {
            for_one_foot_per_minute: TemperatureDifference::from_fahrenheit(26.0),
            near: TravelSpeed::from_feet_per_minute(10.0),
        }
    }

    /// The speed that stands for `hotter` air at `from`: slower for more heat, faster for less.
    ///
    /// The face sees the heat of a pass by the logarithm of speed, so that a rate of 26 °F at
    /// 10 ft/min is 52 °F at 5 ft/min, and no speed comes out at zero or below. Within 10 % of the
    /// model for one heat step; not meant for several.
    pub fn standing_for(&self, hotter: TemperatureDifference, from: TravelSpeed) -> TravelSpeed {
        let per_log = self.for_one_foot_per_minute.kelvin() * self.near.feet_per_minute();
        let factor = (-hotter.kelvin() / per_log).exp();
        TravelSpeed::from_feet_per_minute(from.feet_per_minute() * factor)
    }

    /// What going from `from` to `to` is worth: above zero where `to` is the slower.
    pub fn worth(&self, from: TravelSpeed, to: TravelSpeed) -> TemperatureDifference {
        let ratio = from.feet_per_minute() / to.feet_per_minute();
        self.for_one_foot_per_minute * (self.near.feet_per_minute() * ratio.ln())
    }

    /// The change of speed on `welder` that is worth `hotter` air, as far as the machine goes.
    pub fn room(
        &self,
        welder: &Welder,
        from: Option<TravelSpeed>,
        hotter: TemperatureDifference,
    ) -> SpeedRoom {
        let (Some(from), Some((slowest, fastest))) = (from, welder.speed) else {
            return SpeedRoom::ByHand;
        };
        let wanted = self.standing_for(hotter, from);
        let to = wanted.clamp(slowest, fastest);
        if to.same_as(from) {
            return SpeedRoom::None { at: from };
        }
        let worth = self.worth(from, to);
        SpeedRoom::Change { from, to, worth, stopped_by_machine: !to.same_as(wanted) }
    }
}
