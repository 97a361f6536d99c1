//! The NWS: a point leads to a cell, the cell to its layers and, where one is empty, its periods.

use chrono::{DateTime, TimeDelta, Utc};

use super::desk::{Desk, Document, Freshness, Missed, Obtained};
use super::single::what;
use crate::weather::settings::Service;
use crate::weather::sources::ParseError;
use crate::weather::sources::nws::{self, GridCell};
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
    needs_hourly: bool,
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
        Ok(grid) => grid,
        Err(missed) => missed.or_last_good(desk)?,
    };
    let hourly = if grid.value.needs_hourly { hourly(desk, &cell).await } else { None };
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
    let base = desk.request.settings.base(SERVICE).map_err(error)?;
    let document = Document {
        service: SERVICE,
        what: cell_words(cell, "grid"),
        url: nws::grid_url(&base, cell),
        freshness: Freshness::AsTold(GRID_FRESH),
    };
    desk.obtain(&document, |body, fetched_at| {
        let needs_hourly = nws::needs_hourly(body, fetched_at)?;
        Ok(Grid { body: body.to_vec(), needs_hourly })
    })
    .await
}

/// The hourly periods; without them the forecast lacks a value or two, which is worth a warning.
async fn hourly(desk: &mut Desk<'_>, cell: &GridCell) -> Option<Obtained<Vec<u8>>> {
    let base = desk.request.settings.base(SERVICE).ok()?;
    let document = Document {
        service: SERVICE,
        what: cell_words(cell, "hourly"),
        url: nws::hourly_url(&base, cell),
        freshness: Freshness::AsTold(GRID_FRESH),
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
    if let Some(issued_at) = forecast.provenance.issued_at
        && OLD < grid.fetched_at - issued_at
    {
        desk.warnings.push(format!(
            "the NWS gave out a forecast that it issued {}, {} hours before it was fetched",
            issued_at.format("%Y-%m-%d %H:%M UTC"),
            (grid.fetched_at - issued_at).num_hours()
        ));
    }
    Ok(forecast)
}

fn point_document(desk: &Desk<'_>) -> Result<Document, WeatherError> {
    let base = desk.request.settings.base(SERVICE)?;
    Ok(Document {
        service: SERVICE,
        what: what(desk, SERVICE, "point"),
        url: nws::point_url(&base, &desk.request.place),
        freshness: Freshness::Always(POINT_FRESH),
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
