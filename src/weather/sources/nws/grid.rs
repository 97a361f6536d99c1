//! The raw layers of a grid cell, spread over hours.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use serde::Deserialize;

use super::interval::Interval;
use crate::units::WindSpeed;
use crate::weather::sources::json::{self, Bounded};
use crate::weather::sources::measure::{Channel, Kind};
use crate::weather::sources::{ParseError, stamps};
use crate::weather::{Hour, HourSum};

const EXPECTED: &str = "a grid reply of the NWS";

#[derive(Deserialize)]
struct Reply {
    properties: Option<Layers>,
}

/// The layers that a forecast is made of; a reply has fifty more.
#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Layers {
    update_time: Option<String>,
    temperature: Option<Layer<f64>>,
    dewpoint: Option<Layer<f64>>,
    relative_humidity: Option<Layer<f64>>,
    sky_cover: Option<Layer<f64>>,
    wind_speed: Option<Layer<f64>>,
    wind_gust: Option<Layer<f64>>,
    probability_of_precipitation: Option<Layer<f64>>,
    quantitative_precipitation: Option<Layer<f64>>,
    snowfall_amount: Option<Layer<f64>>,
    probability_of_thunder: Option<Layer<f64>>,
    weather: Option<Layer<Bounded<Word>>>,
}

/// A layer without values, or without `uom`, is an everyday thing.
#[derive(Deserialize)]
struct Layer<T> {
    uom: Option<String>,
    #[serde(default = "Bounded::default")]
    values: Bounded<Entry<T>>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Entry<T> {
    valid_time: String,
    value: Option<T>,
}

#[derive(Deserialize)]
struct Word {
    weather: Option<String>,
}

/// What a grid reply says, before it becomes a series.
pub(super) struct Grid {
    pub(super) issued_at: Option<DateTime<Utc>>,
    pub(super) hours: BTreeMap<DateTime<Utc>, Hour>,
}

/// Reads a grid reply.
pub(super) fn parse(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Grid, ParseError> {
    let reply: Reply = json::parse(body, EXPECTED)?;
    let layers = reply.properties.ok_or_else(|| ParseError::Missing {
        expected: "`properties`".to_owned(),
        place: EXPECTED,
    })?;
    let mut spread = Spread { hours: BTreeMap::new(), fetched_at };
    spread.instants(&layers)?;
    spread.of_the_hour(&layers)?;
    let issued_at =
        layers.update_time.map(|text| stamps::instant("updateTime", &text)).transpose()?;
    Ok(Grid { issued_at, hours: spread.hours })
}

struct Spread {
    hours: BTreeMap<DateTime<Utc>, Hour>,
    fetched_at: DateTime<Utc>,
}

impl Spread {
    fn instants(&mut self, layers: &Layers) -> Result<(), ParseError> {
        self.instant("temperature", Kind::Air, &layers.temperature, |hour, value| {
            hour.air.get_or_insert(crate::units::Temperature::from_celsius(value));
        })?;
        self.instant("dewpoint", Kind::DewPoint, &layers.dewpoint, |hour, value| {
            hour.dew_point.get_or_insert(crate::units::Temperature::from_celsius(value));
        })?;
        self.instant(
            "relativeHumidity",
            Kind::Percent,
            &layers.relative_humidity,
            |hour, value| {
                hour.humidity_pct.get_or_insert(value);
            },
        )?;
        self.instant("skyCover", Kind::Percent, &layers.sky_cover, |hour, value| {
            hour.cloud_cover_pct.get_or_insert(value);
        })?;
        self.instant("windSpeed", Kind::Wind, &layers.wind_speed, |hour, value| {
            hour.wind.get_or_insert(WindSpeed::from_meters_per_second(value));
        })
    }

    fn of_the_hour(&mut self, layers: &Layers) -> Result<(), ParseError> {
        self.strongest("windGust", Kind::Wind, &layers.wind_gust, |hour, value| {
            let gust = hour.gust.map_or(value, |held| held.meters_per_second().max(value));
            hour.gust = Some(WindSpeed::from_meters_per_second(gust));
        })?;
        let probability = &layers.probability_of_precipitation;
        self.strongest("probabilityOfPrecipitation", Kind::Percent, probability, |hour, value| {
            raise(&mut hour.precipitation_probability_pct, value);
        })?;
        let thunder = &layers.probability_of_thunder;
        self.strongest("probabilityOfThunder", Kind::Percent, thunder, |hour, value| {
            raise(&mut hour.thunder_probability_pct, value);
        })?;
        let rain = &layers.quantitative_precipitation;
        self.total("quantitativePrecipitation", Kind::RainTotal, rain, |hour, sum| {
            hour.rain.get_or_insert(sum);
        })?;
        self.total("snowfallAmount", Kind::Snow, &layers.snowfall_amount, |hour, sum| {
            hour.snow.get_or_insert(sum);
        })?;
        self.words(layers.weather.as_ref())
    }

    /// A value that holds at every full hour of its interval.
    fn instant(
        &mut self,
        field: &str,
        kind: Kind,
        layer: &Option<Layer<f64>>,
        set: impl Fn(&mut Hour, f64),
    ) -> Result<(), ParseError> {
        self.each(field, kind, layer, |spread, interval, value| {
            interval.full_hours().for_each(|at| set(spread.hour(at), value));
        })
    }

    /// A value of a stretch of time: the strongest that touches an hour counts for it.
    fn strongest(
        &mut self,
        field: &str,
        kind: Kind,
        layer: &Option<Layer<f64>>,
        set: impl Fn(&mut Hour, f64),
    ) -> Result<(), ParseError> {
        self.each(field, kind, layer, |spread, interval, value| {
            interval.touched_hours().for_each(|at| set(spread.hour(at), value));
        })
    }

    /// A total, shared evenly among the hours of its interval.
    fn total(
        &mut self,
        field: &str,
        kind: Kind,
        layer: &Option<Layer<f64>>,
        set: impl Fn(&mut Hour, HourSum),
    ) -> Result<(), ParseError> {
        self.each(field, kind, layer, |spread, interval, value| {
            let interval = interval.rounded();
            let count = u32::try_from((interval.end - interval.start).num_hours()).unwrap_or(1);
            let total = crate::units::RainDepth::from_millimeters(value);
            let sum = HourSum::share_of(total, count);
            interval.full_hours().for_each(|at| set(spread.hour(at), sum));
        })
    }

    fn each(
        &mut self,
        field: &str,
        kind: Kind,
        layer: &Option<Layer<f64>>,
        mut use_value: impl FnMut(&mut Self, Interval, f64),
    ) -> Result<(), ParseError> {
        let Some(layer) = layer.as_ref().filter(|layer| !layer.values.0.is_empty()) else {
            return Ok(());
        };
        // The chance of thunder carries no unit; a percentage needs none.
        let unit = layer.uom.as_deref();
        let unit = unit.unwrap_or(if kind == Kind::Percent { "percent" } else { "none given" });
        let channel = Channel::new(kind, field, unit)?;
        for entry in &layer.values.0 {
            let interval = Interval::parse(field, &entry.valid_time, self.fetched_at)?;
            if let Some(value) = channel.read(entry.value, interval.start)? {
                use_value(self, interval, value);
            }
        }
        Ok(())
    }

    /// Whether the forecaster's words name thunder in an hour.
    fn words(&mut self, layer: Option<&Layer<Bounded<Word>>>) -> Result<(), ParseError> {
        for entry in layer.into_iter().flat_map(|layer| &layer.values.0) {
            let interval = Interval::parse("weather", &entry.valid_time, self.fetched_at)?;
            let Some(words) = &entry.value else { continue };
            let thunder = words.0.iter().filter_map(|word| word.weather.as_deref());
            let named = thunder.into_iter().any(|word| word.contains("thunder"));
            for at in interval.touched_hours() {
                let hour = self.hour(at);
                hour.thunder_named = Some(hour.thunder_named == Some(true) || named);
            }
        }
        Ok(())
    }

    fn hour(&mut self, at: DateTime<Utc>) -> &mut Hour {
        self.hours.entry(at).or_insert_with(|| Hour::unknown(at))
    }
}

fn raise(held: &mut Option<f64>, value: f64) {
    *held = Some(held.map_or(value, |held| held.max(value)));
}
