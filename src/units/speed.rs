//! Two speeds that must never be mixed: the welder's along the seam and the wind's.

use super::{CONVERSION_NOISE, UnitSystem};

/// Feet in a meter: the international foot is 0.3048 m exactly. Source: NIST811, appendix B.8.
const METERS_PER_FOOT: f64 = 0.3048;
/// Meters per second in a mile per hour, exactly. Source: NIST811, appendix B.8.
const METERS_PER_SECOND_PER_MPH: f64 = 0.447_04;

/// How fast a welder travels along the seam. Held in ft/min, in which the trade's rule is worked.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TravelSpeed(f64);

/// Wind or gust, 10 m above ground. Held in m/s.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct WindSpeed(f64);

impl TravelSpeed {
    /// From feet per minute.
    pub const fn from_feet_per_minute(speed: f64) -> Self {
        Self(speed)
    }

    /// From meters per minute.
    pub const fn from_meters_per_minute(speed: f64) -> Self {
        Self(speed / METERS_PER_FOOT)
    }

    /// From the unit of `units`: ft/min or m/min.
    pub const fn from_units(speed: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_feet_per_minute(speed),
            UnitSystem::Metric => Self::from_meters_per_minute(speed),
        }
    }

    /// In feet per minute.
    pub const fn feet_per_minute(self) -> f64 {
        self.0
    }

    /// In meters per minute.
    pub const fn meters_per_minute(self) -> f64 {
        self.0 * METERS_PER_FOOT
    }

    /// In meters per second.
    pub const fn meters_per_second(self) -> f64 {
        self.meters_per_minute() / 60.0
    }

    /// In the unit of `units`: ft/min or m/min.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.feet_per_minute(),
            UnitSystem::Metric => self.meters_per_minute(),
        }
    }

    /// Kept between `low` and `high`.
    pub fn clamp(self, low: Self, high: Self) -> Self {
        Self(self.0.max(low.0).min(high.0))
    }

    /// Whether the two are further apart than `drift`, beyond the noise of a unit conversion.
    pub fn is_further_than(self, other: Self, drift: Self) -> bool {
        (self.0 - other.0).abs() > drift.0 + CONVERSION_NOISE
    }

    /// Whether the two are the same but for the noise of a unit conversion.
    pub fn same_as(self, other: Self) -> bool {
        (self.0 - other.0).abs() <= CONVERSION_NOISE
    }
}

impl WindSpeed {
    /// From meters per second.
    pub const fn from_meters_per_second(speed: f64) -> Self {
        Self(speed)
    }

    /// From kilometers per hour.
    pub const fn from_kilometers_per_hour(speed: f64) -> Self {
        Self(speed / 3.6)
    }

    /// From miles per hour.
    pub const fn from_miles_per_hour(speed: f64) -> Self {
        Self(speed * METERS_PER_SECOND_PER_MPH)
    }

    /// From knots: 1852 m in an hour, exactly. Source: NIST811, appendix B.8.
    pub const fn from_knots(speed: f64) -> Self {
        Self(speed * 1852.0 / 3600.0)
    }

    /// From the unit of `units`: mph or m/s.
    pub const fn from_units(speed: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_miles_per_hour(speed),
            UnitSystem::Metric => Self::from_meters_per_second(speed),
        }
    }

    /// In meters per second.
    pub const fn meters_per_second(self) -> f64 {
        self.0
    }

    /// In miles per hour.
    pub const fn miles_per_hour(self) -> f64 {
        self.0 / METERS_PER_SECOND_PER_MPH
    }

    /// In the unit of `units`: mph or m/s.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.miles_per_hour(),
            UnitSystem::Metric => self.meters_per_second(),
        }
    }

    /// Whether this reaches `limit`; the noise of a unit conversion counts as reaching it.
    pub fn reaches(self, limit: Self) -> bool {
        self.0 >= limit.0 - CONVERSION_NOISE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn speeds_convert_by_the_defined_factors() {
        // NIST811, appendix B.8: 1 mi/h = 0.44704 m/s; 1 kn = 0.5144444 m/s; 1 km/h = 0.2777778 m/s.
        assert!((WindSpeed::from_miles_per_hour(25.0).meters_per_second() - 11.176).abs() < 1e-12);
        assert!((WindSpeed::from_knots(1.0).meters_per_second() - 0.514_444_4).abs() < 1e-7);
        assert!(
            (WindSpeed::from_kilometers_per_hour(1.0).meters_per_second() - 0.277_777_8).abs()
                < 1e-7
        );
        assert!(
            (TravelSpeed::from_feet_per_minute(10.0).meters_per_minute() - 3.048).abs() < 1e-12
        );
        assert!(
            TravelSpeed::from_meters_per_minute(3.048)
                .same_as(TravelSpeed::from_feet_per_minute(10.0))
        );
    }

    #[test]
    fn a_gust_of_exactly_the_limit_reaches_it_in_any_unit() {
        for mph in 0..100 {
            let read = WindSpeed::from_kilometers_per_hour(f64::from(mph) * 1.609_344);
            assert!(read.reaches(WindSpeed::from_miles_per_hour(f64::from(mph))), "{mph} mph");
        }
    }
}
