//! The neutral CSV, and files told apart by their content.

use chrono::{DateTime, Utc};
use fairseam::weather::sources::recognize::{Shape, parse_file, shape};
use fairseam::weather::sources::{ParseError, neutral_csv, open_meteo};
use fairseam::weather::{Forecast, Hour};

use crate::proof::{Allowed, Proof};

const NEWARK: &str = include_str!("../fixtures/csv/ewr_2013-09-12.csv");
const SAME_DAY: &str = include_str!("../fixtures/days/obs_2013-09-12_rain_midshift.json");

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn parse(body: &str) -> Result<Forecast, ParseError> {
    neutral_csv::parse_forecast(body.as_bytes(), at("2026-03-01T08:30:00Z"))
}

fn hour(forecast: &Forecast, time: &str) -> Hour {
    *forecast.hour_of(at(time)).unwrap()
}

#[test]
fn rain_and_gusts_of_a_record_belong_to_the_hour_that_ends_at_the_stamp() {
    // Row 2013-09-12T18:00Z: 80.06 °F, dew point 75.02 °F, RH 88.59, 12.66 mph, 0.15 in, no
    // pressure. Row 17:00Z: gust 24.17 mph.
    let forecast = parse(NEWARK).unwrap();
    let six = hour(&forecast, "2013-09-12T18:00:00Z");
    let mut proof = Proof::of(
        "weather/csv",
        "Values of a table of observations, each in its hour",
        "the observed record, read off by eye",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(six.air.unwrap().fahrenheit(), 80.06, || "air".to_owned());
    proof.near(six.dew_point.unwrap().fahrenheit(), 75.02, || "dew point".to_owned());
    proof.near(six.humidity_pct.unwrap(), 88.59, || "humidity".to_owned());
    proof.near(six.wind.unwrap().miles_per_hour(), 12.66, || "wind".to_owned());
    assert_eq!(six.sea_level_pressure_hpa, None);
    let five = hour(&forecast, "2013-09-12T17:00:00Z");
    assert!((five.rain.unwrap().total.inches() - 0.15).abs() < 1e-12);
    proof.near(five.rain.unwrap().total.inches(), 0.15, || "rain".to_owned());
    proof.near(five.sea_level_pressure_hpa.unwrap(), 1010.7, || "pressure".to_owned());
    assert_eq!(five.gust, None, "an empty gust is unknown, not calm");
    let gust = hour(&forecast, "2013-09-12T16:00:00Z").gust.unwrap();
    proof.near(gust.miles_per_hour(), 24.17, || "gust".to_owned());
    proof.done();
}

#[test]
fn the_same_day_in_two_shapes_is_the_same_weather() {
    // The JSON was cut from the same observations, rounded to its service's decimals.
    let csv = parse(NEWARK).unwrap();
    let json = open_meteo::parse_forecast(SAME_DAY.as_bytes(), at("2013-09-12T00:00:00Z")).unwrap();
    let (mut compared, mut rainy) = (0, 0);
    let mut proof = Proof::of(
        "weather/two-shapes",
        "Air and wind of a day from a table and from a reply; the table is read in °F and mph",
        "the same observations, rounded to tenths by others",
        "values",
        Allowed::absolute(0.051, "°F or mph"),
    );
    for row in json.hours().iter().filter(|hour| hour.air.is_some()) {
        let same = csv.hour_of(row.time).unwrap();
        let [air, of_row] = [same.air, row.air].map(|air| air.unwrap().fahrenheit());
        proof.near(air, of_row, || row.time.to_string());
        let [wind, of_row] = [same.wind, row.wind].map(|wind| wind.unwrap().miles_per_hour());
        proof.near(wind, of_row, || row.time.to_string());
        compared += 1;
        // The rain of the last hour is stamped with its end, which the JSON does not reach.
        let Some(rain) = row.rain else { continue };
        let difference = same.rain.unwrap().total.inches() - rain.total.inches();
        assert!(difference.abs() < 1e-9, "{}", row.time);
        rainy += 1;
    }
    assert_eq!((compared, rainy), (24, 23));
    proof.done();
}

#[test]
fn columns_are_found_by_name_in_any_order_and_any_unit() {
    let body = "\u{feff}note, Precip_MM ,wind_ms,TIME_UTC,temp_c,gust_kn,snow_cm,cloud_pct\r\n\
                x,1.5,3,2026-03-01T06:00:00+00:00,-2.5,36,0.7,90\r\n\
                y,,nan,2026-03-01 07:00,-2,,,\r\n";
    let forecast = parse(body).unwrap();
    let six = hour(&forecast, "2026-03-01T06:00:00Z");
    assert_eq!(six.air.unwrap().celsius(), -2.5);
    assert_eq!(six.wind.unwrap().meters_per_second(), 3.0);
    assert_eq!(six.cloud_cover_pct, Some(90.0));
    let five = hour(&forecast, "2026-03-01T05:00:00Z");
    assert_eq!(five.rain.unwrap().total.millimeters(), 1.5);
    assert_eq!(five.snow.unwrap().total.millimeters(), 7.0);
    assert!((five.gust.unwrap().meters_per_second() - 18.52).abs() < 1e-9, "36 kn");
    assert_eq!(hour(&forecast, "2026-03-01T07:00:00Z").wind, None);
}

#[test]
fn a_missing_hour_is_there_and_unknown() {
    let without = NEWARK.lines().filter(|line| !line.contains("T12:00")).collect::<Vec<_>>();
    let forecast = parse(&without.join("\n")).unwrap();
    assert_eq!(hour(&forecast, "2013-09-12T12:00:00Z").air, None);
    assert!(forecast.air_at(at("2013-09-12T12:00:00Z")).is_some(), "one hole is bridged");
}

#[test]
fn what_is_wrong_is_named_with_its_line() {
    let error = |body: &str| parse(body).unwrap_err().to_string();
    assert_eq!(
        error("time_utc,temp_c\n2026-03-01T06:00Z,warm\n"),
        "`temp_c` is \"warm\" in line 2; expected a number, or nothing where unknown"
    );
    assert_eq!(
        error("time_utc,temp_c\n2026-03-01T06:00Z,1\n2026-03-01T06:51:00Z,2\n"),
        "`time_utc` is \"2026-03-01T06:51:00Z\" in line 3; expected a full hour in UTC like \
         2013-01-01T07:00:00Z"
    );
    assert!(
        error("time_utc,temp_c\n2026-03-01T06:00Z,1\n2026-03-01T06:00Z,2\n").contains("line 3")
    );
    assert_eq!(
        error("time_utc,temp_k\n2026-03-01T06:00Z,280\n"),
        "expected a column `temp_f` or `temp_c` in the CSV file's header, found none"
    );
    assert!(error("time_utc,temp_c,temp_f\n").contains("keep one of them"));
    assert!(error("time_utc,temp_c\n2026-03-01T06:00Z,1,2\n").contains("line: 2"));
    assert_eq!(
        error("time_utc,temp_c\n2026-03-01T06:00Z,71\n"),
        "`temp_c` is 71 °C at 2026-03-01 06:00:00 UTC; expected -90 to 60 °C"
    );
    assert!(error("time_utc,temp_c\n").contains("expected at least one row"));
    let far = "time_utc,temp_c\n2000-01-01T00:00Z,1\n2026-01-01T00:00Z,1\n";
    assert!(error(far).contains("at most three years"));
}

#[test]
fn a_file_is_recognized_by_its_content() {
    for (body, expected) in [
        (SAME_DAY, Shape::OpenMeteo),
        (include_str!("../fixtures/open-meteo/invented_two_models_iso.json"), Shape::OpenMeteo),
        (include_str!("../fixtures/nws/LZK_83_73.grid.json"), Shape::NwsGrid),
        (include_str!("../fixtures/nws/MTR_90_105.hourly.json"), Shape::NwsHourly),
        (include_str!("../fixtures/met-norway/invented_complete.json"), Shape::MetNorway),
        (NEWARK, Shape::Csv),
    ] {
        assert_eq!(shape(body.as_bytes()), Ok(expected));
        let forecast = parse_file(body.as_bytes(), at("2026-03-01T08:30:00Z")).unwrap();
        assert_eq!(forecast.provenance.source, "file");
        assert_eq!(forecast.provenance.fetched_at, at("2026-03-01T08:30:00Z"));
        assert!(forecast.hours().iter().any(|hour| hour.air.is_some()));
    }
}

#[test]
fn a_file_of_another_kind_is_refused_with_what_it_looks_like() {
    let error = |body: &str| shape(body.as_bytes()).unwrap_err().to_string();
    let point = include_str!("../fixtures/nws/LZK_83_73.point.json");
    assert!(error(point).contains("reply about a point"));
    assert!(error("{}").contains("JSON without `hourly`"));
    assert!(error("date;temp\n").contains("a text that begins with \"date;temp\""));
    assert!(error("<!doctype html><title>Login</title>").contains("titled \"Login\""));
    assert!(error("{\"hourly\":{\"time\":[1").contains("cut short"));
    assert!(error("").contains("empty"));
    let problem = r#"{"title":"Unexpected Problem","status":500,"detail":"An unexpected problem has occurred."}"#;
    assert!(error(problem).contains("An unexpected problem has occurred."));
}
