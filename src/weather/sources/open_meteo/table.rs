//! The variables of a reply that a forecast is made of, and what each stamp adds to which hour.

use chrono::{DateTime, TimeDelta, Utc};

use super::wire::{self, Hourly, Reply, Variable};
use crate::units::{Temperature, WindSpeed};
use crate::weather::sources::ParseError;
use crate::weather::sources::measure::{Channel, Kind};
use crate::weather::{Hour, HourSum};

/// One variable: its numbers and their unit.
struct Series<'a> {
    values: &'a [Option<f64>],
    channel: Channel,
}

/// The variables of the reply that a forecast is made of.
pub(super) struct Table<'a> {
    air: Option<Series<'a>>,
    dew_point: Option<Series<'a>>,
    humidity: Option<Series<'a>>,
    wind: Option<Series<'a>>,
    cloud_cover: Option<Series<'a>>,
    surface_pressure: Option<Series<'a>>,
    sea_level_pressure: Option<Series<'a>>,
    code: Option<&'a [Option<f64>]>,
    rain: Option<Series<'a>>,
    snow: Option<Series<'a>>,
    gust: Option<Series<'a>>,
    shortwave: Option<Series<'a>>,
    probability: Option<Series<'a>>,
}

impl<'a> Table<'a> {
    pub(super) fn new(reply: &'a Reply, hourly: &'a Hourly) -> Result<Self, ParseError> {
        let model = model_of(hourly)?;
        let get = |variable: &Variable, kind: Kind| -> Result<Option<Series<'a>>, ParseError> {
            let Some((key, values)) = find(hourly, variable, model) else { return Ok(None) };
            let unit = reply.hourly_units.get(key).map(String::as_str);
            // A variable that the model does not offer: unit "undefined", every value null.
            if values.iter().all(Option::is_none) {
                return Ok(None);
            }
            let channel = Channel::new(kind, key, unit.unwrap_or("none given"))?;
            Ok(Some(Series { values, channel }))
        };
        Ok(Self {
            air: get(&wire::TEMPERATURE, Kind::Air)?,
            dew_point: get(&wire::DEW_POINT, Kind::DewPoint)?,
            humidity: get(&wire::HUMIDITY, Kind::Percent)?,
            wind: get(&wire::WIND, Kind::Wind)?,
            cloud_cover: get(&wire::CLOUD_COVER, Kind::Percent)?,
            surface_pressure: get(&wire::SURFACE_PRESSURE, Kind::SurfacePressure)?,
            sea_level_pressure: get(&wire::SEA_LEVEL_PRESSURE, Kind::SeaLevelPressure)?,
            code: find(hourly, &wire::WEATHER_CODE, model).map(|(_, values)| values),
            rain: get(&wire::PRECIPITATION, Kind::RainOfAnHour)?,
            snow: get(&wire::SNOWFALL, Kind::Snow)?,
            gust: get(&wire::GUST, Kind::Wind)?,
            shortwave: get(&wire::SHORTWAVE, Kind::Shortwave)?,
            probability: get(&wire::PRECIPITATION_PROBABILITY, Kind::Percent)?,
        })
    }

    /// Adds what is stamped `time`: the instants to that hour, the sums to the hour before it.
    pub(super) fn read(
        &self,
        index: usize,
        time: DateTime<Utc>,
        rows: &mut Vec<Hour>,
    ) -> Result<(), ParseError> {
        let number = |series: &Option<Series<'_>>| read(series.as_ref(), index, time);
        rows.push(Hour {
            air: temperature(self.air.as_ref(), index, time)?,
            dew_point: temperature(self.dew_point.as_ref(), index, time)?,
            humidity_pct: number(&self.humidity)?,
            wind: wind(self.wind.as_ref(), index, time)?,
            cloud_cover_pct: number(&self.cloud_cover)?,
            surface_pressure_hpa: number(&self.surface_pressure)?,
            sea_level_pressure_hpa: number(&self.sea_level_pressure)?,
            thunder_named: self.code.and_then(|codes| names_thunder(*codes.get(index)?)),
            ..Hour::unknown(time)
        });
        let hour_before = Hour {
            rain: sum(self.rain.as_ref(), index, time)?,
            snow: sum(self.snow.as_ref(), index, time)?,
            gust: wind(self.gust.as_ref(), index, time)?,
            shortwave_w_m2: number(&self.shortwave)?,
            precipitation_probability_pct: number(&self.probability)?,
            ..Hour::unknown(time - TimeDelta::hours(1))
        };
        if hour_before != Hour::unknown(hour_before.time) {
            rows.push(hour_before);
        }
        Ok(())
    }
}

fn value(series: &Series<'_>, index: usize) -> Option<f64> {
    series.values.get(index).copied().flatten()
}

fn read(
    series: Option<&Series<'_>>,
    index: usize,
    at: DateTime<Utc>,
) -> Result<Option<f64>, ParseError> {
    series.map_or(Ok(None), |series| series.channel.read(value(series, index), at))
}

fn temperature(
    series: Option<&Series<'_>>,
    index: usize,
    at: DateTime<Utc>,
) -> Result<Option<Temperature>, ParseError> {
    series.map_or(Ok(None), |series| series.channel.temperature(value(series, index), at))
}

fn wind(
    series: Option<&Series<'_>>,
    index: usize,
    at: DateTime<Utc>,
) -> Result<Option<WindSpeed>, ParseError> {
    series.map_or(Ok(None), |series| series.channel.wind(value(series, index), at))
}

fn sum(
    series: Option<&Series<'_>>,
    index: usize,
    at: DateTime<Utc>,
) -> Result<Option<HourSum>, ParseError> {
    let depth = series.map_or(Ok(None), |series| series.channel.depth(value(series, index), at))?;
    Ok(depth.map(HourSum::of_one_hour))
}

/// WMO 4677, codes 95 to 99, of which the service uses 95, 96 and 99: thunderstorm.
fn names_thunder(code: Option<f64>) -> Option<bool> {
    code.map(|code| (95.0..=99.0).contains(&code))
}

/// The ending that the keys of one model share, empty where one model was asked for: that of the
/// first temperatures with a value. Members of an ensemble and earlier runs are not the forecast.
fn model_of(hourly: &Hourly) -> Result<&str, ParseError> {
    hourly
        .series
        .iter()
        .filter(|(_, values)| values.iter().any(Option::is_some))
        .filter_map(|(key, _)| wire::TEMPERATURE.suffix_in(key))
        .find(|suffix| !suffix.starts_with("_member") && !suffix.starts_with("_previous_day"))
        .ok_or_else(|| ParseError::Missing {
            expected: "a temperature (`temperature_2m`)".to_owned(),
            place: "the reply's `hourly`",
        })
}

/// The variable under the model's ending, else without one, which a reply of one model has.
fn find<'a>(
    hourly: &'a Hourly,
    variable: &Variable,
    model: &str,
) -> Option<(&'a str, &'a [Option<f64>])> {
    let with = |suffix: &str| {
        let found =
            hourly.series.iter().find(|(key, _)| variable.suffix_in(key) == Some(suffix))?;
        Some((found.0.as_str(), found.1.as_slice()))
    };
    with(model).or_else(|| with(""))
}
