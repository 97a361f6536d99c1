//! Files of past years against independent readers: pvlib for EPW and TMY3, pandas for ISD-Lite.

use std::io::Read as _;

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use fairseam::weather::sources::record::Record;
use fairseam::weather::sources::{ParseError, epw, isd_lite, nasa_power, tmy3};
use fairseam::weather::{Forecast, Hour};
use serde_json::Value;

use crate::proof::{Allowed, Proof};
use crate::support::in_tests;

fn bytes(name: &str) -> Vec<u8> {
    std::fs::read(in_tests("fixtures/years").join(name)).unwrap()
}

fn reference(name: &str) -> Value {
    let text = std::fs::read_to_string(in_tests("fixtures/reference/years.json")).unwrap();
    serde_json::from_str::<Value>(&text).unwrap()[name].clone()
}

fn read_at() -> DateTime<Utc> {
    "2026-01-01T00:00:00Z".parse().unwrap()
}

/// O'Hare, 2015, by the hour.
pub(crate) fn ohare() -> Forecast {
    let mut text = Vec::new();
    let packed = bytes("725300-2015.gz");
    flate2::read::GzDecoder::new(&packed[..]).read_to_end(&mut text).unwrap();
    isd_lite::parse(&text, 1, read_at()).unwrap()
}

fn same(proof: &mut Proof, ours: Option<f64>, theirs: &Value, what: &str, at: DateTime<Utc>) {
    match (ours, theirs.as_f64()) {
        (Some(ours), Some(theirs)) => proof.near(ours, theirs, || format!("{what} at {at}")),
        (None, None) => {}
        (ours, theirs) => panic!("{what} at {at}: {ours:?} and {theirs:?}"),
    }
}

/// Every value at every stamp; `rain` gives the reference's millimeters and hours of a row.
fn agrees(
    proof: &mut Proof,
    record: &Record,
    table: &Value,
    rain: impl Fn(usize) -> (Option<f64>, Option<f64>),
) {
    let mut same = |ours: Option<f64>, theirs: &Value, what: &str, at: DateTime<Utc>| {
        same(proof, ours, theirs, what, at);
    };
    let stamps = table["stamp_utc"].as_array().unwrap();
    assert_eq!(stamps.len(), 19 * 24);
    let year_end: DateTime<Utc> = "2024-01-01T00:00:00Z".parse().unwrap();
    for (row, stamp) in stamps.iter().enumerate() {
        let at = DateTime::parse_from_rfc3339(stamp.as_str().unwrap()).unwrap().to_utc();
        let of = |column: &str| &table[column][row];
        let before = at - TimeDelta::hours(1);
        let before = *record.series.hour_of(before).unwrap();
        same(before.shortwave_w_m2, of("ghi_w_m2"), "radiation", at);
        let (depth, over) = rain(row);
        let ours = before.rain.map(|rain| rain.total.millimeters());
        if over == Some(1.0) {
            // Ours in inches and back again: to the tenth that the file has.
            let tenths = |mm: f64| (mm * 10.0).round();
            same(ours.map(tenths), &Value::from(depth.map(tenths)), "rain", at);
        }
        // The last midnight of a composed year belongs to no day of it.
        let zone = record.standard_time.unwrap();
        if at + TimeDelta::seconds(i64::from(zone.local_minus_utc())) == year_end {
            assert_eq!(record.series.hour_of(at).and_then(|hour| hour.air), None);
            continue;
        }
        let hour: Hour = *record.series.hour_of(at).unwrap();
        same(hour.air.map(|air| air.celsius()), of("air_c"), "air", at);
        same(hour.dew_point.map(|dew| dew.celsius()), of("dew_point_c"), "dew point", at);
        same(hour.humidity_pct, of("humidity_pct"), "humidity", at);
        same(hour.surface_pressure_hpa, of("pressure_hpa"), "pressure", at);
        same(hour.wind.map(|wind| wind.meters_per_second()), of("wind_ms"), "wind", at);
        same(hour.cloud_cover_pct.map(|pct| pct / 10.0), of("opaque_tenths"), "cloud", at);
        assert_eq!(hour.sea_level_pressure_hpa, None);
    }
}

#[test]
fn tmy3_says_what_pvlib_reads_in_it() {
    let mut proof = Proof::of(
        "weather/tmy3",
        "Every value of pieces of two typical years in TMY3, hour by hour, and which are missing",
        "read by pvlib 0.16.1, tests/reference/years.py",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    for (name, joins) in [
        // The months' years, as they stand in the files.
        ("greensboro.tmy3.csv", 5),
        ("sand_point.tmy3.csv", 5),
    ] {
        let record = tmy3::parse(&bytes(name), read_at()).unwrap();
        let table = reference(name);
        agrees(&mut proof, &record, &table, |row| {
            let depth = table["rain_tenths_mm"][row].as_f64().map(|tenths| tenths / 10.0);
            (depth, table["rain_hours"][row].as_f64())
        });
        assert!(
            record.joins.as_ref().is_some_and(|met| met.len() <= joins && !met.is_empty()),
            "{:?}",
            record.joins
        );
    }
    let greensboro = tmy3::parse(&bytes("greensboro.tmy3.csv"), read_at()).unwrap();
    let place = greensboro.place.unwrap();
    assert_eq!((place.latitude_deg, place.longitude_deg), (36.1, -79.95));
    assert!((place.elevation.unwrap().meters() - 273.0).abs() < 1e-9);
    assert_eq!(greensboro.standard_time.unwrap().local_minus_utc(), -5 * 3600);
    assert!(greensboro.station.unwrap().contains("GREENSBORO"));
    proof.done();
}

#[test]
fn epw_says_what_pvlib_reads_in_it_and_lacks_what_it_lacks() {
    let mut proof = Proof::of(
        "weather/epw",
        "Every value of a piece of an EPW file, hour by hour, and which are missing",
        "read by pvlib 0.16.1, tests/reference/years.py",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    let record = epw::parse(&bytes("greensboro.epw"), read_at()).unwrap();
    let table = reference("greensboro.epw");
    agrees(&mut proof, &record, &table, |row| {
        (table["rain_mm"][row].as_f64(), table["rain_hours"][row].as_f64())
    });
    let lacking = table["air_c"].as_array().unwrap().iter().filter(|air| air.is_null()).count();
    assert_eq!(lacking, 9, "the piece has hours with missing values");
    assert!(record.joins.is_some());
    proof.done();
}

#[test]
fn sums_over_several_hours_are_spread_and_those_over_unknown_hours_are_not() {
    // Sand Point's table has sums over 1, 3, 6, 24 and an unknown number (99) of hours.
    let mut proof = Proof::of(
        "weather/tmy3-sums",
        "Rain summed over six hours: what its hours come to, and the total that each of them knows",
        "the sum as pvlib 0.16.1 reads it, tests/reference/years.py",
        "sums",
        Allowed::absolute(1e-9, "mm"),
    );
    let record = tmy3::parse(&bytes("sand_point.tmy3.csv"), read_at()).unwrap();
    let table = reference("sand_point.tmy3.csv");
    let (mut over_six, mut unknown) = (0, 0);
    for (row, stamp) in table["stamp_utc"].as_array().unwrap().iter().enumerate() {
        let at = DateTime::parse_from_rfc3339(stamp.as_str().unwrap()).unwrap().to_utc();
        let Some(depth) = table["rain_tenths_mm"][row].as_f64() else { continue };
        let rain = record.series.hour_of(at - TimeDelta::hours(1)).unwrap().rain;
        match table["rain_hours"][row].as_f64() {
            Some(6.0) => {
                over_six += 1;
                let hours = |n| record.series.hour_of(at - TimeDelta::hours(n)).unwrap().rain;
                if let Some(rain) = rain.filter(|rain| rain.over_hours == 6) {
                    let sum: f64 = (1..=6).map(|n| hours(n).unwrap().share.millimeters()).sum();
                    proof.near(sum, depth / 10.0, || format!("hours before {at}"));
                    proof.near(rain.total.millimeters(), depth / 10.0, || at.to_string());
                }
            }
            Some(99.0) if depth > 0.0 => {
                unknown += 1;
                assert!(rain.is_none_or(|rain| rain.over_hours > 1), "{at}");
            }
            _ => {}
        }
    }
    assert!(over_six > 5, "{over_six} sums over six hours, {unknown} over nobody knows how many");
    proof.done();
}

#[test]
fn isd_lite_has_in_each_month_what_pandas_counts_in_it() {
    let mut proof = Proof::of(
        "weather/isd-lite",
        "Hours known, means and rain of each month of O'Hare 2015 in ISD-Lite, which is a whole year",
        "counted by pandas, tests/reference/years.py",
        "numbers",
        Allowed::absolute(1e-5, ""),
    );
    let record = ohare();
    let table = reference("725300-2015.gz");
    let number = |column: &str, month: usize| table[column][month].as_f64().unwrap();
    for month in 0..12 {
        let hours = || {
            record.hours().iter().filter(move |hour| {
                hour.time.year() == 2015 && hour.time.month0() as usize == month
            })
        };
        let count = |known: fn(&Hour) -> bool| hours().filter(|hour| known(hour)).count() as f64;
        let mut close = |ours: f64, theirs: f64| {
            proof.near(ours, theirs, || format!("month {}", month + 1));
        };
        close(count(|hour| hour.air.is_some()), number("air", month));
        close(count(|hour| hour.dew_point.is_some()), number("dew_point", month));
        close(count(|hour| hour.wind.is_some()), number("wind", month));
        close(count(|hour| hour.cloud_cover_pct.is_some()), number("sky", month));
        close(count(|hour| hour.sea_level_pressure_hpa.is_some()), number("pressure", month));
        let mean = |field: fn(&Hour) -> Option<f64>| {
            let known: Vec<f64> = hours().filter_map(field).collect();
            known.iter().sum::<f64>() / known.len() as f64
        };
        close(mean(|hour| hour.air.map(|air| air.celsius())), number("air_mean_c", month));
        close(
            mean(|hour| hour.wind.map(|wind| wind.meters_per_second())),
            number("wind_mean_ms", month),
        );
        close(mean(|hour| hour.cloud_cover_pct) / 12.5, number("sky_mean_oktas", month));
        // One-hour sums alone: what six hours give where none of them has one comes on top.
        let rain = hours().filter_map(|hour| hour.rain).filter(|rain| rain.over_hours == 1);
        let rain: f64 = rain.map(|rain| rain.share.millimeters()).sum();
        let theirs = table["rain_mm"][format!("2015-{:02}", month + 1)].as_f64().unwrap();
        close(rain, theirs);
    }
    proof.done();
}

#[test]
fn what_epw_and_tmy3_are_not_is_told_in_a_sentence() {
    let text = String::from_utf8(bytes("greensboro.epw")).unwrap();
    let changed = |from: &str, to: &str| text.replacen(from, to, 1);
    let cases = [
        (changed("DATA PERIODS,1,1,", "DATA PERIODS,1,4,"), "one record an hour"),
        (changed("DATA PERIODS", "DATES"), "expected a line `DATA PERIODS`"),
        (changed(",-5.0,", ",-50.0,"), "hours east of UTC"),
        (changed(",-5.0,", ",723170,"), "hours east of UTC"),
        (changed(",36.100,", ",361.00,"), "-90 to 90 north"),
        (changed("1988,1,1,2,60", "1988,1,1,1,60"), "each hour once"),
        (changed("1988,1,1,2,60", "1988,2,30,2,60"), "a day of the calendar"),
        (changed("1988,1,1,2,60", "1988,1,1,25,60"), "an hour from 1 to 24"),
        (changed(",10.0,6.1,", ",warm,6.1,"), "\"warm\" in line 9; expected a number"),
        (changed(",10.0,6.1,", ",77,6.1,"), "expected -90 to 60 °C"),
        ("LOCATION,x\n".to_owned(), "expected ten fields"),
    ];
    for (body, expected) in cases {
        let error = epw::parse(body.as_bytes(), read_at()).unwrap_err().to_string();
        assert!(error.contains(expected), "expected {expected}, said {error}");
    }
    let text = String::from_utf8(bytes("greensboro.tmy3.csv")).unwrap();
    let cases = [
        (text.replacen("Dry-bulb (C)", "Air", 1), "a column `Dry-bulb (C)`"),
        (text.replacen("01/01/1988,02:00", "01/01/1988,01:00", 1), "each hour once"),
        (text.replacen("01/01/1988,02:00", "1988-01-01,02:00", 1), "a day of the calendar"),
        (text.replacen("01/01/1988,02:00", "01/01/1988,02:30", 1), "01:00 to 24:00"),
    ];
    for (body, expected) in cases {
        let error = tmy3::parse(body.as_bytes(), read_at()).unwrap_err().to_string();
        assert!(error.contains(expected), "expected {expected}, said {error}");
    }
}

#[test]
fn a_year_that_was_is_told_from_a_typical_one() {
    let text = String::from_utf8(bytes("greensboro.epw")).unwrap();
    let head: String = text.lines().take(8).map(|line| format!("{line}\n")).collect();
    let head = head.replace("TMY3", "Airport");
    let hour = |year: i32, month: u32, day: u32| {
        format!("{year},{month},{day},1,60,?9,10.0,6.1,77,99300{}\n", ",9999".repeat(25))
    };
    let joins =
        |lines: &str| epw::parse(format!("{head}{lines}").as_bytes(), read_at()).unwrap().joins;
    let was = hour(2014, 2, 28) + &hour(2014, 3, 1) + &hour(2014, 12, 31) + &hour(2015, 1, 1);
    assert_eq!(joins(&was), None);
    assert!(joins(&(hour(2014, 2, 28) + &hour(2009, 3, 1))).is_some_and(|joins| joins.len() == 1));
    assert!(joins(&hour(2050, 2, 28)).is_some(), "no year ahead has been");
}

/// A reply in the shape that NASA POWER documents, with invented numbers.
pub(crate) fn power_reply(from: &str, hours: i64) -> String {
    let from: DateTime<Utc> = from.parse().unwrap();
    let column = |of: &dyn Fn(i64) -> f64| {
        let value = |n| {
            let at = from + TimeDelta::hours(n);
            format!("\"{}\":{}", at.format("%Y%m%d%H"), of(n))
        };
        (0..hours).map(value).collect::<Vec<_>>().join(",")
    };
    let phase =
        |n: i64| ((from + TimeDelta::hours(n)).timestamp().rem_euclid(86_400) / 3600) as f64;
    let air = |n| ((phase(n) - 14.0) / 24.0 * std::f64::consts::TAU).sin().mul_add(8.0, 15.0);
    let columns = [
        ("T2M", "C", column(&|n| (air(n) * 100.0).round() / 100.0)),
        ("T2MDEW", "C", column(&|_| -2.0)),
        ("RH2M", "%", column(&|_| 40.0)),
        ("WS10M", "m/s", column(&|_| 3.5)),
        ("PS", "kPa", column(&|_| 101.2)),
        ("CLOUD_AMT", "%", column(&|_| 40.0)),
        ("ALLSKY_SFC_SW_DWN", "Wh/m^2", column(&|n| if n == 3 { -999.0 } else { 120.0 })),
        ("PRECTOTCORR", "mm/hour", column(&|_| 0.0)),
    ];
    let values: Vec<_> =
        columns.iter().map(|(name, _, values)| format!("\"{name}\":{{{values}}}")).collect();
    let units: Vec<_> = columns
        .iter()
        .map(|(name, unit, _)| format!("\"{name}\":{{\"units\":\"{unit}\",\"longname\":\"\"}}"))
        .collect();
    format!(
        "{{\"type\":\"Feature\",\"geometry\":{{\"type\":\"Point\",\"coordinates\":[-74.169,40.692,12.5]}},\
         \"properties\":{{\"parameter\":{{{}}}}},\
         \"header\":{{\"title\":\"NASA/POWER Source Native Resolution Hourly Data\",\
         \"api\":{{\"version\":\"v2.5.0\",\"name\":\"POWER Hourly API\"}},\"sources\":[\"SYN1DEG\",\"MERRA2\"],\
         \"fill_value\":-999.0,\"time_standard\":\"UTC\"}},\"messages\":[],\"parameters\":{{{}}}}}",
        values.join(","),
        units.join(",")
    )
}

#[test]
fn nasa_powers_means_become_instants_and_its_fills_stay_missing() {
    let reply = power_reply("2015-06-01T00:00:00Z", 6);
    let record = nasa_power::parse(reply.as_bytes(), read_at()).unwrap();
    let hours = record.series.hours();
    // Nothing is known at the start of the first hour: the mean of the hour before is not there.
    assert_eq!((hours[0].air, hours[0].rain.is_some()), (None, true));
    // By hand: the sine at 14 - 14, one and two hours on, of amplitude 8 around 15.
    let mean = |hour: f64| {
        (((hour - 14.0) / 24.0 * std::f64::consts::TAU).sin() * 800.0 + 1500.0).round() / 100.0
    };
    let expected = f64::midpoint(mean(1.0), mean(2.0));
    let mut proof = Proof::of(
        "weather/nasa-power",
        "Air at the hour out of the means on either side, pressure in hPa, radiation of the hour",
        "invented numbers in the shape that NASA POWER documents, worked by hand",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(hours[2].air.unwrap().celsius(), expected, || "air".to_owned());
    proof.near(hours[2].surface_pressure_hpa.unwrap(), 1012.0, || "pressure".to_owned());
    proof.near(hours[2].shortwave_w_m2.unwrap(), 120.0, || "radiation".to_owned());
    proof.done();
    assert_eq!(hours[3].shortwave_w_m2, None);
    assert_eq!(record.place.map(|place| place.longitude_deg), Some(-74.169));
    let elsewhere = reply.replacen("-74.169,40.692,12.5", "-74.169,406.92,12.5", 1);
    assert_eq!(nasa_power::parse(elsewhere.as_bytes(), read_at()).unwrap().place, None);
    let of =
        |from: &str, to: &str| nasa_power::parse(reply.replacen(from, to, 1).as_bytes(), read_at());
    let said = |found: Result<Record, ParseError>| found.unwrap_err().to_string();
    assert!(said(of("\"UTC\"", "\"LST\"")).contains("save the reply with `time-standard=UTC`"));
    assert!(said(of("\"kPa\"", "\"atm\"")).contains("\"atm\"; expected one of hPa, kPa, Pa"));
    assert!(said(of("2015060102", "20150602")).contains("a day and an hour"));
    assert!(said(of("\"T2M\"", "\"T10M\"")).contains("T2M"));
}
