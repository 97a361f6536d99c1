//! The hourly periods of a grid cell, written for people: whole °F next to a dew point in °C, wind
//! as "10 to 15 mph".

use chrono::{DateTime, TimeDelta, Utc};
use serde::Deserialize;

use crate::units::{Temperature, WindSpeed};
use crate::weather::Hour;
use crate::weather::sources::json::{self, Bounded};
use crate::weather::sources::measure::{Channel, Kind};
use crate::weather::sources::{ParseError, stamps};

const EXPECTED: &str = "an hourly reply of the NWS";

#[derive(Deserialize)]
struct Reply {
    properties: Option<Properties>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Properties {
    update_time: Option<String>,
    generated_at: Option<String>,
    periods: Option<Bounded<Period>>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Period {
    start_time: String,
    end_time: String,
    temperature: Option<Amount>,
    temperature_unit: Option<String>,
    dewpoint: Option<Amount>,
    relative_humidity: Option<Amount>,
    wind_speed: Option<Amount>,
    wind_gust: Option<Amount>,
    probability_of_precipitation: Option<Amount>,
    short_forecast: Option<String>,
}

/// A number, a text with its unit, or a number with its unit: the service has sent all three.
#[derive(Deserialize)]
#[serde(untagged, expecting = "expected a number, a text or {unitCode, value}")]
enum Amount {
    Number(f64),
    Text(String),
    WithUnit {
        #[serde(rename = "unitCode")]
        unit_code: Option<String>,
        value: Option<f64>,
    },
}

/// What an hourly reply says, before it becomes a series.
pub(super) struct Periods {
    pub(super) issued_at: Option<DateTime<Utc>>,
    pub(super) hours: Vec<Hour>,
}

/// Reads an hourly reply.
pub(super) fn parse(body: &[u8]) -> Result<Periods, ParseError> {
    let missing =
        || ParseError::Missing { expected: "`properties.periods`".to_owned(), place: EXPECTED };
    let reply: Reply = json::parse(body, EXPECTED)?;
    let properties = reply.properties.ok_or_else(missing)?;
    let periods = properties.periods.ok_or_else(missing)?.0;
    let issued = properties.update_time.or(properties.generated_at);
    Ok(Periods {
        issued_at: issued.map(|text| stamps::instant("updateTime", &text)).transpose()?,
        hours: periods.iter().map(hour).collect::<Result<_, _>>()?,
    })
}

fn hour(period: &Period) -> Result<Hour, ParseError> {
    let time = stamps::instant("startTime", &period.start_time)?;
    let end = stamps::instant("endTime", &period.end_time)?;
    stamps::check_full_hour("startTime", time)?;
    if end - time != TimeDelta::hours(1) {
        let expected = "periods of one hour (the service's `forecast/hourly` reply)";
        return Err(ParseError::Steps { field: "periods", before: time, after: end, expected });
    }
    let unit = period.temperature_unit.as_deref();
    let percent = |field, amount| number(Kind::Percent, field, amount, Some("percent"), time);
    let celsius = |value: Option<f64>| value.map(Temperature::from_celsius);
    let meters_per_second = |value: Option<f64>| value.map(WindSpeed::from_meters_per_second);
    Ok(Hour {
        air: celsius(number(Kind::Air, "temperature", &period.temperature, unit, time)?),
        dew_point: celsius(number(Kind::DewPoint, "dewpoint", &period.dewpoint, None, time)?),
        humidity_pct: percent("relativeHumidity", &period.relative_humidity)?,
        wind: meters_per_second(number(Kind::Wind, "windSpeed", &period.wind_speed, None, time)?),
        gust: meters_per_second(number(Kind::Wind, "windGust", &period.wind_gust, None, time)?),
        precipitation_probability_pct: percent(
            "probabilityOfPrecipitation",
            &period.probability_of_precipitation,
        )?,
        thunder_named: period.short_forecast.as_deref().filter(|text| !text.is_empty()).map(
            |text| {
                let text = text.to_ascii_lowercase();
                text.contains("thunder") || text.contains("t-storm")
            },
        ),
        ..Hour::unknown(time)
    })
}

/// The number in the unit of its kind. `unit` is that which stands elsewhere in the period.
fn number(
    kind: Kind,
    field: &str,
    amount: &Option<Amount>,
    unit: Option<&str>,
    at: DateTime<Utc>,
) -> Result<Option<f64>, ParseError> {
    let (value, unit) = match amount {
        None => return Ok(None),
        Some(Amount::Number(value)) => (Some(*value), unit),
        Some(Amount::WithUnit { unit_code, value }) => (*value, unit_code.as_deref().or(unit)),
        Some(Amount::Text(text)) if text.trim().is_empty() => return Ok(None),
        Some(Amount::Text(text)) => {
            let (value, unit) = upper_end(text).ok_or_else(|| ParseError::Unreadable {
                field: field.to_owned(),
                found: json::quote(text),
                line: None,
                expected: "a text like \"10 mph\" or \"10 to 15 mph\"",
            })?;
            (Some(value), Some(unit))
        }
    };
    if value.is_none() {
        return Ok(None);
    }
    Channel::new(kind, field, unit.unwrap_or("none given"))?.read(value, at)
}

/// The higher number of "10 to 15 mph", and its unit.
fn upper_end(text: &str) -> Option<(f64, &str)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.as_slice() {
        [value, unit] => Some((value.parse().ok()?, unit)),
        [low, "to", high, unit] => {
            let (low, high): (f64, f64) = (low.parse().ok()?, high.parse().ok()?);
            Some((low.max(high), unit))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wind_in_words_counts_at_its_upper_end() {
        assert_eq!(upper_end("5 mph"), Some((5.0, "mph")));
        assert_eq!(upper_end("10 to 15 mph"), Some((15.0, "mph")));
        assert_eq!(upper_end("16 km/h"), Some((16.0, "km/h")));
        assert_eq!(upper_end("breezy"), None);
        assert_eq!(upper_end("10 or 15 mph"), None);
    }
}
