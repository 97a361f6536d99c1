//! From the reply to the hourly series.

use chrono::{DateTime, Datelike, NaiveDateTime, Utc};
use chrono_tz::Tz;
use serde::Deserialize;

use super::ensemble;
use super::table::Table;
use super::wire::{self, Hourly, Reply, Stamp};
use super::{ARCHIVE_ATTRIBUTION, ATTRIBUTION, EXPECTED};
use crate::units::Length;
use crate::weather::sources::record::Record;
use crate::weather::sources::{ParseError, json, stamps};
use crate::weather::{Forecast, Place, Provenance};

/// Reads a forecast reply, of one place or, from several, of the first.
///
/// Units are those of `hourly_units`; of several models the first with temperatures is taken. An
/// ensemble's reply is one too: its control is the forecast, with the members beside it.
///
/// # Errors
/// Anything that is not such a reply: see [`ParseError`].
pub fn parse_forecast(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let reply = checked(wire::reply(body)?)?;
    let (hourly, times) = hours(&reply)?;
    let table = Table::new(&reply, hourly)?;
    let mut rows = Vec::with_capacity(times.len() * 2);
    for (index, &time) in times.iter().enumerate() {
        table.read(index, time, &mut rows)?;
    }
    let provenance = Provenance {
        source: "open-meteo".to_owned(),
        issued_at: None,
        fetched_at,
        stale: false,
        attribution: ATTRIBUTION.to_owned(),
        time_zone: zone(&reply),
    };
    let members = ensemble::members(&reply, hourly, &times)?;
    Ok(Forecast::from_hours(provenance, rows)?.with_members(members))
}

/// Reads a reply of the archive, which has the shape of a forecast.
///
/// # Errors
/// As [`parse_forecast`].
pub fn parse_archive(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Record, ParseError> {
    let mut series = parse_forecast(body, fetched_at)?;
    "open-meteo-archive".clone_into(&mut series.provenance.source);
    ARCHIVE_ATTRIBUTION.clone_into(&mut series.provenance.attribution);
    let cell: Cell = json::parse(body, EXPECTED)?;
    Ok(Record {
        series,
        station: None,
        place: cell.place(),
        standard_time: None,
        joins: None,
        notes: Vec::new(),
    })
}

/// Where the center of the grid cell lies.
#[derive(Deserialize)]
struct Cell {
    latitude: Option<f64>,
    longitude: Option<f64>,
    elevation: Option<f64>,
}

impl Cell {
    fn place(&self) -> Option<Place> {
        let elevation = self.elevation.map(Length::from_meters);
        let (latitude_deg, longitude_deg) = self.latitude.zip(self.longitude)?;
        Place { latitude_deg, longitude_deg, elevation }.on_earth()
    }
}

/// Reads which IANA zone the reply names for the place; `None` for plain GMT.
///
/// # Errors
/// Anything that is not a reply of Open-Meteo.
pub fn parse_time_zone(body: &[u8]) -> Result<Option<Tz>, ParseError> {
    let reply = checked(wire::reply(body)?)?;
    if reply.timezone.is_none() {
        return Err(ParseError::Missing { expected: "`timezone`".to_owned(), place: EXPECTED });
    }
    Ok(zone(&reply))
}

pub(super) fn checked(reply: Reply) -> Result<Reply, ParseError> {
    if reply.error {
        let reason = reply.reason.as_deref().unwrap_or("no reason given");
        return Err(ParseError::ServiceError { reason: json::quote(reason) });
    }
    Ok(reply)
}

/// The arrays of the reply and the instants of their rows, of which there is at least one.
pub(super) fn hours(reply: &Reply) -> Result<(&Hourly, Vec<DateTime<Utc>>), ParseError> {
    let hourly = reply
        .hourly
        .as_ref()
        .ok_or_else(|| ParseError::Missing { expected: "`hourly`".to_owned(), place: EXPECTED })?;
    let times = times(reply, hourly)?;
    if times.is_empty() {
        let expected = "at least one hour".to_owned();
        return Err(ParseError::Missing { expected, place: "the reply's `hourly`" });
    }
    Ok((hourly, times))
}

fn zone(reply: &Reply) -> Option<Tz> {
    let name = reply.timezone.as_deref().filter(|name| !matches!(*name, "GMT" | "UTC"))?;
    name.parse().ok()
}

/// The instants of the rows. Unix seconds are UTC whatever `utc_offset_seconds` says.
fn times(reply: &Reply, hourly: &Hourly) -> Result<Vec<DateTime<Utc>>, ParseError> {
    let stamps = hourly.time.as_ref().ok_or_else(|| ParseError::Missing {
        expected: "`hourly.time`".to_owned(),
        place: EXPECTED,
    })?;
    check_lengths(hourly, stamps.len())?;
    let times = stamps.iter().map(|stamp| instant(reply, stamp)).collect::<Result<Vec<_>, _>>()?;
    stamps::check_hourly("hourly.time", &times)?;
    Ok(times)
}

fn instant(reply: &Reply, stamp: &Stamp) -> Result<DateTime<Utc>, ParseError> {
    match stamp {
        Stamp::Unix(seconds) => {
            // A double holds every whole second of the years 1 to 9998.
            #[expect(clippy::cast_possible_truncation, reason = "the cast saturates")]
            let whole = *seconds as i64;
            DateTime::from_timestamp(whole, 0)
                .filter(|at| seconds.fract() == 0.0 && stamps::YEARS.contains(&at.year()))
                .ok_or_else(|| unreadable(format!("{seconds:e}")))
        }
        Stamp::Text(text) => {
            if reply.utc_offset_seconds != Some(0.0) {
                let zone = reply.timezone.as_deref().unwrap_or("no zone named");
                return Err(ParseError::LocalTimes { zone: json::quote(zone) });
            }
            NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M")
                .map(|at| at.and_utc())
                .ok()
                .filter(|at| stamps::YEARS.contains(&at.year()))
                .ok_or_else(|| unreadable(json::quote(text)))
        }
    }
}

fn unreadable(found: String) -> ParseError {
    ParseError::Unreadable {
        field: "hourly.time".to_owned(),
        found,
        line: None,
        expected: "unix seconds, or a time like 2026-03-01T10:00",
    }
}

fn check_lengths(hourly: &Hourly, expected: usize) -> Result<(), ParseError> {
    match hourly.series.iter().find(|(_, values)| values.len() != expected) {
        None => Ok(()),
        Some((key, values)) => Err(ParseError::Lengths {
            first: "hourly.time".to_owned(),
            first_length: expected,
            second: format!("hourly.{}", json::quote(key)),
            second_length: values.len(),
        }),
    }
}
