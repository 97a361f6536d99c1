//! Wind chill: what cold air in wind does to bare skin.

use crate::units::{Temperature, WindSpeed};

/// At about this wind chill and below, bare skin can freeze in 30 minutes.
///
/// Source: NWSchill, where the chart's shading for 30 minutes begins.
pub const FROSTBITE_IN_30_MINUTES: Temperature = Temperature::from_fahrenheit(-18.0);

/// The index is defined up to this air temperature. Source: NWSchill.
const WARMEST: Temperature = Temperature::from_fahrenheit(50.0);
/// The index is defined above this wind. Source: NWSchill.
const CALMEST: WindSpeed = WindSpeed::from_miles_per_hour(3.0);

/// Wind chill index; `wind` is measured 10 m above ground.
///
/// Source: NWSchill, the formula of 2001 in °F and mph. `None` where the index is not defined:
/// above 50 °F, in 3 mph of wind or less, or when a value is not a number. The published chart
/// covers −45 to 40 °F and 5 to 60 mph; beyond it the formula is used as it stands.
pub fn wind_chill(air: Temperature, wind: WindSpeed) -> Option<Temperature> {
    let (t, v) = (air.fahrenheit(), wind.miles_per_hour()); // the source's T and V
    let defined =
        t.is_finite() && v.is_finite() && !air.is_above(WARMEST) && !CALMEST.reaches(wind);
    let v16 = v.powf(0.16);
    defined
        .then(|| Temperature::from_fahrenheit(35.74 + 0.6215 * t - 35.75 * v16 + 0.4275 * t * v16))
}

/// Whether bare skin can freeze within 30 minutes at this wind chill.
pub fn frostbite_possible(wind_chill: Temperature) -> bool {
    !wind_chill.is_above(FROSTBITE_IN_30_MINUTES)
}
