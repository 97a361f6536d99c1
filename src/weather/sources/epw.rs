//! EPW: one year of hourly weather for building simulation, of a typical year or of one that was.
//!
//! A head of lines with names, of which the first is `LOCATION` and the last `DATA PERIODS`, then
//! 35 fields an hour. Values in °C, %, Pa, Wh/m² of the hour, m/s, tenths of sky, mm. Each field has
//! a number from which on it is missing. Source: EnergyPlusEpw.

use chrono::{DateTime, FixedOffset, Utc};

use super::local_year::{self, Row};
use super::measure::{Channel, Kind};
use super::record::{
    Record, number, place, provenance, rain_over, standard_time, tenths_of_sky, unreadable,
};
use super::{ParseError, json};
use crate::weather::{Forecast, Hour};

const EXPECTED: &str = "the EPW file";
/// Fields that are read lie in front of this one; older files end earlier.
const LEAST_FIELDS: usize = 24;
/// Words by which files say that they are typical years, whatever years their lines name.
const TYPICAL: [&str; 8] = ["TMY", "IWEC", "CWEC", "SWEC", "CTZ", "METEONORM", "TYPICAL", "MORPH"];

/// Whether a file begins as such a file does.
pub(crate) fn is_head(line: &str) -> bool {
    line.get(..9).is_some_and(|start| start.eq_ignore_ascii_case("LOCATION,"))
}

/// Reads the whole file.
///
/// # Errors
/// A head without place or data period, more than one record an hour, a line that cannot be read, a
/// number that no weather has.
pub fn parse(body: &[u8], read_at: DateTime<Utc>) -> Result<Record, ParseError> {
    let text = String::from_utf8_lossy(json::without_mark(body));
    let mut lines = text.lines().zip(1_u64..);
    let missing =
        |expected: &str| ParseError::Missing { expected: expected.to_owned(), place: EXPECTED };
    let (location, _) = lines.next().ok_or(ParseError::Empty)?;
    if !is_head(location) {
        return Err(missing("a first line `LOCATION`"));
    }
    let head = csv_fields(location);
    let [_, city, _, _, kind, _, latitude, longitude, zone, elevation, ..] = &head[..] else {
        return Err(unreadable("LOCATION", location, 1, "ten fields"));
    };
    let zone = standard_time(zone, 1)?;
    let place = place(latitude, longitude, elevation, 1)?;
    let mut said_typical = says_typical(kind);
    loop {
        let (line, at) = lines.next().ok_or_else(|| missing("a line `DATA PERIODS`"))?;
        let upper = line.to_ascii_uppercase();
        if upper.starts_with("COMMENTS") {
            said_typical |= says_typical(line);
        } else if upper.starts_with("DATA PERIODS") {
            if csv_fields(line).get(2).is_some_and(|count| count.trim() != "1") {
                return Err(unreadable("DATA PERIODS", line, at, "one record an hour"));
            }
            break;
        }
    }
    let reader = Reader::new(zone)?;
    let data = lines.filter(|(line, _)| !line.trim().is_empty());
    let mut rows = data.map(|(line, at)| reader.row(line, at)).collect::<Result<Vec<_>, _>>()?;
    let mut notes = Vec::new();
    if let Some(note) = forget_what_nobody_measured(&mut rows) {
        notes.push(note);
    }
    let year = local_year::assemble(&rows, zone, said_typical, read_at)?;
    notes.extend(year.notes);
    let credit = format!("EPW file of {}, {}", json::quote(city.trim()), json::quote(kind.trim()));
    Ok(Record {
        series: Forecast::from_hours(provenance("epw", credit, read_at), year.hours)?,
        station: Some(json::quote(city.trim())).filter(|name| !name.is_empty()),
        place: Some(place),
        standard_time: Some(zone),
        joins: year.joins,
        notes,
    })
}

fn says_typical(text: &str) -> bool {
    let upper = text.to_ascii_uppercase();
    TYPICAL.iter().any(|word| upper.contains(word))
        // Meteonorm's own mark in the head.
        || upper.trim().strip_prefix("MN").is_some_and(|rest| rest.parse::<u32>().is_ok())
}

/// Many such files carry no rain and write 0 all through: not a drop in a year of lines is not
/// weather but a column that nobody filled.
fn forget_what_nobody_measured(rows: &mut [Row]) -> Option<String> {
    let some = rows.iter().any(|row| row.rain.is_some());
    let all_dry =
        rows.iter().filter_map(|row| row.rain).all(|(depth, _)| depth.millimeters() == 0.0);
    if !(some && all_dry && rows.len() > 24 * 300) {
        return None;
    }
    rows.iter_mut().for_each(|row| row.rain = None);
    Some("its rain is 0 in every hour of the year: taken as not recorded".to_owned())
}

/// The fields of a line; quotes are only found around comments.
fn csv_fields(line: &str) -> Vec<&str> {
    line.split(',').collect()
}

/// The format allows up to 110 %, for what instruments show in fog.
fn at_most_full(humidity_pct: Option<f64>) -> Option<f64> {
    humidity_pct.map(|humidity| if humidity <= 110.0 { humidity.min(100.0) } else { humidity })
}

/// What stands where, in which unit.
struct Reader {
    zone: FixedOffset,
    air: Channel,
    dew_point: Channel,
    humidity: Channel,
    pressure: Channel,
    wind: Channel,
    shortwave: Channel,
}

impl Reader {
    fn new(zone: FixedOffset) -> Result<Self, ParseError> {
        Ok(Self {
            zone,
            air: Channel::new(Kind::Air, "dry bulb temperature", "°C")?,
            dew_point: Channel::new(Kind::DewPoint, "dew point temperature", "°C")?,
            humidity: Channel::new(Kind::Percent, "relative humidity", "%")?,
            pressure: Channel::new(Kind::SurfacePressure, "atmospheric pressure", "Pa")?,
            wind: Channel::new(Kind::Wind, "wind speed", "m/s")?,
            shortwave: Channel::new(Kind::Shortwave, "global horizontal radiation", "W/m²")?,
        })
    }

    fn row(&self, line: &str, at: u64) -> Result<Row, ParseError> {
        let fields = csv_fields(line);
        if fields.len() < LEAST_FIELDS {
            return Err(unreadable("line", line, at, "the 35 fields of an hour"));
        }
        let whole = |index: usize, name: &str| -> Result<u32, ParseError> {
            let text = fields.get(index).copied().unwrap_or_default();
            text.trim().parse().map_err(|_| unreadable(name, text, at, "a whole number"))
        };
        let year = i32::try_from(whole(0, "year")?).unwrap_or(0);
        let (month, day, hour) = (whole(1, "month")?, whole(2, "day")?, whole(3, "hour")?);
        let found = format!("{year}-{month}-{day}");
        let date = local_year::date(year, month, day, &found, at)?;
        if !(1..=24).contains(&hour) {
            return Err(unreadable("hour", &hour.to_string(), at, "an hour from 1 to 24"));
        }
        // What is as large as the number that stands for missing is missing.
        let value = |index: usize, name: &str, missing: f64| -> Result<Option<f64>, ParseError> {
            match fields.get(index).copied().map_or("", str::trim) {
                "" => Ok(None),
                text => Ok(Some(number(text, name, at)?).filter(|value| *value < missing)),
            }
        };
        let time = local_year::instant(date, hour, self.zone);
        let cloud = match value(23, "opaque sky cover", 99.0)? {
            None => value(22, "total sky cover", 99.0)?,
            opaque => opaque,
        };
        let at_stamp = Hour {
            air: self.air.temperature(value(6, "dry bulb temperature", 99.9)?, time)?,
            dew_point: self
                .dew_point
                .temperature(value(7, "dew point temperature", 99.9)?, time)?,
            humidity_pct: self
                .humidity
                .read(at_most_full(value(8, "relative humidity", 999.0)?), time)?,
            surface_pressure_hpa: self.pressure.read(value(9, "pressure", 999_999.0)?, time)?,
            wind: self.wind.wind(value(21, "wind speed", 999.0)?, time)?,
            cloud_cover_pct: tenths_of_sky(cloud, time)?,
            ..Hour::unknown(time)
        };
        let shortwave_w_m2 = self.shortwave.read(value(13, "global radiation", 9999.0)?, time)?;
        let depth = value(33, "liquid precipitation depth", 999.0)?;
        let over = value(34, "liquid precipitation quantity", 99.0)?;
        let rain = rain_over(depth, over, time)?;
        Ok(Row { line: at, date, hour, at_stamp, shortwave_w_m2, rain })
    }
}
