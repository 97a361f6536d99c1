//! Water vapor in the air, both ways: humidity, dew point, frost point.

use super::exponential::exp;
use super::lanes::{Lanes, inlined};
use crate::units::Temperature;

/// Temperatures for which the formulas answer, °C: wider than the fit, narrower than nonsense.
const RANGE_C: std::ops::RangeInclusive<f64> = -80.0..=100.0;

/// A saturation curve `e = e0 exp(a t / (t + b))`, t in °C, e in hPa.
#[derive(Debug, Clone, Copy)]
pub(super) struct Magnus {
    e0: f64,
    a: f64,
    b: f64,
}

/// Over water. Source: AlduchovEskridge1996, eq. 21: within 0.4 % from -40 to 50 °C.
pub(super) const WATER: Magnus = Magnus { e0: 6.1094, a: 17.625, b: 243.04 };
/// Over ice. Source: AlduchovEskridge1996, eq. 23: within 0.4 % from -80 to 0 °C.
const ICE: Magnus = Magnus { e0: 6.1121, a: 22.587, b: 273.86 };

/// Least share of its dew point, in °C below zero, that a frost point comes to.
const FROST_POINT_SHARE: f64 = 0.88;

/// Below this, °C, the curve over ice is the lower of the two: there the two fits cross.
pub(super) const CURVES_CROSS_C: f64 = -0.044_372_373_408_838_51;

/// Where vapor of the air begins to settle on a surface that cools.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Condensation {
    /// As dew, at this surface temperature and below.
    Dew(Temperature),
    /// As frost, at this surface temperature and below.
    Frost(Temperature),
}

/// Saturation vapor pressure over water, in hPa.
///
/// Source: AlduchovEskridge1996, eq. 21. Fitted from -40 to 50 °C; above, it runs high: 1.8 % at
/// 70 °C, 2.7 % at 100 °C. `None` outside -80 to 100 °C.
pub fn saturation_over_water_hpa(at: Temperature) -> Option<f64> {
    RANGE_C.contains(&at.celsius()).then(|| WATER.pressure_hpa(at.celsius()))
}

/// Saturation vapor pressure over ice, in hPa.
///
/// Source: AlduchovEskridge1996, eq. 23. `None` outside -80 to 0 °C.
pub fn saturation_over_ice_hpa(at: Temperature) -> Option<f64> {
    (-80.0..=0.0).contains(&at.celsius()).then(|| ICE.pressure_hpa(at.celsius()))
}

/// Slope of the saturation curve over water, in hPa/K.
///
/// Source: AlduchovEskridge1996, eq. 21, its derivative. `None` outside -80 to 100 °C.
pub fn saturation_slope_hpa_per_k(at: Temperature) -> Option<f64> {
    RANGE_C.contains(&at.celsius()).then(|| WATER.slope_hpa_per_k(at.celsius()))
}

/// Dew point of air with this relative humidity over water.
///
/// Source: AlduchovEskridge1996, eq. 21 solved for the temperature, so that it is the exact inverse
/// of [`relative_humidity_pct`]. `None` unless the humidity is above 0 and at most 100 %: air
/// without vapor has no dew point. `None` too where air or dew point is outside -80 to 100 °C.
pub fn dew_point(air: Temperature, humidity_pct: f64) -> Option<Temperature> {
    if !(humidity_pct > 0.0 && humidity_pct <= 100.0) {
        return None;
    }
    let vapor_hpa = saturation_over_water_hpa(air)? * humidity_pct / 100.0;
    let dew_point_c = WATER.temperature_c(vapor_hpa);
    RANGE_C.contains(&dew_point_c).then_some(Temperature::from_celsius(dew_point_c))
}

/// Relative humidity over water, 0 to 100 %.
///
/// Source: AlduchovEskridge1996, eq. 21. A dew point above the air, which rounding makes, is
/// saturated air: 100 %. `None` where either is outside -80 to 100 °C.
pub fn relative_humidity_pct(air: Temperature, dew_point: Temperature) -> Option<f64> {
    let share = saturation_over_water_hpa(dew_point)? / saturation_over_water_hpa(air)?;
    Some((100.0 * share).min(100.0))
}

/// Frost point of air with this dew point: at most 0 °C, and above the dew point by about a tenth
/// of what that is below 0 °C.
///
/// Source: AlduchovEskridge1996, eq. 21 and 23. `None` where the dew point is above 0 °C, for then
/// dew forms, and where it is below -80 °C.
pub fn frost_point(dew_point: Temperature) -> Option<Temperature> {
    let vapor_hpa = saturation_over_water_hpa(dew_point).filter(|_| dew_point.celsius() <= 0.0)?;
    Some(Temperature::from_celsius(ICE.temperature_c(vapor_hpa).min(0.0)))
}

/// Where vapor of air with this dew point begins to settle, and as what.
///
/// `None` where the dew point is outside -80 to 100 °C.
pub fn condensation(dew_point: Temperature) -> Option<Condensation> {
    if !RANGE_C.contains(&dew_point.celsius()) {
        return None;
    }
    Some(match frost_point(dew_point) {
        // The two fitted curves miss each other by 0.005 K at 0 °C: never below the dew point.
        Some(frost) => Condensation::Frost(frost.max(dew_point)),
        None => Condensation::Dew(dew_point),
    })
}

/// A temperature that [`condensation`] of this dew point is never above, without working it out: a
/// frost point lies between 0.88 of its dew point, in °C below zero, and the dew point itself.
///
/// Both in °C.
#[inline(always)]
pub(crate) fn settles_no_higher_than<L: Lanes>(dew_point_c: L) -> L {
    let freezes = dew_point_c.below(dew_point_c.all(0.0));
    L::pick(freezes, dew_point_c * FROST_POINT_SHARE, dew_point_c)
}

impl Condensation {
    /// The surface temperature at which it begins.
    pub const fn at(self) -> Temperature {
        match self {
            Self::Dew(at) | Self::Frost(at) => at,
        }
    }
}

/// Saturation vapor pressure over a film, and its derivatives by temperature.
#[derive(Debug, Clone, Copy)]
pub(super) struct OverFilm<L> {
    pub(super) hpa: L,
    pub(super) slope_hpa_per_k: L,
    pub(super) curvature_hpa_per_k2: L,
}

/// Saturation over a film of this temperature, °C: over water, and over ice below 0 °C. One rising
/// curve; for the energy balance of a wet sheet.
#[inline(always)]
pub(super) fn over_film<L: Lanes>(film_c: L) -> OverFilm<L> {
    // The two fitted curves cross a hair below 0 °C, where the lower one takes over.
    let over_ice = film_c.below(film_c.all(CURVES_CROSS_C));
    let of = inlined(
        #[inline(always)]
        |ice: f64, water: f64| L::pick(over_ice, film_c.all(ice), film_c.all(water)),
    );
    let (e0, a, b) = (of(ICE.e0, WATER.e0), of(ICE.a, WATER.a), of(ICE.b, WATER.b));
    let per_span = (film_c + b).inverse();
    let hpa = e0 * exp(a * film_c * per_span);
    let growth = a * b * (per_span * per_span);
    let slope_hpa_per_k = hpa * growth;
    let curvature_hpa_per_k2 = slope_hpa_per_k * (growth - per_span * 2.0);
    OverFilm { hpa, slope_hpa_per_k, curvature_hpa_per_k2 }
}

impl Magnus {
    #[inline(always)]
    pub(super) fn pressure_hpa<L: Lanes>(self, t: L) -> L {
        exp(t * self.a / (t + self.b)) * self.e0
    }

    pub(super) fn slope_hpa_per_k(self, t: f64) -> f64 {
        self.pressure_hpa(t) * self.a * self.b / ((t + self.b) * (t + self.b))
    }

    pub(super) fn temperature_c(self, vapor_hpa: f64) -> f64 {
        let g = (vapor_hpa / self.e0).ln();
        self.b * g / (self.a - g)
    }
}
