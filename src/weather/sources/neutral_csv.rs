//! A plain CSV of hourly values, for records and for forecasts from anywhere else.
//!
//! Columns are found by name, in any order; others are ignored. `time_utc` and one temperature are
//! needed. Rain, snow, gust, radiation and chances belong to the hour that *ends* at the stamp, as
//! weather stations report them; everything else holds at the stamp. An empty field is no value.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, NaiveDateTime, TimeDelta, Utc};

use super::measure::{Channel, Kind};
use super::{ParseError, json, stamps};
use crate::units::{RainDepth, Temperature, WindSpeed};
use crate::weather::{Forecast, Hour, HourSum, Provenance};

/// What stands in place of a credit: the file's own.
pub const ATTRIBUTION: &str = "hourly values from a CSV file";
const EXPECTED: &str = "the CSV file";

/// How a column's value gets into an hour.
type Set = fn(&mut Hour, f64);

/// A column that is understood.
struct Column {
    name: &'static str,
    kind: Kind,
    unit: &'static str,
    /// Whether the value belongs to the hour that ends at the stamp.
    of_hour_before: bool,
    set: Set,
}

const fn at_stamp(name: &'static str, kind: Kind, unit: &'static str, set: Set) -> Column {
    Column { name, kind, unit, of_hour_before: false, set }
}

const fn of_hour_before(name: &'static str, kind: Kind, unit: &'static str, set: Set) -> Column {
    Column { name, kind, unit, of_hour_before: true, set }
}

const AIR: Set = |hour, value| hour.air = Some(Temperature::from_celsius(value));
const DEW_POINT: Set = |hour, value| hour.dew_point = Some(Temperature::from_celsius(value));
const WIND: Set = |hour, value| hour.wind = Some(WindSpeed::from_meters_per_second(value));
const GUST: Set = |hour, value| hour.gust = Some(WindSpeed::from_meters_per_second(value));
const RAIN: Set = |hour, value| hour.rain = Some(sum(value));
const SNOW: Set = |hour, value| hour.snow = Some(sum(value));

const COLUMNS: &[Column] = &[
    at_stamp("temp_f", Kind::Air, "°F", AIR),
    at_stamp("temp_c", Kind::Air, "°C", AIR),
    at_stamp("dewp_f", Kind::DewPoint, "°F", DEW_POINT),
    at_stamp("dewp_c", Kind::DewPoint, "°C", DEW_POINT),
    at_stamp("rh_pct", Kind::Percent, "%", |hour, value| hour.humidity_pct = Some(value)),
    at_stamp("wind_mph", Kind::Wind, "mph", WIND),
    at_stamp("wind_ms", Kind::Wind, "m/s", WIND),
    at_stamp("wind_kmh", Kind::Wind, "km/h", WIND),
    at_stamp("wind_kn", Kind::Wind, "kn", WIND),
    at_stamp("cloud_pct", Kind::Percent, "%", |hour, value| hour.cloud_cover_pct = Some(value)),
    at_stamp("pressure_hpa", Kind::SeaLevelPressure, "hPa", |hour, value| {
        hour.sea_level_pressure_hpa = Some(value);
    }),
    at_stamp("surface_pressure_hpa", Kind::SurfacePressure, "hPa", |hour, value| {
        hour.surface_pressure_hpa = Some(value);
    }),
    of_hour_before("gust_mph", Kind::Wind, "mph", GUST),
    of_hour_before("gust_ms", Kind::Wind, "m/s", GUST),
    of_hour_before("gust_kmh", Kind::Wind, "km/h", GUST),
    of_hour_before("gust_kn", Kind::Wind, "kn", GUST),
    of_hour_before("precip_in", Kind::RainOfAnHour, "in", RAIN),
    of_hour_before("precip_mm", Kind::RainOfAnHour, "mm", RAIN),
    of_hour_before("snow_in", Kind::Snow, "in", SNOW),
    of_hour_before("snow_cm", Kind::Snow, "cm", SNOW),
    of_hour_before("snow_mm", Kind::Snow, "mm", SNOW),
    of_hour_before("shortwave_w_m2", Kind::Shortwave, "W/m²", |hour, value| {
        hour.shortwave_w_m2 = Some(value);
    }),
    of_hour_before("precip_probability_pct", Kind::Percent, "%", |hour, value| {
        hour.precipitation_probability_pct = Some(value);
    }),
    of_hour_before("thunder_probability_pct", Kind::Percent, "%", |hour, value| {
        hour.thunder_probability_pct = Some(value);
    }),
];

/// Whether a header line belongs to such a file.
pub(crate) fn is_header(line: &str) -> bool {
    line.split(',').any(|name| plain(name) == "time_utc")
}

/// Reads the whole file.
///
/// # Errors
/// A header without the needed columns, a time off the full hour or given twice, a number that
/// cannot be read or that no weather has: each with its line.
pub fn parse_forecast(body: &[u8], fetched_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let (hours, has_air) = read(body, 0)?;
    if !has_air {
        return Err(ParseError::Missing {
            expected: "at least one row with a temperature".to_owned(),
            place: EXPECTED,
        });
    }
    series(hours, fetched_at)
}

/// Reads some lines of a file behind its header: as [`parse_forecast`], but that they may be without
/// any temperature. Lines are named as if `left_out` of them stood between the two.
pub(crate) fn parse_part(
    body: &[u8],
    left_out: u64,
    read_at: DateTime<Utc>,
) -> Result<Forecast, ParseError> {
    series(read(body, left_out)?.0, read_at)
}

/// The hours, and whether there is a temperature in them.
fn read(body: &[u8], left_out: u64) -> Result<(Vec<Hour>, bool), ParseError> {
    let mut reader =
        csv::ReaderBuilder::new().flexible(false).from_reader(json::without_mark(body));
    let layout = Layout::of(reader.headers().map_err(|error| malformed(&error))?)?;
    let mut hours: BTreeMap<DateTime<Utc>, Hour> = BTreeMap::new();
    let mut lines: BTreeMap<DateTime<Utc>, u64> = BTreeMap::new();
    for record in reader.records() {
        let record = record.map_err(|error| malformed(&error))?;
        let line = record.position().map_or(0, csv::Position::line) + left_out;
        let time = layout.time(&record, line)?;
        if lines.insert(time, line).is_some() {
            return Err(unreadable("time_utc", &time.to_rfc3339(), line, "each hour once"));
        }
        layout.values(&record, line, time, &mut hours)?;
    }
    let has_air = hours.values().any(|hour| hour.air.is_some());
    Ok((hours.into_values().collect(), has_air))
}

fn series(hours: Vec<Hour>, fetched_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let provenance = Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at,
        stale: false,
        attribution: ATTRIBUTION.to_owned(),
        time_zone: None,
    };
    Ok(Forecast::from_hours(provenance, hours)?)
}

/// The stamps of such a file, a line at a time.
pub(crate) struct Stamps(Layout);

impl Stamps {
    /// By the file's header.
    pub(crate) fn of(header: &[u8]) -> Result<Self, ParseError> {
        let header = one_record(json::without_mark(header))?;
        Ok(Self(Layout::of(&header)?))
    }

    /// The stamp of a line.
    pub(crate) fn stamp(&self, line: &str, number: u64) -> Result<DateTime<Utc>, ParseError> {
        if !line.contains('"')
            && let Some(text) = line.trim_end().split(',').nth(self.0.time)
        {
            return stamp(text.trim(), number);
        }
        self.0.time(&one_record(line.as_bytes())?, number)
    }
}

fn one_record(line: &[u8]) -> Result<csv::StringRecord, ParseError> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(line);
    let record = reader.records().next().transpose().map_err(|error| malformed(&error))?;
    Ok(record.unwrap_or_default())
}

/// Which columns stand where.
struct Layout {
    time: usize,
    columns: Vec<(usize, &'static Column, Channel)>,
}

impl Layout {
    fn of(header: &csv::StringRecord) -> Result<Self, ParseError> {
        let mut time = None;
        let mut columns: Vec<(usize, &'static Column, Channel)> = Vec::new();
        for (index, name) in header.iter().enumerate() {
            let name = plain(name);
            if name == "time_utc" {
                time = Some(index);
            }
            let Some(column) = COLUMNS.iter().find(|column| column.name == name) else { continue };
            if let Some((_, other, _)) = columns.iter().find(|(_, other, _)| other.same_as(column))
            {
                let (first, second) = (other.name.to_owned(), name);
                return Err(ParseError::TwoColumns { first, second });
            }
            columns.push((index, column, Channel::new(column.kind, column.name, column.unit)?));
        }
        let missing = |expected: &str| ParseError::Missing {
            expected: expected.to_owned(),
            place: "the CSV file's header",
        };
        let time = time.ok_or_else(|| missing("a column `time_utc`"))?;
        if !columns.iter().any(|(_, column, _)| column.kind == Kind::Air) {
            return Err(missing("a column `temp_f` or `temp_c`"));
        }
        Ok(Self { time, columns })
    }

    fn time(&self, record: &csv::StringRecord, line: u64) -> Result<DateTime<Utc>, ParseError> {
        stamp(record.get(self.time).unwrap_or_default().trim(), line)
    }

    fn values(
        &self,
        record: &csv::StringRecord,
        line: u64,
        time: DateTime<Utc>,
        hours: &mut BTreeMap<DateTime<Utc>, Hour>,
    ) -> Result<(), ParseError> {
        hours.entry(time).or_insert_with(|| Hour::unknown(time));
        for (index, column, channel) in &self.columns {
            let text = record.get(*index).unwrap_or_default().trim();
            let Some(number) = number(text, column.name, line)? else { continue };
            let Some(value) = channel.read(Some(number), time)? else { continue };
            let at = if column.of_hour_before { time - TimeDelta::hours(1) } else { time };
            (column.set)(hours.entry(at).or_insert_with(|| Hour::unknown(at)), value);
        }
        Ok(())
    }
}

fn stamp(text: &str, line: u64) -> Result<DateTime<Utc>, ParseError> {
    let without_offset =
        |format| NaiveDateTime::parse_from_str(text.trim_end_matches('Z'), format).ok();
    DateTime::parse_from_rfc3339(text)
        .map(|at| at.to_utc())
        .ok()
        .or_else(|| {
            ["%Y-%m-%dT%H:%M:%S", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M:%S", "%Y-%m-%d %H:%M"]
                .into_iter()
                .find_map(without_offset)
                .map(|at| at.and_utc())
        })
        .filter(|at| stamps::check_full_hour("time_utc", *at).is_ok())
        .filter(|at| stamps::YEARS.contains(&at.year()))
        .ok_or_else(|| {
            unreadable("time_utc", text, line, "a full hour in UTC like 2013-01-01T07:00:00Z")
        })
}

impl Column {
    /// Whether both set the same value, such as gusts in mph and in m/s.
    fn same_as(&self, other: &Self) -> bool {
        let stem = |name: &'static str| name.split('_').next();
        self.kind == other.kind && stem(self.name) == stem(other.name)
    }
}

fn number(text: &str, field: &str, line: u64) -> Result<Option<f64>, ParseError> {
    if text.is_empty() || text.eq_ignore_ascii_case("nan") || text.eq_ignore_ascii_case("na") {
        return Ok(None);
    }
    let number = text.parse::<f64>();
    number
        .map(Some)
        .map_err(|_| unreadable(field, text, line, "a number, or nothing where unknown"))
}

fn sum(millimeters: f64) -> HourSum {
    HourSum::of_one_hour(RainDepth::from_millimeters(millimeters))
}

fn plain(name: &str) -> String {
    name.trim().trim_matches('"').trim_start_matches('\u{feff}').to_ascii_lowercase()
}

fn unreadable(field: &str, found: &str, line: u64, expected: &'static str) -> ParseError {
    let (field, found) = (field.to_owned(), json::quote(found));
    ParseError::Unreadable { field, found, line: Some(line), expected }
}

fn malformed(error: &csv::Error) -> ParseError {
    ParseError::Malformed { expected: EXPECTED, detail: json::quote(&error.to_string()) }
}
