//! The share of the step from sheet to air that the sheet's face gains in one pass.

use std::f64::consts::FRAC_2_SQRT_PI;

use super::solid::{Plastic, Solid};
use crate::physics::error_function::erfcx;
use crate::units::TravelSpeed;

/// Film coefficient under the nozzle, W/(m²·K): low, nominal, high.
///
/// An assumption: the values at which the trade's start-speed rule holds its face temperature over
/// 40 to 100 °F lie between 260 and 305. Source: Cengel2015 gives 25 to 250 for forced convection
/// of gases in general; jets that strike a face reach the top of that and more.
const FILM_W_M2K: (f64, f64, f64) = (260.0, 285.0, 305.0);

/// Length of lap under the hot air, m. An assumption: a 40 mm nozzle and a little spread.
const HEATED_LENGTH_M: f64 = 0.045;

/// Under the air for longer than this, heat comes back from the far side of a thin sheet. At 4 s
/// it changes the share of a 1.1 mm sheet by 0.7 % (tested against the slab's exact series).
const LONGEST_DWELL_S: f64 = 4.0;
/// Shorter than this is no weld, and the film coefficient is no longer the assumed one.
const SHORTEST_DWELL_S: f64 = 0.1;

/// How far the face of a sheet follows the air in one pass.
///
/// Held as b = h√t/√(kρc), the depth of the heating without a unit; θ = 1 − exp(b²)·erfc(b).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct FaceShare {
    b: f64,
}

/// A share with its honest range: the air's and the sheet's numbers are assumptions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShareRange {
    /// Least that the face follows.
    pub low: FaceShare,
    /// The middle.
    pub nominal: FaceShare,
    /// Most that the face follows.
    pub high: FaceShare,
}

impl FaceShare {
    /// From b = h√t/√(kρc). `None` unless b is above 0 and at most 1000 (θ is then 0.9994).
    pub fn from_b(b: f64) -> Option<Self> {
        (b > 0.0 && b <= 1000.0).then_some(Self { b })
    }

    /// For a face of `solid` that passes under air of `film_w_m2k` within `dwell_s` seconds.
    ///
    /// `None` outside the range of [`FaceShare::from_b`] and for a dwell that is not above 0.
    pub fn of_pass(solid: Solid, film_w_m2k: f64, dwell_s: f64) -> Option<Self> {
        Self::from_b(film_w_m2k * dwell_s.sqrt() / solid.effusivity())
    }

    /// b = h√t/√(kρc); no unit.
    pub const fn b(self) -> f64 {
        self.b
    }

    /// θ, above 0 and below 1: the share of the step from sheet to air that the face gains.
    ///
    /// Source: CarslawJaeger1959, section 2.7, at the face.
    pub fn fraction(self) -> f64 {
        1.0 - erfcx(self.b)
    }

    /// dθ/db = 2/√π − 2b·erfcx(b), above 0.
    pub fn slope(self) -> f64 {
        FRAC_2_SQRT_PI - 2.0 * self.b * erfcx(self.b)
    }

    /// (1 − θ)/θ: degrees that the air must rise for each degree that the sheet is cooler, for the
    /// face to stay as it is at the same speed.
    pub fn air_rise_per_sheet_drop(self) -> f64 {
        let fraction = self.fraction();
        (1.0 - fraction) / fraction
    }

    /// The share at `ratio` times the speed: b goes with speed to the power −½.
    ///
    /// `None` unless the ratio is above 0 and the result within the range of
    /// [`FaceShare::from_b`].
    pub fn at_speed_ratio(self, ratio: f64) -> Option<Self> {
        if ratio > 0.0 { Self::from_b(self.b / ratio.sqrt()) } else { None }
    }
}

impl ShareRange {
    /// [`FaceShare::air_rise_per_sheet_drop`] of the middle.
    pub fn air_rise_per_sheet_drop(&self) -> f64 {
        self.nominal.air_rise_per_sheet_drop()
    }
}

/// The share that the face of a sheet of `plastic` gains at `speed`, with its range.
///
/// θ falls as the speed rises; about 0.31 to 0.41 for PVC at 10 ft/min. Thickness and what lies
/// under the sheet do not matter in a single pass.
///
/// `None` where a point of the lap would stay under the air longer than 4 s (slower than about
/// 2.2 ft/min, or a hand welder that dwells) or shorter than 0.1 s, or when the speed is not a
/// number.
pub fn face_share(plastic: Plastic, speed: TravelSpeed) -> Option<ShareRange> {
    let dwell_s = HEATED_LENGTH_M / speed.meters_per_second();
    if !(SHORTEST_DWELL_S..=LONGEST_DWELL_S).contains(&dwell_s) {
        return None;
    }
    let (low, nominal, high) = FILM_W_M2K;
    Some(ShareRange {
        low: FaceShare::of_pass(plastic.most, low, dwell_s)?,
        nominal: FaceShare::of_pass(plastic.nominal, nominal, dwell_s)?,
        high: FaceShare::of_pass(plastic.least, high, dwell_s)?,
    })
}
