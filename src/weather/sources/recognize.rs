//! Which of the known shapes a file has.

use chrono::{DateTime, Utc};
use serde::Deserialize;
use serde::de::IgnoredAny;

use super::json::FirstOf;
use super::{ParseError, json, met_norway, nasa_power, neutral_csv, nws, open_meteo};
use crate::weather::Forecast;

/// The shapes that a file may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Open-Meteo's forecast reply.
    OpenMeteo,
    /// The NWS's grid reply.
    NwsGrid,
    /// The NWS's hourly reply.
    NwsHourly,
    /// MET Norway's Locationforecast reply.
    MetNorway,
    /// The neutral CSV.
    Csv,
    /// NASA POWER's hourly reply, of past years.
    NasaPower,
}

/// The keys that tell the shapes apart.
#[derive(Deserialize)]
struct Probe {
    hourly: Option<IgnoredAny>,
    properties: Option<ProbeProperties>,
    error: Option<IgnoredAny>,
    reason: Option<String>,
    title: Option<String>,
    detail: Option<String>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct ProbeProperties {
    timeseries: Option<IgnoredAny>,
    periods: Option<IgnoredAny>,
    temperature: Option<IgnoredAny>,
    parameter: Option<IgnoredAny>,
    forecast_grid_data: Option<IgnoredAny>,
}

/// Tells a body's shape by its content.
///
/// # Errors
/// [`ParseError::Unrecognized`] for anything else, and what is wrong with a broken text.
pub fn shape(body: &[u8]) -> Result<Shape, ParseError> {
    let start = json::without_mark(body).trim_ascii_start();
    match start.first() {
        None => Err(ParseError::Empty),
        Some(b'{') => json_shape(&json::parse(body, "the JSON file")?),
        Some(b'[') => json_shape(&json::parse::<FirstOf<Probe>>(body, "the JSON file")?.0),
        Some(_) if json::looks_like_html(start) => {
            Err(ParseError::WebPage { title: json::html_title(start) })
        }
        Some(_) => {
            let line = start.split(|byte| matches!(byte, b'\n' | b'\r')).next().unwrap_or_default();
            let line = String::from_utf8_lossy(line.get(..line.len().min(4096)).unwrap_or(line));
            if neutral_csv::is_header(&line) {
                return Ok(Shape::Csv);
            }
            Err(ParseError::Unrecognized {
                found: format!("a text that begins with \"{}\"", json::quote(&line)),
            })
        }
    }
}

fn json_shape(probe: &Probe) -> Result<Shape, ParseError> {
    let unrecognized = |found: &str| Err(ParseError::Unrecognized { found: found.to_owned() });
    if let Some(properties) = &probe.properties {
        return match properties {
            ProbeProperties { timeseries: Some(_), .. } => Ok(Shape::MetNorway),
            ProbeProperties { periods: Some(_), .. } => Ok(Shape::NwsHourly),
            ProbeProperties { temperature: Some(_), .. } => Ok(Shape::NwsGrid),
            ProbeProperties { parameter: Some(_), .. } => Ok(Shape::NasaPower),
            ProbeProperties { forecast_grid_data: Some(_), .. } => unrecognized(
                "the NWS's reply about a point, which leads to a forecast but holds none",
            ),
            _ => unrecognized("JSON with `properties` of another kind"),
        };
    }
    let said = probe.reason.as_deref().or(probe.detail.as_deref()).or(probe.title.as_deref());
    match said {
        _ if probe.hourly.is_some() => Ok(Shape::OpenMeteo),
        Some(reason) => Err(ParseError::ServiceError { reason: json::quote(reason) }),
        None if probe.error.is_some() => unrecognized("an error message without a reason"),
        None => unrecognized("JSON without `hourly` and without `properties`"),
    }
}

/// Reads a file of any known shape.
///
/// # Errors
/// As [`shape`] and the parser of that shape.
pub fn parse_file(body: &[u8], read_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let shape = shape(body)?;
    let mut forecast = match shape {
        Shape::OpenMeteo => open_meteo::parse_forecast(body, read_at),
        Shape::NwsGrid => nws::parse_forecast(body, None, read_at),
        Shape::NwsHourly => nws::parse_hourly(body, read_at),
        Shape::MetNorway => met_norway::parse_forecast(body, read_at),
        Shape::Csv => neutral_csv::parse_forecast(body, read_at),
        Shape::NasaPower => nasa_power::parse(body, read_at).map(|record| record.series),
    }?;
    "file".clone_into(&mut forecast.provenance.source);
    forecast.provenance.attribution = attribution(shape);
    Ok(forecast)
}

/// A file may hold a saved reply, whose credit is then due, or numbers of its maker in the same
/// shape, for which the credit would be false.
fn attribution(shape: Shape) -> String {
    let (service, credit) = match shape {
        Shape::Csv => return neutral_csv::ATTRIBUTION.to_owned(),
        Shape::OpenMeteo => ("Open-Meteo", open_meteo::ATTRIBUTION),
        Shape::NwsGrid | Shape::NwsHourly => ("the NWS", nws::ATTRIBUTION),
        Shape::MetNorway => ("MET Norway", met_norway::ATTRIBUTION),
        Shape::NasaPower => ("NASA POWER", nasa_power::ATTRIBUTION),
    };
    format!("file in the shape of a reply of {service}; if saved from there: {credit}")
}
