//! TMY3: typical meteorological years of the National Solar Radiation Data Base.
//!
//! A line about the station (number, name, state, hours east of UTC, latitude, longitude, meters), a
//! line with the names of the columns, then an hour a line in local standard time, `01:00` to
//! `24:00`, each the end of its hour. -9900 is no value. Source: Tmy3Manual.

use std::collections::HashMap;

use chrono::{DateTime, FixedOffset, Utc};

use super::local_year::{self, Row};
use super::measure::{Channel, Kind};
use super::record::{
    Record, number, place, provenance, rain_over, standard_time, tenths_of_sky, unreadable,
};
use super::{ParseError, json};
use crate::weather::{Forecast, Hour};

/// The credit that its makers ask for.
pub const ATTRIBUTION: &str =
    "National Solar Radiation Data Base, TMY3, NREL for the U.S. Department of Energy";
const EXPECTED: &str = "the TMY3 file";
/// Everything below it is no value: -9900, and -9999 in some columns.
const MISSING_BELOW: f64 = -9000.0;
/// The hours of a rain sum that nobody noted.
const HOURS_UNKNOWN: f64 = 99.0;

/// Whether the second line of a file is that of such a file.
pub(crate) fn is_header(line: &str) -> bool {
    line.trim_start_matches('"').starts_with("Date (MM/DD/YYYY)")
}

/// Reads the whole file.
///
/// # Errors
/// A head that is none of this kind, a line that cannot be read, a number that no weather has.
pub fn parse(body: &[u8], read_at: DateTime<Utc>) -> Result<Record, ParseError> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(json::without_mark(body));
    let mut records = reader.records().map(|record| {
        record.map_err(|error| ParseError::Malformed {
            expected: EXPECTED,
            detail: json::quote(&error.to_string()),
        })
    });
    let missing =
        |expected: &str| ParseError::Missing { expected: expected.to_owned(), place: EXPECTED };
    let station = records.next().ok_or(ParseError::Empty)??;
    let told: Vec<&str> = station.iter().collect();
    let [number, name, state, zone, latitude, longitude, elevation, ..] = told[..] else {
        return Err(unreadable(
            "station",
            &told.join(","),
            1,
            "number, name, state, time zone, latitude, longitude, elevation",
        ));
    };
    let zone = standard_time(zone, 1)?;
    let place = place(latitude, longitude, elevation, 1)?;
    let name = json::quote(&format!("{} {} ({})", name.trim(), state.trim(), number.trim()));
    let header =
        records.next().ok_or_else(|| missing("a line with the names of the columns"))??;
    let columns = Columns::of(&header, zone)?;
    let rows = records
        .map(|record| {
            let record = record?;
            columns.row(&record, record.position().map_or(0, csv::Position::line))
        })
        .collect::<Result<Vec<_>, _>>()?;
    let year = local_year::assemble(&rows, zone, true, read_at)?;
    Ok(Record {
        series: Forecast::from_hours(
            provenance("tmy3", ATTRIBUTION.to_owned(), read_at),
            year.hours,
        )?,
        station: Some(name),
        place: Some(place),
        standard_time: Some(zone),
        joins: year.joins,
        notes: year.notes,
    })
}

/// The columns by their names, and their units.
struct Columns {
    index: HashMap<String, usize>,
    zone: FixedOffset,
    air: Channel,
    dew_point: Channel,
    humidity: Channel,
    pressure: Channel,
    wind: Channel,
    shortwave: Channel,
}

const AIR: &str = "Dry-bulb (C)";
const DEW_POINT: &str = "Dew-point (C)";
const HUMIDITY: &str = "RHum (%)";
const PRESSURE: &str = "Pressure (mbar)";
const WIND: &str = "Wspd (m/s)";
const SHORTWAVE: &str = "GHI (W/m^2)";
const RAIN: &str = "Lprecip depth (mm)";
const RAIN_HOURS: &str = "Lprecip quantity (hr)";

impl Columns {
    fn of(header: &csv::StringRecord, zone: FixedOffset) -> Result<Self, ParseError> {
        let index: HashMap<_, _> =
            header.iter().enumerate().map(|(at, name)| (name.trim().to_owned(), at)).collect();
        for name in ["Date (MM/DD/YYYY)", "Time (HH:MM)", AIR] {
            if !index.contains_key(name) {
                let expected = format!("a column `{name}`");
                return Err(ParseError::Missing { expected, place: "the TMY3 file's second line" });
            }
        }
        Ok(Self {
            index,
            zone,
            air: Channel::new(Kind::Air, AIR, "°C")?,
            dew_point: Channel::new(Kind::DewPoint, DEW_POINT, "°C")?,
            humidity: Channel::new(Kind::Percent, HUMIDITY, "%")?,
            pressure: Channel::new(Kind::SurfacePressure, PRESSURE, "hPa")?,
            wind: Channel::new(Kind::Wind, WIND, "m/s")?,
            shortwave: Channel::new(Kind::Shortwave, SHORTWAVE, "W/m²")?,
        })
    }

    fn text<'a>(&self, record: &'a csv::StringRecord, name: &str) -> &'a str {
        self.index.get(name).and_then(|at| record.get(*at)).unwrap_or_default().trim()
    }

    fn value(
        &self,
        record: &csv::StringRecord,
        name: &str,
        line: u64,
    ) -> Result<Option<f64>, ParseError> {
        match self.text(record, name) {
            "" => Ok(None),
            text => Ok(Some(number(text, name, line)?).filter(|value| *value > MISSING_BELOW)),
        }
    }

    fn row(&self, record: &csv::StringRecord, line: u64) -> Result<Row, ParseError> {
        let (day, clock) =
            (self.text(record, "Date (MM/DD/YYYY)"), self.text(record, "Time (HH:MM)"));
        let part = |text: Option<&str>| text.and_then(|text| text.parse::<u32>().ok());
        let mut parts = day.split('/');
        let (month, date, year) = (part(parts.next()), part(parts.next()), part(parts.next()));
        let year = year.and_then(|year| i32::try_from(year).ok());
        let date =
            local_year::date(year.unwrap_or(0), month.unwrap_or(0), date.unwrap_or(0), day, line)?;
        let hour = part(clock.strip_suffix(":00")).filter(|hour| (1..=24).contains(hour));
        let hour = hour.ok_or_else(|| unreadable("time", clock, line, "01:00 to 24:00"))?;
        let time = local_year::instant(date, hour, self.zone);
        let value = |name| self.value(record, name, line);
        let cloud = match value("OpqCld (tenths)")? {
            None => value("TotCld (tenths)")?,
            opaque => opaque,
        };
        let at_stamp = Hour {
            air: self.air.temperature(value(AIR)?, time)?,
            dew_point: self.dew_point.temperature(value(DEW_POINT)?, time)?,
            humidity_pct: self.humidity.read(value(HUMIDITY)?, time)?,
            surface_pressure_hpa: self.pressure.read(value(PRESSURE)?, time)?,
            wind: self.wind.wind(value(WIND)?, time)?,
            cloud_cover_pct: tenths_of_sky(cloud.filter(|tenths| *tenths < 99.0), time)?,
            ..Hour::unknown(time)
        };
        // The header says millimeters, and the numbers are tenths of one: the smallest that occur,
        // 3, 5, 8 and 13, are the 0.01 to 0.05 in that rain gauges of the time told.
        let depth = value(RAIN)?.map(|tenths| tenths / 10.0);
        // Over hours that nobody noted there can only be said that there was none.
        let over = match value(RAIN_HOURS)? {
            Some(HOURS_UNKNOWN) if depth == Some(0.0) => None,
            over => over,
        };
        let rain = rain_over(depth, over, time)?;
        Ok(Row {
            line,
            date,
            hour,
            at_stamp,
            shortwave_w_m2: self.shortwave.read(value(SHORTWAVE)?, time)?,
            rain,
        })
    }
}
