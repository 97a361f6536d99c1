//! `fairseam outlook --years` on every kind of record: files of each format, and archives that
//! answer from a server of the test.

use std::fmt::Write as _;

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::Value;

use crate::outlook::invented_hours;
use crate::proof::{Allowed, Proof};
use crate::support::{Outcome, example_site, fixture, run};
use crate::weather_server::{Canned, Server};
use crate::weather_years::power_reply;

fn at(zone: &str, latitude: &str, longitude: &str) -> String {
    example_site(&[
        ("time_zone", &format!("\"{zone}\"")),
        ("latitude_deg", latitude),
        ("longitude_deg", longitude),
    ])
}

fn look(site: &str, years: &str, files: &[(&str, &str)]) -> (Outcome, Value) {
    let files: Vec<(&str, &str)> = [("site.toml", site)].iter().chain(files).copied().collect();
    let now = [("FAIRSEAM_NOW", "2026-01-05T12:00:00Z")];
    let outcome =
        run(&["outlook", "site.toml", "--years", years, "--format", "json"], &files, &now);
    let outlook = serde_json::from_str(&outcome.stdout).unwrap_or(Value::Null);
    (outcome, outlook)
}

#[test]
fn each_format_makes_an_outlook_and_is_credited() {
    let mut proof = Proof::of(
        "outlook/typical-years",
        "Workdays that pieces of a typical year cover, as TMY3 and as EPW",
        "the calendar of 2023, by hand",
        "records",
        Allowed::Nothing,
    );
    let greensboro = at("America/New_York", "36.1", "-79.95");
    for (file, credit, year) in [
        ("years/greensboro.tmy3.csv", "National Solar Radiation Data Base", "2023"),
        ("years/greensboro.epw", "EPW file of Greensboro", "2023"),
    ] {
        let (outcome, outlook) = look(&greensboro, &fixture(file), &[]);
        assert_eq!(outcome.code, 0, "{}", outcome.shown());
        let site = &outlook["sites"][0];
        assert_eq!(site["record"]["years"][0]["of"], year);
        assert!(site["attribution"].as_str().unwrap().contains(credit), "{file}");
        let notes = site["notes"].to_string();
        assert!(notes.contains("put together from months of several years"), "{notes}");
        // By hand, in the calendar of 2023: January 2, 3, 30, 31, February 1, 2, 27, 28, March 1, 2,
        // June 30 and July 3 to 5 are workdays; January 1, July 1, 2 and December 30, 31 are not.
        // EPW's piece lacks single hours only, which its neighbors bridge.
        proof.same(&site["record"]["whole"]["covered"], &14, || file.to_owned());
    }
    proof.done();
}

#[test]
fn a_typical_year_is_called_one_and_stands_alone() {
    let site = at("America/New_York", "36.1", "-79.95");
    let years = fixture("years/greensboro.tmy3.csv");
    let text = run(&["outlook", "site.toml", "--years", &years], &[("site.toml", &site)], &[]);
    assert!(
        text.stdout.contains("Record of a typical year, on the dates of 2023: 14 of 260"),
        "{}",
        text.shown()
    );
    // With years that were it would stand on their dates.
    let (outcome, _) = look(&site, &fixture("years"), &[]);
    assert_eq!(outcome.code, 1);
    assert!(outcome.stderr.contains("is a typical year and"), "{}", outcome.stderr);
    assert!(outcome.stderr.contains("expected either for one record"), "{}", outcome.stderr);
}

#[test]
fn a_station_far_west_of_its_zone_is_read_by_its_own_clock() {
    // Sand Point, Alaska, stands at UTC-9 in standard time, and in summer its wall clock at UTC-8.
    let site = at("America/Anchorage", "55.317", "-160.517");
    let (outcome, outlook) = look(&site, &fixture("years/sand_point.tmy3.csv"), &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    assert_eq!(outlook["sites"][0]["record"]["whole"]["covered"], 14);
}

/// A piece of a year in EPW, invented: the air runs along a sine, warmest at 14:00 on the file's
/// clock.
fn invented_epw(place: &str, month: u32, days: u32) -> String {
    let mut text = format!(
        "LOCATION,Nowhere,-,-,invented,999999,{place}\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n"
    );
    for (day, hour) in (1..=days).flat_map(|day| (1..=24).map(move |hour| (day, hour))) {
        let air = ((f64::from(hour) - 8.0) / 24.0 * std::f64::consts::TAU).sin().mul_add(8.0, 15.0);
        let unread = ",9999".repeat(7);
        writeln!(
            text,
            "2013,{month},{day},{hour},60,?9,{air:.3},-2,40,100000,9999,9999,300,200,9999{unread},3,4,4{},0,1",
            ",9999".repeat(9)
        )
        .unwrap();
    }
    // A head in the middle of the fields is nothing that a person would write.
    text
}

#[test]
fn clocks_of_far_places_are_kept_to_the_quarter_hour() {
    for (zone, latitude, longitude, epw_place, month, local_days) in [
        ("Asia/Kathmandu", "27.7", "85.3", "27.7,85.3,5.75,1300", 5, 5),
        ("Australia/Sydney", "-33.95", "151.18", "-33.95,151.18,10,3", 1, 5),
        ("Europe/Oslo", "69.65", "18.96", "69.65,18.96,1,10", 6, 5),
    ] {
        let site = at(zone, latitude, longitude);
        // From the first of the month on for a week: five workdays lie in any week.
        let (outcome, outlook) =
            look(&site, "year.epw", &[("year.epw", &invented_epw(epw_place, month, 8))]);
        assert_eq!(outcome.code, 0, "{zone} {}", outcome.shown());
        let site = &outlook["sites"][0];
        assert!(site["record"]["whole"]["covered"].as_u64().unwrap() >= local_days, "{zone}");
        let notes = site["notes"].to_string();
        assert_eq!(notes.contains("15 minutes past"), zone == "Asia/Kathmandu", "{zone} {notes}");
    }
}

#[test]
fn spring_and_fall_stand_against_the_rest_and_turn_with_the_hemisphere() {
    let hours = invented_hours("2013-04-01T00:00:00Z", 15 * 24, |_| false);
    let april = |latitude: &str| {
        let site = at("America/New_York", latitude, "-74");
        let (outcome, outlook) = look(&site, "hours.csv", &[("hours.csv", &hours)]);
        assert_eq!(outcome.code, 0, "{}", outcome.shown());
        let record = &outlook["sites"][0]["record"];
        let of = |name: &str| {
            let seasons = record["seasons"].as_array().unwrap();
            seasons.iter().find(|season| season["of"] == name).unwrap()["covered"].as_u64().unwrap()
        };
        ([of("spring"), of("fall"), of("rest")], outlook["sites"][0]["notes"].to_string())
    };
    let (north, notes) = april("40.7");
    assert!(north[0] > 5 && north[1..] == [0, 0], "{north:?}");
    assert!(notes.contains("one year on record"), "{notes}");
    let (south, _) = april("-40.7");
    assert!(south[1] > 5 && south[0] == 0, "{south:?}");
}

#[test]
fn dew_that_nobody_could_see_is_unknown_and_not_none() {
    // Newark's record has no cloud and no radiation.
    let (outcome, outlook) = look(&example_site(&[]), &fixture("ewr2013.csv"), &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let site = &outlook["sites"][0];
    assert_eq!(site["record"]["whole"]["dew_days"], Value::Null);
    let notes = site["notes"].to_string();
    assert!(notes.contains("cloud cover in 0 %") && !notes.contains("air temperature"), "{notes}");
}

fn isd_lines(from: &str, hours: i64) -> String {
    let from: DateTime<Utc> = from.parse().unwrap();
    let mut text = String::new();
    for hour in 0..hours {
        let at = from + TimeDelta::hours(hour);
        let air = 150 + 10 * (at.timestamp() / 3600 % 24);
        writeln!(text, "{} {air:5} -20 10130 240 30 2 0 -9999", at.format("%Y %m %d %H")).unwrap();
    }
    text
}

#[test]
fn the_leap_day_of_a_station_is_a_day_of_work() {
    let site = example_site(&[]);
    let lines = isd_lines("2016-02-27T00:00:00Z", 5 * 24);
    let (outcome, outlook) = look(&site, "725300-2016", &[("725300-2016", &lines)]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    // Monday February 29, Tuesday March 1, Wednesday March 2.
    let months = outlook["sites"][0]["record"]["months"].as_array().unwrap();
    let covered =
        |name| months.iter().find(|month| month["of"] == name).unwrap()["covered"].as_u64();
    let mut proof = Proof::of(
        "outlook/leap-day",
        "Workdays of a station's record around the leap day of 2016, by month",
        "the calendar, by hand",
        "months",
        Allowed::Nothing,
    );
    proof.same(&covered("Feb"), &Some(1), || "February".to_owned());
    proof.same(&covered("Mar"), &Some(2), || "March".to_owned());
    proof.done();
}

#[test]
fn a_long_file_gives_its_years_one_by_one() {
    // Eleven years in one file, more than any series may hold.
    let weeks = (2003..=2013)
        .map(|year| invented_hours(&format!("{year}-04-01T00:00:00Z"), 7 * 24, |_| false));
    let mut text = String::new();
    for (n, week) in weeks.enumerate() {
        let lines = week.lines().skip(usize::from(n > 0));
        lines.for_each(|line| text.extend([line, "\n"]));
    }
    let site = example_site(&[]);
    let (outcome, outlook) = look(&site, "long.csv", &[("long.csv", &text)]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let years = outlook["sites"][0]["record"]["years"].as_array().unwrap();
    assert_eq!(years.len(), 11);
    assert!(
        years.iter().all(|year| year["covered"].as_u64().is_some_and(|days| days >= 4)),
        "{years:?}"
    );
    // A fault in the eleventh year is named by its line in the whole file.
    let broken = text.replace("2013-04-03T05:00:00Z,", "2013-04-03T05:00:00Z,warm");
    let (outcome, _) = look(&site, "long.csv", &[("long.csv", &broken)]);
    let line = 1 + broken.lines().position(|line| line.contains("warm")).unwrap();
    assert_eq!(outcome.code, 1);
    assert!(outcome.stderr.contains(&format!("in line {line};")), "{}", outcome.stderr);
}

#[test]
fn files_that_cannot_be_a_record_are_told_in_a_sentence() {
    let site = example_site(&[]);
    let lines = isd_lines("2016-02-27T00:00:00Z", 5 * 24);
    for (name, text, expected) in [
        ("nws.json", r#"{"properties":{"periods":[]}}"#, "a saved forecast of the NWS"),
        ("power.csv", "-BEGIN HEADER-\nNASA/POWER\n", "a CSV of NASA POWER: save its JSON"),
        ("page.html", "<!DOCTYPE html><title>gone</title>", "a web page"),
        ("empty.csv", "", "an empty file"),
        ("short", "2016 01 01 00 0 0 10000 0 0 0 0 0\n", "less than two days of any year"),
        ("cut", &format!("{lines}2016 03"), "in line 121; expected the twelve whole numbers"),
    ] {
        let (outcome, _) = look(&site, name, &[(name, text)]);
        assert_eq!(outcome.code, 1, "{name} {}", outcome.shown());
        assert!(outcome.stderr.contains(expected), "{name} said {}", outcome.stderr);
    }
}

fn asking(server: &Server, overrides: &[(&str, &str)]) -> String {
    let base = format!("\"{}\"", server.base());
    let overrides: Vec<(&str, &str)> =
        [("weather.base_url", base.as_str())].iter().chain(overrides).copied().collect();
    example_site(&overrides)
}

#[test]
fn years_of_nasa_power_are_asked_for_one_by_one_and_kept() {
    let server = Server::start([]);
    server.then([
        Canned::json(&power_reply("2014-04-01T00:00:00Z", 7 * 24)),
        Canned::json(&power_reply("2015-04-01T00:00:00Z", 7 * 24)),
    ]);
    let folder = tempfile::tempdir().unwrap();
    let site = asking(&server, &[]);
    let home = folder.path().join("home").to_str().unwrap().to_owned();
    let env = [("FAIRSEAM_HOME", home.as_str()), ("FAIRSEAM_NOW", "2026-01-05T12:00:00Z")];
    let arguments = ["outlook", "site.toml", "--years", "2014..2015", "--format", "json"];
    let first = run(&arguments, &[("site.toml", &site)], &env);
    assert_eq!(first.code, 0, "{}", first.shown());
    let outlook: Value = serde_json::from_str(&first.stdout).unwrap();
    let found = &outlook["sites"][0];
    assert_eq!(found["record"]["years"].as_array().unwrap().len(), 2);
    // 2014: April 1 to 4 and Monday 7; 2015: Wednesday 1 to 3, Monday 6 and Tuesday 7.
    assert_eq!(found["record"]["whole"]["covered"], 10);
    assert!(found["attribution"].as_str().unwrap().contains("POWER"));
    let asked: Vec<String> = server.asked().into_iter().map(|asked| asked.path).collect();
    assert_eq!(asked.len(), 2);
    assert!(asked.iter().all(|path| path.starts_with("/api/temporal/hourly/point?")), "{asked:?}");
    // The days around each year come with it.
    assert!(asked[0].contains("start=20131230&end=20150103"), "{asked:?}");
    assert!(asked[1].contains("start=20141230&end=20160103"), "{asked:?}");
    assert!(
        asked
            .iter()
            .all(|path| path.contains("time-standard=UTC") && path.contains("latitude=40.6925"))
    );
    // Kept replies serve the next run, and one without a network.
    for more in [&[][..], &["--offline"]] {
        let again = [&arguments[..], more].concat();
        let again = run(&again, &[("site.toml", &site)], &env);
        assert_eq!((again.code, &again.stdout), (0, &first.stdout), "{}", again.shown());
    }
    assert_eq!(server.asked().len(), 2);
}

#[test]
fn a_year_that_the_archive_refuses_is_told_and_the_others_are_shown() {
    let server = Server::start([]);
    server.then([
        Canned::new(
            "422 Unprocessable Entity",
            "application/json",
            br#"{"messages":["the end is beyond the data"]}"#,
        ),
        Canned::json(&power_reply("2015-04-01T00:00:00Z", 7 * 24)),
    ]);
    let (outcome, outlook) = look(&asking(&server, &[]), "2014..2015", &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let notes = outlook["sites"][0]["notes"].to_string();
    assert!(notes.contains("2014: could not be had from NASA POWER"), "{notes}");
    assert!(notes.contains("422") && notes.contains("the end is beyond the data"), "{notes}");
    assert_eq!(outlook["sites"][0]["record"]["years"].as_array().unwrap().len(), 1);
    // With not one year there is no outlook.
    server.then([Canned::bare("404 Not Found")]);
    let (outcome, _) = look(&asking(&server, &[]), "2014", &[]);
    assert_eq!(outcome.code, 1);
    assert!(
        outcome.stderr.contains("2014: could not be had from NASA POWER"),
        "{}",
        outcome.stderr
    );
}

/// A reply of Open-Meteo's archive in its documented shape, with invented numbers.
fn open_meteo_reply(from: &str, hours: i64) -> String {
    let from: DateTime<Utc> = from.parse().unwrap();
    let times: Vec<_> =
        (0..hours).map(|n| (from + TimeDelta::hours(n)).timestamp().to_string()).collect();
    let air: Vec<_> = (0..hours).map(|n| format!("{}", 10 + n % 24 / 2)).collect();
    let flat = |value: &str| vec![value; times.len()].join(",");
    format!(
        "{{\"latitude\":40.7,\"longitude\":-74.2,\"utc_offset_seconds\":0,\"timezone\":\"GMT\",\"elevation\":3.0,\
         \"hourly_units\":{{\"time\":\"unixtime\",\"temperature_2m\":\"°C\",\"dew_point_2m\":\"°C\",\"precipitation\":\"mm\",\"cloud_cover\":\"%\",\"wind_speed_10m\":\"m/s\"}},\
         \"hourly\":{{\"time\":[{}],\"temperature_2m\":[{}],\"dew_point_2m\":[{}],\"precipitation\":[{}],\"cloud_cover\":[{}],\"wind_speed_10m\":[{}]}}}}",
        times.join(","),
        air.join(","),
        flat("-3"),
        flat("0"),
        flat("30"),
        flat("3"),
    )
}

#[test]
fn open_meteos_archive_is_asked_where_the_site_names_open_meteo() {
    let server = Server::start([]);
    server.then([Canned::json(&open_meteo_reply("2015-04-01T00:00:00Z", 7 * 24))]);
    let site = asking(&server, &[("weather.source", "\"open-meteo\"")]);
    let (outcome, outlook) = look(&site, "2015", &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    assert_eq!(outlook["sites"][0]["record"]["whole"]["covered"], 5);
    assert!(outlook["sites"][0]["attribution"].as_str().unwrap().contains("Copernicus"));
    let asked = &server.asked()[0].path;
    assert!(
        asked.starts_with("/v1/archive?")
            && asked.contains("start_date=2014-12-30&end_date=2016-01-03"),
        "{asked}"
    );
    // Its free host is asked on its terms only.
    let site = example_site(&[("weather.source", "\"open-meteo\"")]);
    let (outcome, _) = look(&site, "2015", &[]);
    assert!(outcome.stderr.contains("non-commercial use only"), "{}", outcome.stderr);
}

#[test]
fn years_that_no_archive_has_are_not_asked_for() {
    let server = Server::start([]);
    let site = asking(&server, &[]);
    for (years, expected) in [
        ("1999..2003", "NASA POWER has no 1999: it reaches from 2001 to 2026"),
        ("2025..2027", "NASA POWER has no 2027"),
    ] {
        let (outcome, _) = look(&site, years, &[]);
        assert_eq!(outcome.code, 1);
        assert!(outcome.stderr.contains(expected), "{}", outcome.stderr);
    }
    assert_eq!(server.connections(), 0);
}
