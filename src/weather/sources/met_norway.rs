//! MET Norway, Locationforecast 2.0 `complete`.
//!
//! Rain stamped `t` falls in `[t, t + 1 h)`; after two to three days the steps become six hours, and
//! rain is then one total of six hours while temperatures hold at the step only.

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};
use serde::Deserialize;
use url::Url;

use super::json::Bounded;
use super::measure::{Channel, Kind};
use super::{ParseError, json, stamps};
use crate::units::RainDepth;
use crate::weather::place::append_path;
use crate::weather::{Forecast, Hour, HourSum, Place, Provenance};

/// The service's own host.
pub const BASE: &str = "https://api.met.no";
/// The credit that the license (CC BY 4.0) asks for; values are converted and moved to their hour.
pub const ATTRIBUTION: &str = "Data from MET Norway (https://api.met.no/), \
     CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/), converted";
const EXPECTED: &str = "a Locationforecast reply of MET Norway";

/// The forecast of a place. `complete`, since `compact` has no dew point.
pub fn forecast_url(base: &Url, place: &Place) -> Url {
    let mut url = append_path(base, "weatherapi/locationforecast/2.0/complete");
    url.query_pairs_mut()
        .append_pair("lat", &place.latitude_text())
        .append_pair("lon", &place.longitude_text());
    if let Some(elevation) = place.elevation_text() {
        url.query_pairs_mut().append_pair("altitude", &elevation);
    }
    url
}

#[derive(Deserialize)]
struct Reply {
    properties: Option<Properties>,
}

#[derive(Deserialize)]
struct Properties {
    meta: Option<Meta>,
    timeseries: Option<Bounded<Step>>,
}

#[derive(Deserialize, Default)]
struct Meta {
    updated_at: Option<String>,
    #[serde(default)]
    units: BTreeMap<String, String>,
}

#[derive(Deserialize)]
struct Step {
    time: String,
    data: Data,
}

/// Everything but `instant` may be missing, and on the last step is.
#[derive(Deserialize)]
struct Data {
    instant: Instant,
    next_1_hours: Option<Ahead>,
    next_6_hours: Option<Ahead>,
}

#[derive(Deserialize)]
struct Instant {
    #[serde(default)]
    details: Details,
}

#[derive(Deserialize)]
struct Ahead {
    summary: Option<Summary>,
    #[serde(default)]
    details: Details,
}

#[derive(Deserialize)]
struct Summary {
    symbol_code: Option<String>,
}

#[derive(Deserialize, Default)]
struct Details {
    air_temperature: Option<f64>,
    dew_point_temperature: Option<f64>,
    relative_humidity: Option<f64>,
    wind_speed: Option<f64>,
    wind_speed_of_gust: Option<f64>,
    cloud_area_fraction: Option<f64>,
    air_pressure_at_sea_level: Option<f64>,
    precipitation_amount: Option<f64>,
    probability_of_precipitation: Option<f64>,
    probability_of_thunder: Option<f64>,
}

/// Reads a forecast reply, `complete` or `compact`.
///
/// # Errors
/// Anything that is not such a reply, and a forecast without any temperature.
pub fn parse_forecast(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let missing =
        || ParseError::Missing { expected: "`properties.timeseries`".to_owned(), place: EXPECTED };
    let reply: Reply = json::parse(body, EXPECTED)?;
    let properties = reply.properties.ok_or_else(missing)?;
    let steps = properties.timeseries.ok_or_else(missing)?.0;
    let meta = properties.meta.unwrap_or_default();
    let hours = hours(&steps, &meta.units)?;
    if hours.iter().all(|hour| hour.air.is_none()) {
        return Err(ParseError::Missing {
            expected: "a temperature (`air_temperature`)".to_owned(),
            place: EXPECTED,
        });
    }
    let provenance = Provenance {
        source: "met-norway".to_owned(),
        issued_at: meta.updated_at.map(|at| stamps::instant("updated_at", &at)).transpose()?,
        fetched_at,
        stale: false,
        attribution: ATTRIBUTION.to_owned(),
        time_zone: None,
    };
    Ok(Forecast::from_hours(provenance, hours)?)
}

fn hours(steps: &[Step], units: &BTreeMap<String, String>) -> Result<Vec<Hour>, ParseError> {
    let channels = Channels::new(units)?;
    let mut hours = Vec::with_capacity(steps.len());
    let mut covered_until = DateTime::<Utc>::MIN_UTC;
    let mut last = None;
    for step in steps {
        let time = stamps::instant("time", &step.time)?;
        stamps::check_full_hour("time", time)?;
        if let Some(before) = last.filter(|before| time <= *before) {
            let expected = "each later than the one before";
            return Err(ParseError::Steps { field: "time", before, after: time, expected });
        }
        last = Some(time);
        hours.push(channels.instant(time, &step.data.instant.details)?);
        // `next_6_hours` of hourly steps overlap: one counts only where the last one ended.
        if time < covered_until {
            continue;
        }
        let ahead = match (&step.data.next_1_hours, &step.data.next_6_hours) {
            (Some(one), _) => Some((one, 1)),
            (None, six) => six.as_ref().map(|six| (six, 6)),
        };
        if let Some((ahead, count)) = ahead {
            channels.ahead(time, ahead, count, &mut hours)?;
            covered_until = time + TimeDelta::hours(i64::from(count));
        }
    }
    Ok(hours)
}

/// The units of the reply, which are fixed but listed.
struct Channels {
    air: Channel,
    dew_point: Channel,
    humidity: Channel,
    wind: Channel,
    gust: Channel,
    cloud: Channel,
    pressure: Channel,
    rain_of_an_hour: Channel,
    rain_total: Channel,
    probability: Channel,
    thunder: Channel,
}

impl Channels {
    fn new(units: &BTreeMap<String, String>) -> Result<Self, ParseError> {
        let channel = |kind, field: &str, documented: &str| {
            Channel::new(kind, field, units.get(field).map_or(documented, String::as_str))
        };
        Ok(Self {
            air: channel(Kind::Air, "air_temperature", "celsius")?,
            dew_point: channel(Kind::DewPoint, "dew_point_temperature", "celsius")?,
            humidity: channel(Kind::Percent, "relative_humidity", "%")?,
            wind: channel(Kind::Wind, "wind_speed", "m/s")?,
            gust: channel(Kind::Wind, "wind_speed_of_gust", "m/s")?,
            cloud: channel(Kind::Percent, "cloud_area_fraction", "%")?,
            pressure: channel(Kind::SeaLevelPressure, "air_pressure_at_sea_level", "hPa")?,
            rain_of_an_hour: channel(Kind::RainOfAnHour, "precipitation_amount", "mm")?,
            rain_total: channel(Kind::RainTotal, "precipitation_amount", "mm")?,
            probability: channel(Kind::Percent, "probability_of_precipitation", "%")?,
            thunder: channel(Kind::Percent, "probability_of_thunder", "%")?,
        })
    }

    fn instant(&self, time: DateTime<Utc>, details: &Details) -> Result<Hour, ParseError> {
        Ok(Hour {
            air: self.air.temperature(details.air_temperature, time)?,
            dew_point: self.dew_point.temperature(details.dew_point_temperature, time)?,
            humidity_pct: self.humidity.read(details.relative_humidity, time)?,
            wind: self.wind.wind(details.wind_speed, time)?,
            gust: self.gust.wind(details.wind_speed_of_gust, time)?,
            cloud_cover_pct: self.cloud.read(details.cloud_area_fraction, time)?,
            sea_level_pressure_hpa: self.pressure.read(details.air_pressure_at_sea_level, time)?,
            ..Hour::unknown(time)
        })
    }

    /// What the next `count` hours bring, on each of them.
    fn ahead(
        &self,
        time: DateTime<Utc>,
        ahead: &Ahead,
        count: u32,
        hours: &mut Vec<Hour>,
    ) -> Result<(), ParseError> {
        let details = &ahead.details;
        let rain = if count == 1 { &self.rain_of_an_hour } else { &self.rain_total };
        let rain = rain.depth(details.precipitation_amount, time)?;
        let probability = self.probability.read(details.probability_of_precipitation, time)?;
        let thunder = self.thunder.read(details.probability_of_thunder, time)?;
        let symbol = ahead.summary.as_ref().and_then(|summary| summary.symbol_code.as_deref());
        hours.extend((0..count).map(|later| Hour {
            rain: rain.map(|total: RainDepth| HourSum::share_of(total, count)),
            precipitation_probability_pct: probability,
            thunder_probability_pct: thunder,
            thunder_named: symbol.map(|symbol| symbol.contains("thunder")),
            ..Hour::unknown(time + TimeDelta::hours(i64::from(later)))
        }));
        Ok(())
    }
}
