//! Temperature, and the difference of two temperatures.

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use super::{CONVERSION_NOISE, UnitSystem};

/// 0 °C in kelvin. Source: BIPM2019, section 2.3.1.
pub(crate) const ZERO_CELSIUS_K: f64 = 273.15;

/// A temperature: of the air, of the sheet, of a welder's setting. Held in °C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

/// How far two temperatures are apart. Held in kelvin, which is the same step as 1 °C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TemperatureDifference(f64);

impl Temperature {
    /// From degrees Celsius.
    pub const fn from_celsius(degrees: f64) -> Self {
        Self(degrees)
    }

    /// From degrees Fahrenheit.
    pub const fn from_fahrenheit(degrees: f64) -> Self {
        Self((degrees - 32.0) / 1.8)
    }

    /// From kelvin.
    pub const fn from_kelvin(kelvin: f64) -> Self {
        Self(kelvin - ZERO_CELSIUS_K)
    }

    /// From the unit of `units`: °F or °C.
    pub const fn from_units(degrees: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_fahrenheit(degrees),
            UnitSystem::Metric => Self::from_celsius(degrees),
        }
    }

    /// In degrees Celsius.
    pub const fn celsius(self) -> f64 {
        self.0
    }

    /// In degrees Fahrenheit.
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }

    /// In kelvin.
    pub const fn kelvin(self) -> f64 {
        self.0 + ZERO_CELSIUS_K
    }

    /// In the unit of `units`: °F or °C.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.fahrenheit(),
            UnitSystem::Metric => self.celsius(),
        }
    }

    /// Whether this is below `limit`, by more than the noise of a unit conversion.
    pub fn is_below(self, limit: Self) -> bool {
        self.0 < limit.0 - CONVERSION_NOISE
    }

    /// Whether this is above `limit`, by more than the noise of a unit conversion.
    pub fn is_above(self, limit: Self) -> bool {
        self.0 > limit.0 + CONVERSION_NOISE
    }

    /// The lower of two.
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The higher of two.
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }
}

impl TemperatureDifference {
    /// From kelvin, the same step as degrees Celsius.
    pub const fn from_kelvin(kelvin: f64) -> Self {
        Self(kelvin)
    }

    /// From Fahrenheit steps: 18 °F apart is 10 K apart.
    pub const fn from_fahrenheit(degrees: f64) -> Self {
        Self(degrees / 1.8)
    }

    /// From the step of `units`: °F or °C.
    pub const fn from_units(degrees: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_fahrenheit(degrees),
            UnitSystem::Metric => Self::from_kelvin(degrees),
        }
    }

    /// In kelvin.
    pub const fn kelvin(self) -> f64 {
        self.0
    }

    /// In Fahrenheit steps.
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8
    }

    /// In the step of `units`: °F or °C.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.fahrenheit(),
            UnitSystem::Metric => self.kelvin(),
        }
    }

    /// The size, without the direction.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether this reaches `limit`; the noise of a unit conversion counts as reaching it.
    pub fn reaches(self, limit: Self) -> bool {
        self.0 >= limit.0 - CONVERSION_NOISE
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

impl Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, step: TemperatureDifference) -> Self {
        Self(self.0 + step.0)
    }
}

impl AddAssign<TemperatureDifference> for Temperature {
    fn add_assign(&mut self, step: TemperatureDifference) {
        self.0 += step.0;
    }
}

impl Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, step: TemperatureDifference) -> Self {
        Self(self.0 - step.0)
    }
}

impl Neg for TemperatureDifference {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for TemperatureDifference {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for TemperatureDifference {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (°C, °F): the fixed points at which both scales are defined to meet.
    const FIXED_POINTS: &[(f64, f64)] =
        &[(-40.0, -40.0), (0.0, 32.0), (37.0, 98.6), (100.0, 212.0), (500.0, 932.0)];

    #[test]
    fn both_scales_meet_at_the_fixed_points() {
        for &(celsius, fahrenheit) in FIXED_POINTS {
            let there = Temperature::from_celsius(celsius).fahrenheit();
            let back = Temperature::from_fahrenheit(fahrenheit).celsius();
            assert!((there - fahrenheit).abs() < 1e-9, "{celsius} °C gave {there} °F");
            assert!((back - celsius).abs() < 1e-9, "{fahrenheit} °F gave {back} °C");
        }
        assert!((Temperature::from_celsius(0.0).kelvin() - 273.15).abs() < 1e-9);
    }

    #[test]
    fn a_difference_does_not_carry_the_offset_of_32() {
        let warmer = Temperature::from_fahrenheit(70.0) - Temperature::from_fahrenheit(50.0);
        assert!((warmer.fahrenheit() - 20.0).abs() < 1e-9);
        assert!((warmer.kelvin() - 20.0 / 1.8).abs() < 1e-9);
    }

    #[test]
    fn a_threshold_survives_the_round_trip_through_celsius() {
        for tenths in -400..1200 {
            let low = Temperature::from_fahrenheit(f64::from(tenths) / 10.0);
            let high = Temperature::from_fahrenheit(f64::from(tenths) / 10.0 + 10.0);
            assert!((high - low).reaches(TemperatureDifference::from_fahrenheit(10.0)), "{tenths}");
            assert!(!low.is_below(Temperature::from_fahrenheit(f64::from(tenths) / 10.0)));
        }
    }
}
