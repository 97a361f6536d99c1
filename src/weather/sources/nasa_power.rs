//! NASA POWER, hourly: reanalysis and satellites for the whole world since 2001.
//!
//! Every value stamped `t` is that of the hour `[t, t + 1 h)`: its mean, for rain its depth. What the
//! house wants at an instant is therefore the mean of the hour before and the hour after it. The
//! `fill_value` (-999) is no value. Stamps are in UTC where that is asked for, and in the sun's time
//! of the place where it is not. Source: NasaPower.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, NaiveDateTime, TimeDelta, Utc};
use serde::Deserialize;
use url::Url;

use super::measure::{Channel, Kind};
use super::record::{Record, provenance};
use super::{ParseError, json};
use crate::units::{Length, RainDepth, Temperature, WindSpeed};
use crate::weather::place::append_path;
use crate::weather::{Forecast, Hour, HourSum, Place};

/// The host.
pub const BASE: &str = "https://power.larc.nasa.gov";
/// The first year that it has by the hour.
pub const FIRST_YEAR: i32 = 2001;
/// The credit that it asks for; values are converted and moved to their hour.
pub const ATTRIBUTION: &str = "NASA Langley Research Center's Prediction Of Worldwide Energy \
     Resources (POWER) Project (https://power.larc.nasa.gov/), converted";
const EXPECTED: &str = "an hourly reply of NASA POWER";
/// Every parameter that the record is made of. At most 15 are answered at once.
const PARAMETERS: &str = "T2M,T2MDEW,RH2M,PRECTOTCORR,WS10M,PS,CLOUD_AMT,ALLSKY_SFC_SW_DWN";

/// The address of the hours from `first` to `last`, both included.
pub fn hourly_url(base: &Url, place: &Place, first: NaiveDate, last: NaiveDate) -> Url {
    let mut url = append_path(base, "api/temporal/hourly/point");
    url.query_pairs_mut()
        .append_pair("parameters", PARAMETERS)
        // The one whose radiation is in Wh/m² and whose precision is enough.
        .append_pair("community", "RE")
        .append_pair("latitude", &place.latitude_text())
        .append_pair("longitude", &place.longitude_text())
        .append_pair("start", &first.format("%Y%m%d").to_string())
        .append_pair("end", &last.format("%Y%m%d").to_string())
        .append_pair("format", "JSON")
        .append_pair("time-standard", "UTC");
    url
}

#[derive(Deserialize)]
struct Reply {
    geometry: Option<Geometry>,
    properties: Option<Properties>,
    header: Option<Header>,
    #[serde(default)]
    parameters: BTreeMap<String, Parameter>,
}

#[derive(Deserialize)]
struct Geometry {
    coordinates: Vec<f64>,
}

#[derive(Deserialize)]
struct Properties {
    parameter: BTreeMap<String, BTreeMap<String, Option<f64>>>,
}

#[derive(Deserialize)]
struct Header {
    fill_value: Option<f64>,
    time_standard: Option<String>,
}

#[derive(Deserialize)]
struct Parameter {
    units: String,
}

/// Reads a reply.
///
/// # Errors
/// Anything that is not such a reply: see [`ParseError`].
pub fn parse(body: &[u8], read_at: DateTime<Utc>) -> Result<Record, ParseError> {
    let reply: Reply = json::parse(body, EXPECTED)?;
    let missing = |what: &str| ParseError::Missing { expected: what.to_owned(), place: EXPECTED };
    let header = reply.header.as_ref().ok_or_else(|| missing("`header`"))?;
    match header.time_standard.as_deref() {
        Some("UTC") => {}
        Some(other) => return Err(local_times(other)),
        None => return Err(missing("`header.time_standard`")),
    }
    let properties = reply.properties.as_ref().ok_or_else(|| missing("`properties`"))?;
    let mut means = Vec::new();
    let mut hours: BTreeMap<DateTime<Utc>, Hour> = BTreeMap::new();
    for (name, kind, set) in COLUMNS {
        let Some(values) = properties.parameter.get(*name) else { continue };
        let unit = reply.parameters.get(*name).map_or("none given", |told| told.units.as_str());
        let channel = Channel::new(*kind, name, unit)?;
        for (stamp, value) in values {
            let time = instant(stamp)?;
            let known = value.filter(|value| header.fill_value != Some(*value) && *value > FILLED);
            let hour = hours.entry(time).or_insert_with(|| Hour::unknown(time));
            if let Some(value) = channel.read(known, time)? {
                set(hour, value);
            }
        }
        means.push(*name);
    }
    if !means.contains(&"T2M") {
        return Err(missing("`properties.parameter.T2M`"));
    }
    let hours = at_instants(&hours);
    let series =
        Forecast::from_hours(provenance("nasa-power", ATTRIBUTION.to_owned(), read_at), hours)?;
    Ok(Record {
        series,
        station: None,
        place: reply.geometry.as_ref().and_then(place),
        standard_time: None,
        joins: None,
        notes: Vec::new(),
    })
}

/// Replies have been seen with -999 in a header that names another fill.
const FILLED: f64 = -990.0;

type Set = fn(&mut Hour, f64);

const COLUMNS: &[(&str, Kind, Set)] = &[
    ("T2M", Kind::Air, |hour, value| hour.air = Some(Temperature::from_celsius(value))),
    ("T2MDEW", Kind::DewPoint, |hour, value| {
        hour.dew_point = Some(Temperature::from_celsius(value))
    }),
    ("RH2M", Kind::Percent, |hour, value| hour.humidity_pct = Some(value)),
    ("WS10M", Kind::Wind, |hour, value| hour.wind = Some(WindSpeed::from_meters_per_second(value))),
    ("PS", Kind::SurfacePressure, |hour, value| hour.surface_pressure_hpa = Some(value)),
    ("CLOUD_AMT", Kind::Percent, |hour, value| hour.cloud_cover_pct = Some(value)),
    ("ALLSKY_SFC_SW_DWN", Kind::Shortwave, |hour, value| hour.shortwave_w_m2 = Some(value)),
    ("PRECTOTCORR", Kind::RainOfAnHour, |hour, value| {
        hour.rain = Some(HourSum::of_one_hour(RainDepth::from_millimeters(value)));
    }),
];

/// Means of hours made into values at their beginnings; sums stay where they are.
fn at_instants(means: &BTreeMap<DateTime<Utc>, Hour>) -> Vec<Hour> {
    let middle = |a: Option<f64>, b: Option<f64>| Some(f64::midpoint(a?, b?));
    let celsius = |value: Option<Temperature>| value.map(Temperature::celsius);
    let speed = |value: Option<WindSpeed>| value.map(WindSpeed::meters_per_second);
    let of = |(time, mean): (&DateTime<Utc>, &Hour)| {
        let unknown = Hour::unknown(*time - TimeDelta::hours(1));
        let before = means.get(&unknown.time).copied().unwrap_or(unknown);
        let from_both = |field: fn(&Hour) -> Option<f64>| middle(field(&before), field(mean));
        Hour {
            air: middle(celsius(before.air), celsius(mean.air)).map(Temperature::from_celsius),
            dew_point: middle(celsius(before.dew_point), celsius(mean.dew_point))
                .map(Temperature::from_celsius),
            humidity_pct: from_both(|hour| hour.humidity_pct),
            wind: middle(speed(before.wind), speed(mean.wind))
                .map(WindSpeed::from_meters_per_second),
            cloud_cover_pct: from_both(|hour| hour.cloud_cover_pct),
            surface_pressure_hpa: from_both(|hour| hour.surface_pressure_hpa),
            rain: mean.rain,
            shortwave_w_m2: mean.shortwave_w_m2,
            ..Hour::unknown(*time)
        }
    };
    means.iter().map(of).collect()
}

fn instant(stamp: &str) -> Result<DateTime<Utc>, ParseError> {
    let whole = (stamp.len() == 10).then(|| format!("{stamp}00"));
    whole
        .and_then(|text| NaiveDateTime::parse_from_str(&text, "%Y%m%d%H%M").ok())
        .map(|time| time.and_utc())
        .ok_or_else(|| ParseError::Unreadable {
            field: "stamp".to_owned(),
            found: json::quote(stamp),
            line: None,
            expected: "a day and an hour like 2015060107, as in hourly replies",
        })
}

fn local_times(standard: &str) -> ParseError {
    ParseError::Unreadable {
        field: "header.time_standard".to_owned(),
        found: json::quote(standard),
        line: None,
        expected: "UTC: the sun's time of the place is off the clock; save the reply with \
                   `time-standard=UTC`",
    }
}

/// The cell's center and its mean height.
fn place(geometry: &Geometry) -> Option<Place> {
    let &[longitude_deg, latitude_deg, ref height @ ..] = &geometry.coordinates[..] else {
        return None;
    };
    let elevation = height.first().copied().map(Length::from_meters);
    Place { latitude_deg, longitude_deg, elevation }.on_earth()
}
