//! The reply as it comes over the wire.

use std::collections::BTreeMap;
use std::fmt;

use serde::Deserialize;
use serde::de::{Deserializer, IgnoredAny, MapAccess, Visitor};

use super::EXPECTED;
use crate::weather::sources::ParseError;
use crate::weather::sources::json::{self, Bounded, FirstOf};

/// A variable by the name in use today, and the spelling of old replies.
pub(super) struct Variable {
    pub(super) name: &'static str,
    older: &'static str,
}

macro_rules! variables {
    ($($constant:ident = $name:literal, $older:literal;)*) => {
        $(pub(super) const $constant: Variable = Variable { name: $name, older: $older };)*
        const VARIABLES: &[Variable] = &[$($constant),*];
    };
}

variables! {
    TEMPERATURE = "temperature_2m", "temperature_2m";
    DEW_POINT = "dew_point_2m", "dewpoint_2m";
    HUMIDITY = "relative_humidity_2m", "relativehumidity_2m";
    PRECIPITATION = "precipitation", "precipitation";
    PRECIPITATION_PROBABILITY = "precipitation_probability", "precipitation_probability";
    SNOWFALL = "snowfall", "snowfall";
    WEATHER_CODE = "weather_code", "weathercode";
    CLOUD_COVER = "cloud_cover", "cloudcover";
    WIND = "wind_speed_10m", "windspeed_10m";
    GUST = "wind_gusts_10m", "windgusts_10m";
    SHORTWAVE = "shortwave_radiation", "shortwave_radiation";
    SURFACE_PRESSURE = "surface_pressure", "surface_pressure";
    SEA_LEVEL_PRESSURE = "pressure_msl", "pressure_msl";
}

#[derive(Deserialize)]
pub(super) struct Reply {
    #[serde(default)]
    pub(super) error: bool,
    pub(super) reason: Option<String>,
    pub(super) utc_offset_seconds: Option<f64>,
    pub(super) timezone: Option<String>,
    #[serde(default)]
    pub(super) hourly_units: BTreeMap<String, String>,
    pub(super) hourly: Option<Hourly>,
}

/// The arrays under `hourly` that a forecast can be made of; others are skipped unread.
pub(super) struct Hourly {
    pub(super) time: Option<Vec<Stamp>>,
    /// In the order of the reply.
    pub(super) series: Vec<(String, Vec<Option<f64>>)>,
}

/// A time as unix seconds or as text.
#[derive(Deserialize)]
#[serde(untagged, expecting = "expected unix seconds or a time in quotes")]
pub(super) enum Stamp {
    Unix(f64),
    Text(String),
}

/// Reads one place, or the first of several.
pub(super) fn reply(body: &[u8]) -> Result<Reply, ParseError> {
    let first = json::without_mark(body).trim_ascii_start().first();
    if first == Some(&b'[') {
        return json::parse::<FirstOf<Reply>>(body, EXPECTED).map(|first| first.0);
    }
    json::parse(body, EXPECTED)
}

impl Reply {
    /// The unit of `key`. A member may lack one of its own; it is then in that of its variable.
    pub(super) fn unit(&self, key: &str) -> Option<&str> {
        let of_variable = || self.hourly_units.get(key.split_once("_member")?.0);
        self.hourly_units.get(key).or_else(of_variable).map(String::as_str)
    }
}

impl Variable {
    /// What follows the variable's name in `key`: nothing, or `_` and the name of a model.
    pub(super) fn suffix_in<'a>(&self, key: &'a str) -> Option<&'a str> {
        let rest = key.strip_prefix(self.name).or_else(|| key.strip_prefix(self.older))?;
        (rest.is_empty() || rest.starts_with('_')).then_some(rest)
    }
}

impl<'de> Deserialize<'de> for Hourly {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(HourlyVisitor)
    }
}

struct HourlyVisitor;

impl<'de> Visitor<'de> for HourlyVisitor {
    type Value = Hourly;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object of arrays")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Hourly, A::Error> {
        let mut hourly = Hourly { time: None, series: Vec::new() };
        while let Some(key) = map.next_key::<String>()? {
            if key == "time" {
                hourly.time = Some(map.next_value::<Bounded<Stamp>>()?.0);
            } else if VARIABLES.iter().any(|variable| variable.suffix_in(&key).is_some()) {
                hourly.series.push((key, map.next_value::<Bounded<Option<f64>>>()?.0));
            } else {
                map.next_value::<IgnoredAny>()?;
            }
        }
        Ok(hourly)
    }
}
