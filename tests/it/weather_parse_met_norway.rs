//! MET Norway's reply, against numbers read off the fixture by hand.

use chrono::{DateTime, Utc};
use fairseam::units::Length;
use fairseam::weather::sources::{ParseError, met_norway};
use fairseam::weather::{Forecast, Hour, Place};
use url::Url;

use crate::proof::{Allowed, Proof};

const COMPLETE: &str = include_str!("../fixtures/met-norway/invented_complete.json");

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn parse(body: &str) -> Result<Forecast, ParseError> {
    met_norway::parse_forecast(body.as_bytes(), at("2026-03-01T08:30:00Z"))
}

fn hour(forecast: &Forecast, time: &str) -> Hour {
    *forecast.hour_of(at(&format!("2026-03-{time}:00:00Z"))).unwrap()
}

#[test]
fn rain_belongs_to_the_hour_that_begins_at_the_stamp() {
    let forecast = parse(COMPLETE).unwrap();
    let nine = hour(&forecast, "01T09");
    assert_eq!(nine.air.unwrap().celsius(), 2.7);
    assert_eq!(nine.dew_point.unwrap().celsius(), -1.5);
    assert_eq!(nine.humidity_pct, Some(73.6));
    assert_eq!(nine.wind.unwrap().meters_per_second(), 2.5);
    assert_eq!(nine.gust.unwrap().meters_per_second(), 6.6);
    assert_eq!(nine.cloud_cover_pct, Some(58.0));
    assert_eq!(nine.sea_level_pressure_hpa, Some(1020.5));
    let rain = nine.rain.unwrap();
    assert_eq!((rain.total.millimeters(), rain.over_hours), (0.3, 1));
    assert_eq!(nine.precipitation_probability_pct, Some(61.0));
    assert_eq!(nine.thunder_probability_pct, Some(0.1));
    assert_eq!(nine.thunder_named, Some(false));
    assert_eq!(hour(&forecast, "01T10").gust, None, "a missing key is unknown");
}

#[test]
fn six_hour_totals_follow_the_hourly_ones_and_never_overlap() {
    // next_1_hours until 12:00; then 12:00 with 3.0 mm and 18:00 with 0.0 mm in six hours each.
    let forecast = parse(COMPLETE).unwrap();
    let mut proof = Proof::of(
        "weather/met-norway",
        "Totals of one and of six hours, without overlap",
        "invented numbers in the shape that MET Norway documents, read off by eye",
        "hours",
        Allowed::Nothing,
    );
    for (time, total, over_hours) in
        [("11", 0.0, 1), ("12", 3.0, 6), ("17", 3.0, 6), ("18", 0.0, 6), ("23", 0.0, 6)]
    {
        let rain = hour(&forecast, &format!("01T{time}")).rain.unwrap();
        let got = (rain.total.millimeters(), rain.over_hours);
        proof.same(&got, &(total, over_hours), || time.to_owned());
    }
    proof.done();
    assert_eq!(hour(&forecast, "01T12").rain.unwrap().share.millimeters(), 0.5);
    assert_eq!(hour(&forecast, "01T17").thunder_named, Some(true), "rainshowersandthunder");
    assert_eq!(hour(&forecast, "01T17").air, None, "between steps of six hours");
    let last = hour(&forecast, "02T00");
    assert_eq!((last.air.unwrap().celsius(), last.rain), (1.0, None));
    // The sum of all shares is that of the totals used: 0.3 + 0 + 0 + 3.0 + 0.
    let shares = forecast.hours().iter().filter_map(|hour| hour.rain);
    let sum: f64 = shares.map(|rain| rain.share.millimeters()).sum();
    assert!((sum - 3.3).abs() < 1e-9, "{sum}");
}

#[test]
fn late_hourly_steps_without_next_1_hours_count_one_six_hour_total() {
    let step = |time: u32, six: f64| {
        format!(
            r#"{{"time":"2026-03-01T{time:02}:00:00Z","data":{{"instant":{{"details":{{"air_temperature":1.0}}}},
            "next_6_hours":{{"details":{{"precipitation_amount":{six:.1}}}}}}}}}"#
        )
    };
    let steps: Vec<String> = (6..14).map(|time| step(time, f64::from(time))).collect();
    let body = format!(r#"{{"properties":{{"timeseries":[{}]}}}}"#, steps.join(","));
    let forecast = parse(&body).unwrap();
    // 06:00 covers until 12:00, then 12:00 until 18:00: 6.0 + 12.0 mm.
    let shares = forecast.hours().iter().filter_map(|hour| hour.rain);
    let sum: f64 = shares.map(|rain| rain.share.millimeters()).sum();
    assert!((sum - 18.0).abs() < 1e-9, "{sum}");
}

#[test]
fn provenance_has_the_issue_time_and_the_credit() {
    let provenance = parse(COMPLETE).unwrap().provenance;
    assert_eq!(provenance.issued_at, Some(at("2026-03-01T08:04:26Z")));
    assert_eq!(provenance.source, "met-norway");
    assert!(provenance.attribution.contains("Data from MET Norway"));
    assert!(provenance.attribution.contains("CC BY 4.0"));
}

#[test]
fn what_is_wrong_is_named() {
    let with = |from: &str, to: &str| {
        assert!(COMPLETE.contains(from), "{from}");
        parse(&COMPLETE.replacen(from, to, 1)).unwrap_err().to_string()
    };
    assert_eq!(
        with("\"wind_speed\":\"m/s\"", "\"wind_speed\":\"bft\""),
        "`wind_speed` is in the unit \"bft\"; expected one of m/s, km/h, mp/h, kn"
    );
    assert_eq!(
        with("\"relative_humidity\":73.6", "\"relative_humidity\":736"),
        "`relative_humidity` is 736 % at 2026-03-01 09:00:00 UTC; expected 0 to 100 %"
    );
    assert!(with("T09:00:00Z", "T09:15:00Z").contains("expected full hours"));
    assert!(with("T10:00:00Z", "T08:00:00Z").contains("each later than the one before"));
    assert!(with("\"timeseries\"", "\"series\"").contains("expected `properties.timeseries`"));
    assert!(parse(&COMPLETE.replace("air_temperature", "x")).is_err());
}

#[test]
fn the_address_has_four_decimals_and_whole_meters() {
    let base = Url::parse(met_norway::BASE).unwrap();
    let place = Place {
        latitude_deg: 59.933_34,
        longitude_deg: 10.716_60,
        elevation: Some(Length::from_meters(90.4)),
    };
    assert_eq!(
        met_norway::forecast_url(&base, &place).as_str(),
        "https://api.met.no/weatherapi/locationforecast/2.0/complete?lat=59.9333&lon=10.7166&altitude=90"
    );
}
