//! The addresses of the NWS, and roughly where it forecasts.

use url::Url;

use super::GridCell;
use crate::weather::Place;
use crate::weather::place::append_path;

/// Boxes (south, north, west, east, in degrees) around the land that the NWS forecasts for, drawn
/// generously: they only save a question. Whether a place is inside is the service's to say.
const COVERAGE: &[(f64, f64, f64, f64)] = &[
    (24.0, 50.0, -125.5, -66.0),    // the contiguous states
    (50.5, 72.0, -180.0, -129.0),   // Alaska
    (50.5, 56.0, 172.0, 180.0),     // the far Aleutians
    (18.0, 29.0, -179.0, -154.0),   // Hawaii
    (17.0, 19.0, -68.5, -64.0),     // Puerto Rico and the U.S. Virgin Islands
    (12.5, 21.0, 144.0, 147.0),     // Guam and the Northern Marianas
    (-15.5, -10.5, -172.0, -167.5), // American Samoa
];

/// Whether it is worth asking the NWS about `place`.
pub fn in_coverage(place: &Place) -> bool {
    COVERAGE.iter().any(|&(south, north, west, east)| {
        (south..=north).contains(&place.latitude_deg)
            && (west..=east).contains(&place.longitude_deg)
    })
}

/// Which grid cell a place lies in.
pub fn point_url(base: &Url, place: &Place) -> Url {
    append_path(base, &format!("points/{},{}", place.latitude_text(), place.longitude_text()))
}

/// The raw layers of a cell. Built from the cell, never taken from the reply: a server that stands
/// in for the service is asked throughout.
pub fn grid_url(base: &Url, cell: &GridCell) -> Url {
    append_path(base, &format!("gridpoints/{},{}", cell.office_and_x(), cell.y))
}

/// The hourly periods of a cell.
pub fn hourly_url(base: &Url, cell: &GridCell) -> Url {
    append_path(base, &format!("gridpoints/{},{}/forecast/hourly", cell.office_and_x(), cell.y))
}
