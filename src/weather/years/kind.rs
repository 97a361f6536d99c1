//! Which kind of weather file it is, by how it begins.

use crate::weather::sources::recognize::Shape;
use crate::weather::sources::{epw, isd_lite, json, neutral_csv, recognize, tmy3};

/// The kinds of weather file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// NOAA's ISD-Lite: a line an hour, of as many years as there are.
    IsdLite,
    /// The neutral CSV: a line an hour, of as many years as there are.
    Csv,
    /// One year in local standard time.
    Epw,
    /// One composed year in local standard time.
    Tmy3,
    /// A saved reply of NASA POWER.
    NasaPower,
    /// A saved reply of Open-Meteo.
    OpenMeteo,
}

impl Kind {
    /// The kind of a file that begins with `start`; else what it looks like.
    pub(super) fn of(start: &[u8]) -> Result<Self, String> {
        let start = json::without_mark(start);
        let text = String::from_utf8_lossy(start);
        let mut lines = text.lines();
        let first = lines.next().unwrap_or_default();
        let second = lines.next().unwrap_or_default();
        if text.trim().is_empty() {
            return Err("an empty file".to_owned());
        }
        if first.trim_start().starts_with(['{', '[']) {
            // The whole of it is needed to tell one JSON from the other.
            return Err(String::new());
        }
        if epw::is_head(first) {
            return Ok(Self::Epw);
        }
        if tmy3::is_header(second) {
            return Ok(Self::Tmy3);
        }
        if neutral_csv::is_header(first) {
            return Ok(Self::Csv);
        }
        if isd_lite::is_line(first) {
            return Ok(Self::IsdLite);
        }
        if first.trim().eq_ignore_ascii_case("-BEGIN HEADER-") {
            return Err("a CSV of NASA POWER: save its JSON, with `time-standard=UTC`".to_owned());
        }
        if json::looks_like_html(start) {
            return Err("a web page (HTML)".to_owned());
        }
        Err(format!("a text that begins with \"{}\"", json::quote(first)))
    }

    /// The kind of a whole JSON file.
    pub(super) fn of_json(body: &[u8]) -> Result<Self, String> {
        match recognize::shape(body).map_err(|error| error.to_string())? {
            Shape::NasaPower => Ok(Self::NasaPower),
            Shape::OpenMeteo => Ok(Self::OpenMeteo),
            Shape::NwsGrid | Shape::NwsHourly => Err("a saved forecast of the NWS".to_owned()),
            Shape::MetNorway => Err("a saved forecast of MET Norway".to_owned()),
            Shape::Csv => Ok(Self::Csv),
        }
    }

    /// The name in a year's origin.
    pub(super) const fn source(self) -> &'static str {
        match self {
            Self::IsdLite => "isd-lite",
            Self::Csv => "csv",
            Self::Epw => "epw",
            Self::Tmy3 => "tmy3",
            Self::NasaPower => "nasa-power",
            Self::OpenMeteo => "open-meteo-archive",
        }
    }
}
