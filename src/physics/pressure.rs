//! Air pressure at the height of the roof.

use crate::units::Length;

/// Pressure of the standard air at sea level, hPa. Source: Allen1998, eq. 7 (101.3 kPa).
const SEA_LEVEL_HPA: f64 = 1013.0;

/// Mean air pressure at `elevation` above sea level, in hPa.
///
/// Source: Allen1998, eq. 7: `101.3 ((293 - 0.0065 z) / 293)^5.26` kPa. For where no service tells
/// the pressure: the weather moves it by 3 % at most. `None` outside -500 to 9000 m.
pub fn standard_hpa(elevation: Length) -> Option<f64> {
    Height::new(elevation).standard_hpa()
}

/// Pressure at `elevation` from a pressure reduced to sea level, in hPa.
///
/// Source: Allen1998, eq. 7, whose fall with height is taken for the day's. `None` outside -500 to
/// 9000 m, and unless the pressure at sea level is from 850 to 1100 hPa.
pub fn at_elevation_hpa(sea_level_hpa: f64, elevation: Length) -> Option<f64> {
    Height::new(elevation).with_sea_level_hpa(sea_level_hpa)
}

/// The height of a roof, of which many pressures are asked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Height {
    share: Option<f64>,
}

impl Height {
    pub(crate) fn new(elevation: Length) -> Self {
        Self { share: share_of_sea_level(elevation) }
    }

    /// What a pressure at sea level is multiplied by.
    pub(crate) const fn share_of_sea_level(&self) -> Option<f64> {
        self.share
    }

    /// As [`standard_hpa`].
    pub(crate) fn standard_hpa(&self) -> Option<f64> {
        Some(SEA_LEVEL_HPA * self.share?)
    }

    /// As [`at_elevation_hpa`].
    pub(crate) fn with_sea_level_hpa(&self, sea_level_hpa: f64) -> Option<f64> {
        (850.0..=1100.0).contains(&sea_level_hpa).then_some(())?;
        Some(sea_level_hpa * self.share?)
    }
}

fn share_of_sea_level(elevation: Length) -> Option<f64> {
    let z = elevation.meters(); // Allen1998's z, m
    (-500.0..=9000.0).contains(&z).then(|| ((293.0 - 0.0065 * z) / 293.0).powf(5.26))
}
