//! How far the forecast is off at this site, from the ambient that the crew read at its trials.

use chrono::TimeDelta;

use crate::units::{Temperature, TemperatureDifference};

/// Ambient as forecast and as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AmbientPair {
    /// From the issue of the forecast to the trial.
    pub lead: TimeDelta,
    /// For the minute of the trial.
    pub forecast: Temperature,
    /// By the crew's thermometer.
    pub read: Temperature,
}

/// The error of the forecast for one range of lead times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeadTimeError {
    /// The shortest lead, included.
    pub from_hours: i64,
    /// The longest lead, not included; `None` for all beyond.
    pub to_hours: Option<i64>,
    /// How many pairs.
    pub pairs: usize,
    /// Mean of read less forecast; above zero where the roof is warmer than forecast.
    pub bias: TemperatureDifference,
    /// Standard deviation around the bias; `None` from a single pair.
    pub spread: Option<TemperatureDifference>,
}

/// Lead times in hours that are looked at together: this shift, tonight, tomorrow, and days.
const BUCKETS: &[(i64, Option<i64>)] =
    &[(0, Some(6)), (6, Some(12)), (12, Some(24)), (24, Some(48)), (48, Some(72)), (72, None)];

/// Bias and spread by lead time; a range without pairs is left out.
///
/// A pair with a number that is none, or a trial before its forecast was issued, is left out. The
/// spread is the sample's, with one less than the pairs as divisor. Source: NistHandbook2012,
/// section 1.3.5.6.
pub fn forecast_errors(pairs: &[AmbientPair]) -> Vec<LeadTimeError> {
    BUCKETS
        .iter()
        .filter_map(|&(from_hours, to_hours)| {
            let mut off: Vec<f64> = pairs
                .iter()
                .filter(|pair| pair.lead >= TimeDelta::hours(from_hours))
                .filter(|pair| to_hours.is_none_or(|hours| pair.lead < TimeDelta::hours(hours)))
                .map(|pair| (pair.read - pair.forecast).kelvin())
                .filter(|off| off.is_finite())
                .collect();
            // Sums depend on the order in their last digits; the order of the pairs must not show.
            off.sort_by(f64::total_cmp);
            error_of(&off).map(|(bias, spread)| LeadTimeError {
                from_hours,
                to_hours,
                pairs: off.len(),
                bias: TemperatureDifference::from_kelvin(bias),
                spread: spread.map(TemperatureDifference::from_kelvin),
            })
        })
        .collect()
}

/// Mean and sample standard deviation; `None` for an empty sample.
fn error_of(off: &[f64]) -> Option<(f64, Option<f64>)> {
    let count = off.len() as f64;
    if off.is_empty() {
        return None;
    }
    let mean = off.iter().sum::<f64>() / count;
    let squares: f64 = off.iter().map(|value| (value - mean).powi(2)).sum();
    Some((mean, (off.len() > 1).then(|| (squares / (count - 1.0)).sqrt())))
}
