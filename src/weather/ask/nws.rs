//! The NWS: a point leads to a cell, the cell to its layers and, where one is empty, its periods.

use chrono::{DateTime, TimeDelta, Utc};

use super::desk::{Desk, Document, Freshness, Missed, Obtained};
use super::need::Need;
use super::single::what;
use crate::weather::settings::Service;
use crate::weather::sources::ParseError;
use crate::weather::sources::nws::{self, GridCell, GridFacts};
use crate::weather::{Forecast, WeatherError};

const SERVICE: Service = Service::Nws;
/// Offices move their grids without notice, but rarely.
const POINT_FRESH: TimeDelta = TimeDelta::days(7);
/// For when a reply does not say.
const GRID_FRESH: TimeDelta = TimeDelta::hours(1);
/// Offices must renew a forecast every twelve hours; one twice as old has been forgotten.
const OLD: TimeDelta = TimeDelta::hours(24);

/// A grid reply that was read once to see that it can be.
struct Grid {
    body: Vec<u8>,
    facts: GridFacts,
}

impl Grid {
    /// Whether it was issued too long before it was fetched, or was over by then.
    fn is_old(&self, fetched_at: DateTime<Utc>) -> bool {
        self.facts.issued_at.is_some_and(|issued| OLD < fetched_at - issued)
            || self.facts.last_hour.is_some_and(|last| last + TimeDelta::hours(1) <= fetched_at)
    }
}

pub(super) async fn forecast(desk: &mut Desk<'_>) -> Result<Forecast, WeatherError> {
    desk.request.settings.user_agent(SERVICE)?;
    let (mut cell, asked_now) = known_cell(desk).await?;
    let mut grid = grid(desk, &cell).await;
    if matches!(&grid, Err(missed) if missed.status() == Some(404)) && !asked_now {
        // The cell is not there any more: the point leads elsewhere now.
        cell = cell_anew(desk).await?;
        grid = self::grid(desk, &cell).await;
    }
    let grid = match grid {
        Ok(grid) => newer_if_old(desk, &cell, grid).await?,
        Err(missed) => missed.or_last_good(desk)?,
    };
    let hourly = if grid.value.facts.needs_hourly { hourly(desk, &cell).await } else { None };
    joined(desk, &cell, &grid, hourly.as_ref())
}

/// The zone that the NWS names for the place.
pub(super) async fn time_zone(desk: &mut Desk<'_>) -> Result<Option<chrono_tz::Tz>, WeatherError> {
    desk.request.settings.user_agent(SERVICE)?;
    Ok(known_cell(desk).await?.0.time_zone)
}

/// The cell, and whether the service named it just now.
async fn known_cell(desk: &mut Desk<'_>) -> Result<(GridCell, bool), WeatherError> {
    let document = point_document(desk)?;
    match desk.obtain(&document, parse_point).await {
        Ok(obtained) => Ok((obtained.value, obtained.new)),
        Err(missed) if missed.status() == Some(404) => Err(outside(desk)),
        Err(missed) => Ok((missed.or_last_good(desk)?.value, false)),
    }
}

async fn cell_anew(desk: &mut Desk<'_>) -> Result<GridCell, WeatherError> {
    let document = point_document(desk)?;
    match desk.obtain_anew(&document, parse_point).await {
        Ok(obtained) => Ok(obtained.value),
        Err(missed) if missed.status() == Some(404) => Err(outside(desk)),
        Err(missed) => Err(missed.error),
    }
}

async fn grid(desk: &mut Desk<'_>, cell: &GridCell) -> Result<Obtained<Grid>, Missed<Grid>> {
    let error = |error| Missed { error, last_good: None };
    let document = grid_document(desk, cell, Need::Forecast).map_err(error)?;
    desk.obtain(&document, parse_grid).await
}

/// Caches in front of the service have given out grids of days before, and to those who ask for
/// another kind of body the new one. So one that looks old is asked for once more in that way.
async fn newer_if_old(
    desk: &mut Desk<'_>,
    cell: &GridCell,
    grid: Obtained<Grid>,
) -> Result<Obtained<Grid>, WeatherError> {
    if !grid.new || !grid.value.is_old(grid.fetched_at) {
        return Ok(grid);
    }
    let document = grid_document(desk, cell, Need::SecondOpinion)?;
    let age = |grid: &Grid| (grid.facts.issued_at, grid.facts.last_hour);
    let better =
        desk.obtain_better(&document, parse_grid, |other| age(&grid.value) < age(other)).await;
    Ok(better.unwrap_or(grid))
}

fn parse_grid(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Grid, ParseError> {
    Ok(Grid { body: body.to_vec(), facts: nws::grid_facts(body, fetched_at)? })
}

fn grid_document(desk: &Desk<'_>, cell: &GridCell, need: Need) -> Result<Document, WeatherError> {
    let base = desk.request.settings.base(SERVICE)?;
    Ok(Document {
        service: SERVICE,
        what: cell_words(cell, "grid"),
        url: nws::grid_url(&base, cell),
        freshness: Freshness::AsTold(GRID_FRESH),
        need,
    })
}

/// The hourly periods; without them the forecast lacks a value or two, which is worth a warning.
async fn hourly(desk: &mut Desk<'_>, cell: &GridCell) -> Option<Obtained<Vec<u8>>> {
    let base = desk.request.settings.base(SERVICE).ok()?;
    let document = Document {
        service: SERVICE,
        what: cell_words(cell, "hourly"),
        url: nws::hourly_url(&base, cell),
        freshness: Freshness::AsTold(GRID_FRESH),
        need: Need::Forecast,
    };
    let obtained = desk
        .obtain(&document, |body, fetched_at| {
            nws::parse_hourly(body, fetched_at)?;
            Ok(body.to_vec())
        })
        .await;
    match obtained {
        Ok(obtained) => Some(obtained),
        Err(missed) => match missed.or_last_good(desk) {
            Ok(last_good) => Some(last_good),
            Err(error) => {
                desk.warnings
                    .push(format!("{error}; the forecast goes without its hourly periods"));
                None
            }
        },
    }
}

fn joined(
    desk: &mut Desk<'_>,
    cell: &GridCell,
    grid: &Obtained<Grid>,
    hourly: Option<&Obtained<Vec<u8>>>,
) -> Result<Forecast, WeatherError> {
    // As old as the older of the two.
    let fetched_at =
        hourly.map_or(grid.fetched_at, |hourly| grid.fetched_at.min(hourly.fetched_at));
    let periods = hourly.map(|hourly| hourly.value.as_slice());
    let mut forecast = nws::parse_forecast(&grid.value.body, periods, fetched_at)
        .map_err(|problem| WeatherError::Reply { service: SERVICE, problem })?;
    forecast.provenance.stale = grid.stale || hourly.is_some_and(|hourly| hourly.stale);
    forecast.provenance.time_zone = cell.time_zone;
    warn_if_old(desk, grid);
    Ok(forecast)
}

fn warn_if_old(desk: &mut Desk<'_>, grid: &Obtained<Grid>) {
    if !grid.value.is_old(grid.fetched_at) {
        return;
    }
    let words = |at: DateTime<Utc>| at.format("%Y-%m-%d %H:%M UTC").to_string();
    let issued = grid.value.facts.issued_at.map(|at| {
        let hours = (grid.fetched_at - at).num_hours();
        format!("issued {}, {hours} hours before it was fetched", words(at))
    });
    let last_hour = grid.value.facts.last_hour.map(|at| format!("its last hour is {}", words(at)));
    let facts: Vec<String> = issued.into_iter().chain(last_hour).collect();
    desk.warnings.push(format!("the NWS gave out an old forecast: {}", facts.join("; ")));
}

fn point_document(desk: &Desk<'_>) -> Result<Document, WeatherError> {
    let base = desk.request.settings.base(SERVICE)?;
    Ok(Document {
        service: SERVICE,
        what: what(desk, SERVICE, "point"),
        url: nws::point_url(&base, &desk.request.place),
        freshness: Freshness::Always(POINT_FRESH),
        need: Need::Forecast,
    })
}

fn parse_point(body: &[u8], _: DateTime<Utc>) -> Result<GridCell, ParseError> {
    nws::parse_point(body)
}

fn cell_words(cell: &GridCell, kind: &str) -> String {
    format!("{}_{kind}_{}_{}_{}", SERVICE.name(), cell.office, cell.x, cell.y)
}

fn outside(desk: &Desk<'_>) -> WeatherError {
    let (latitude, longitude) = desk.place_words();
    WeatherError::OutsideCoverage { latitude, longitude }
}
