//! How wrong a temperature forecast is likely to be, and how wrong a *change* in it.
//!
//! A model with stated numbers for sources that send one forecast and no ensemble. A test weld asks
//! for a change since the last test, and errors of neighboring hours are much alike: a forecast
//! that is 3 °F too warm at ten is mostly too warm at noon, so the change between the two is known
//! better than either.

mod paths;

use crate::physics::error_function::{normal_cdf, normal_quantile};
use crate::units::TemperatureDifference;

pub use paths::{ErrorPaths, MEMBERS, error_paths};

/// Spread of a fresh forecast, °F.
const SPREAD_AT_ONCE_F: f64 = 2.5;
/// What each hour of lead adds, °F, in quadrature.
const SPREAD_PER_HOUR_F: f64 = 0.035;
/// Longest lead for which the spread is stated: 16 days, the longest that the services send.
const LONGEST_LEAD_HOURS: f64 = 384.0;
/// Hours after which the correlation has fallen to 1/e. An assumption: 10 h gives 0.8 at 2¼ h and
/// 0.6 at 5 h, the range expected over a few hours.
const CORRELATION_HOURS: f64 = 10.0;

/// Standard deviation of the error of a forecast air temperature, `lead_hours` ahead.
///
/// σ = √(2.5² + (0.035·lead)²) °F: 2.6 at 24 h, 3.5 at 72 h, 6.4 at 168 h. An assumption, set
/// between a service's hit rates of the same day and the root mean square errors of station
/// forecasts (MetOfficeAccuracy, NSSLverification; tested). Beyond day 3 show ranges only.
///
/// A lead below 0, an hour already past, counts as 0. `None` beyond 384 h or when not a number.
pub fn spread(lead_hours: f64) -> Option<TemperatureDifference> {
    (lead_hours <= LONGEST_LEAD_HOURS).then(|| {
        let grown = SPREAD_PER_HOUR_F * lead_hours.max(0.0);
        TemperatureDifference::from_fahrenheit((SPREAD_AT_ONCE_F.powi(2) + grown * grown).sqrt())
    })
}

/// Correlation of the errors at two hours that lie `hours_apart`: exp(−|Δt| / 10 h); 1 at 0.
///
/// An assumption: that of a first-order autoregressive error. NaN in, NaN out.
pub fn correlation(hours_apart: f64) -> f64 {
    libm::exp(-hours_apart.abs() / CORRELATION_HOURS)
}

/// Standard deviation of the error of the forecast *change* between two leads, either order.
///
/// √(σa² + σb² − 2ρσaσb), which is σ√(2(1 − ρ)) where both spreads are the same; 0 for one and the
/// same hour. `None` where [`spread`] is.
pub fn change_spread(lead_a_hours: f64, lead_b_hours: f64) -> Option<TemperatureDifference> {
    let (a, b) = (spread(lead_a_hours)?, spread(lead_b_hours)?);
    Some(difference_spread(a, b, correlation(lead_b_hours - lead_a_hours)))
}

/// Spread of the difference of two errors with spreads `a` and `b` and the correlation `rho`.
///
/// By the variance of a difference of two correlated values.
pub fn difference_spread(
    a: TemperatureDifference,
    b: TemperatureDifference,
    rho: f64,
) -> TemperatureDifference {
    let (a, b) = (a.kelvin(), b.kelvin());
    // Rounding can leave a hair below zero where the two are the same.
    TemperatureDifference::from_kelvin((a * a + b * b - 2.0 * rho * a * b).max(0.0).sqrt())
}

/// The chance, 0 to 1, that a change forecast as `forecast` turns out to be `limit` or more, in
/// either direction, when its error is normal with a standard deviation of `spread`.
///
/// With a spread of 0 the forecast decides: 1 or 0. `None` when the spread or the limit is below 0
/// or a value is not a number.
pub fn chance_of_change(
    forecast: TemperatureDifference,
    spread: TemperatureDifference,
    limit: TemperatureDifference,
) -> Option<f64> {
    let (mean, sigma, reach) = (forecast.kelvin(), spread.kelvin(), limit.kelvin());
    let sound = mean.is_finite() && sigma.is_finite() && sigma >= 0.0 && reach >= 0.0;
    sound.then_some(())?;
    if sigma == 0.0 {
        return Some(if forecast.abs().reaches(limit) { 1.0 } else { 0.0 });
    }
    Some(normal_cdf((mean - reach) / sigma) + normal_cdf((-mean - reach) / sigma))
}

/// The standard deviation at which a share `rate` of forecasts is within `within`, either side, if
/// errors are normal and without bias.
///
/// `None` unless the rate lies between 0 and 1, both excluded, and `within` is above 0.
pub fn spread_of_hit_rate(
    within: TemperatureDifference,
    rate: f64,
) -> Option<TemperatureDifference> {
    let sound = rate > 0.0 && rate < 1.0 && within.kelvin() > 0.0;
    sound.then_some(())?;
    Some(within / normal_quantile(f64::midpoint(1.0, rate))?)
}
