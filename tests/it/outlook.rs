//! `fairseam outlook` on the days ahead: files, folders, lists, several sites, all outputs.

use std::fmt::Write as _;
use std::path::Path;

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::Value;

use crate::plan_output::assert_current;
use crate::proof::{Allowed, Proof};
use crate::support::{Outcome, example_site, run};

/// Hourly weather from an instant on: a sine of 14 °F around 60 °F, warmest at 20:00 UTC, dry but
/// for the hours that `rain` names.
pub(crate) fn invented_hours(
    from: &str,
    hours: i64,
    rain: impl Fn(DateTime<Utc>) -> bool,
) -> String {
    let from: DateTime<Utc> = from.parse().unwrap();
    let mut text =
        "time_utc,temp_f,dewp_f,wind_mph,cloud_pct,pressure_hpa,precip_in,snow_in\n".to_owned();
    for hour in 0..hours {
        let at = from + TimeDelta::hours(hour);
        let phase = f64::from(i32::try_from(at.timestamp().rem_euclid(86_400)).unwrap()) / 3600.0;
        let air = 60.0 + 14.0 * ((phase - 14.0) / 24.0 * std::f64::consts::TAU).sin();
        let rain = if rain(at) { 0.1 } else { 0.0 };
        writeln!(text, "{},{air:.2},30,8,40,1013,{rain},0", at.format("%Y-%m-%dT%H:%M:%SZ"))
            .unwrap();
    }
    text
}

/// A site whose forecast is `file`.
fn with_file(name: &str, file: &str) -> String {
    example_site(&[
        ("name", &format!("\"{name}\"")),
        ("weather.source", "\"file\""),
        ("weather.path", &format!("\"{file}\"")),
    ])
}

/// From the evening of 2013-04-08 on: Tuesday April 9 to the next week.
fn dry_days() -> String {
    invented_hours("2013-04-08T00:00:00Z", 10 * 24, |_| false)
}

/// The same, with rain all over Thursday April 11, New York time.
fn rain_on_thursday() -> String {
    let day = |at: DateTime<Utc>| at.with_timezone(&chrono_tz::America::New_York).date_naive();
    invented_hours("2013-04-08T00:00:00Z", 10 * 24, |at| day(at).to_string() == "2013-04-11")
}

pub(crate) fn two_sites(arguments: &[&str]) -> Outcome {
    let arguments: Vec<&str> =
        ["outlook", "dry.toml", "wet.toml"].iter().chain(arguments).copied().collect();
    run(
        &arguments,
        &[
            ("dry.toml", &with_file("Dry roof", "dry.csv")),
            ("wet.toml", &with_file("Wet roof", "wet.csv")),
            ("dry.csv", &dry_days()),
            ("wet.csv", &rain_on_thursday()),
        ],
        &[],
    )
}

pub(crate) fn json(outcome: &Outcome) -> Value {
    serde_json::from_str(&outcome.stdout)
        .unwrap_or_else(|error| panic!("{error}: {}", outcome.shown()))
}

#[test]
fn every_workday_of_the_reach_is_there_and_the_worst_site_comes_first() {
    let outcome = two_sites(&["--format", "json"]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let outlook = json(&outcome);
    assert_eq!(outlook["mode"], "days-ahead");
    let names: Vec<&str> =
        outlook["sites"].as_array().unwrap().iter().map(|s| s["site"].as_str().unwrap()).collect();
    assert_eq!(names, ["Wet roof", "Dry roof"]);
    let days = outlook["sites"][0]["days"].as_array().unwrap();
    let dates: Vec<&str> = days.iter().map(|day| day["date"].as_str().unwrap()).collect();
    // Tuesday to Friday, then Monday to Wednesday; the record ends on Wednesday at 23:00 UTC.
    assert_eq!(
        dates,
        [
            "2013-04-09",
            "2013-04-10",
            "2013-04-11",
            "2013-04-12",
            "2013-04-15",
            "2013-04-16",
            "2013-04-17"
        ]
    );
    let thursday = &days[2];
    assert_eq!(thursday["tests"], 0);
    assert_eq!(thursday["weldable_hours"], 0);
    assert_eq!(thursday["advice"], "no weld");
    // 7.75 h of work, all of it lost, and no test.
    assert_eq!(thursday["lost_minutes"], 465);
}

#[test]
fn the_same_day_takes_the_same_tests_in_the_plan_and_in_the_outlook() {
    let files = [("dry.toml", with_file("Dry roof", "dry.csv")), ("dry.csv", dry_days())];
    let files = files.each_ref().map(|(name, text)| (*name, text.as_str()));
    let plan =
        json(&run(&["plan", "dry.toml", "--date", "2013-04-10", "--format", "json"], &files, &[]));
    let outlook = json(&run(&["outlook", "dry.toml", "--format", "json"], &files, &[]));
    let day = &outlook["sites"][0]["days"][1];
    assert_eq!(day["date"], "2013-04-10");
    let times: Vec<&Value> =
        plan["checkpoints"].as_array().unwrap().iter().map(|point| &point["time"]).collect();
    assert!(!times.is_empty());
    assert_eq!(day["test_times"].as_array().unwrap().iter().collect::<Vec<_>>(), times);
    assert_eq!(day["air_swing"], plan["summary"]["air_swing"]);
    assert_eq!(day["tests_likely"]["p90"], plan["summary"]["tests"]["p90"]);
}

#[test]
fn beyond_day_three_there_are_ranges_and_no_times() {
    let outlook = json(&two_sites(&["--format", "json"]));
    let days = outlook["sites"][1]["days"].as_array().unwrap();
    for day in days {
        // Planned on April 8: day three is the 11th.
        let near = day["date"].as_str().unwrap() <= "2013-04-11";
        assert_eq!(day["test_times"].is_array(), near, "{day}");
        assert_eq!(day["first_weldable"].is_string(), near, "{day}");
        assert!(
            day["tests_likely"]["p10"].as_u64() <= day["tests_likely"]["p90"].as_u64(),
            "{day}"
        );
        assert!(
            day["change_percent"].as_f64().is_some_and(|p| (0.0..=100.0).contains(&p)),
            "{day}"
        );
    }
    let text = two_sites(&[]).stdout;
    assert!(text.contains("Thu 04-11  weldable from"), "{text}");
    assert!(!text.contains("Fri 04-12  weldable from"), "{text}");
}

#[test]
fn a_window_of_days_may_be_asked_for() {
    let outlook = json(&two_sites(&["--from", "2013-04-11", "--days", "5", "--format", "json"]));
    let dates: Vec<&str> = outlook["sites"][0]["days"]
        .as_array()
        .unwrap()
        .iter()
        .map(|day| day["date"].as_str().unwrap())
        .collect();
    assert_eq!(dates, ["2013-04-11", "2013-04-12", "2013-04-15"]);
    // Beyond the forecast a day is there and says that nothing is known of it.
    let outlook = json(&two_sites(&["--from", "2013-04-17", "--days", "2", "--format", "json"]));
    let last = &outlook["sites"][0]["days"][1];
    assert_eq!((last["covered"].clone(), last["tests"].clone()), (false.into(), Value::Null));
}

#[test]
fn one_sites_failure_does_not_lose_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    write("a.toml", &with_file("First", "hours.csv"));
    write("b.toml", "name = \"broken\"\n");
    write("c.toml", &with_file("No weather", "none.csv"));
    write("hours.csv", &dry_days());
    write("readme.txt", "no site");
    let path = folder.path().to_str().unwrap();
    let outcome = run(&["outlook", path], &[], &[]);
    assert_eq!(outcome.code, 1, "{}", outcome.shown());
    assert!(outcome.stdout.contains("First"), "{}", outcome.shown());
    assert!(outcome.stdout.contains("NO OUTLOOK FOR"), "{}", outcome.shown());
    for expected in [
        "b.toml",
        "latitude_deg",
        "line 1: `latitude_deg` is missing",
        "none.csv",
        "2 of 3 sites could not be looked at",
    ] {
        assert!(outcome.stderr.contains(expected), "{expected}: {}", outcome.shown());
    }
    let outlook = json(&run(&["outlook", path, "--format", "json"], &[], &[]));
    assert_eq!(outlook["failed"].as_array().unwrap().len(), 2);
}

#[test]
fn a_list_names_sites_from_where_it_lies() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("east")).unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    write("east/roof.toml", &with_file("East", "../hours.csv"));
    write("hours.csv", &dry_days());
    write("roofs.txt", "# the roofs of this spring\n\neast/roof.toml\neast/roof.toml\n");
    write("empty.txt", "# none yet\n");
    let list = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let outcome = run(&["outlook", &list("roofs.txt"), "--format", "csv"], &[], &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    // The head and seven workdays: named twice, looked at once.
    assert_eq!(outcome.stdout.lines().count(), 8, "{}", outcome.stdout);
    for (name, expected) in [("empty.txt", "names no site file"), ("gone.txt", "cannot be read")] {
        let outcome = run(&["outlook", &list(name)], &[], &[]);
        assert_eq!(outcome.code, 1, "{}", outcome.shown());
        assert!(outcome.stderr.contains(expected), "{}", outcome.shown());
    }
    let none = Path::new(&list("east")).join("none");
    std::fs::create_dir(&none).unwrap();
    let outcome = run(&["outlook", none.to_str().unwrap()], &[], &[]);
    assert!(outcome.stderr.contains("holds no site file"), "{}", outcome.shown());
}

#[test]
fn the_text_fits_80_columns_and_draws_with_letters_on_a_dumb_terminal() {
    for (arguments, env) in [(&[][..], &[][..]), (&["--days", "14"], &[("TERM", "dumb")])] {
        let arguments: Vec<&str> =
            ["outlook", "a.toml", "b.toml"].iter().chain(arguments).copied().collect();
        let long = "A roof whose name is longer than any column has room for, north of the river";
        let outcome = run(
            &arguments,
            &[
                ("a.toml", &with_file(long, "dry.csv")),
                ("b.toml", &with_file("Wet", "wet.csv")),
                ("dry.csv", &dry_days()),
                ("wet.csv", &rain_on_thursday()),
            ],
            env,
        );
        assert_eq!(outcome.code, 0, "{}", outcome.shown());
        for line in outcome.stdout.lines() {
            assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
            assert_eq!(line, line.trim_end());
            assert!(!line.contains('\u{1b}'), "{line:?}");
        }
        let blocks = outcome.stdout.contains('█');
        assert_eq!(blocks, env.is_empty(), "{}", outcome.stdout);
    }
}

#[test]
fn the_csv_has_a_row_for_each_workday_of_each_site() {
    let outcome = two_sites(&["--format", "csv"]);
    let mut reader = csv::Reader::from_reader(outcome.stdout.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 14);
    let thursday =
        rows.iter().find(|row| &row[0] == "Wet roof" && &row[column("date")] == "2013-04-11");
    let thursday = thursday.unwrap();
    assert_eq!(&thursday[column("lost_rain_minutes")], "465");
    assert_eq!(&thursday[column("first_weldable")], "");
    assert_eq!(&thursday[column("advice")], "no weld");
    // Times up to day three only, here too.
    for row in rows.iter().filter(|row| &row[0] == "Dry roof") {
        let near = &row[column("date")] <= "2013-04-11";
        assert_eq!(&row[column("first_weldable")], if near { "07:00" } else { "" });
    }
}

#[test]
fn the_schema_in_docs_is_current_and_the_outlook_obeys_it() {
    let schema = fairseam::render::outlook::outlook_schema();
    assert_current("docs/outlook.schema.json", &schema);
    let schema: Value = serde_json::from_str(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let ahead = json(&two_sites(&["--format", "json"]));
    let years = json(&two_sites(&[
        "--years",
        "dry.csv",
        "--format",
        "json",
        "--start",
        "2027-04-01",
        "--finish",
        "2027-04-20",
        "--footage",
        "5000",
    ]));
    let mut proof = Proof::of(
        "files/schema-outlook",
        "Outlooks as JSON, ahead and behind, faults against their own schema",
        "judged by the crate jsonschema",
        "documents",
        Allowed::Nothing,
    );
    for outlook in [&ahead, &years] {
        let faults: Vec<String> =
            validator.iter_errors(outlook).map(|fault| fault.to_string()).collect();
        proof.same(&faults, &Vec::<String>::new(), String::new);
    }
    proof.done();
    let mut broken = ahead;
    broken["mode"] = "sideways".into();
    assert!(!validator.is_valid(&broken));
}

#[test]
fn wrong_usage_exits_with_2() {
    for (arguments, expected) in [
        (vec!["outlook"], "<SITE>..."),
        (vec!["outlook", "a.toml", "--days", "0"], "1..=366"),
        (vec!["outlook", "a.toml", "--years", "2024..2005"], "the earlier first"),
        (vec!["outlook", "a.toml", "--years", "x.csv", "--from", "today"], "--from"),
        (vec!["outlook", "a.toml", "--start", "2027-04-01"], "--finish"),
        (vec!["outlook", "a.toml", "--format", "xml"], "text, json, csv"),
    ] {
        let outcome = run(&arguments, &[], &[]);
        assert_eq!(outcome.code, 2, "{arguments:?} {}", outcome.shown());
        assert!(outcome.stderr.contains(expected), "{arguments:?} said {}", outcome.stderr);
    }
}
