//! A year's weather by columns: what holds at each whole hour, and what an hour brings.

use super::bounds::{Stretch, between};
use crate::physics::pressure::Height;
use crate::plan::{Node, PressureAt, is_falling};
use crate::season::day::Hold;
use crate::site::Rules;
use crate::units::{Temperature, WindSpeed};
use crate::weather::{Forecast, Hour, HourLine};

/// Unknown hours at the end of every column, so that four can be taken together anywhere.
const BEYOND: usize = 8;

/// One column a kind of value. Not a number is unknown.
#[derive(Debug, Default)]
pub(super) struct Nodes {
    // At whole hours, one bridged where both neighbors are known.
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
    /// The pressure that is told this year.
    pressure: PressureAt,
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
    /// Mean wind at its start is told.
    pub(super) wind_known: bool,
    /// Everything that the sheet's balance needs is told at its start, in the range of its formula.
    is_whole: bool,
    /// The rain that is told, mm/h.
    pub(super) rain_mm_per_h: f64,
}

impl Nodes {
    /// Takes the columns of `forecast`, in the place of those of the year before.
    pub(super) fn take(&mut self, forecast: &Forecast, rules: &Rules, height: &Height) {
        let hours = forecast.hours();
        self.clear(hours);
        for hour in hours {
            self.push(hour);
            let node = self.node(self.air_c.len() - 1);
            let is_whole = node.is_in_range(height);
            self.brings.push(Brings { is_whole, ..Brings::of(hour, rules) });
        }
        for _ in 0..BEYOND {
            self.push(&Hour::unknown(forecast.last()));
        }
        for column in self.at_hours() {
            bridge(column, hours.len());
        }
    }

    fn clear(&mut self, hours: &[Hour]) {
        self.brings.clear();
        for column in self.columns() {
            column.clear();
            column.reserve(hours.len() + BEYOND);
        }
        self.pressure = if hours.iter().any(|hour| hour.surface_pressure_hpa.is_some()) {
            PressureAt::Roof
        } else if hours.iter().any(|hour| hour.sea_level_pressure_hpa.is_some()) {
            PressureAt::SeaLevel
        } else {
            PressureAt::Nowhere
        };
    }

    fn push(&mut self, hour: &Hour) {
        let or_gap = |value: Option<f64>| value.unwrap_or(f64::NAN);
        let wind_m_s = or_gap(hour.wind.map(WindSpeed::meters_per_second));
        let gust_m_s = or_gap(hour.gust.map(WindSpeed::meters_per_second));
        self.air_c.push(or_gap(hour.air.map(Temperature::celsius)));
        self.dew_point_c.push(or_gap(hour.dew_point.map(Temperature::celsius)));
        self.humidity_pct.push(or_gap(hour.humidity_pct));
        self.wind_m_s.push(wind_m_s);
        self.cloud_pct.push(or_gap(hour.cloud_cover_pct));
        self.surface_hpa.push(or_gap(hour.surface_pressure_hpa));
        self.sea_level_hpa.push(or_gap(hour.sea_level_pressure_hpa));
        self.shortwave_w_m2.push(or_gap(hour.shortwave_w_m2));
        self.blow_m_s.push(gust_m_s.max(wind_m_s).max(0.0));
    }

    /// The columns of what holds at whole hours.
    fn at_hours(&mut self) -> [&mut Vec<f64>; 7] {
        let [air, dew_point, humidity, wind, cloud, surface, sea_level, ..] = self.columns();
        [air, dew_point, humidity, wind, cloud, surface, sea_level]
    }

    fn columns(&mut self) -> [&mut Vec<f64>; 9] {
        [
            &mut self.air_c,
            &mut self.dew_point_c,
            &mut self.humidity_pct,
            &mut self.wind_m_s,
            &mut self.cloud_pct,
            &mut self.surface_hpa,
            &mut self.sea_level_hpa,
            &mut self.shortwave_w_m2,
            &mut self.blow_m_s,
        ]
    }

    /// What the balance of a sheet needs at a whole hour.
    pub(super) fn node(&self, hour: usize) -> Node {
        let at = |column: &[f64]| column.get(hour).copied().unwrap_or(f64::NAN);
        Node {
            air_c: at(&self.air_c),
            dew_point_c: at(&self.dew_point_c),
            wind_m_s: at(&self.wind_m_s),
            cloud_pct: at(&self.cloud_pct),
            hpa: at(self.pressures()),
            pressure: self.pressure,
        }
    }

    /// Where they are told for.
    pub(super) const fn pressure(&self) -> PressureAt {
        self.pressure
    }

    /// Pressures as they are told this year; none where they are not.
    pub(super) fn pressures(&self) -> &[f64] {
        match self.pressure {
            PressureAt::Roof => &self.surface_hpa,
            PressureAt::SeaLevel => &self.sea_level_hpa,
            PressureAt::Nowhere => &[],
        }
    }

    /// Whether everything that the balance of a sheet needs runs straight through an hour, in the
    /// range of its formula.
    pub(super) fn is_whole(&self, hour: usize) -> bool {
        self.brings.get(hour..hour + 2).is_some_and(|both| both[0].is_whole && both[1].is_whole)
    }

    /// How the air runs through an hour whose ends are both told.
    pub(super) fn air_line(&self, hour: usize) -> Option<HourLine> {
        self.is_whole(hour).then(|| HourLine::between(self.air_c[hour], self.air_c[hour + 1]))
    }

    /// The service's radiation of an hour, W/m².
    pub(super) fn told_radiation(&self, hour: usize) -> Option<f64> {
        self.shortwave_w_m2.get(hour).copied().filter(|told| !told.is_nan())
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
            wind_known: hour.wind.is_some(),
            is_whole: false,
            rain_mm_per_h: hour.rain.map_or(0.0, |sum| sum.share.millimeters()),
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

/// Fills single gaps among the first `len` by the middle of their neighbors, as the forecast does
/// between its hours.
fn bridge(column: &mut [f64], len: usize) {
    let gaps = column[..len].iter().filter(|value| value.is_nan()).count();
    if gaps == 0 || gaps == len {
        return;
    }
    let mut before = f64::NAN;
    for at in 0..len {
        let here = column[at];
        // A neighbor that was itself bridged does not bridge.
        if here.is_nan() {
            column[at] = f64::midpoint(before, column[at + 1]);
        }
        before = here;
    }
}
