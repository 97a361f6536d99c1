//! The machine's heat setting: which heats an operator can dial.

use crate::units::{Temperature, UnitSystem};

/// Nearer to a tie than this, in increments, is a tie: room for unit conversions only.
const TIE_NOISE: f64 = 1e-7;

/// Heats that can be dialed: whole multiples of the increment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dial {
    /// In the unit of `units`; above zero.
    pub increment: f64,
    /// Which scale the dial has.
    pub units: UnitSystem,
}

impl Dial {
    /// Every 5 °F or 5 °C. *Common practice*.
    pub const fn default_for(units: UnitSystem) -> Self {
        Self { increment: 5.0, units }
    }

    /// `heat` on the dial, kept within `bottom` and `top`.
    ///
    /// The nearest mark; a tie goes to the cooler, because a peel shows a cold weld and may not
    /// show an overheated one (FabricatorsNote2025). Where no mark lies between `bottom` and `top`
    /// the heat is left as it is.
    pub fn set(&self, heat: Temperature, bottom: Temperature, top: Temperature) -> Temperature {
        let marks = heat.in_units(self.units) / self.increment;
        let nearest = (marks - 0.5 - TIE_NOISE).ceil();
        [nearest, nearest + 1.0, nearest - 1.0]
            .into_iter()
            .map(|mark| Temperature::from_units(mark * self.increment, self.units))
            .find(|mark| !mark.is_below(bottom) && !mark.is_above(top))
            .unwrap_or(heat)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(heat: f64, bottom: f64, top: f64, units: UnitSystem) -> f64 {
        let of = |degrees| Temperature::from_units(degrees, units);
        Dial::default_for(units).set(of(heat), of(bottom), of(top)).in_units(units)
    }

    #[test]
    fn the_nearest_mark_and_the_cooler_of_two() {
        let close = |one: f64, other: f64| assert!((one - other).abs() < 1e-6, "{one} {other}");
        close(set(925.0, 800.0, 1050.0, UnitSystem::Us), 925.0);
        close(set(923.0, 800.0, 1050.0, UnitSystem::Us), 925.0);
        close(set(922.4, 800.0, 1050.0, UnitSystem::Us), 920.0);
        close(set(922.5, 800.0, 1050.0, UnitSystem::Us), 920.0);
        close(set(312.5, 250.0, 375.0, UnitSystem::Metric), 310.0);
    }

    #[test]
    fn never_outside_the_window() {
        let close = |one: f64, other: f64| assert!((one - other).abs() < 1e-6, "{one} {other}");
        close(set(1047.0, 1047.0, 1047.0, UnitSystem::Us), 1047.0);
        close(set(931.0, 931.0, 934.0, UnitSystem::Us), 931.0);
        close(set(932.0, 931.0, 936.0, UnitSystem::Us), 935.0);
    }
}
