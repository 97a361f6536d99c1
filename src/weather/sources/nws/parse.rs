//! From grid layers and hourly periods to the hourly series.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};

use super::{ATTRIBUTION, grid, hourly};
use crate::weather::sources::ParseError;
use crate::weather::{Forecast, Hour, Provenance};

/// A value that the hourly periods can stand in for: whether an hour has it, and how it is taken.
type StandIn = (fn(&Hour) -> bool, fn(&mut Hour, &Hour));

const STAND_INS: &[StandIn] = &[
    (|hour| hour.air.is_some(), |hour, period| hour.air = period.air),
    (|hour| hour.dew_point.is_some(), |hour, period| hour.dew_point = period.dew_point),
    (|hour| hour.humidity_pct.is_some(), |hour, period| hour.humidity_pct = period.humidity_pct),
    (|hour| hour.wind.is_some(), |hour, period| hour.wind = period.wind),
    (
        |hour| hour.precipitation_probability_pct.is_some(),
        |hour, period| hour.precipitation_probability_pct = period.precipitation_probability_pct,
    ),
    (|hour| hour.thunder_named.is_some(), |hour, period| hour.thunder_named = period.thunder_named),
];

/// Reads a grid reply and, where given, the hourly reply of the same cell.
///
/// A value comes from the periods only when the grid has it in no hour at all: the two products
/// can disagree, and within one value they are not mixed.
///
/// # Errors
/// Anything that is not such a reply, and a forecast without any temperature.
pub fn parse_forecast(
    grid: &[u8],
    hourly: Option<&[u8]>,
    fetched_at: DateTime<Utc>,
) -> Result<Forecast, ParseError> {
    let grid = grid::parse(grid, fetched_at)?;
    let mut hours = grid.hours;
    if let Some(body) = hourly {
        let periods = hourly::parse(body)?;
        for stand_in in STAND_INS {
            take_over(&mut hours, &periods.hours, *stand_in);
        }
    }
    series(hours.into_values().collect(), grid.issued_at, fetched_at, "the NWS's grid reply")
}

/// Reads an hourly reply alone: no rain, no gusts, no cloud.
///
/// # Errors
/// Anything that is not such a reply, and a forecast without any temperature.
pub fn parse_hourly(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let periods = hourly::parse(body)?;
    series(periods.hours, periods.issued_at, fetched_at, "the NWS's hourly reply")
}

/// What must be known of a grid reply before a forecast is made of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GridFacts {
    /// Whether it lacks a value that the hourly periods could give.
    pub needs_hourly: bool,
    /// When the office issued it; `None` where it does not say.
    pub issued_at: Option<DateTime<Utc>>,
    /// Start of the last hour with an air temperature.
    pub last_hour: Option<DateTime<Utc>>,
}

/// Looks through a grid reply.
///
/// # Errors
/// Anything that is not a grid reply.
pub fn grid_facts(grid: &[u8], fetched_at: DateTime<Utc>) -> Result<GridFacts, ParseError> {
    let grid = grid::parse(grid, fetched_at)?;
    Ok(GridFacts {
        needs_hourly: STAND_INS.iter().any(|(has, _)| !grid.hours.values().any(has)),
        issued_at: grid.issued_at,
        last_hour: grid.hours.values().rev().find(|hour| hour.air.is_some()).map(|hour| hour.time),
    })
}

fn take_over(hours: &mut BTreeMap<DateTime<Utc>, Hour>, periods: &[Hour], (has, take): StandIn) {
    if hours.values().any(has) {
        return;
    }
    for period in periods {
        take(hours.entry(period.time).or_insert_with(|| Hour::unknown(period.time)), period);
    }
}

fn series(
    hours: Vec<Hour>,
    issued_at: Option<DateTime<Utc>>,
    fetched_at: DateTime<Utc>,
    place: &'static str,
) -> Result<Forecast, ParseError> {
    if hours.iter().all(|hour| hour.air.is_none()) {
        return Err(ParseError::Missing { expected: "a temperature".to_owned(), place });
    }
    let provenance = Provenance {
        source: "nws".to_owned(),
        issued_at,
        fetched_at,
        stale: false,
        attribution: ATTRIBUTION.to_owned(),
        time_zone: None,
    };
    Ok(Forecast::from_hours(provenance, hours)?)
}
