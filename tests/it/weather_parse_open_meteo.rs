//! Open-Meteo's reply, against numbers read off the fixture by hand.

use chrono::{DateTime, Utc};
use fairseam::units::{Length, Temperature, WindSpeed};
use fairseam::weather::sources::{ParseError, open_meteo};
use fairseam::weather::{Forecast, Hour, Place};
use url::Url;

use crate::proof::{Allowed, Proof};

const THREE_HOURS: &str = include_str!("../fixtures/open-meteo/invented_three_hours.json");
const TWO_MODELS: &str = include_str!("../fixtures/open-meteo/invented_two_models_iso.json");
const RAIN_MIDSHIFT: &str = include_str!("../fixtures/days/obs_2013-09-12_rain_midshift.json");
const CLOCK_CHANGE: &str =
    include_str!("../fixtures/days/obs_2013-03-09_dst_start_asked_day_before.json");

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn parse(body: &str) -> Result<Forecast, ParseError> {
    open_meteo::parse_forecast(body.as_bytes(), at("2026-01-01T09:30:00Z"))
}

fn hour(forecast: &Forecast, time: &str) -> Hour {
    *forecast.hour_of(at(time)).unwrap()
}

#[test]
fn sums_belong_to_the_hour_before_the_stamp_and_instants_to_the_stamp() {
    // The fixture's stamps are 10, 11 and 12 UTC on 2026-01-01 (1767261600 = 10:00).
    let forecast = parse(THREE_HOURS).unwrap();
    assert_eq!(forecast.hours().len(), 4, "9 to 12 UTC");
    let nine = hour(&forecast, "2026-01-01T09:00:00Z");
    assert_eq!(nine.air, None);
    assert_eq!(nine.rain.unwrap().total.millimeters(), 0.10);
    assert_eq!(nine.rain.unwrap().over_hours, 1);
    assert!((nine.snow.unwrap().total.millimeters() - 0.7).abs() < 1e-12, "0.07 cm");
    assert_eq!(nine.gust.unwrap().meters_per_second(), 5.0, "18 km/h");
    assert_eq!(nine.shortwave_w_m2, Some(41.0));
    assert_eq!(nine.precipitation_probability_pct, Some(5.0));

    let ten = hour(&forecast, "2026-01-01T10:00:00Z");
    let mut proof = Proof::of(
        "weather/open-meteo",
        "Every value of an hour",
        "invented numbers in the shape that Open-Meteo documents, read off by eye",
        "values",
        Allowed::Nothing,
    );
    for (name, got, expected) in [
        ("air", ten.air.map(Temperature::celsius), -0.4),
        ("dew point", ten.dew_point.map(Temperature::celsius), -1.4),
        ("humidity", ten.humidity_pct, 93.0),
        ("wind", ten.wind.map(WindSpeed::meters_per_second), 3.21),
        ("cloud", ten.cloud_cover_pct, 100.0),
        ("surface pressure", ten.surface_pressure_hpa, 1009.1),
        ("sea level pressure", ten.sea_level_pressure_hpa, 1013.8),
    ] {
        proof.same(&got, &Some(expected), || name.to_owned());
    }
    proof.done();
    assert_eq!(ten.thunder_named, Some(false), "code 71 is snow");
    assert_eq!(ten.rain.unwrap().total.millimeters(), 0.0);
    assert_eq!(ten.shortwave_w_m2, Some(77.0));
    assert_eq!(ten.precipitation_probability_pct, None, "null is unknown, not zero");

    let last = hour(&forecast, "2026-01-01T12:00:00Z");
    assert_eq!(last.thunder_named, Some(true), "code 95 is a thunderstorm");
    assert_eq!(last.rain, None, "stamped with its end, which the reply does not reach");
}

#[test]
fn provenance_says_what_the_reply_says_and_no_more() {
    let forecast = parse(THREE_HOURS).unwrap();
    assert_eq!(forecast.provenance.source, "open-meteo");
    assert_eq!(forecast.provenance.issued_at, None);
    assert_eq!(forecast.provenance.time_zone, None, "GMT was asked for, not told");
    assert!(forecast.provenance.attribution.contains("https://open-meteo.com/"));
    assert!(forecast.provenance.attribution.contains("CC BY 4.0"));
}

#[test]
fn a_saved_day_in_us_units_is_read_by_its_units_and_its_offset_is_ignored() {
    // Stamp 1379008800 = 2013-09-12 18:00 UTC: 80.1 °F, 0.150 inch in the hour before it.
    let forecast = parse(RAIN_MIDSHIFT).unwrap();
    let at_stamp = hour(&forecast, "2013-09-12T18:00:00Z");
    let mut proof = Proof::of(
        "weather/open-meteo-units",
        "A saved day in U.S. units, rain and gusts in the hour before their stamp",
        "observations in the shape of a reply, read off by eye",
        "values",
        Allowed::absolute(1e-9, ""),
    );
    proof.near(at_stamp.air.unwrap().fahrenheit(), 80.1, || "air".to_owned());
    assert_eq!(at_stamp.rain.unwrap().total.inches(), 0.0);
    let before = hour(&forecast, "2013-09-12T17:00:00Z");
    assert!((before.rain.unwrap().total.inches() - 0.15).abs() < 1e-12);
    proof.near(before.rain.unwrap().total.inches(), 0.15, || "rain".to_owned());
    // 19.6 mp/h at 17:00 itself; the gust of 24.2 mp/h stamped 17:00 blew in the hour before.
    proof.near(before.wind.unwrap().miles_per_hour(), 19.6, || "wind".to_owned());
    let gust = hour(&forecast, "2013-09-12T16:00:00Z").gust.unwrap();
    proof.near(gust.miles_per_hour(), 24.2, || "gust".to_owned());
    proof.done();
    assert_eq!(forecast.provenance.time_zone, Some(chrono_tz::America::New_York));
}

#[test]
fn unix_seconds_are_utc_on_the_day_of_a_clock_change() {
    // The reply names one offset (-18000) for two days, the second of which begins with -4 h.
    // Its first stamp, 1362805200, is 2013-03-09 05:00 UTC whatever the offset.
    let forecast = parse(CLOCK_CHANGE).unwrap();
    let first = forecast.hours().iter().find(|hour| hour.air.is_some()).unwrap();
    assert_eq!(first.time, at("2013-03-09T05:00:00Z"));
}

#[test]
fn of_several_places_the_first_and_of_several_models_the_first_with_temperatures() {
    let forecast = parse(TWO_MODELS).unwrap();
    let ten = hour(&forecast, "2026-03-01T10:00:00Z");
    assert!((ten.air.unwrap().celsius() - 10.0).abs() < 1e-12, "50 °F of the second model");
    assert!((ten.wind.unwrap().meters_per_second() - 4.63).abs() < 1e-12, "9 kn");
    assert!((ten.rain.unwrap().total.millimeters() - 2.54).abs() < 1e-12, "0.10 inch by 11:00");
    assert_eq!(ten.precipitation_probability_pct, Some(20.0), "not taken for precipitation");
}

#[test]
fn local_times_without_offset_are_refused_with_a_remedy() {
    let local = TWO_MODELS.replacen("\"utc_offset_seconds\":0", "\"utc_offset_seconds\":3600", 1);
    let error = parse(&local).unwrap_err();
    assert!(matches!(error, ParseError::LocalTimes { .. }), "{error}");
    assert!(error.to_string().contains("timezone=GMT&timeformat=unixtime"), "{error}");
}

#[test]
fn what_is_wrong_is_named() {
    let with = |from: &str, to: &str| {
        assert!(THREE_HOURS.contains(from), "{from}");
        parse(&THREE_HOURS.replacen(from, to, 1)).unwrap_err().to_string()
    };
    assert_eq!(
        with("[-0.4,0.2,1.1]", "[-0.4,0.2]"),
        "`hourly.time` has 3 values and `hourly.temperature_2m` has 2; expected as many in both"
    );
    assert_eq!(
        with("\"temperature_2m\":\"°C\"", "\"temperature_2m\":\"°Réaumur\""),
        "`temperature_2m` is in the unit \"°Réaumur\"; expected one of °C, °F, K"
    );
    assert_eq!(
        with("[-0.4,0.2,1.1]", "[-0.4,1e308,1.1]"),
        "`temperature_2m` is 1e308 °C at 2026-01-01 11:00:00 UTC; expected -90 to 60 °C"
    );
    assert_eq!(
        with("[0.10,0.00,0.30]", "[-0.10,0.00,0.30]"),
        "`precipitation` is -0.1 mm at 2026-01-01 10:00:00 UTC; expected 0 to 500 mm in an hour"
    );
    assert_eq!(
        with("[-0.4,0.2,1.1]", "[null,null,null]"),
        "expected a temperature (`temperature_2m`) in the reply's `hourly`, found none"
    );
    assert!(with("\"temperature_2m\":[", "\"t2m\":[").contains("expected a temperature"));
    assert!(with("1767265200", "1767263400").contains("2026-01-01T10:30:00+00:00"));
    assert!(with("1767265200", "1767261600").contains("each later than the one before"));
    assert!(with("1767265200,", "").contains("has 2 values"));
    assert!(with("1767265200", "null").contains("unix seconds"));
    assert!(with("-0.4,", "1e999,").contains("number out of range"));
}

#[test]
fn three_hourly_steps_are_refused_since_their_sums_cover_more_than_an_hour() {
    let coarse =
        THREE_HOURS.replace("1767265200", "1767272400").replace("1767268800", "1767283200");
    let error = parse(&coarse).unwrap_err().to_string();
    assert!(error.contains("expected steps of one hour"), "{error}");
}

#[test]
fn error_replies_are_repeated_in_the_services_words() {
    let body = r#"{"reason":"Minutely API request limit exceeded.","error":true}"#;
    assert_eq!(
        parse(body).unwrap_err().to_string(),
        "the reply is an error message of the service: Minutely API request limit exceeded."
    );
}

#[test]
fn a_reply_that_breaks_off_is_told_from_one_that_never_was_json() {
    // What the server appends when it fails in the middle of a reply with status 200.
    let broken = format!("{}Unexpected error while streaming data: x", &THREE_HOURS[..700]);
    let said = "Unexpected error while streaming data: x";
    assert!(matches!(parse(&broken), Err(ParseError::ServiceError { reason }) if reason == said));
    assert!(matches!(parse(&THREE_HOURS[..700]), Err(ParseError::CutShort { .. })));
    assert!(matches!(parse(""), Err(ParseError::Empty)));
    let page = "<html><head><title>502 Bad Gateway</title></head>";
    assert!(parse(page).unwrap_err().to_string().contains("502 Bad Gateway"));
}

#[test]
fn addresses_ask_for_utc_unix_time_and_metric_units() {
    let base = Url::parse(open_meteo::FREE_BASE).unwrap();
    let place = Place {
        latitude_deg: 40.692_500_1,
        longitude_deg: -74.17,
        elevation: Some(Length::from_feet(18.0)),
    };
    let url = open_meteo::forecast_url(&base, &place);
    assert_eq!(url.host_str(), Some("api.open-meteo.com"));
    assert_eq!(url.path(), "/v1/forecast");
    let asked = |name: &str| {
        url.query_pairs().find(|(key, _)| key == name).map(|(_, value)| value.into_owned())
    };
    assert_eq!(asked("latitude").as_deref(), Some("40.6925"));
    assert_eq!(asked("longitude").as_deref(), Some("-74.17"));
    assert_eq!(asked("elevation").as_deref(), Some("5"), "18 ft is 5.5 m");
    assert_eq!(asked("timeformat").as_deref(), Some("unixtime"));
    assert_eq!(asked("timezone").as_deref(), Some("GMT"));
    assert_eq!(asked("wind_speed_unit").as_deref(), Some("ms"));
    assert_eq!(asked("temperature_unit"), None, "Celsius is the default");
}

#[test]
fn a_reply_to_timezone_auto_names_the_zone() {
    let zone = open_meteo::parse_time_zone(RAIN_MIDSHIFT.as_bytes());
    assert_eq!(zone, Ok(Some(chrono_tz::America::New_York)));
    assert_eq!(open_meteo::parse_time_zone(THREE_HOURS.as_bytes()), Ok(None));
    assert!(open_meteo::parse_time_zone(b"{}").is_err());
}
