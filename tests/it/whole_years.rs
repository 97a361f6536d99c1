//! Every day of two years on record: the bulk engine against the independent NumPy run of
//! `tests/reference/whole_years.py`, which shares no code with it.

use std::io::Read;

use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, TimeZone, Utc};
use fairseam::season::{Engine, Hold, SeasonDay, sun_over};
use fairseam::site::{Site, load};
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::sources::neutral_csv::parse_forecast;
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};

use crate::proof::{Allowed, Proof};
use crate::support::{example_site, in_tests};

/// A site of the example's rules that works every day of the week.
fn site(place: (&str, &str, &str, &str), color: &str) -> Site {
    let (latitude, longitude, feet, zone) = place;
    let text = example_site(&[
        ("latitude_deg", latitude),
        ("longitude_deg", longitude),
        ("elevation", feet),
        ("time_zone", &format!("\"{zone}\"")),
        ("sheet.color", &format!("\"{color}\"")),
    ]);
    load(&text, "site.toml").unwrap().site
}

/// O'Hare 2015 as NOAA's ISD-Lite has it: tenths, -9999 for nothing, -1 for a trace of rain, oktas.
fn ohare() -> Forecast {
    let packed = std::fs::read(in_tests("fixtures/years/725300-2015.gz")).unwrap();
    let mut text = String::new();
    flate2::read::GzDecoder::new(packed.as_slice()).read_to_string(&mut text).unwrap();
    let mut hours: Vec<Hour> = Vec::new();
    for line in text.lines() {
        let numbers: Vec<i32> = line.split_whitespace().map(|word| word.parse().unwrap()).collect();
        let part = |index: usize| u32::try_from(numbers[index]).unwrap();
        let time: DateTime<Utc> =
            Utc.with_ymd_and_hms(numbers[0], part(1), part(2), part(3), 0, 0).unwrap();
        let tenths =
            |index: usize| (numbers[index] != -9999).then(|| f64::from(numbers[index]) / 10.0);
        let okta = numbers[9];
        hours.push(Hour {
            air: tenths(4).map(Temperature::from_celsius),
            dew_point: tenths(5).map(Temperature::from_celsius),
            sea_level_pressure_hpa: tenths(6),
            wind: tenths(8).map(WindSpeed::from_meters_per_second),
            cloud_cover_pct: (0..=8).contains(&okta).then(|| f64::from(okta) * 12.5),
            ..Hour::unknown(time)
        });
        // Rain of the hour that ends at the stamp.
        let rain = tenths(10).map(|rain| RainDepth::from_millimeters(rain.max(0.0)));
        hours.push(Hour {
            rain: rain.map(HourSum::of_one_hour),
            ..Hour::unknown(time - TimeDelta::hours(1))
        });
    }
    hours.retain(|hour| hour.time.year() == 2015);
    let provenance = Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at: Utc.with_ymd_and_hms(2016, 1, 1, 0, 0, 0).unwrap(),
        stale: false,
        attribution: "NOAA".to_owned(),
        time_zone: None,
    };
    Forecast::from_hours(provenance, hours).unwrap()
}

fn newark() -> Forecast {
    let bytes = std::fs::read(in_tests("fixtures/ewr2013.csv")).unwrap();
    parse_forecast(&bytes, Utc.with_ymd_and_hms(2014, 1, 1, 0, 0, 0).unwrap()).unwrap()
}

/// A day of the reference table, without its date.
fn row(day: &SeasonDay, tests: &[String]) -> String {
    let Some(workday) = day.workday else { return "0,0,0,0,0,".to_owned() };
    let held =
        [Hold::Rain, Hold::WetSheet, Hold::WindStop].map(|hold| workday.held.of(hold).to_string());
    format!("1,{},{},{}", held.join(","), u8::from(workday.begins_wet), tests.join(" "))
}

/// Holds every day of the engine against the table; how many tests the table has.
fn against(proof: &mut Proof, table: &str, site: &Site, weather: &Forecast) -> usize {
    let path = in_tests("fixtures/reference/whole_years").join(table);
    let expected = std::fs::read_to_string(path).unwrap();
    let rows: Vec<(NaiveDate, &str)> = expected
        .lines()
        .skip(1)
        .map(|line| line.split_once(',').unwrap())
        .map(|(date, rest)| (date.parse().unwrap(), rest))
        .collect();
    assert!(rows.len() > 360, "{table} has {} days", rows.len());
    let sun = sun_over(weather.first(), weather.last());
    let mut rest = rows.iter();
    Engine::new(site, site.time_zone.unwrap()).days(
        weather,
        sun,
        rows.iter().map(|row| row.0),
        |day, tests| {
            let tests: Vec<String> =
                tests.iter().map(|test| format!("{}:{}", test.minute, test.cause)).collect();
            let (date, expected) = rest.next().unwrap();
            let found = row(&day, &tests);
            proof.same(&(day.date, found.as_str()), &(*date, *expected), || table.to_owned());
        },
    );
    expected.matches(':').count()
}

const OHARE: (&str, &str, &str, &str) = ("41.98", "-87.92", "659", "America/Chicago");
const NEWARK: (&str, &str, &str, &str) = ("40.6925", "-74.1687", "18", "America/New_York");

#[test]
fn every_day_of_ohare_2015_is_as_numpy_has_it() {
    let mut proof = Proof::of(
        "outlook/whole-year-ohare",
        "The same of the days of O'Hare 2015, white and black",
        "an independent run in NumPy, tests/reference/whole_years.py",
        "days",
        Allowed::Nothing,
    );
    let weather = ohare();
    for (color, sheet_changes) in [("white", 0), ("black", 50)] {
        let table = format!("ohare-2015-{color}.csv");
        let tests = against(&mut proof, &table, &site(OHARE, color), &weather);
        assert!(tests > 1000 + sheet_changes, "{table} has {tests} tests");
    }
    proof.done();
}

#[test]
fn every_day_of_newark_2013_is_as_numpy_has_it() {
    let mut proof = Proof::of(
        "outlook/whole-year-newark",
        "Tests with minute and cause, minutes held and wet starts of the days of Newark 2013, white, by \
         the engine for many days",
        "an independent run in NumPy, tests/reference/whole_years.py",
        "days",
        Allowed::Nothing,
    );
    let table = "newark-2013-white.csv";
    let tests = against(&mut proof, table, &site(NEWARK, "white"), &newark());
    assert!(tests > 1000, "{tests} tests");
    proof.done();
}
