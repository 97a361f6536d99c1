//! Voltage drop on a cord with a heater at its end.

use super::conductor::Conductor;
use crate::units::{Length, Temperature, TemperatureDifference};

/// Drop on a branch that the code's notes advise to stay within, share of the supply.
///
/// Source: NEC2023, informational note to 210.19; advice, not a rule. From memory.
pub const BRANCH_DROP: f64 = 0.03;
/// Drop from source to outlet that the code's notes advise to stay within, share of the supply.
///
/// Source: NEC2023, informational note to 215.2; advice, not a rule. From memory.
pub const TOTAL_DROP: f64 = 0.05;

/// A welder as a load: nearly all of it is the heating element, a plain resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WelderLoad {
    /// Rated power, W.
    pub rated_watts: f64,
    /// Rated voltage, V.
    pub rated_volts: f64,
}

/// A cord as it lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordRun {
    /// Size of each of its two current-carrying conductors.
    pub conductor: Conductor,
    /// One way.
    pub length: Length,
    /// Of its copper.
    pub copper: Temperature,
}

/// What is left at the end of a cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordCheck {
    /// Resistance of both conductors together, Ω.
    pub loop_ohms: f64,
    /// Current that flows, A: less than rated, because a resistance draws less at lower voltage.
    pub amps: f64,
    /// Drop on the cord, V.
    pub drop_volts: f64,
    /// Drop, share of the supply's voltage.
    pub drop_fraction: f64,
    /// Voltage at the welder, V.
    pub volts_at_welder: f64,
    /// Power at the welder, W, with its heater full on.
    pub watts_at_welder: f64,
    /// Power at the welder, share of what it would take right at the supply.
    pub watts_fraction: f64,
    /// Drop if the current were the rated one, V: the textbook figure 2·L·R·I, a little higher.
    pub rated_drop_volts: f64,
}

/// How much of a temperature rise is lost, between two bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LostRise {
    /// The blower slows with the voltage, so that less air shares the heat.
    pub least: TemperatureDifference,
    /// The blower keeps its air, so that the rise goes with the power.
    pub most: TemperatureDifference,
}

/// The drop on `cord` between a supply of `supply_volts` and the welder.
///
/// The welder is a resistance of rated volts² / rated watts, full on; both conductors of the cord
/// are in series with it (Ohm's law). Direct-current resistance: in conductors this thin the
/// alternating current's is the same.
///
/// `None` when a rating, the supply or the length is not above 0, when the conductor or its
/// temperature is outside the range of [`Conductor::ohms_per_km`], or the values are not finite.
pub fn check_cord(load: WelderLoad, supply_volts: f64, cord: CordRun) -> Option<CordCheck> {
    let load_ohms = load.ohms()?;
    let loop_ohms = cord.loop_ohms()?;
    if !above_zero(supply_volts) || !above_zero(loop_ohms) {
        return None;
    }
    let amps = supply_volts / (load_ohms + loop_ohms);
    let volts_at_welder = amps * load_ohms;
    let full_watts = supply_volts * supply_volts / load_ohms;
    let watts_at_welder = amps * volts_at_welder;
    Some(CordCheck {
        loop_ohms,
        amps,
        drop_volts: amps * loop_ohms,
        drop_fraction: loop_ohms / (load_ohms + loop_ohms),
        volts_at_welder,
        watts_at_welder,
        watts_fraction: watts_at_welder / full_watts,
        rated_drop_volts: loop_ohms * load.rated_watts / load.rated_volts,
    })
}

/// The longest cord of `conductor`, one way, on which the drop stays within `drop_fraction`.
///
/// `None` unless the fraction lies between 0 and 1, both excluded, and under the conditions of
/// [`check_cord`].
pub fn longest_cord(
    load: WelderLoad,
    conductor: Conductor,
    copper: Temperature,
    drop_fraction: f64,
) -> Option<Length> {
    let ohms_per_meter = conductor.ohms_per_km(copper)? / 1000.0;
    if !(drop_fraction > 0.0 && drop_fraction < 1.0) {
        return None;
    }
    let loop_ohms = load.ohms()? * drop_fraction / (1.0 - drop_fraction);
    Some(Length::from_meters(loop_ohms / (2.0 * ohms_per_meter)))
}

impl WelderLoad {
    fn ohms(self) -> Option<f64> {
        let sound = above_zero(self.rated_watts) && above_zero(self.rated_volts);
        sound.then(|| self.rated_volts * self.rated_volts / self.rated_watts)
    }
}

impl CordRun {
    fn loop_ohms(self) -> Option<f64> {
        Some(2.0 * self.length.meters() / 1000.0 * self.conductor.ohms_per_km(self.copper)?)
    }
}

impl CordCheck {
    /// What the drop takes from a `rise` of the air over ambient, when the heater is full on.
    ///
    /// Heat goes with volts². A controlled heater hides the loss until it is full on; a blower
    /// that slows with the voltage hides part of it.
    pub fn lost_rise(&self, rise: TemperatureDifference) -> LostRise {
        let volts_fraction = 1.0 - self.drop_fraction;
        LostRise {
            least: rise * (1.0 - volts_fraction),
            most: rise * (1.0 - volts_fraction * volts_fraction),
        }
    }
}

fn above_zero(value: f64) -> bool {
    value > 0.0 && value.is_finite()
}
