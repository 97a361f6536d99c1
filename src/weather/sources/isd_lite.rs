//! ISD-Lite of the U.S. National Centers for Environmental Information: hourly surface reports of
//! one station and year.
//!
//! Twelve whole numbers a line: year, month, day and hour in UTC; air and dew point in tenths of a
//! °C; pressure at sea level in tenths of a hPa; direction of the wind; its speed in tenths of a
//! m/s; sky code; precipitation of the hour and of the six hours that end at the stamp, in tenths of
//! a millimeter. -9999 is no value; of precipitation, -1 is a trace.
//! Source: IsdLite.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::measure::{Channel, Kind};
use super::record::{provenance, unreadable};
use super::{ParseError, stamps};
use crate::units::RainDepth;
use crate::weather::{Forecast, Hour, HourSum};

/// The credit.
pub const ATTRIBUTION: &str = "NOAA Integrated Surface Database (ISD-Lite), U.S. government work";
/// Numbers in a line.
const COLUMNS: usize = 12;
const MISSING: i32 = -9999;
const TRACE: i32 = -1;
/// What the longer sum covers, in hours.
const LONG_SUM: u32 = 6;

/// Whether a file begins as such a file does.
pub(crate) fn is_line(line: &str) -> bool {
    fields(line, 1).is_ok_and(|fields| stamp(&fields, 1).is_ok())
}

/// The stamp of a line.
///
/// # Errors
/// A line that is none of this kind.
pub(crate) fn stamp_of(line: &str, number: u64) -> Result<DateTime<Utc>, ParseError> {
    stamp(&fields(line, number)?, number)
}

/// Reads the lines of a file, or a part of them of which the first is line `first_line`.
///
/// # Errors
/// A line that is none of this kind, an hour given twice, a number that no weather has.
pub fn parse(body: &[u8], first_line: u64, read_at: DateTime<Utc>) -> Result<Forecast, ParseError> {
    let text = String::from_utf8_lossy(body);
    let channels = Channels::new()?;
    let mut hours: BTreeMap<DateTime<Utc>, Hour> = BTreeMap::new();
    let mut seen: BTreeMap<DateTime<Utc>, ()> = BTreeMap::new();
    let mut long_sums = Vec::new();
    for (line, number) in text.lines().zip(first_line..).filter(|(line, _)| !line.trim().is_empty())
    {
        let fields = fields(line, number)?;
        let time = stamp(&fields, number)?;
        if seen.insert(time, ()).is_some() {
            return Err(unreadable("hour", &time.to_rfc3339(), number, "each hour once"));
        }
        channels.read(&fields, time, &mut hours)?;
        if let Some(total) = channels.rain(fields[11], Kind::RainTotal, time)? {
            long_sums.push((time, total));
        }
    }
    for (end, total) in long_sums {
        spread(&mut hours, end, total);
    }
    let provenance = provenance("isd-lite", ATTRIBUTION.to_owned(), read_at);
    Ok(Forecast::from_hours(provenance, hours.into_values().collect())?)
}

/// The total of six hours, where not one of them has a sum of its own.
fn spread(hours: &mut BTreeMap<DateTime<Utc>, Hour>, end: DateTime<Utc>, total: RainDepth) {
    let before = |n: u32| end - TimeDelta::hours(i64::from(n));
    let known = |n| hours.get(&before(n)).is_some_and(|hour| hour.rain.is_some());
    if (1..=LONG_SUM).any(known) {
        return;
    }
    for at in (1..=LONG_SUM).map(before) {
        let hour = hours.entry(at).or_insert_with(|| Hour::unknown(at));
        hour.rain = Some(HourSum::share_of(total, LONG_SUM));
    }
}

fn fields(line: &str, number: u64) -> Result<[i32; COLUMNS], ParseError> {
    let mut fields = [0; COLUMNS];
    let mut count = 0;
    for text in line.split_ascii_whitespace() {
        let whole = text.parse().map_err(|_| unreadable("line", line, number, EXPECTED))?;
        if let Some(field) = fields.get_mut(count) {
            *field = whole;
        }
        count += 1;
    }
    if count == COLUMNS { Ok(fields) } else { Err(unreadable("line", line, number, EXPECTED)) }
}

const EXPECTED: &str = "the twelve whole numbers of ISD-Lite";

fn stamp(fields: &[i32; COLUMNS], number: u64) -> Result<DateTime<Utc>, ParseError> {
    let [year, month, day, hour, ..] = *fields;
    let part = |whole: i32| u32::try_from(whole).ok();
    let date = part(month)
        .zip(part(day))
        .filter(|_| stamps::YEARS.contains(&year))
        .and_then(|(month, day)| NaiveDate::from_ymd_opt(year, month, day));
    let time = date.zip(part(hour)).and_then(|(date, hour)| date.and_hms_opt(hour, 0, 0));
    time.map(|time| time.and_utc()).ok_or_else(|| {
        let found = format!("{year} {month} {day} {hour}");
        unreadable("time", &found, number, "year, month, day and an hour from 0 to 23")
    })
}

/// The columns with a unit.
struct Channels {
    air: Channel,
    dew_point: Channel,
    pressure: Channel,
    wind: Channel,
}

impl Channels {
    fn new() -> Result<Self, ParseError> {
        Ok(Self {
            air: Channel::new(Kind::Air, "air temperature", "°C")?,
            dew_point: Channel::new(Kind::DewPoint, "dew point", "°C")?,
            pressure: Channel::new(Kind::SeaLevelPressure, "sea level pressure", "hPa")?,
            wind: Channel::new(Kind::Wind, "wind speed", "m/s")?,
        })
    }

    fn read(
        &self,
        fields: &[i32; COLUMNS],
        time: DateTime<Utc>,
        hours: &mut BTreeMap<DateTime<Utc>, Hour>,
    ) -> Result<(), ParseError> {
        let tenths = |column: usize| {
            fields
                .get(column)
                .filter(|whole| **whole != MISSING)
                .map(|&whole| f64::from(whole) / 10.0)
        };
        let hour = hours.entry(time).or_insert_with(|| Hour::unknown(time));
        hour.air = self.air.temperature(tenths(4), time)?;
        hour.dew_point = self.dew_point.temperature(tenths(5), time)?;
        hour.sea_level_pressure_hpa = self.pressure.read(tenths(6), time)?;
        hour.wind = self.wind.wind(tenths(8), time)?;
        hour.cloud_cover_pct = cloud_cover_pct(fields[9]);
        if let Some(rain) = self.rain(fields[10], Kind::RainOfAnHour, time)? {
            let before = time - TimeDelta::hours(1);
            let hour = hours.entry(before).or_insert_with(|| Hour::unknown(before));
            hour.rain = Some(HourSum::of_one_hour(rain));
        }
        Ok(())
    }

    /// A trace is less than can be measured, and counts as none.
    #[expect(clippy::unused_self, reason = "reads as the other columns do")]
    fn rain(
        &self,
        tenths: i32,
        kind: Kind,
        time: DateTime<Utc>,
    ) -> Result<Option<RainDepth>, ParseError> {
        let millimeters = match tenths {
            MISSING => None,
            TRACE => Some(0.0),
            tenths => Some(f64::from(tenths) / 10.0),
        };
        Channel::new(kind, "precipitation", "mm")?.depth(millimeters, time)
    }
}

/// Cloud cover by the sky code; `None` where the code says nothing of the amount.
///
/// 0 to 8 are oktas. The words of older reports stand for the middle of their range: scattered for 3
/// or 4 oktas, broken for 5 to 7, overcast for 8; thin and dark cloud count alike. A sky that cannot
/// be seen (9), or in part (10), is unknown. Source: IsdLite.
fn cloud_cover_pct(code: i32) -> Option<f64> {
    let oktas = match code {
        0..=8 => f64::from(code),
        11..=13 => 3.5,
        14..=16 => 6.0,
        17..=19 => 8.0,
        _ => return None,
    };
    Some(oktas * 12.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(lines: &str) -> Result<Forecast, ParseError> {
        parse(lines.as_bytes(), 1, DateTime::UNIX_EPOCH)
    }

    fn rain_mm(record: &Forecast, hour: usize) -> Option<f64> {
        record.hours()[hour].rain.map(|rain| rain.share.millimeters())
    }

    // Lines in the layout that the format's own description prints; the numbers are worked by hand.
    #[test]
    fn tenths_become_wholes_and_what_is_missing_stays_missing() {
        let record = read(
            "2015 01 01 00   -83  -172 10243   240    62     2 -9999 -9999\n\
             2015 01 01 01 -9999 -9999 -9999 -9999 -9999 -9999    25 -9999\n",
        )
        .unwrap();
        let [first, second] = record.hours() else { panic!("{record:?}") };
        assert!((first.air.unwrap().celsius() + 8.3).abs() < 1e-9);
        assert!((first.dew_point.unwrap().celsius() + 17.2).abs() < 1e-9);
        assert_eq!(first.sea_level_pressure_hpa, Some(1024.3));
        assert_eq!(first.surface_pressure_hpa, None);
        assert!((first.wind.unwrap().meters_per_second() - 6.2).abs() < 1e-9);
        assert_eq!(first.cloud_cover_pct, Some(25.0));
        // The sum stamped 01 fell in the hour before it.
        assert_eq!(rain_mm(&record, 0), Some(2.5));
        assert_eq!(*second, Hour::unknown(second.time));
    }

    #[test]
    fn a_trace_is_none_and_six_hours_fill_only_what_nobody_measured() {
        let line = |hour: u32, one: i32, six: i32| {
            format!("2015 01 01 {hour:02} 0 0 10000 0 0 0 {one} {six}\n")
        };
        let whole: String =
            (0..=6).map(|hour| line(hour, -9999, if hour == 6 { 120 } else { -9999 })).collect();
        let record = read(&whole).unwrap();
        assert_eq!((0..6).map(|hour| rain_mm(&record, hour)).collect::<Vec<_>>(), [Some(2.0); 6]);
        assert_eq!(record.hours()[0].rain.unwrap().over_hours, 6);
        let partly: String = (0..=6)
            .map(|hour| {
                line(hour, if hour == 3 { -1 } else { -9999 }, if hour == 6 { 120 } else { -9999 })
            })
            .collect();
        let record = read(&partly).unwrap();
        assert_eq!(rain_mm(&record, 2), Some(0.0));
        assert_eq!(rain_mm(&record, 4), None);
    }

    #[test]
    fn a_code_without_an_amount_is_unknown_and_not_clear() {
        let of = |code| cloud_cover_pct(code);
        assert_eq!([of(0), of(4), of(8)], [Some(0.0), Some(50.0), Some(100.0)]);
        assert_eq!([of(12), of(15), of(18)], [Some(43.75), Some(75.0), Some(100.0)]);
        assert_eq!([of(-9999), of(9), of(10), of(20)], [None; 4]);
    }

    #[test]
    fn what_is_no_such_line_is_named_with_its_number() {
        for (lines, expected) in [
            ("2015 01 01 00 1 2\n", "in line 1; expected the twelve whole numbers"),
            ("2015 02 30 00 1 2 3 4 5 6 7 8\n", "year, month, day and an hour"),
            ("2015 01 01 24 1 2 3 4 5 6 7 8\n", "an hour from 0 to 23"),
            (
                "2015 01 01 00 0 0 10000 0 0 0 0 0\n2015 01 01 00 0 0 10000 0 0 0 0 0\n",
                "in line 2; expected each hour once",
            ),
            ("2015 01 01 00 9999 0 10000 0 0 0 0 0\n", "expected -90 to 60"),
        ] {
            let error = read(lines).unwrap_err().to_string();
            assert!(error.contains(expected), "{lines} said {error}");
        }
    }
}
