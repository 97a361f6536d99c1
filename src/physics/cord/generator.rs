//! What thin and hot air leaves of a generator's rating.

use crate::units::{Length, Temperature};

/// Elevations in which the derating rules are meant to be used, m.
const ELEVATIONS_M: std::ops::RangeInclusive<f64> = -500.0..=4000.0;
/// Ambient temperatures in which they are meant to be used, °C.
const AMBIENT_C: std::ops::RangeInclusive<f64> = -40.0..=60.0;

/// What a generator has left once the welder runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeneratorCheck {
    /// Share of the rating that is left, at most 1.
    pub factor: f64,
    /// What is left of the rating, W.
    pub watts_available: f64,
    /// What remains over the load, W; negative when the load is too great.
    pub margin_watts: f64,
    /// The load's share of what is available.
    pub loaded: f64,
}

/// A generator of `rated_watts` (continuous) at `elevation` in air of `ambient`, with a load of
/// `load_watts` on it.
///
/// Uses the smaller of [`engine_factor_by_rule`] and [`alternator_factor`]. `None` when the rating
/// is not above 0, the load is below 0, or elevation or ambient is outside the range of the two.
pub fn check_generator(
    rated_watts: f64,
    load_watts: f64,
    elevation: Length,
    ambient: Temperature,
) -> Option<GeneratorCheck> {
    let sound = rated_watts > 0.0 && rated_watts.is_finite() && load_watts >= 0.0;
    (sound && load_watts.is_finite()).then_some(())?;
    let engine = engine_factor_by_rule(elevation, ambient)?;
    let factor = engine.min(alternator_factor(elevation, ambient)?);
    let watts_available = rated_watts * factor;
    let margin_watts = watts_available - load_watts;
    Some(GeneratorCheck {
        factor,
        watts_available,
        margin_watts,
        loaded: load_watts / watts_available,
    })
}

/// Share of an unsupercharged engine's power that is left, by the rule of thumb: 3.5 % off for each
/// 1000 ft above the sea, and 1 % off for each 10 °F above 77 °F.
///
/// *Common practice*, from memory. The two multiply. Never above 1: cool air and low ground do
/// not raise a rating. `None` outside −500 to 4000 m and −40 to 60 °C.
pub fn engine_factor_by_rule(elevation: Length, ambient: Temperature) -> Option<f64> {
    within(elevation, ambient)?;
    let thin = 1.0 - 0.035 * (elevation.feet() / 1000.0).max(0.0);
    let hot = 1.0 - 0.01 * ((ambient.fahrenheit() - 77.0) / 10.0).max(0.0);
    Some(thin * hot)
}

/// The same by the air that the engine breathes: pressure over pressure at the sea, times
/// √(298 K / ambient).
///
/// Source: ICAO7488 for the pressure; the root is the usual correction of naturally aspirated
/// engines, from memory. Never above 1. `None` outside −500 to 4000 m and −40 to 60 °C.
pub fn engine_factor_by_air(elevation: Length, ambient: Temperature) -> Option<f64> {
    within(elevation, ambient)?;
    // Standard atmosphere: 288.15 K at the sea, 6.5 K less each km.
    let pressure = (1.0 - 0.0065 * elevation.meters() / 288.15).powf(5.255_88);
    Some((pressure * (298.15 / ambient.kelvin()).sqrt()).min(1.0))
}

/// Share that an alternator can carry without getting too hot: 3 % off for each 500 m above 1000 m,
/// 3 % off for each 5 °C above 40 °C.
///
/// Source: GeneratorManuals. The two multiply. `None` outside −500 to 4000 m and −40 to 60 °C.
pub fn alternator_factor(elevation: Length, ambient: Temperature) -> Option<f64> {
    within(elevation, ambient)?;
    let thin = 1.0 - 0.03 * ((elevation.meters() - 1000.0) / 500.0).max(0.0);
    let hot = 1.0 - 0.03 * ((ambient.celsius() - 40.0) / 5.0).max(0.0);
    Some(thin * hot)
}

fn within(elevation: Length, ambient: Temperature) -> Option<()> {
    let inside =
        ELEVATIONS_M.contains(&elevation.meters()) && AMBIENT_C.contains(&ambient.celsius());
    inside.then_some(())
}
