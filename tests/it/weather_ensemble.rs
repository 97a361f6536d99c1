//! An ensemble's reply, against numbers read off the fixture by hand.

use chrono::{DateTime, Utc};
use fairseam::weather::sources::open_meteo::{self, Member};
use fairseam::weather::sources::recognize::{Shape, parse_file, shape};
use fairseam::weather::sources::{ParseError, nws};
use fairseam::weather::{Forecast, Place};
use url::Url;

use super::weather_asking::OPEN_METEO;
use super::weather_server::ENSEMBLE;

use crate::proof::{Allowed, Proof};

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn parse(body: &str) -> Result<Vec<Member>, ParseError> {
    open_meteo::parse_ensemble(body.as_bytes(), at("2026-01-01T09:30:00Z"))
}

fn file(body: &str) -> Forecast {
    parse_file(body.as_bytes(), at("2026-01-01T09:30:00Z")).unwrap()
}

/// Hour of the day in UTC and °C of every value of a member.
fn celsius(member: &Member) -> Vec<(String, f64)> {
    let row = |(time, air): &(DateTime<Utc>, fairseam::units::Temperature)| {
        (time.format("%H:%M").to_string(), air.celsius())
    };
    member.iter().map(row).collect()
}

fn rows(rows: &[(&str, f64)]) -> Vec<(String, f64)> {
    rows.iter().map(|(time, air)| ((*time).to_owned(), *air)).collect()
}

#[test]
fn the_control_comes_first_and_the_members_by_their_numbers() {
    // 1767261600 is 2026-01-01 10:00 UTC. Member 04 is all null, 05 is not there.
    let members = parse(ENSEMBLE).unwrap();
    assert_eq!(members.len(), 5);
    assert_eq!(members[0][0].0, at("2026-01-01T10:00:00Z"));
    let hours = ["10:00", "11:00", "12:00", "13:00"];
    let mut proof = Proof::of(
        "weather/ensemble",
        "Members of an ensemble in order, with their gaps",
        "invented numbers in the shape that Open-Meteo documents, read off by eye",
        "members",
        Allowed::Nothing,
    );
    for (index, values) in [
        (0, [-0.5, 0.0, 1.0, 1.5]),
        (1, [0.4, 1.0, 2.1, 2.6]),
        (2, [-1.5, -0.9, 0.2, 0.7]),
        (4, [-2.0, -1.8, -1.1, -0.6]),
    ] {
        let expected: Vec<(&str, f64)> = hours.into_iter().zip(values).collect();
        proof.same(&celsius(&members[index]), &rows(&expected), || format!("{index}"));
    }
    let gappy = rows(&[("10:00", -0.7), ("12:00", 0.9)]);
    proof.same(&celsius(&members[3]), &gappy, || "null is unknown".to_owned());
    proof.done();
}

#[test]
fn a_members_unit_is_its_own_and_else_that_of_the_control() {
    let unit = |member: &str, to: &str| {
        let from = format!(",\"temperature_2m_member{member}\":\"°C\"");
        assert!(ENSEMBLE.contains(&from));
        parse(&ENSEMBLE.replacen(&from, to, 1))
    };
    let fahrenheit = unit("06", ",\"temperature_2m_member06\":\"°F\"").unwrap();
    // -2 °F: (-2 - 32) / 1.8 = -18.889 °C.
    assert!((fahrenheit[4][0].1.celsius() + 18.889).abs() < 0.0005);
    assert_eq!(fahrenheit[0][0].1.celsius(), -0.5, "the control stays in its own");
    assert_eq!(unit("06", "").unwrap(), parse(ENSEMBLE).unwrap());
    assert_eq!(
        unit("02", ",\"temperature_2m_member02\":\"°Réaumur\"").unwrap_err().to_string(),
        "`temperature_2m_member02` is in the unit \"°Réaumur\"; expected one of °C, °F, K"
    );
}

#[test]
fn of_several_models_the_first_with_a_member_is_taken() {
    // As a reply for two models: the model's name ends every key.
    let mut body = ENSEMBLE.replace("\"temperature_2m\"", "\"temperature_2m_ncep_gefs025\"");
    for number in ["01", "02", "03", "04", "06"] {
        let key = format!("\"temperature_2m_member{number}");
        body = body.replace(&format!("{key}\""), &format!("{key}_ncep_gefs025\""));
    }
    let other = "\"temperature_2m_other\":[9,9,9,9],\"temperature_2m_member01_other\":[8,8,8,8],";
    let unread = "\"temperature_2m_member00_other\":[null,null,null,null],";
    let at_end = format!("\"dew_point_2m_member07\":[7,7,7,7],{other}\"t\":[]}}}}");
    let body = body.replacen("]}}", &format!("],{at_end}"), 1);
    let body = body.replacen("\"hourly\":{", &format!("\"hourly\":{{{unread}"), 1);
    assert_eq!(parse(&body).unwrap(), parse(ENSEMBLE).unwrap());
    assert_eq!(file(&body).hours(), file(ENSEMBLE).hours());
}

#[test]
fn a_lost_control_is_a_member_less() {
    let body = ENSEMBLE.replacen("[-0.5,0.0,1.0,1.5]", "[null,null,null,null]", 1);
    let members = parse(&body).unwrap();
    assert_eq!(members[..], parse(ENSEMBLE).unwrap()[1..]);
    // As a file it is no forecast then: no member is more likely than another.
    let error = parse_file(body.as_bytes(), at("2026-01-01T09:30:00Z")).unwrap_err().to_string();
    assert!(error.contains("expected a temperature (`temperature_2m`)"), "{error}");
}

#[test]
fn what_is_wrong_is_named() {
    let with = |from: &str, to: &str| {
        assert!(ENSEMBLE.contains(from), "{from}");
        parse(&ENSEMBLE.replacen(from, to, 1)).unwrap_err().to_string()
    };
    assert_eq!(
        with("[0.4,1.0,2.1,2.6]", "[0.4,1.0,1e308,2.6]"),
        "`temperature_2m_member01` is 1e308 °C at 2026-01-01 12:00:00 UTC; expected -90 to 60 °C"
    );
    assert_eq!(
        with("[0.4,1.0,2.1,2.6]", "[0.4,1.0,2.1]"),
        "`hourly.time` has 4 values and `hourly.temperature_2m_member01` has 3; expected as many \
         in both"
    );
    assert!(with("\"time\":[1767261600,", "\"time\":[1767263400,").contains("10:30:00"));
    assert_eq!(
        parse(OPEN_METEO).unwrap_err().to_string(),
        "expected a member of an ensemble (`temperature_2m_member01`) in the reply's `hourly`, \
         found none"
    );
    let refusal = r#"{"error":true,"reason":"No data is available for this location"}"#;
    assert!(parse(refusal).unwrap_err().to_string().contains("No data is available"));
    assert!(matches!(parse(&ENSEMBLE[..700]), Err(ParseError::CutShort { .. })));
    assert!(matches!(parse("<html>"), Err(ParseError::WebPage { .. })));
}

#[test]
fn no_more_members_are_held_than_an_ensemble_can_have() {
    // Each member takes room for every hour of the series, however few values it has.
    let many = |count: usize| {
        let keys: Vec<String> =
            (100..100 + count).map(|n| format!("\"temperature_2m_member{n}\":[1,1,1,1]")).collect();
        let hourly = format!("\"hourly\":{{{},", keys.join(","));
        parse(&ENSEMBLE.replacen("\"hourly\":{", &hourly, 1))
    };
    assert_eq!(many(195).unwrap().len(), 200);
    let error = many(196).unwrap_err().to_string();
    assert!(error.contains("201 members; expected at most 200"), "{error}");
}

#[test]
fn a_saved_ensemble_is_a_forecast_with_members() {
    assert_eq!(shape(ENSEMBLE.as_bytes()), Ok(Shape::OpenMeteo));
    let forecast = file(ENSEMBLE);
    assert_eq!(forecast.provenance.source, "file");
    assert_eq!(forecast.members(), 5);
    let half_past = at("2026-01-01T10:30:00Z");
    // Between -0.5 and 0.0, and in member 01 between 0.4 and 1.0.
    assert!((forecast.air_at(half_past).unwrap().celsius() + 0.25).abs() < 1e-12);
    assert!((forecast.member_air_at(1, half_past).unwrap().celsius() - 0.7).abs() < 1e-12);
    // Member 03 lacks 11:00, which lies between -0.7 and 0.9, and ends at 12:00.
    let bridged = forecast.member_air_at(3, at("2026-01-01T11:00:00Z")).unwrap();
    assert!((bridged.celsius() - 0.1).abs() < 1e-12);
    assert_eq!(forecast.member_air_at(3, at("2026-01-01T13:00:00Z")), None);
    assert_eq!(file(OPEN_METEO).members(), 0, "a forecast has none");
    assert!(nws::parse_hourly(ENSEMBLE.as_bytes(), half_past).is_err());
}

#[test]
fn the_address_asks_one_model_for_the_air_of_the_forecasts_days() {
    let base = Url::parse(open_meteo::ENSEMBLE_FREE_BASE).unwrap();
    let place = Place { latitude_deg: 40.6925, longitude_deg: -74.17, elevation: None };
    let url = open_meteo::ensemble_url(&base, &place);
    assert_eq!(
        url.as_str(),
        "https://ensemble-api.open-meteo.com/v1/ensemble?latitude=40.6925&longitude=-74.17\
         &models=ncep_gefs025&hourly=temperature_2m&timeformat=unixtime&timezone=GMT\
         &past_days=1&forecast_days=8"
    );
    let base = Url::parse("http://127.0.0.1:8080/om/").unwrap();
    assert_eq!(open_meteo::ensemble_url(&base, &place).path(), "/om/v1/ensemble");
}
