//! Files of one year in local standard time: where their hours lie, and what a composed year is.
//!
//! The hours of EPW and TMY3 run from 1 to 24 and each ends at its stamp; hour 24 ends the day. What
//! holds at an instant is that of the stamp, what falls or shines is that of the hour before it.
//! There is no daylight saving in them.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, NaiveDateTime, TimeDelta, Utc};

use super::record::unreadable;
use super::{ParseError, stamps};
use crate::units::{RainDepth, Temperature, WindSpeed};
use crate::weather::years::{MonthJoin, NOMINAL_YEAR};
use crate::weather::{Hour, HourSum, floor_hour};

/// One line of such a file.
pub(crate) struct Row {
    pub(crate) line: u64,
    pub(crate) date: NaiveDate,
    /// 1 to 24.
    pub(crate) hour: u32,
    /// What holds at the stamp; the time in it says nothing yet.
    pub(crate) at_stamp: Hour,
    pub(crate) shortwave_w_m2: Option<f64>,
    /// Precipitation, and the hours before the stamp in which it fell, at least one.
    pub(crate) rain: Option<(RainDepth, u32)>,
}

/// The hours of a year.
pub(crate) struct LocalYear {
    pub(crate) hours: Vec<Hour>,
    /// Where months meet, for a composed year.
    pub(crate) joins: Option<Vec<MonthJoin>>,
    pub(crate) notes: Vec<String>,
}

/// Date and hour of a line.
pub(crate) fn date(
    year: i32,
    month: u32,
    day: u32,
    found: &str,
    line: u64,
) -> Result<NaiveDate, ParseError> {
    let date = NaiveDate::from_ymd_opt(year, month, day);
    date.filter(|date| stamps::YEARS.contains(&date.year()))
        .ok_or_else(|| unreadable("date", found, line, "a day of the calendar"))
}

/// Whether the years of the months show that they were put together: in a year that was, a year
/// follows only on the December of the one before, and none lies ahead.
fn looks_composed(rows: &[Row], read_at: DateTime<Utc>) -> bool {
    let next = |before: NaiveDate, after: NaiveDate| {
        before.year() == after.year()
            || (before.year() + 1 == after.year() && before.month() == 12 && after.month() == 1)
    };
    let ahead = |row: &Row| row.date.year() > read_at.year();
    rows.windows(2).any(|pair| matches!(pair, [a, b] if !next(a.date, b.date)))
        || rows.iter().any(ahead)
}

/// Puts the rows of a file where they belong in UTC.
///
/// `said_typical` when the file says of itself that it is a typical year, whatever its stamps are.
///
/// # Errors
/// Rows that do not ascend, or of which one comes twice.
pub(crate) fn assemble(
    rows: &[Row],
    zone: FixedOffset,
    said_typical: bool,
    read_at: DateTime<Utc>,
) -> Result<LocalYear, ParseError> {
    let composed = said_typical || looks_composed(rows, read_at);
    let mut local: BTreeMap<NaiveDateTime, Hour> = BTreeMap::new();
    let (mut last, mut leap_rows, mut joins) = (None, 0_u32, Vec::new());
    let year_end = NaiveDate::from_ymd_opt(NOMINAL_YEAR + 1, 1, 1).map(NaiveDateTime::from);
    let mut before: Option<NaiveDate> = None;
    for row in rows {
        let date = match composed {
            false => row.date,
            true => match row.date.with_year(NOMINAL_YEAR) {
                Some(date) => date,
                None => {
                    leap_rows += 1;
                    continue;
                }
            },
        };
        let stamp = NaiveDateTime::from(date) + TimeDelta::hours(i64::from(row.hour));
        if last.is_some_and(|last| last >= stamp) {
            let found = format!("{} hour {}", row.date, row.hour);
            return Err(unreadable("time", &found, row.line, "each hour once, in their order"));
        }
        last = Some(stamp);
        if composed
            && let Some(before) = before
            && (before.year(), before.month()) != (row.date.year(), row.date.month())
            && before.year() != row.date.year()
            && let Some(first) = date.with_day(1)
        {
            let at = floor_hour(to_utc(first.into(), zone));
            joins.push(MonthJoin { at, from: before.year(), to: row.date.year() });
        }
        before = Some(row.date);
        // The last midnight of a composed year is the first of none.
        if !(composed && Some(stamp) == year_end) {
            instants(entry(&mut local, stamp), &row.at_stamp);
        }
        sums(row, stamp, &mut local);
    }
    let mut notes = Vec::new();
    if leap_rows > 0 {
        notes.push("February 29 is left out: a typical year has none".to_owned());
    }
    let into_hour = zone.local_minus_utc().rem_euclid(3600);
    let mut hours: Vec<Hour> =
        local.into_iter().map(|(stamp, hour)| Hour { time: to_utc(stamp, zone), ..hour }).collect();
    if into_hour != 0 {
        hours = on_full_hours(&hours);
        notes.push(format!(
            "its hours begin {} minutes past those of UTC and are put on them: straight between two \
             values, sums by their share of the hour",
            (3600 - into_hour) / 60
        ));
    }
    Ok(LocalYear { hours, joins: composed.then_some(joins), notes })
}

/// The instant at which `hour` of a local day ends.
pub(crate) fn instant(date: NaiveDate, hour: u32, zone: FixedOffset) -> DateTime<Utc> {
    to_utc(NaiveDateTime::from(date) + TimeDelta::hours(i64::from(hour)), zone)
}

fn to_utc(local: NaiveDateTime, zone: FixedOffset) -> DateTime<Utc> {
    (local - TimeDelta::seconds(i64::from(zone.local_minus_utc()))).and_utc()
}

fn instants(hour: &mut Hour, of: &Hour) {
    hour.air = of.air;
    hour.dew_point = of.dew_point;
    hour.humidity_pct = of.humidity_pct;
    hour.wind = of.wind;
    hour.cloud_cover_pct = of.cloud_cover_pct;
    hour.surface_pressure_hpa = of.surface_pressure_hpa;
}

fn sums(row: &Row, stamp: NaiveDateTime, local: &mut BTreeMap<NaiveDateTime, Hour>) {
    let start = |before: u32| stamp - TimeDelta::hours(i64::from(before));
    if row.shortwave_w_m2.is_some() {
        entry(local, start(1)).shortwave_w_m2 = row.shortwave_w_m2;
    }
    let Some((total, over)) = row.rain else { return };
    // A sum over several hours says less than those of single ones.
    let known = |before| local.get(&start(before)).is_some_and(|hour| hour.rain.is_some());
    if over > 1 && (1..=over).any(known) {
        return;
    }
    for before in 1..=over {
        entry(local, start(before)).rain = Some(HourSum::share_of(total, over));
    }
}

fn entry(local: &mut BTreeMap<NaiveDateTime, Hour>, start: NaiveDateTime) -> &mut Hour {
    local.entry(start).or_insert_with(|| Hour::unknown(DateTime::UNIX_EPOCH))
}

/// Hours that begin at the same minute past the hour, put on full hours of UTC.
fn on_full_hours(hours: &[Hour]) -> Vec<Hour> {
    let mut found = Vec::with_capacity(hours.len());
    for pair in hours.windows(2) {
        let &[before, after] = pair else { continue };
        if after.time - before.time != TimeDelta::hours(1) {
            continue;
        }
        // The full hour between the two, and how far along the way it lies.
        let time = floor_hour(after.time);
        #[expect(clippy::cast_precision_loss, reason = "at most 3600 seconds")]
        let share = (time - before.time).num_seconds() as f64 / 3600.0;
        let line = |a: Option<f64>, b: Option<f64>| Some((b? - a?).mul_add(share, a?));
        let celsius = |value: Option<Temperature>| value.map(Temperature::celsius);
        let speed = |value: Option<WindSpeed>| value.map(WindSpeed::meters_per_second);
        let depth = |sum: Option<HourSum>| sum.map(|sum| sum.share.millimeters());
        found.push(Hour {
            air: line(celsius(before.air), celsius(after.air)).map(Temperature::from_celsius),
            dew_point: line(celsius(before.dew_point), celsius(after.dew_point))
                .map(Temperature::from_celsius),
            humidity_pct: line(before.humidity_pct, after.humidity_pct),
            wind: line(speed(before.wind), speed(after.wind))
                .map(WindSpeed::from_meters_per_second),
            cloud_cover_pct: line(before.cloud_cover_pct, after.cloud_cover_pct),
            surface_pressure_hpa: line(before.surface_pressure_hpa, after.surface_pressure_hpa),
            // The hour from `time` on has the rest of `before` and the beginning of `after`.
            shortwave_w_m2: line(before.shortwave_w_m2, after.shortwave_w_m2),
            rain: line(depth(before.rain), depth(after.rain))
                .map(|share| HourSum::of_one_hour(RainDepth::from_millimeters(share))),
            ..Hour::unknown(time)
        });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(year: i32, month: u32, day: u32, hour: u32, air: f64, rain: Option<(f64, u32)>) -> Row {
        let at_stamp = Hour {
            air: Some(Temperature::from_celsius(air)),
            ..Hour::unknown(DateTime::UNIX_EPOCH)
        };
        let date = NaiveDate::from_ymd_opt(year, month, day).unwrap();
        let rain = rain.map(|(depth, over)| (RainDepth::from_millimeters(depth), over));
        Row { line: 1, date, hour, at_stamp, shortwave_w_m2: Some(100.0 * air), rain }
    }

    fn of(rows: &[Row], east_minutes: i32) -> LocalYear {
        let zone = FixedOffset::east_opt(east_minutes * 60).unwrap();
        assemble(rows, zone, false, "2026-01-01T00:00:00Z".parse().unwrap()).unwrap()
    }

    fn at(time: &str) -> DateTime<Utc> {
        time.parse().unwrap()
    }

    #[test]
    fn hour_24_is_the_next_midnight_and_sums_are_those_of_the_hour_before() {
        let year = of(&[row(2015, 6, 1, 24, 2.0, Some((3.0, 1)))], -5 * 60);
        let [before, midnight] = &year.hours[..] else { panic!("{:?}", year.hours) };
        // 24:00 of June 1 at UTC-5 is 05:00 UTC of June 2.
        assert_eq!(
            (before.time, midnight.time),
            (at("2015-06-02T04:00:00Z"), at("2015-06-02T05:00:00Z"))
        );
        assert_eq!((before.air, before.shortwave_w_m2), (None, Some(200.0)));
        assert_eq!(before.rain.unwrap().share.millimeters(), 3.0);
        assert_eq!(midnight.air.unwrap().celsius(), 2.0);
        assert!(year.joins.is_none());
    }

    #[test]
    fn months_of_several_years_are_a_composed_year_with_its_joins() {
        let rows = [
            row(1988, 1, 31, 24, 1.0, None),
            row(1990, 2, 1, 1, 9.0, None),
            row(1990, 2, 28, 24, 9.0, None),
            row(1988, 3, 1, 1, 9.0, None),
            row(1988, 12, 31, 24, 5.0, None),
        ];
        let year = of(&rows, -5 * 60);
        let join = |at: &str, from, to| MonthJoin { at: at.parse().unwrap(), from, to };
        assert_eq!(
            year.joins,
            Some(vec![
                join("2023-02-01T05:00:00Z", 1988, 1990),
                join("2023-03-01T05:00:00Z", 1990, 1988)
            ])
        );
        // Its last midnight would be the next year's: only the sun of the hour before is there.
        let last = year.hours.last().unwrap();
        assert_eq!((last.time, last.air), (at("2024-01-01T04:00:00Z"), None));
    }

    #[test]
    fn a_year_that_was_goes_on_into_the_next_and_a_year_ahead_is_composed() {
        assert!(
            of(&[row(2014, 12, 31, 24, 1.0, None), row(2015, 1, 1, 1, 1.0, None)], 0)
                .joins
                .is_none()
        );
        assert!(of(&[row(2100, 1, 1, 1, 1.0, None)], 0).joins.is_some());
    }

    #[test]
    fn quarter_hours_are_put_on_full_ones_without_loss() {
        // At +05:45 the stamps are at 15 minutes past: 01:00 is 19:15 UTC of the day before.
        let rows = [
            row(2015, 6, 1, 1, 8.0, Some((4.0, 1))),
            row(2015, 6, 1, 2, 12.0, Some((0.0, 1))),
            row(2015, 6, 1, 3, 12.0, Some((0.0, 1))),
        ];
        let year = of(&rows, 5 * 60 + 45);
        let found: Vec<_> =
            year.hours.iter().map(|hour| (hour.time, hour.air.map(Temperature::celsius))).collect();
        // 20:00 UTC lies three quarters of the way from 19:15 to 20:15.
        assert!(found.contains(&(at("2015-05-31T20:00:00Z"), Some(11.0))), "{found:?}");
        // 4 mm from 18:15 to 19:15: a quarter of them from 19:00 on.
        let hour = year.hours.iter().find(|hour| hour.time == at("2015-05-31T19:00:00Z")).unwrap();
        assert_eq!(hour.rain.unwrap().share.millimeters(), 1.0);
        assert!(year.notes[0].contains("15 minutes past"), "{:?}", year.notes);
    }

    #[test]
    fn an_hour_that_comes_twice_is_refused() {
        let rows = [row(2015, 6, 1, 1, 8.0, None), row(2015, 6, 1, 1, 8.0, None)];
        let error = assemble(&rows, FixedOffset::east_opt(0).unwrap(), false, DateTime::UNIX_EPOCH);
        assert!(error.is_err_and(|error| error.to_string().contains("each hour once")));
    }
}
