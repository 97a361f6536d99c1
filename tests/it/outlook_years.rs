//! `fairseam outlook --years`: a real year against facts counted by others and against the oracle,
//! clock changes, a leap day, far places, gaps.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, NaiveDate, Utc};
use fairseam::season::{SeasonDay, Suns, site_year};
use fairseam::site;
use fairseam::weather::sources::recognize;

use crate::outlook::invented_hours;
use crate::proof::{Allowed, Proof};
use crate::support::{example_site, fixture, in_tests, run};

const EVERY_DAY: (&str, &str) =
    ("shift.workdays", "[\"mon\", \"tue\", \"wed\", \"thu\", \"fri\", \"sat\", \"sun\"]");

fn newark(rules: &[(&str, &str)]) -> Vec<SeasonDay> {
    let text = std::fs::read(in_tests("fixtures/ewr2013.csv")).unwrap();
    let read_at: DateTime<Utc> = "2026-01-01T00:00:00Z".parse().unwrap();
    let record = recognize::parse_file(&text, read_at).unwrap();
    let rules: Vec<(&str, &str)> = rules.iter().copied().chain([EVERY_DAY]).collect();
    let site = site::load(&example_site(&rules), "site.toml").unwrap().site;
    site_year(&site, chrono_tz::America::New_York, &record, 2013, &Suns::default())
}

/// Days with a swing of 15 °F and more, whole °F over the hourly values from 07:00 to 15:00, as
/// others counted them over the same file, January to December; 364 days in all.
const SWING_15: [u32; 12] = [5, 5, 8, 16, 13, 14, 9, 14, 20, 16, 8, 7];

#[test]
fn the_swings_of_a_real_year_are_the_ones_that_others_counted() {
    // One minute past 15:00, so that the shift ends with the last value that they counted: between
    // hourly values the air runs straight, so that no minute lies outside of them.
    let days = newark(&[("shift.end", "\"15:01\"")]);
    assert_eq!(days.len(), 365);
    let (mut found, mut unknown) = ([0; 12], [0; 12]);
    for day in &days {
        let month = day.date.month0() as usize;
        let Some(work) = &day.workday else {
            unknown[month] += 1;
            continue;
        };
        // The station measures whole °F and reports tenths of °C.
        let whole = |celsius: f32| f64::from(celsius).mul_add(1.8, 32.0).round();
        found[month] += u32::from(whole(work.air_c.1) - whole(work.air_c.0) >= 15.0);
    }
    // They used days with gaps too. We leave such a day out, so it may be one of theirs.
    assert!(unknown.iter().sum::<u32>() <= 3, "{unknown:?}");
    let mut proof = Proof::of(
        "outlook/swings",
        "Days of each month that swing by 15 °F and more, Newark 2013; ours leave out days with gaps",
        "counted by others over the same record",
        "months",
        Allowed::Range("one of the days with gaps may be theirs"),
    );
    for month in 0..12 {
        let (ours, theirs, open) = (found[month], SWING_15[month], unknown[month]);
        proof.inside(f64::from(theirs), f64::from(ours)..=f64::from(ours + open), || {
            format!("month {month}: {ours} of {theirs}, {open} open")
        });
    }
    proof.done();
}

#[test]
fn the_tests_of_a_real_year_are_the_oracles_by_day_and_by_cause() {
    // The oracle knows no storm hold, see tests/it/year.rs.
    let days = newark(&[("rules.wind_stop", "150")]);
    let days: BTreeMap<NaiveDate, &SeasonDay> = days.iter().map(|day| (day.date, day)).collect();
    let mut reader = csv::Reader::from_path(fixture("oracle/ewr2013_checkpoints.csv")).unwrap();
    let mut compared = 0;
    let mut proof = Proof::of(
        "outlook/causes",
        "Tests of each day of 2013 at Newark by cause",
        "a second program for the two rules in Python, tests/oracle/two_rules.py",
        "days",
        Allowed::Nothing,
    );
    for row in reader.records() {
        let row = row.unwrap();
        let day = days[&row[0].parse().unwrap()];
        let Some(work) = &day.workday else {
            assert_eq!(&row[1], "missing", "{}", &row[0]);
            continue;
        };
        let count = |cause: &str| {
            row[1].split("; ").filter(|point| point.split(' ').nth(1) == Some(cause)).count()
        };
        let tests = &work.tests;
        let ours =
            [tests.start, tests.after_break, tests.ambient_change, tests.elapsed, tests.after_hold];
        let theirs = ["start", "after-break", "ambient-change", "elapsed", "after-hold"].map(count);
        proof.same(&ours.map(usize::from), &theirs, || row[0].to_owned());
        assert_eq!(tests.sheet_change, 0, "the record has no cloud, so no sheet");
        compared += 1;
    }
    assert!(compared >= 362, "{compared}");
    proof.done();
}

/// Runs the outlook on an invented record and gives date, working minutes and weldable minutes of
/// the covered days.
fn covered(overrides: &[(&str, &str)], hours: &str) -> Vec<(String, u32, u32)> {
    let overrides: Vec<(&str, &str)> = overrides.iter().copied().chain([EVERY_DAY]).collect();
    let files = [("site.toml", example_site(&overrides)), ("hours.csv", hours.to_owned())];
    let files = files.each_ref().map(|(name, text)| (*name, text.as_str()));
    let outcome =
        run(&["outlook", "site.toml", "--years", "hours.csv", "--format", "csv"], &files, &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let text = run(&["outlook", "site.toml", "--years", "hours.csv"], &files, &[]);
    assert_eq!(text.code, 0, "{}", text.shown());
    let mut reader = csv::Reader::from_reader(outcome.stdout.as_bytes());
    let head = reader.headers().unwrap().clone();
    let at = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows = reader.records().map(Result::unwrap).filter(|row| &row[at("covered")] == "yes");
    let number = |text: &str| text.parse::<u32>().unwrap();
    rows.map(|row| {
        let minutes = (number(&row[at("working_minutes")]), number(&row[at("weldable_minutes")]));
        (row[at("date")].to_owned(), minutes.0, minutes.1)
    })
    .collect()
}

fn working(days: &[(String, u32, u32)], date: &str) -> u32 {
    days.iter().find(|day| day.0 == date).unwrap_or_else(|| panic!("{date} is not covered")).1
}

fn night<'a>(zone: &'a str, latitude: &'a str, longitude: &'a str) -> [(&'a str, &'a str); 6] {
    [
        ("time_zone", zone),
        ("latitude_deg", latitude),
        ("longitude_deg", longitude),
        ("shift.start", "\"22:00\""),
        ("shift.end", "\"06:00\""),
        ("shift.breaks", "[]"),
    ]
}

#[test]
fn a_clock_change_takes_and_gives_an_hour_in_both_hemispheres() {
    let hours = |from: &str| invented_hours(from, 6 * 24, |_| false);
    let new_york = night("\"America/New_York\"", "40.7", "-74.2");
    // 15 U.S.C. 260a: on at 02:00 on the second Sunday of March, off on the first of November.
    let mut proof = Proof::of(
        "outlook/clock-changes",
        "Working minutes of night shifts around both clock changes, north and south",
        "15 U.S.C. 260a; New South Wales, Standard Time Act 1987, from memory",
        "nights",
        Allowed::Nothing,
    );
    let mut same = |days: &[(String, u32, u32)], night: &str, minutes: u32| {
        proof.same(&working(days, night), &minutes, || night.to_owned());
    };
    let spring = covered(&new_york, &hours("2013-03-07T00:00:00Z"));
    same(&spring, "2013-03-08", 480);
    same(&spring, "2013-03-09", 420);
    let fall = covered(&new_york, &hours("2013-10-31T00:00:00Z"));
    same(&fall, "2013-11-01", 480);
    same(&fall, "2013-11-02", 540);
    // New South Wales, Standard Time Act 1987: off at 03:00 on the first Sunday of April, on at 02:00
    // on the first of October. From memory.
    let sydney = night("\"Australia/Sydney\"", "-33.9", "151.2");
    let fall = covered(&sydney, &hours("2013-04-04T00:00:00Z"));
    same(&fall, "2013-04-05", 480);
    same(&fall, "2013-04-06", 540);
    let spring = covered(&sydney, &hours("2013-10-03T00:00:00Z"));
    same(&spring, "2013-10-04", 480);
    same(&spring, "2013-10-05", 420);
    proof.done();
}

#[test]
fn a_leap_day_is_a_day_of_work() {
    let leap = covered(&[], &invented_hours("2012-02-27T00:00:00Z", 5 * 24, |_| false));
    let dates: Vec<&str> = leap.iter().map(|day| day.0.as_str()).collect();
    assert_eq!(dates, ["2012-02-27", "2012-02-28", "2012-02-29", "2012-03-01", "2012-03-02"]);
    assert_eq!(working(&leap, "2012-02-29"), 465);
}

#[test]
fn far_places_go_through_without_harm() {
    for (zone, latitude, longitude, from) in [
        // Above the Arctic circle, under the midnight sun and in the polar night.
        ("\"Europe/Oslo\"", "69.65", "18.96", "2013-06-20T00:00:00Z"),
        ("\"Europe/Oslo\"", "69.65", "18.96", "2013-12-20T00:00:00Z"),
        // South of the equator.
        ("\"America/Santiago\"", "-33.45", "-70.67", "2013-01-10T00:00:00Z"),
        // At +05:45.
        ("\"Asia/Kathmandu\"", "27.7", "85.3", "2013-05-06T00:00:00Z"),
        // At the date line, over new year.
        ("\"Pacific/Auckland\"", "-36.85", "174.76", "2013-12-30T00:00:00Z"),
    ] {
        let place = [("time_zone", zone), ("latitude_deg", latitude), ("longitude_deg", longitude)];
        let days = covered(&place, &invented_hours(from, 6 * 24, |_| false));
        assert!(days.len() >= 4, "{zone}: {days:?}");
        for (date, working, weldable) in days {
            assert_eq!(working, 465, "{zone} {date}");
            // Dry air and no rain: whatever the sun does, nothing holds.
            assert_eq!(weldable, 465, "{zone} {date}");
        }
    }
}

#[test]
fn a_year_with_gaps_says_so_and_fills_nothing_in() {
    let hours = invented_hours("2013-04-01T00:00:00Z", 15 * 24, |_| false);
    // Wednesday April 10 from 10:00 to 20:00 UTC is missing.
    let with_gap: String = hours
        .lines()
        .filter(|line| !line.starts_with("2013-04-10T1"))
        .flat_map(|line| [line, "\n"])
        .collect();
    let files = [("site.toml", example_site(&[])), ("hours.csv", with_gap)];
    let files = files.each_ref().map(|(name, text)| (*name, text.as_str()));
    let outcome =
        run(&["outlook", "site.toml", "--years", "hours.csv", "--format", "json"], &files, &[]);
    let outlook: serde_json::Value = serde_json::from_str(&outcome.stdout).unwrap();
    let record = &outlook["sites"][0]["record"];
    // 2013 has 261 days from Monday to Friday; April 1 to 15 has eleven of them, one of them lacking.
    assert_eq!(record["whole"]["workdays"], 261);
    assert_eq!(record["whole"]["covered"], 10);
    let april = record["months"].as_array().unwrap().iter().find(|month| month["of"] == "Apr");
    assert_eq!(april.unwrap()["workdays"], 22);
    let budget = record["budget"].as_array().unwrap().iter().find(|month| month["month"] == "Apr");
    assert_eq!(budget.unwrap()["minutes"], serde_json::Value::Null);
    let text = run(&["outlook", "site.toml", "--years", "hours.csv"], &files, &[]).stdout;
    assert!(
        text.contains("10 of 261 workdays covered; 251 without weather are left out"),
        "{text}"
    );
}

#[test]
fn what_cannot_be_looked_back_on_is_told_in_a_sentence() {
    let hours = invented_hours("2013-04-01T00:00:00Z", 5 * 24, |_| false);
    let zoneless = example_site(&[("time_zone", "")]);
    let site = example_site(&[]);
    let cases: [(&str, &[&str], &str); 5] = [
        (&zoneless, &["--years", "hours.csv"], "no `time_zone`"),
        (&site, &["--years", "gone.csv"], "`gone.csv` cannot be read"),
        (&site, &["--years", "site.toml"], "the weather file `site.toml`"),
        (
            &site,
            &[
                "--years",
                "hours.csv",
                "--footage",
                "100",
                "--start",
                "2027-05-01",
                "--finish",
                "2027-04-01",
            ],
            "on or after the first",
        ),
        (
            &site,
            &[
                "--years",
                "hours.csv",
                "--footage",
                "-3",
                "--start",
                "2027-04-01",
                "--finish",
                "2027-05-01",
            ],
            "a length above 0",
        ),
    ];
    for (site, arguments, expected) in cases {
        let arguments: Vec<&str> =
            ["outlook", "site.toml"].iter().chain(arguments).copied().collect();
        let outcome = run(&arguments, &[("site.toml", site), ("hours.csv", &hours)], &[]);
        assert_eq!(outcome.code, 1, "{arguments:?} {}", outcome.shown());
        assert!(outcome.stderr.contains(expected), "{arguments:?} said {}", outcome.stderr);
        assert!(outcome.stdout.is_empty());
    }
}

#[test]
fn the_text_of_past_years_fits_80_columns() {
    let hours = invented_hours("2012-11-01T00:00:00Z", 200 * 24, |at| at.day() % 7 == 0);
    let costs = [("rules.crew_size", "200"), ("rules.crew_cost_per_hour", "99000")];
    let files = [
        ("a.toml", example_site(&costs)),
        (
            "b.toml",
            example_site(&[
                ("name", "\"The other roof, north of the river\""),
                ("units", "\"us\""),
            ]),
        ),
        ("hours.csv", hours),
    ];
    let files = files.each_ref().map(|(name, text)| (*name, text.as_str()));
    let job = ["--footage", "60000", "--start", "2027-11-15", "--finish", "2028-04-30"];
    let arguments: Vec<&str> = ["outlook", "a.toml", "b.toml", "--years", "hours.csv"]
        .iter()
        .chain(&job)
        .copied()
        .collect();
    let outcome = run(&arguments, &files, &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    for line in outcome.stdout.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
        assert_eq!(line, line.trim_end());
    }
}
