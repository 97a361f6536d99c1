//! Every way in which the three services have been seen to misbehave, and the test that holds fairseam
//! to it. What stands without a file is below.
//!
//! Open-Meteo
//!
//! | what it does | held by |
//! |---|---|
//! | nulls at the end of the last day, or from the end of a short model on | `nulls_are_unknown_…` |
//! | nulls inside a series while models update | `nulls_are_unknown_…` |
//! | a variable the model does not have: all null, unit `undefined`, status 200 | `a_variable_without_a_unit_…` |
//! | frozen data under a new fetch, without an issue time | `frozen_data_…` |
//! | an error text that ends the body of a 200 | `an_error_that_ends_a_good_body_…` |
//! | 200 with an empty body; 502 and 504 as HTML | `weather_trouble` |
//! | 429 with its reason, no `Retry-After` | `weather_trouble` |
//! | one offset for the whole reply; no RFC 3339 stamps | `weather_parse_open_meteo` |
//! | an array for several places; keys with the model's name | `weather_parse_open_meteo` |
//! | `elevation` absent at sea; arrays of another length | `lengths_that_differ_…`, `without_an_elevation_…` |
//! | `azimuth`, `cell_selection`, `inch` that mean other things than they seem to | not asked for: `what_is_asked_…` |
//! | an archive that lags and has no chances | `weather_years` |
//!
//! National Weather Service
//!
//! | what it does | held by |
//! |---|---|
//! | 301 with a relative `Location` and a body that is a problem | `weather_client` |
//! | a cell that moves: 404 | `weather_client`; for good: `a_cell_that_stays_gone_…` |
//! | an unknown query parameter: 400 | none is sent: `what_is_asked_…` |
//! | old forecasts from the edge of its network, by `Accept` | `weather_second_opinion` |
//! | `Last-Modified` ahead of `Date` | `a_last_modified_in_the_future_…` |
//! | `max-age` and `s-maxage` together | `weather_client` |
//! | 500, 502, 503 in a row, then an answer | `the_third_try_…` |
//! | 403 and 503 as HTML; problems as JSON | `a_refusal_in_html_…`, `a_problem_is_told_…` |
//! | layers without unit and values; values that are arrays | `weather_parse_nws`, `weather_client` |
//! | hourly and twelve-hour products that disagree | the latter are never asked for |
//! | °F beside °C in one object; totals over six hours | `weather_parse_nws` |
//!
//! MET Norway
//!
//! | what it does | held by |
//! |---|---|
//! | a last row with only its instant; hours that turn six-hourly | `the_last_row_…`, `weather_parse_met_norway` |
//! | totals that overlap | `weather_parse_met_norway` |
//! | no gusts and no chances outside the Nordics, no snow, no radiation | `what_it_does_not_have_…` |
//! | 203, 304, 403, 429 | `weather_trouble`, `weather_client` |
//! | 400 as HTML, 422 outside its area | `a_request_it_does_not_like_…` |
//! | `compact` without dew points | `complete` is asked for: `what_is_asked_…` |

use fairseam::weather::{Place, Source};

use super::weather_asking::{
    Asker, GRID, LITTLE_ROCK, MET_NORWAY, OPEN_METEO, OSLO, POINT, is_minutes, noon,
};
use super::weather_server::{Canned, Server};

const GRID_PATH: &str = "/gridpoints/LZK/83,73";

/// The fixture with some of its JSON changed.
fn changed(text: &str, change: impl Fn(&mut serde_json::Value)) -> String {
    let mut json = serde_json::from_str(text).unwrap();
    change(&mut json);
    json.to_string()
}

#[test]
fn nulls_are_unknown_at_the_end_and_inside_and_never_zero() {
    let body = changed(OPEN_METEO, |json| {
        for (name, series) in json["hourly"].as_object_mut().unwrap() {
            if name != "time" {
                series[2] = serde_json::Value::Null;
            }
        }
        json["hourly"]["weather_code"][0] = serde_json::Value::Null;
    });
    let server = Server::start([Canned::json(&body)]);
    let answer = Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).unwrap();
    let hour = |at: i64| answer.forecast.hour_of(chrono::DateTime::from_timestamp(at, 0).unwrap());
    let last = hour(1_767_268_800);
    assert!(last.is_none_or(|hour| hour.air.is_none() && hour.wind.is_none()), "{last:?}");
    // The sums of that stamp belong to the hour before it.
    let before = hour(1_767_265_200).unwrap();
    assert_eq!((before.rain, before.snow, before.gust), (None, None, None));
    assert_eq!(before.air.map(|air| air.celsius()), Some(0.2));
    let first = hour(1_767_261_600).unwrap();
    assert!(first.air.is_some() && first.thunder_named != Some(true));
}

#[test]
fn a_variable_without_a_unit_is_one_that_the_model_does_not_have() {
    let body = changed(OPEN_METEO, |json| {
        json["hourly_units"]["wind_gusts_10m"] = "undefined".into();
        json["hourly"]["wind_gusts_10m"] = serde_json::json!([null, null, null]);
    });
    let server = Server::start([Canned::json(&body)]);
    let answer = Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).unwrap();
    assert!(answer.forecast.hours().iter().all(|hour| hour.gust.is_none()));
    assert!(answer.forecast.hours().iter().any(|hour| hour.wind.is_some()));
}

/// The service does not say when it issued a forecast, so nobody can tell: it is as good as new, and
/// a follower takes the same values for no news.
#[test]
fn frozen_data_is_taken_for_what_it_says() {
    let server = Server::start([Canned::json(OPEN_METEO), Canned::json(OPEN_METEO)]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let first = asker.ask(0).unwrap();
    let second = asker.ask(61).unwrap();
    assert_eq!(first.forecast.hours(), second.forecast.hours());
    assert_eq!(second.forecast.provenance.issued_at, None, "nothing is made up");
    assert!(is_minutes(second.forecast.provenance.fetched_at, 61));
}

#[test]
fn an_error_that_ends_a_good_body_costs_nothing_that_is_kept() {
    let half = &OPEN_METEO[..OPEN_METEO.len() / 2];
    let body = format!("{half}Unexpected error while streaming data: timeoutReached");
    let broken = Canned::json(&body);
    let server = Server::start([Canned::json(OPEN_METEO)]);
    server.then(vec![broken; 3]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let good = asker.ask(0).unwrap();
    let kept = asker.kept();
    let stale = asker.ask(90).unwrap();
    assert!(stale.forecast.provenance.stale);
    assert_eq!(stale.forecast.hours(), good.forecast.hours());
    assert!(stale.warnings[0].contains("streaming"), "in its own words: {:?}", stale.warnings);
    assert_eq!(asker.kept(), kept);
    assert_eq!(server.times_asked("/v1/forecast"), 4, "it is a passing fault: three tries");
}

#[test]
fn lengths_that_differ_are_refused() {
    let body = changed(OPEN_METEO, |json| {
        json["hourly"]["precipitation"].as_array_mut().unwrap().pop();
    });
    let server = Server::start(vec![Canned::json(&body); 3]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let error = asker.ask(0).unwrap_err().to_string();
    assert!(error.contains("precipitation"), "{error}");
    assert_eq!(asker.kept(), []);
}

#[test]
fn without_an_elevation_there_is_a_forecast() {
    let body = changed(OPEN_METEO, |json| {
        json.as_object_mut().unwrap().remove("elevation");
    });
    let server = Server::start([Canned::json(&body)]);
    assert!(Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).is_ok());
}

#[test]
fn what_is_asked_for_avoids_what_is_known_to_mislead() {
    let server = Server::start([Canned::json(OPEN_METEO)]);
    Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).unwrap();
    let asked = &server.asked()[0].path;
    for wanted in ["timeformat=unixtime", "timezone=GMT"] {
        assert!(asked.contains(wanted), "{asked}");
    }
    for misleading in ["azimuth", "tilt", "cell_selection", "inch", "current=", "daily="] {
        assert!(!asked.contains(misleading), "{asked}");
    }
    // More than four decimals are a redirect at the NWS and a refusal at MET Norway.
    let long = Place { latitude_deg: 34.749_012_3, longitude_deg: -92.275_04, elevation: None };
    let server = Server::start([Canned::json(POINT), Canned::json(GRID)]);
    Asker::new(Source::Nws, long, &server).ask(0).unwrap();
    let asked: Vec<String> = server.asked().into_iter().map(|asked| asked.path).collect();
    assert_eq!(asked, ["/points/34.749,-92.275", GRID_PATH], "and no query");
    let server = Server::start([Canned::json(MET_NORWAY)]);
    Asker::new(Source::MetNorway, long, &server).ask(0).unwrap();
    let asked = &server.asked()[0].path;
    assert!(asked.starts_with("/weatherapi/locationforecast/2.0/complete?lat=34.749&"), "{asked}");
}

#[test]
fn a_last_modified_in_the_future_is_sent_back_as_it_came_and_never_for_long() {
    let ahead = httpdate::fmt_http_date((noon() + chrono::TimeDelta::hours(9)).into());
    let grid = || {
        Canned::json(GRID)
            .header("Last-Modified", &ahead)
            .header("Cache-Control", "public, max-age=1800, s-maxage=3600")
    };
    let server = Server::start([Canned::json(POINT), grid()]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    let grids = || {
        let asked = server.asked().into_iter().filter(|asked| asked.path == GRID_PATH);
        asked.map(|asked| asked.header("If-Modified-Since").map(str::to_owned)).collect::<Vec<_>>()
    };
    asker.ask(0).unwrap();
    // By that stamp nothing is modified for nine hours. The copy is confirmed, with the very string,
    // as long as its body was sent less than three hours ago.
    server.then(vec![Canned::bare("304 Not Modified"); 2]);
    for minutes in [70, 140] {
        asker.ask(minutes).unwrap();
        assert_eq!(grids().last().unwrap().as_deref(), Some(ahead.as_str()), "{minutes}");
    }
    server.then([grid()]);
    let renewed = asker.ask(210).unwrap();
    assert_eq!(grids().last(), Some(&None), "a whole one");
    assert!(is_minutes(renewed.forecast.provenance.fetched_at, 210));
    assert_eq!(server.times_asked(GRID_PATH), 4);
}

#[test]
fn a_cell_that_stays_gone_is_looked_up_once_and_told() {
    let gone = r#"{"type":"https://api.weather.gov/problems/MarineForecastNotSupported","title":"Marine Forecast Not Supported","status":404,"detail":"Forecasts for marine areas are not yet supported by this API"}"#;
    let gone = || Canned::new("404 Not Found", "application/problem+json", gone.as_bytes());
    let server = Server::start([Canned::json(POINT), gone(), Canned::json(POINT), gone()]);
    let error = Asker::new(Source::Nws, LITTLE_ROCK, &server).ask(0).unwrap_err().to_string();
    assert!(error.contains("404") && error.contains("marine"), "{error}");
    assert!(server.connections() <= 4, "{:?}", server.paths());
}

#[test]
fn the_third_try_at_the_nws_counts() {
    let expired = r#"{"type":"https://api.weather.gov/problems/ForecastGridExpired","title":"Forecast Grid Expired","status":503,"detail":"The requested forecast grid was issued more than 12 hours ago"}"#;
    let server = Server::start([
        Canned::json(POINT),
        Canned::new("503 Service Unavailable", "application/problem+json", expired.as_bytes()),
        Canned::bare("502 Bad Gateway"),
        Canned::json(GRID),
    ]);
    let answer = Asker::new(Source::Nws, LITTLE_ROCK, &server).ask(0).unwrap();
    assert!(!answer.forecast.provenance.stale);
    assert_eq!(server.times_asked(GRID_PATH), 3);
}

#[test]
fn a_problem_is_told_in_the_services_words() {
    let problem = r#"{"correlationId":"23a051dd","title":"Unexpected Problem","type":"https://api.weather.gov/problems/UnexpectedProblem","status":500,"detail":"An unexpected problem has occurred."}"#;
    let problem =
        Canned::new("500 Internal Server Error", "application/problem+json", problem.as_bytes());
    let server = Server::start([Canned::json(POINT)]);
    server.then(vec![problem; 3]);
    let error = Asker::new(Source::Nws, LITTLE_ROCK, &server).ask(0).unwrap_err().to_string();
    assert!(error.contains("An unexpected problem has occurred"), "{error}");
}

#[test]
fn a_refusal_in_html_names_the_contact_and_is_not_repeated() {
    let page =
        b"<HTML><HEAD><TITLE>Access Denied</TITLE></HEAD><BODY>\n<H1>Access Denied</H1></BODY>";
    let server = Server::start([Canned::new("403 Forbidden", "text/html", page)]);
    let error = Asker::new(Source::Nws, LITTLE_ROCK, &server).ask(0).unwrap_err();
    assert!(error.to_string().contains("Access Denied"), "{error}");
    assert!(error.hint().unwrap().contains("contact"), "{:?}", error.hint());
    assert_eq!(server.connections(), 1);
}

#[test]
fn the_last_row_with_only_its_instant_has_no_rain_rather_than_none_falling() {
    let server = Server::start([Canned::json(MET_NORWAY)]);
    let answer = Asker::new(Source::MetNorway, OSLO, &server).ask(0).unwrap();
    let last = answer.forecast.hour_of("2026-03-02T00:00:00Z".parse().unwrap()).unwrap();
    assert_eq!(last.air.map(|air| air.celsius()), Some(1.0));
    assert_eq!((last.rain, last.dew_point, last.wind), (None, None, None));
}

#[test]
fn what_it_does_not_have_outside_the_nordics_is_unknown() {
    let body = changed(MET_NORWAY, |json| {
        for row in json["properties"]["timeseries"].as_array_mut().unwrap() {
            let data = row["data"].as_object_mut().unwrap();
            let instant = data["instant"]["details"].as_object_mut().unwrap();
            instant.remove("wind_speed_of_gust");
            for period in ["next_1_hours", "next_6_hours", "next_12_hours"] {
                if let Some(details) =
                    data.get_mut(period).and_then(|it| it["details"].as_object_mut())
                {
                    details.retain(|name, _| name == "precipitation_amount");
                }
            }
        }
    });
    let server = Server::start([Canned::json(&body)]);
    let answer = Asker::new(Source::MetNorway, OSLO, &server).ask(0).unwrap();
    let hours = answer.forecast.hours();
    assert!(hours.iter().any(|hour| hour.rain.is_some()));
    for hour in hours {
        let chances = (hour.precipitation_probability_pct, hour.thunder_probability_pct);
        assert_eq!(chances, (None, None));
        assert_eq!((hour.gust, hour.snow, hour.shortwave_w_m2), (None, None, None));
    }
}

#[test]
fn a_request_it_does_not_like_is_not_repeated() {
    let page = b"<!DOCTYPE html><html><head><title>400 Bad Request</title></head><body/></html>";
    for (answer, part) in [
        (Canned::new("400 Bad Request", "text/html", page), "400"),
        (Canned::bare("422 Unprocessable Entity"), "422"),
    ] {
        let server = Server::start([answer]);
        let asker = Asker::new(Source::MetNorway, OSLO, &server);
        let error = asker.ask(0).unwrap_err().to_string();
        assert!(error.contains(part) && !error.contains('\n'), "{error}");
        assert_eq!((server.connections(), asker.kept().len()), (1, 0));
    }
}
