//! How far the forecast is off at this site, from the ambient that the crew read at its trials.

use std::collections::BTreeMap;

use chrono::{NaiveDate, TimeDelta};

use crate::physics::forecast_error::spread;
use crate::units::{Temperature, TemperatureDifference};

/// The site's own error counts from this many days with readings on.
pub const DAYS_TO_EARN: usize = 8;

/// Older days than the newest so many are left out: seasons and forecast models change.
pub const MOST_DAYS: usize = 60;

/// The default weighs as much as this many days of readings.
const DEFAULT_WEIGHS_DAYS: f64 = 4.0;

/// A reading further from its forecast than 18 °F is a slip of the pen or a thermometer in the sun.
const SLIP: TemperatureDifference = TemperatureDifference::from_kelvin(10.0);

/// A trial that is written down as it is made carries whole seconds, its forecast parts of one: so
/// little before the issue counts as at once.
const SAME_MINUTE: TimeDelta = TimeDelta::minutes(1);

/// Ambient as forecast and as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AmbientPair {
    /// Local day of the trial.
    pub day: NaiveDate,
    /// From the issue of the forecast to the trial.
    pub lead: TimeDelta,
    /// For the minute of the trial.
    pub forecast: Temperature,
    /// By the crew's thermometer.
    pub read: Temperature,
}

/// Lead times that are looked at together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeadRange {
    /// The shortest lead, included.
    pub from_hours: i64,
    /// The longest lead, not included; `None` for all beyond.
    pub to_hours: Option<i64>,
}

/// The error of the forecast for one range of lead times, as found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeadTimeError {
    /// The range.
    pub lead: LeadRange,
    /// How many pairs.
    pub readings: usize,
    /// On how many days.
    pub days: usize,
    /// Mean of read less forecast; above zero where the roof is warmer than forecast.
    pub bias: TemperatureDifference,
    /// Standard deviation around the bias; `None` from a single day.
    pub spread: Option<TemperatureDifference>,
}

/// The error to expect of a forecast at this site: what was found, drawn toward the default.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SiteError {
    /// What was found, and from how many readings.
    pub found: LeadTimeError,
    /// To be added to the forecast; above zero where the roof is warmer than forecast.
    pub bias: TemperatureDifference,
    /// Spread around that, in parts of the default spread.
    pub spread_ratio: f64,
}

/// This shift, tonight, tomorrow, and days.
const RANGES: [LeadRange; 6] = [
    LeadRange { from_hours: 0, to_hours: Some(6) },
    LeadRange { from_hours: 6, to_hours: Some(12) },
    LeadRange { from_hours: 12, to_hours: Some(24) },
    LeadRange { from_hours: 24, to_hours: Some(48) },
    LeadRange { from_hours: 48, to_hours: Some(72) },
    LeadRange { from_hours: 72, to_hours: None },
];

/// Bias and spread by lead time; a range without pairs is left out.
///
/// Every day counts once, however often the crew read that day: the readings of one day share most
/// of their error. A pair with a number that is none, or a trial a minute or more before its forecast
/// was issued, is left out. The spread is the sample's, with one less than the days as divisor. Source:
/// NistHandbook2012, section 1.3.5.6.
pub fn forecast_errors(pairs: &[AmbientPair]) -> Vec<LeadTimeError> {
    let found = |lead: LeadRange| {
        let days = Days::of(pairs.iter().filter(|pair| lead.holds(pair.lead)));
        Some(days.found(lead, &days.sample()?))
    };
    RANGES.into_iter().filter_map(found).collect()
}

/// The error to expect at `lead`; `None` before [`DAYS_TO_EARN`] days with readings at such leads.
///
/// A normal error with unknown mean and variance under its conjugate prior. Source: Gelman2013,
/// section 3.3. The prior is the default: no bias, the spread of
/// [`forecast_error::spread`](crate::physics::forecast_error::spread), weighing as much as four days
/// of readings. What is expected is the scale of the next reading's distribution. Readings further
/// off than 18 °F and days before the newest [`MOST_DAYS`] are left out; a lead below 0 counts as 0.
pub fn site_error(pairs: &[AmbientPair], lead: TimeDelta) -> Option<SiteError> {
    let lead = lead.max(TimeDelta::zero());
    let range = RANGES.into_iter().find(|range| range.holds(lead))?;
    let sound =
        |pair: &&AmbientPair| range.holds(pair.lead) && off(pair).abs().kelvin() <= SLIP.kelvin();
    let mut days = Days::of(pairs.iter().filter(sound));
    days.keep_newest(MOST_DAYS);
    if days.0.len() < DAYS_TO_EARN {
        return None;
    }
    let sample = days.sample()?;
    let default = days.mean_default_variance()?;
    let weight = DEFAULT_WEIGHS_DAYS + sample.days;
    let drawn_in = DEFAULT_WEIGHS_DAYS * sample.days / weight * sample.mean.powi(2);
    let scale = (DEFAULT_WEIGHS_DAYS * default + sample.squares + drawn_in) / weight;
    Some(SiteError {
        found: days.found(range, &sample),
        bias: TemperatureDifference::from_kelvin(sample.mean * sample.days / weight),
        spread_ratio: (scale * (1.0 + 1.0 / weight) / default).sqrt(),
    })
}

impl LeadRange {
    fn holds(self, lead: TimeDelta) -> bool {
        let at_once = (TimeDelta::zero() - SAME_MINUTE..TimeDelta::zero()).contains(&lead);
        let lead = if at_once { TimeDelta::zero() } else { lead };
        lead >= TimeDelta::hours(self.from_hours)
            && self.to_hours.is_none_or(|hours| lead < TimeDelta::hours(hours))
    }
}

impl SiteError {
    /// The spread to expect `lead_hours` ahead; `None` where the default is.
    pub fn spread(&self, lead_hours: f64) -> Option<TemperatureDifference> {
        Some(spread(lead_hours)? * self.spread_ratio)
    }
}

fn off(pair: &AmbientPair) -> TemperatureDifference {
    pair.read - pair.forecast
}

/// Errors in kelvin by day, each with its lead in hours.
struct Days(BTreeMap<NaiveDate, Vec<(f64, f64)>>);

/// A sample in which every day counts once.
struct Sample {
    days: f64,
    mean: f64,
    /// Sum of squares around the mean.
    squares: f64,
}

impl Days {
    fn of<'a>(pairs: impl Iterator<Item = &'a AmbientPair>) -> Self {
        let mut days: BTreeMap<NaiveDate, Vec<(f64, f64)>> = BTreeMap::new();
        for pair in pairs.filter(|pair| off(pair).kelvin().is_finite()) {
            let hours = pair.lead.as_seconds_f64() / 3600.0;
            days.entry(pair.day).or_default().push((off(pair).kelvin(), hours));
        }
        // Sums depend on the order in their last digits; the order of the pairs must not show.
        for errors in days.values_mut() {
            errors.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)));
        }
        Self(days)
    }

    fn keep_newest(&mut self, most: usize) {
        while self.0.len() > most {
            self.0.pop_first();
        }
    }

    fn found(&self, lead: LeadRange, sample: &Sample) -> LeadTimeError {
        let divisor = sample.days - 1.0;
        let spread = (divisor > 0.0).then(|| (sample.squares / divisor).sqrt());
        LeadTimeError {
            lead,
            readings: self.0.values().map(Vec::len).sum(),
            days: self.0.len(),
            bias: TemperatureDifference::from_kelvin(sample.mean),
            spread: spread.map(TemperatureDifference::from_kelvin),
        }
    }

    /// The mean over the days of the mean of each day; `None` without any.
    fn mean_of(&self, of: impl Fn(f64, f64) -> f64) -> Option<f64> {
        let by_day = self.0.values().map(|errors| {
            errors.iter().map(|(off, hours)| of(*off, *hours)).sum::<f64>() / count(errors.len())
        });
        (!self.0.is_empty()).then(|| by_day.sum::<f64>() / count(self.0.len()))
    }

    fn sample(&self) -> Option<Sample> {
        let days = count(self.0.len());
        let mean = self.mean_of(|off, _| off)?;
        let squares = self.mean_of(|off, _| (off - mean).powi(2))? * days;
        Some(Sample { days, mean, squares })
    }

    /// `None` where a lead is beyond what the default is stated for.
    fn mean_default_variance(&self) -> Option<f64> {
        let variance = |hours| spread(hours).map_or(f64::NAN, |spread| spread.kelvin().powi(2));
        self.mean_of(|_, hours| variance(hours)).filter(|variance| variance.is_finite())
    }
}

#[expect(clippy::cast_precision_loss, reason = "readings of a site")]
const fn count(number: usize) -> f64 {
    number as f64
}
