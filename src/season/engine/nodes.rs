//! A year's weather by columns: what holds at each whole hour, and what an hour brings.

use super::bounds::{Stretch, between};
use crate::plan::is_falling;
use crate::season::day::Hold;
use crate::site::Rules;
use crate::units::{Temperature, WindSpeed};
use crate::weather::{Forecast, Hour};

/// One column a kind of value. Not a number is unknown.
#[derive(Debug, Default)]
pub(super) struct Nodes {
    // At whole hours, one bridged where both neighbors are known; one more than there are hours.
    pub(super) air_c: Vec<f64>,
    pub(super) dew_point_c: Vec<f64>,
    pub(super) humidity_pct: Vec<f64>,
    pub(super) wind_m_s: Vec<f64>,
    pub(super) cloud_pct: Vec<f64>,
    pub(super) surface_hpa: Vec<f64>,
    pub(super) sea_level_hpa: Vec<f64>,
    // Of each hour.
    pub(super) shortwave_w_m2: Vec<f64>,
    /// Strongest of gust and mean wind at its start, m/s.
    pub(super) blow_m_s: Vec<f64>,
    pub(super) brings: Vec<Brings>,
}

/// What an hour brings, as far as it can hold welding.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Brings {
    /// What of rain and snow holds.
    pub(super) falling: Option<Hold>,
    /// Thunder, by name or by chance.
    pub(super) thunder: bool,
    /// Rain is told.
    pub(super) rain_known: bool,
    /// The rain that is told, mm/h.
    pub(super) rain_mm_per_h: f64,
    /// Mean wind at its start is told.
    pub(super) wind_known: bool,
}

impl Nodes {
    /// Takes the columns of `forecast`, in the place of those of the year before.
    pub(super) fn take(&mut self, forecast: &Forecast, rules: &Rules) {
        let hours = forecast.hours();
        self.clear();
        self.brings.extend(hours.iter().map(|hour| Brings::of(hour, rules)));
        for hour in hours {
            self.push(hour);
        }
        // An unknown hour after the last.
        self.push(&Hour::unknown(forecast.last()));
        for column in self.at_hours() {
            bridge(column);
        }
    }

    fn clear(&mut self) {
        self.at_hours().into_iter().for_each(Vec::clear);
        self.shortwave_w_m2.clear();
        self.blow_m_s.clear();
        self.brings.clear();
    }

    fn push(&mut self, hour: &Hour) {
        let or_gap = |value: Option<f64>| value.unwrap_or(f64::NAN);
        self.air_c.push(or_gap(hour.air.map(Temperature::celsius)));
        self.dew_point_c.push(or_gap(hour.dew_point.map(Temperature::celsius)));
        self.humidity_pct.push(or_gap(hour.humidity_pct));
        self.wind_m_s.push(or_gap(hour.wind.map(WindSpeed::meters_per_second)));
        self.cloud_pct.push(or_gap(hour.cloud_cover_pct));
        self.surface_hpa.push(or_gap(hour.surface_pressure_hpa));
        self.sea_level_hpa.push(or_gap(hour.sea_level_pressure_hpa));
        self.shortwave_w_m2.push(or_gap(hour.shortwave_w_m2));
        let blows = [hour.gust, hour.wind].map(|blow| blow.map(WindSpeed::meters_per_second));
        self.blow_m_s.push(blows.into_iter().flatten().fold(0.0, f64::max));
    }

    /// The columns of what holds at whole hours.
    fn at_hours(&mut self) -> [&mut Vec<f64>; 7] {
        [
            &mut self.air_c,
            &mut self.dew_point_c,
            &mut self.humidity_pct,
            &mut self.wind_m_s,
            &mut self.cloud_pct,
            &mut self.surface_hpa,
            &mut self.sea_level_hpa,
        ]
    }

    /// Lowest and highest air of a stretch, °C; `None` where an end of its hour is unknown.
    pub(super) fn air_between(&self, stretch: Stretch) -> Option<(f64, f64)> {
        between(&self.air_c, stretch)
    }

    /// What an hour brings; nothing is known of one outside the year.
    pub(super) fn brings(&self, hour: usize) -> Brings {
        self.brings.get(hour).copied().unwrap_or_default()
    }
}

impl Brings {
    /// Rain is told, and no drop of it.
    pub(super) fn no_rain(&self) -> bool {
        self.rain_known && self.rain_mm_per_h == 0.0
    }

    fn of(hour: &Hour, rules: &Rules) -> Self {
        Self {
            falling: falling(rules, hour),
            thunder: hour.thunder_named == Some(true)
                || hour.thunder_probability_pct.is_some_and(|pct| pct >= rules.thunder_hold_pct),
            rain_known: hour.rain.is_some(),
            rain_mm_per_h: hour.rain.map_or(0.0, |sum| sum.share.millimeters()),
            wind_known: hour.wind.is_some(),
        }
    }
}

/// Which of the two holds, by the order of the plan's rules.
fn falling(rules: &Rules, hour: &Hour) -> Option<Hold> {
    is_falling(rules, hour).then(|| {
        let without_rain = Hour { rain: None, ..*hour };
        if is_falling(rules, &without_rain) { Hold::Snow } else { Hold::Rain }
    })
}

/// Fills single gaps by the middle of their neighbors, as the forecast does between its hours.
fn bridge(column: &mut [f64]) {
    // The last is always open, so that one gap is none.
    let gaps = column.iter().filter(|value| value.is_nan()).count();
    if gaps <= 1 || gaps == column.len() {
        return;
    }
    let mut before = f64::NAN;
    for at in 0..column.len().saturating_sub(1) {
        let here = column[at];
        // A neighbor that was itself bridged does not bridge.
        if here.is_nan() {
            column[at] = f64::midpoint(before, column[at + 1]);
        }
        before = here;
    }
}
