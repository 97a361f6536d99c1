//! The reply about a point: which grid cell it lies in.

use chrono_tz::Tz;
use serde::Deserialize;

use crate::weather::sources::{ParseError, json};

const EXPECTED: &str = "the NWS's reply about a point";

/// A cell of an office's forecast grid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GridCell {
    /// The office, such as `LZK`.
    pub office: String,
    /// Column.
    pub x: u32,
    /// Row.
    pub y: u32,
    /// The zone of the place.
    pub time_zone: Option<Tz>,
}

impl GridCell {
    pub(super) fn office_and_x(&self) -> String {
        format!("{}/{}", self.office, self.x)
    }
}

#[derive(Deserialize)]
struct Reply {
    properties: Option<Properties>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Properties {
    grid_id: Option<String>,
    grid_x: Option<Whole>,
    grid_y: Option<Whole>,
    time_zone: Option<String>,
}

/// A whole number, with or without quotes: the service has sent both.
#[derive(Deserialize)]
#[serde(untagged, expecting = "expected a whole number")]
enum Whole {
    Number(u32),
    Text(String),
}

impl Whole {
    fn value(&self) -> Option<u32> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Text(text) => text.parse().ok(),
        }
    }
}

/// Reads which grid cell a point lies in.
///
/// # Errors
/// Anything that is not such a reply, and a point without a cell (at sea).
pub fn parse_point(body: &[u8]) -> Result<GridCell, ParseError> {
    let reply: Reply = json::parse(body, EXPECTED)?;
    let cell = reply.properties.and_then(|found| {
        // The office becomes part of an address, so it may only be a plain name.
        let office = found.grid_id.filter(|id| {
            (1..=8).contains(&id.len()) && id.bytes().all(|byte| byte.is_ascii_alphanumeric())
        })?;
        let time_zone = found.time_zone.and_then(|name| name.parse().ok());
        Some(GridCell { office, x: found.grid_x?.value()?, y: found.grid_y?.value()?, time_zone })
    });
    cell.ok_or_else(|| ParseError::Missing {
        expected: "`gridId`, `gridX` and `gridY`".to_owned(),
        place: EXPECTED,
    })
}
