//! What the reader of a past year's file finds: the hours, and whose they are.

use chrono::{DateTime, FixedOffset, Utc};

use super::measure::{Channel, Kind};
use super::{ParseError, json};
use crate::units::{Length, RainDepth};
use crate::weather::years::MonthJoin;
use crate::weather::{Forecast, Place, Provenance};

/// The hours of a file or of an archive's reply, and what it says of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The hours.
    pub series: Forecast,
    /// Name of the station, where it is told.
    pub station: Option<String>,
    /// Where the station stands, or the center of the grid cell, where it is told.
    pub place: Option<Place>,
    /// Local standard time, where the stamps are in it.
    pub standard_time: Option<FixedOffset>,
    /// Where months of several years meet, for a composed year; `None` for a year that was.
    pub joins: Option<Vec<MonthJoin>>,
    /// What was left out or made of it that the user should know, a sentence each.
    pub notes: Vec<String>,
}

/// Whose hours they are; none of these says when it was issued.
pub(crate) fn provenance(source: &str, attribution: String, read_at: DateTime<Utc>) -> Provenance {
    Provenance {
        source: source.to_owned(),
        issued_at: None,
        fetched_at: read_at,
        stale: false,
        attribution,
        time_zone: None,
    }
}

/// A field as a finite number.
pub(crate) fn number(text: &str, field: &str, line: u64) -> Result<f64, ParseError> {
    let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(|| unreadable(field, text, line, "a number"))
}

/// What a field says instead of what was expected.
pub(crate) fn unreadable(
    field: &str,
    found: &str,
    line: u64,
    expected: &'static str,
) -> ParseError {
    let (field, found) = (field.to_owned(), json::quote(found));
    ParseError::Unreadable { field, found, line: Some(line), expected }
}

/// A standard time `hours` east of UTC; whole minutes, from -12 to +14 hours.
pub(crate) fn standard_time(text: &str, line: u64) -> Result<FixedOffset, ParseError> {
    let hours = number(text, "time zone", line)?;
    let minutes = (hours * 60.0).round();
    #[expect(clippy::cast_possible_truncation, reason = "checked to be within a day")]
    let seconds = (-12.0..=14.0).contains(&hours).then(|| minutes as i32 * 60);
    seconds
        .and_then(FixedOffset::east_opt)
        .ok_or_else(|| unreadable("time zone", text, line, "hours east of UTC from -12 to 14"))
}

/// A place out of a file's head.
pub(crate) fn place(
    latitude: &str,
    longitude: &str,
    elevation: &str,
    line: u64,
) -> Result<Place, ParseError> {
    let latitude_deg = number(latitude, "latitude", line)?;
    let longitude_deg = number(longitude, "longitude", line)?;
    let elevation = Some(Length::from_meters(number(elevation, "elevation", line)?));
    Place { latitude_deg, longitude_deg, elevation }.on_earth().ok_or_else(|| {
        let found = format!("{latitude_deg}, {longitude_deg}");
        unreadable("place", &found, line, "-90 to 90 north and -180 to 180 east")
    })
}

/// Cloud cover in percent out of tenths of the sky.
pub(crate) fn tenths_of_sky(
    tenths: Option<f64>,
    at: DateTime<Utc>,
) -> Result<Option<f64>, ParseError> {
    let percent = Channel::new(Kind::Percent, "sky cover in tenths, times ten,", "%")?;
    percent.read(tenths.map(|tenths| tenths * 10.0), at)
}

/// A depth of rain in millimeters with the hours in which it fell.
///
/// Without these hours it counts for one. Of 0 hours nobody measured; a sum over more than a day says
/// nothing of an hour.
pub(crate) fn rain_over(
    depth_mm: Option<f64>,
    over_hours: Option<f64>,
    at: DateTime<Utc>,
) -> Result<Option<(RainDepth, u32)>, ParseError> {
    let over = match over_hours {
        None => 1,
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 24")]
        Some(hours) if (1.0..=24.0).contains(&hours) => hours.round() as u32,
        Some(_) => return Ok(None),
    };
    let kind = if over == 1 { Kind::RainOfAnHour } else { Kind::RainTotal };
    let depth = Channel::new(kind, "liquid precipitation depth", "mm")?.depth(depth_mm, at)?;
    Ok(depth.map(|depth| (depth, over)))
}
