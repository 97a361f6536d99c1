//! Lengths: of a seam or a cord, of a sheet's thickness, of a weld, of water that fell.

use super::{CONVERSION_NOISE, UnitSystem};

/// Source: NIST811, appendix B.8: the international foot and inch, exact.
const METERS_PER_FOOT: f64 = 0.3048;
const MILLIMETERS_PER_INCH: f64 = 25.4;
/// A mil is a thousandth of an inch.
const MILLIMETERS_PER_MIL: f64 = 0.0254;

/// A distance: seam, cord, elevation. Held in meters.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length(f64);

/// A sheet's thickness. Held in millimeters.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Thickness(f64);

/// How wide a weld holds, across the seam. Held in millimeters.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct BondWidth(f64);

/// A stretch of roof. Held in square meters.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Area(f64);

/// A depth of water on the level: rain, melted snow, a film. Held in millimeters.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct RainDepth(f64);

impl Length {
    /// From meters.
    pub const fn from_meters(length: f64) -> Self {
        Self(length)
    }

    /// From feet.
    pub const fn from_feet(length: f64) -> Self {
        Self(length * METERS_PER_FOOT)
    }

    /// From the unit of `units`: ft or m.
    pub const fn from_units(length: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_feet(length),
            UnitSystem::Metric => Self::from_meters(length),
        }
    }

    /// In meters.
    pub const fn meters(self) -> f64 {
        self.0
    }

    /// In feet.
    pub const fn feet(self) -> f64 {
        self.0 / METERS_PER_FOOT
    }

    /// In the unit of `units`: ft or m.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.feet(),
            UnitSystem::Metric => self.meters(),
        }
    }
}

impl Area {
    /// Of a rectangle.
    pub const fn of(length: Length, width: Length) -> Self {
        Self(length.0 * width.0)
    }

    /// In square meters.
    pub const fn square_meters(self) -> f64 {
        self.0
    }

    /// In square feet.
    pub const fn square_feet(self) -> f64 {
        self.0 / (METERS_PER_FOOT * METERS_PER_FOOT)
    }

    /// In the unit of `units`: ft² or m².
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.square_feet(),
            UnitSystem::Metric => self.square_meters(),
        }
    }
}

impl Thickness {
    /// From millimeters.
    pub const fn from_millimeters(thickness: f64) -> Self {
        Self(thickness)
    }

    /// From mils, thousandths of an inch.
    pub const fn from_mils(thickness: f64) -> Self {
        Self(thickness * MILLIMETERS_PER_MIL)
    }

    /// From the unit of `units`: mil or mm.
    pub const fn from_units(thickness: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_mils(thickness),
            UnitSystem::Metric => Self::from_millimeters(thickness),
        }
    }

    /// In millimeters.
    pub const fn millimeters(self) -> f64 {
        self.0
    }

    /// In the unit of `units`: mil or mm.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.0 / MILLIMETERS_PER_MIL,
            UnitSystem::Metric => self.0,
        }
    }
}

impl BondWidth {
    /// From millimeters.
    pub const fn from_millimeters(width: f64) -> Self {
        Self(width)
    }

    /// From inches.
    pub const fn from_inches(width: f64) -> Self {
        Self(width * MILLIMETERS_PER_INCH)
    }

    /// From the unit of `units`: in or mm.
    pub const fn from_units(width: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_inches(width),
            UnitSystem::Metric => Self::from_millimeters(width),
        }
    }

    /// In millimeters.
    pub const fn millimeters(self) -> f64 {
        self.0
    }

    /// In inches.
    pub const fn inches(self) -> f64 {
        self.0 / MILLIMETERS_PER_INCH
    }

    /// In the unit of `units`: in or mm.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.inches(),
            UnitSystem::Metric => self.millimeters(),
        }
    }

    /// Whether this reaches `least`; the noise of a unit conversion counts as reaching it.
    pub fn reaches(self, least: Self) -> bool {
        self.0 >= least.0 - CONVERSION_NOISE
    }

    /// The narrower of two.
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }
}

impl RainDepth {
    /// From millimeters, which is the same as liters on a square meter.
    pub const fn from_millimeters(depth: f64) -> Self {
        Self(depth)
    }

    /// From inches.
    pub const fn from_inches(depth: f64) -> Self {
        Self(depth * MILLIMETERS_PER_INCH)
    }

    /// From the unit of `units`: in or mm.
    pub const fn from_units(depth: f64, units: UnitSystem) -> Self {
        match units {
            UnitSystem::Us => Self::from_inches(depth),
            UnitSystem::Metric => Self::from_millimeters(depth),
        }
    }

    /// In millimeters.
    pub const fn millimeters(self) -> f64 {
        self.0
    }

    /// In inches.
    pub const fn inches(self) -> f64 {
        self.0 / MILLIMETERS_PER_INCH
    }

    /// In the unit of `units`: in or mm.
    pub const fn in_units(self, units: UnitSystem) -> f64 {
        match units {
            UnitSystem::Us => self.inches(),
            UnitSystem::Metric => self.millimeters(),
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
    fn lengths_convert_by_the_defined_factors() {
        // NIST811, appendix B.8: 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 mil = 0.0254 mm, all exact.
        assert!((Length::from_feet(100.0).meters() - 30.48).abs() < 1e-12);
        assert!((RainDepth::from_inches(0.01).millimeters() - 0.254).abs() < 1e-12);
        assert!((BondWidth::from_inches(1.5).millimeters() - 38.1).abs() < 1e-12);
        assert!((Thickness::from_mils(60.0).millimeters() - 1.524).abs() < 1e-12);
    }

    #[test]
    fn a_hundredth_of_an_inch_reaches_a_hundredth_of_an_inch() {
        let read = RainDepth::from_millimeters(0.254);
        assert!(read.reaches(RainDepth::from_inches(0.01)));
        assert!(!RainDepth::from_millimeters(0.253).reaches(RainDepth::from_inches(0.01)));
    }
}
