//! Replies of two real places, against numbers read off the fixtures by hand.

use chrono::{DateTime, Utc};
use fairseam::weather::sources::{ParseError, nws};
use fairseam::weather::{Forecast, Hour, Place};
use url::Url;

use crate::proof::{Allowed, Proof};

const LITTLE_ROCK: &str = include_str!("../fixtures/nws/LZK_83_73.grid.json");
const LITTLE_ROCK_HOURLY: &str = include_str!("../fixtures/nws/LZK_83_73.hourly.json");
const LITTLE_ROCK_POINT: &str = include_str!("../fixtures/nws/LZK_83_73.point.json");
const OAKLAND: &str = include_str!("../fixtures/nws/MTR_90_105.grid.json");
const OAKLAND_HOURLY: &str = include_str!("../fixtures/nws/MTR_90_105.hourly.json");
const OAKLAND_POINT: &str = include_str!("../fixtures/nws/MTR_90_105.point.json");

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn grid(body: &str) -> Result<Forecast, ParseError> {
    nws::parse_forecast(body.as_bytes(), None, at("2026-04-14T16:20:00Z"))
}

fn hour(forecast: &Forecast, time: &str) -> Hour {
    *forecast.hour_of(at(time)).unwrap()
}

fn near(got: f64, expected: f64) -> bool {
    (got - expected).abs() < 1e-9
}

#[test]
fn layers_are_spread_over_their_intervals() {
    // temperature 16:00/PT1H 2.2222 °C (36 °F), 17:00/PT1H 1.6667 °C (35 °F); dew point 16:00
    // -0.5556 °C (31 °F); RH 81; windSpeed 16:00/PT2H 1.852 km/h, that is 1 kn; skyCover 1.
    let forecast = grid(LITTLE_ROCK).unwrap();
    let four = hour(&forecast, "2026-04-14T16:00:00Z");
    let mut proof = Proof::of(
        "weather/nws-grid",
        "Layers of a grid spread over their intervals",
        "a captured reply of the National Weather Service, read off by eye; NIST811 for knots",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(four.air.unwrap().fahrenheit(), 36.0, || "air at four".to_owned());
    proof.near(four.dew_point.unwrap().fahrenheit(), 31.0, || "dew point".to_owned());
    proof.near(four.humidity_pct.unwrap(), 81.0, || "humidity".to_owned());
    proof.near(four.cloud_cover_pct.unwrap(), 1.0, || "cloud".to_owned());
    let five = hour(&forecast, "2026-04-14T17:00:00Z");
    proof.near(five.air.unwrap().fahrenheit(), 35.0, || "air at five".to_owned());
    let knot = 1852.0 / 3600.0;
    for hour in [four, five] {
        proof.near(hour.wind.unwrap().meters_per_second(), knot, || "wind".to_owned());
        proof.near(hour.gust.unwrap().meters_per_second(), knot, || "gust".to_owned());
    }
    // windGust 18:00/PT1H 5.556 km/h is 3 kn.
    let six = hour(&forecast, "2026-04-14T18:00:00Z");
    proof.near(six.gust.unwrap().meters_per_second(), 3.0 * knot, || "gust at six".to_owned());
    proof.done();
    // An empty layer is unknown.
    assert_eq!(four.thunder_probability_pct, None);
    assert_eq!(four.shortwave_w_m2, None);
}

#[test]
fn rain_is_one_total_shared_among_the_hours_of_its_interval() {
    // quantitativePrecipitation 2026-04-16T17:00/PT6H 0.254 mm, a hundredth of an inch.
    let forecast = grid(LITTLE_ROCK).unwrap();
    let mut proof = Proof::of(
        "weather/nws-rain",
        "Rain of six hours as a total and as an hour's share, mm",
        "captured replies of the National Weather Service, read off by eye",
        "values",
        Allowed::absolute(1e-9, "mm"),
    );
    for time in 17..23 {
        let rain = hour(&forecast, &format!("2026-04-16T{time}:00:00Z")).rain.unwrap();
        assert!(near(rain.total.inches(), 0.01), "{time}");
        proof.near(rain.total.millimeters(), 0.254, || format!("{time}"));
        proof.near(rain.share.millimeters(), 0.254 / 6.0, || format!("{time}"));
        assert_eq!(rain.over_hours, 6, "{time}");
    }
    // Before it, 11:00/PT6H brings nothing: known to be dry.
    let dry = hour(&forecast, "2026-04-16T16:00:00Z").rain.unwrap();
    assert_eq!((dry.total.millimeters(), dry.over_hours), (0.0, 6));
    // The first interval of Oakland, 2026-04-14T02:00/PT4H, is four hours long.
    let forecast = grid(OAKLAND).unwrap();
    assert_eq!(hour(&forecast, "2026-04-14T05:00:00Z").rain.unwrap().over_hours, 4);
    // 2026-04-16T00:00/PT6H 4.064 mm.
    let wet = hour(&forecast, "2026-04-16T05:00:00Z").rain.unwrap();
    proof.near(wet.total.millimeters(), 4.064, || "Oakland".to_owned());
    proof.near(wet.share.millimeters(), 4.064 / 6.0, || "Oakland".to_owned());
    proof.done();
}

#[test]
fn thunder_is_read_from_words_and_from_chances_that_begin_off_the_hour() {
    // weather: thunderstorms 2026-04-16T17:20/PT12H, that is until 05:20; none before and after.
    let little_rock = grid(LITTLE_ROCK).unwrap();
    let mut proof = Proof::of(
        "weather/nws-thunder",
        "Thunder in words and in chances that begin off the hour",
        "captured replies of the National Weather Service, read off by eye",
        "hours",
        Allowed::Nothing,
    );
    for (time, named) in [("16T16", false), ("16T17", true), ("17T05", true), ("17T06", false)] {
        let hour = hour(&little_rock, &format!("2026-04-{time}:00:00Z"));
        proof.same(&hour.thunder_named, &Some(named), || time.to_owned());
    }
    // probabilityOfThunder, without `uom`: 0 until 2026-04-15T12:08:23, then 1 for six hours, then
    // 5. The higher one counts in the hour in which they meet.
    let oakland = grid(OAKLAND).unwrap();
    for (time, chance) in [("15T11", 0.0), ("15T12", 1.0), ("15T17", 1.0), ("15T18", 5.0)] {
        let hour = hour(&oakland, &format!("2026-04-{time}:00:00Z"));
        proof.same(&hour.thunder_probability_pct, &Some(chance), || time.to_owned());
    }
    proof.done();
}

#[test]
fn equal_neighbors_are_merged_by_the_service_and_parted_again() {
    // dewpoint 2026-04-14T02:00/PT8H 8.8889 °C (48 °F), then 10:00/PT1H 8.3333 °C (47 °F).
    let forecast = grid(OAKLAND).unwrap();
    for (time, fahrenheit) in [("02", 48.0), ("09", 48.0), ("10", 47.0)] {
        let dew_point = hour(&forecast, &format!("2026-04-14T{time}:00:00Z")).dew_point.unwrap();
        assert!(near(dew_point.fahrenheit(), fahrenheit), "{time}");
    }
    assert_eq!(forecast.provenance.issued_at, Some(at("2026-04-14T08:36:25Z")));
    assert_eq!(forecast.provenance.source, "nws");
}

#[test]
fn periods_stand_in_for_an_empty_layer_and_for_no_other() {
    let body = OAKLAND.replacen("\"dewpoint\":{", "\"dewpoint\":{\"values\":[]},\"other\":{", 1);
    let now = at("2026-04-14T16:20:00Z");
    assert!(nws::grid_facts(body.as_bytes(), now).unwrap().needs_hourly);
    assert!(!nws::grid_facts(OAKLAND.as_bytes(), now).unwrap().needs_hourly);
    let hourly = Some(OAKLAND_HOURLY.as_bytes());
    let forecast = nws::parse_forecast(body.as_bytes(), hourly, now).unwrap();
    // First period, 08:00-07:00 = 15:00Z: 50 °F, dew point 7.2222 °C (45 °F).
    let first = hour(&forecast, "2026-04-14T15:00:00Z");
    assert!(near(first.dew_point.unwrap().fahrenheit(), 45.0));
    let grid_alone = grid(OAKLAND).unwrap();
    assert_eq!(first.air, hour(&grid_alone, "2026-04-14T15:00:00Z").air);
}

#[test]
fn hourly_periods_mix_fahrenheit_with_celsius() {
    // First period, 10:00-05:00: 16 °F, dew point -12.7778 °C (9 °F), RH 73, "10 mph".
    let body = LITTLE_ROCK_HOURLY.as_bytes();
    let forecast = nws::parse_hourly(body, at("2026-04-14T16:20:00Z")).unwrap();
    let first = hour(&forecast, "2026-04-14T15:00:00Z");
    let mut proof = Proof::of(
        "weather/nws-hourly",
        "An hourly period that mixes °F with °C",
        "a captured reply of the National Weather Service, read off by eye",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(first.air.unwrap().fahrenheit(), 16.0, || "air".to_owned());
    proof.near(first.dew_point.unwrap().fahrenheit(), 9.0, || "dew point".to_owned());
    proof.near(first.humidity_pct.unwrap(), 73.0, || "humidity".to_owned());
    proof.near(first.wind.unwrap().miles_per_hour(), 10.0, || "wind".to_owned());
    proof.done();
    assert_eq!(first.thunder_named, Some(false));
    assert_eq!((first.rain, first.gust, first.cloud_cover_pct), (None, None, None));
    assert_eq!(forecast.hours().len(), 72);
}

#[test]
fn periods_come_in_several_spellings() {
    let period = r#"{"properties":{"updateTime":"2026-04-14T12:00:00Z","periods":[{
        "startTime":"2026-04-14T10:00:00-05:00","endTime":"2026-04-14T11:00:00-05:00",
        "temperature":{"unitCode":"wmoUnit:degC","value":10},"windSpeed":"10 to 15 mph",
        "windGust":{"unitCode":"wmoUnit:km_h-1","value":36},
        "probabilityOfPrecipitation":{"unitCode":"wmoUnit:percent","value":null},
        "shortForecast":"Chance T-storms"}]}}"#;
    let now = at("2026-04-14T16:20:00Z");
    let forecast = nws::parse_hourly(period.as_bytes(), now).unwrap();
    let only = forecast.hours()[0];
    assert!(near(only.air.unwrap().celsius(), 10.0));
    assert!(near(only.wind.unwrap().miles_per_hour(), 15.0), "the upper end");
    assert!(near(only.gust.unwrap().meters_per_second(), 10.0));
    assert_eq!(only.precipitation_probability_pct, None);
    assert_eq!(only.thunder_named, Some(true));
    let half_days = period.replace("T11:00:00-05:00", "T22:00:00-05:00");
    let error = nws::parse_hourly(half_days.as_bytes(), now).unwrap_err().to_string();
    assert!(error.contains("expected periods of one hour"), "{error}");
}

#[test]
fn what_is_wrong_is_named() {
    let with = |from: &str, to: &str| {
        assert!(OAKLAND.contains(from), "{from}");
        grid(&OAKLAND.replacen(from, to, 1)).unwrap_err().to_string()
    };
    let temperature = "\"temperature\":{\"uom\":\"wmoUnit:degC\"";
    assert_eq!(
        with(temperature, "\"temperature\":{\"uom\":\"wmoUnit:rankine\""),
        "`temperature` is in the unit \"wmoUnit:rankine\"; expected one of °C, °F, K"
    );
    assert!(with(temperature, "\"temperature\":{\"uom\":null").contains("\"none given\""));
    assert!(with("/PT1H", "/PT1X").contains("expected an interval like"));
    assert!(with("/PT1H", "/P9000D").contains("at most 31 days"));
    assert_eq!(
        with("\"value\":4.064", "\"value\":-4.064"),
        "`quantitativePrecipitation` is -4.064 wmoUnit:mm at 2026-04-16 00:00:00 UTC; expected 0 to 2000 mm"
    );
    assert!(with(temperature, "\"x\":{\"uom\":null").contains("expected a temperature"));
    assert!(matches!(grid(&OAKLAND[..5000]), Err(ParseError::CutShort { .. })));
}

#[test]
fn a_point_leads_to_its_cell_and_zone() {
    let cell = nws::parse_point(LITTLE_ROCK_POINT.as_bytes()).unwrap();
    assert_eq!((cell.office.as_str(), cell.x, cell.y), ("LZK", 83, 73));
    assert_eq!(cell.time_zone, Some(chrono_tz::America::Chicago));
    let quoted = OAKLAND_POINT.replace("\"gridX\":90", "\"gridX\":\"90\"");
    let cell = nws::parse_point(quoted.as_bytes()).unwrap();
    assert_eq!((cell.office.as_str(), cell.x, cell.y), ("MTR", 90, 105));

    let base = Url::parse("http://127.0.0.1:8080/nws").unwrap();
    let addresses = [nws::grid_url(&base, &cell), nws::hourly_url(&base, &cell)];
    assert_eq!(addresses[0].as_str(), "http://127.0.0.1:8080/nws/gridpoints/MTR/90,105");
    assert_eq!(
        addresses[1].as_str(),
        "http://127.0.0.1:8080/nws/gridpoints/MTR/90,105/forecast/hourly"
    );
    let place = Place { latitude_deg: 34.70, longitude_deg: -92.275, elevation: None };
    assert_eq!(
        nws::point_url(&base, &place).as_str(),
        "http://127.0.0.1:8080/nws/points/34.7,-92.275"
    );
}

#[test]
fn an_office_that_is_no_plain_name_never_reaches_an_address() {
    let trap = OAKLAND_POINT.replace("\"gridId\":\"MTR\"", "\"gridId\":\"../../x\"");
    assert!(nws::parse_point(trap.as_bytes()).is_err());
    let at_sea = OAKLAND_POINT.replace("\"gridX\":90", "\"gridX\":null");
    assert!(nws::parse_point(at_sea.as_bytes()).is_err());
}

#[test]
fn coverage_is_the_states_and_territories() {
    // Positions from an atlas, to the nearest degree.
    let mut proof = Proof::of(
        "weather/nws-coverage",
        "Whether the National Weather Service covers a place",
        "an atlas",
        "places",
        Allowed::Nothing,
    );
    for (latitude_deg, longitude_deg, inside, name) in [
        (35.0, -92.0, true, "Little Rock"),
        (61.0, -150.0, true, "Anchorage"),
        (21.0, -158.0, true, "Honolulu"),
        (18.4, -66.1, true, "San Juan"),
        (13.4, 144.8, true, "Guam"),
        (-14.3, -170.7, true, "Pago Pago"),
        (60.0, 11.0, false, "Oslo"),
        (53.0, 13.0, false, "Berlin"),
        (-34.0, 151.0, false, "Sydney"),
    ] {
        let place = Place { latitude_deg, longitude_deg, elevation: None };
        proof.same(&nws::in_coverage(&place), &inside, || name.to_owned());
    }
    proof.done();
}
