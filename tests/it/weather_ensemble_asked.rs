//! An ensemble beside the forecast: when it is asked for, and that whatever becomes of it the forecast
//! is there, promptly.

use std::io::{Read, Write};
use std::net::TcpListener;
use std::time::{Duration, Instant};

use fairseam::weather::Source;
use serde_json::{Value, json};

use super::support::{example_site, run};
use super::weather_asking::{Asker, OPEN_METEO, OSLO};
use super::weather_server::{Canned, ENSEMBLE, Server};

const FORECAST_PATH: &str = "/v1/forecast";
const ENSEMBLE_PATH: &str = "/v1/ensemble";

fn forecasts(count: usize) -> Vec<Canned> {
    vec![Canned::json(OPEN_METEO); count]
}

#[test]
fn the_members_come_with_a_new_forecast_and_are_kept_for_three_hours() {
    let server = Server::start(forecasts(4));
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.settings.api_key = Some("secret-key".to_owned());
    for (minutes, asked) in [(0, 1), (59, 1), (61, 1), (122, 1), (179, 1), (183, 2)] {
        let answer = asker.ask(minutes).unwrap();
        assert_eq!(answer.forecast.members(), 5, "after {minutes} minutes");
        assert_eq!(answer.warnings, Vec::<String>::new(), "after {minutes} minutes");
        assert_eq!(server.times_asked(ENSEMBLE_PATH), asked, "after {minutes} minutes");
    }
    assert_eq!(server.times_asked(FORECAST_PATH), 4);
    let first = server.asked().into_iter().find(|asked| asked.path.starts_with(ENSEMBLE_PATH));
    let first = first.unwrap();
    assert_eq!(first.header("X-Api-Key"), Some("secret-key"));
    assert!(first.path.contains("latitude=59.9333&longitude=10.7166&"), "{}", first.path);
    assert!(!first.path.contains("secret"));
}

#[test]
fn the_other_services_and_files_are_not_asked_for_one() {
    let server = Server::start([Canned::json(super::weather_asking::MET_NORWAY)]);
    let answer = Asker::new(Source::Auto, OSLO, &server).ask(0).unwrap();
    assert_eq!(answer.forecast.members(), 0);
    assert_eq!(server.connections(), 1);
}

/// What goes wrong with the ensemble, and what the user reads.
fn troubles() -> Vec<(&'static str, Canned, &'static str)> {
    let reason = br#"{"error":true,"reason":"Data corrupted at path ''"}"#;
    let limit = br#"{"error":true,"reason":"Daily API request limit exceeded."}"#;
    let page = b"<html><head><title>502 Bad Gateway</title></head></html>";
    vec![
        ("404", Canned::bare("404 Not Found"), "status 404"),
        ("400", Canned::new("400 Bad Request", "application/json", reason), "Data corrupted"),
        ("403", Canned::bare("403 Forbidden"), "status 403"),
        (
            "429",
            Canned::new("429 Too Many Requests", "application/json", limit),
            "Daily API request limit",
        ),
        (
            "429 for a day",
            Canned::bare("429 Too Many Requests").header("Retry-After", "86400"),
            "status 429",
        ),
        ("500", Canned::bare("500 Internal Server Error"), "status 500"),
        ("502 HTML", Canned::new("502 Bad Gateway", "text/html", page), "502 Bad Gateway"),
        ("truncated", Canned::json(&ENSEMBLE[..700]), "cut short"),
        ("cut connection", Canned::json(ENSEMBLE).cut_short(), "broke off"),
        ("a slow drip", Canned::json("").drip(), "no complete answer"),
        ("endless", Canned::json("").endless(), "larger than"),
        ("a forecast", Canned::json(OPEN_METEO), "expected a member of an ensemble"),
        ("nonsense", Canned::json(&ENSEMBLE.replace("°C", "°X")), "unit \"°X\""),
    ]
}

#[test]
fn whatever_becomes_of_the_ensemble_the_forecast_is_there() {
    for (name, answer, message) in troubles() {
        let server = Server::start(forecasts(2));
        server.ensembles([answer]);
        let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
        asker.patience.total = Duration::from_millis(500);
        let started = Instant::now();
        let answer = asker.ask(0).unwrap();
        assert!(started.elapsed() < Duration::from_secs(3), "{name}");
        assert!(!answer.forecast.provenance.stale, "{name}");
        assert_eq!(answer.forecast.members(), 0, "{name}");
        assert_eq!(answer.warnings.len(), 1, "{name}: {:?}", answer.warnings);
        let warning = &answer.warnings[0];
        assert!(warning.starts_with("no ensemble from Open-Meteo: "), "{name}: {warning}");
        assert!(warning.contains(message), "{name}: {warning}");
        assert_eq!(server.paths(), [FORECAST_PATH, ENSEMBLE_PATH], "{name}: one try");
        assert_eq!(asker.kept().len(), 1, "{name}: the forecast alone");

        let again = asker.ask(30).unwrap();
        assert_eq!(again.warnings, Vec::<String>::new(), "{name}");
        assert_eq!(server.connections(), 2, "{name}: nothing is sent while the forecast is fresh");
        asker.ask(61).unwrap();
        assert_eq!(server.times_asked(FORECAST_PATH), 2, "{name}: the forecast is asked for");
    }
}

#[test]
fn a_server_without_ensembles_is_left_in_peace_for_three_hours() {
    let server = Server::start(forecasts(3));
    server.ensembles([Canned::bare("404 Not Found")]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    let answer = asker.ask(90).unwrap();
    assert!(answer.warnings[0].contains("not asked before"), "{:?}", answer.warnings);
    assert_eq!(server.times_asked(ENSEMBLE_PATH), 1);
    assert_eq!(asker.ask(181).unwrap().forecast.members(), 5);
    assert_eq!(server.times_asked(ENSEMBLE_PATH), 2);
}

#[test]
fn failing_ensembles_never_close_the_service_to_the_forecast() {
    let server = Server::start(forecasts(6));
    server.ensembles(vec![Canned::bare("500 Internal Server Error"); 6]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    for hour in 0..6 {
        let answer = asker.ask(hour * 61).unwrap();
        assert!(!answer.forecast.provenance.stale, "in hour {hour}");
    }
    assert_eq!(server.times_asked(FORECAST_PATH), 6);
}

#[test]
fn the_kept_members_stand_in_while_they_go_with_the_forecast() {
    let server = Server::start(forecasts(3));
    let down = Canned::bare("500 Internal Server Error");
    server.ensembles([Canned::json(ENSEMBLE), down.clone(), down]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    let answer = asker.ask(11 * 60).unwrap();
    assert_eq!(answer.forecast.members(), 5);
    assert!(!answer.forecast.provenance.stale, "the forecast itself is new");
    assert!(
        answer.warnings[0].ends_with("that fetched 2026-03-01 12:00 UTC stands in"),
        "{:?}",
        answer.warnings
    );
    let answer = asker.ask(13 * 60).unwrap();
    assert_eq!(answer.forecast.members(), 0, "two runs of the model later");
    assert!(answer.warnings[0].contains("told without one"), "{:?}", answer.warnings);
}

#[test]
fn offline_the_kept_members_go_with_the_kept_forecast() {
    let server = Server::start(forecasts(1));
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    asker.offline = true;
    for minutes in [30, 24 * 60] {
        let answer = asker.ask(minutes).unwrap();
        assert_eq!(answer.forecast.members(), 5, "after {minutes} minutes");
        assert_eq!(answer.warnings, Vec::<String>::new());
    }
    assert_eq!(server.connections(), 2);
}

#[test]
fn when_the_forecast_fails_the_ensemble_is_not_asked_for() {
    let server = Server::start(forecasts(1));
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    let stale = asker.ask(300).unwrap();
    assert!(stale.forecast.provenance.stale);
    assert_eq!(stale.forecast.members(), 5, "those that came with it");
    assert_eq!(server.times_asked(ENSEMBLE_PATH), 1);
}

const SPRING: &str = include_str!("../fixtures/days/obs_2013-04-09_spring_swing31.json");

/// An ensemble for the spring day: `same` members like the forecast, and `steady` ones whose air
/// stays all day as it is at midnight.
fn spring_ensemble(same: usize, steady: usize) -> String {
    let day: Value = serde_json::from_str(SPRING).unwrap();
    let air = &day["hourly"]["temperature_2m"];
    let level = Value::from(vec![air[0].clone(); air.as_array().unwrap().len()]);
    let mut hourly = json!({"time": day["hourly"]["time"]});
    let mut units = json!({"time": "unixtime"});
    for number in 0..same + steady {
        let key = if number == 0 {
            "temperature_2m".to_owned()
        } else {
            format!("temperature_2m_member{number:02}")
        };
        units[&key] = json!("°F");
        hourly[&key] = if number < same { air.clone() } else { level.clone() };
    }
    json!({"utc_offset_seconds": 0, "timezone": "GMT", "hourly_units": units, "hourly": hourly})
        .to_string()
}

/// The plan of the spring day, with the air alone to drive its tests, and what was said about it.
fn plan(base: &str, more: &[&str]) -> (Value, String) {
    let site = example_site(&[
        ("weather.source", "\"open-meteo\""),
        ("weather.base_url", &format!("\"{base}\"")),
        ("rules.sheet_shift_heat", "500"),
    ]);
    let arguments = ["plan", "site.toml", "--date", "2013-04-09", "--format", "json"];
    let arguments: Vec<&str> = arguments.iter().chain(more).copied().collect();
    let outcome = run(&arguments, &[("site.toml", &site)], &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    (serde_json::from_str(&outcome.stdout).unwrap(), outcome.stderr)
}

/// Percent of every test that a change of the air asks for.
fn likelihoods(plan: &Value) -> Vec<f64> {
    let checkpoints = plan["checkpoints"].as_array().unwrap();
    let changes = checkpoints.iter().filter(|test| test["cause"] == "ambient-change");
    changes.map(|test| test["likelihood"]["percent"].as_f64().unwrap()).collect()
}

#[test]
fn a_plan_says_that_its_likelihoods_come_from_the_ensemble() {
    // Ten courses that are the forecast itself: each has just the tests of the plan.
    let server = Server::start([Canned::json(SPRING)]);
    server.ensembles([Canned::json(&spring_ensemble(10, 0))]);
    let (certain, said) = plan(&server.base(), &[]);
    assert_eq!(said, "");
    let tests = &certain["summary"]["tests"];
    let count = certain["checkpoints"].as_array().unwrap().len();
    let expected =
        json!({"from": "ensemble", "courses": 10, "p10": count, "p50": count, "p90": count});
    assert_eq!(tests, &expected);
    let all = likelihoods(&certain);
    assert!(!all.is_empty() && all.iter().all(|percent| *percent == 100.0), "{all:?}");

    // In half of the courses the air does not change at all.
    let server = Server::start([Canned::json(SPRING)]);
    server.ensembles([Canned::json(&spring_ensemble(5, 5))]);
    let (even, _) = plan(&server.base(), &[]);
    assert_eq!(even["summary"]["tests"]["from"], "ensemble");
    let half = likelihoods(&even);
    assert_eq!(half.len(), all.len(), "the forecast decides what must be tested");
    assert!(half.iter().all(|percent| *percent == 50.0), "{half:?}");
}

#[test]
fn without_the_ensemble_a_plan_says_that_they_come_from_the_error_model() {
    let server = Server::start([Canned::json(SPRING)]);
    server.ensembles([Canned::bare("404 Not Found")]);
    let (plan, said) = plan(&server.base(), &[]);
    assert_eq!(plan["summary"]["tests"]["from"], "error-model");
    assert!(said.starts_with("note: no ensemble from Open-Meteo: "), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
}

#[test]
fn four_members_are_no_distribution() {
    let server = Server::start([Canned::json(SPRING)]);
    server.ensembles([Canned::json(&spring_ensemble(4, 0))]);
    let (plan, _) = plan(&server.base(), &[]);
    assert_eq!(plan["summary"]["tests"]["from"], "error-model");
}

#[test]
fn a_saved_ensemble_can_be_planned_from() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("ensemble.json");
    std::fs::write(&path, spring_ensemble(5, 5)).unwrap();
    let (plan, _) = plan("http://127.0.0.1:9", &["--forecast", path.to_str().unwrap()]);
    assert_eq!(plan["summary"]["tests"]["from"], "ensemble");
    assert_eq!(plan["weather"]["source"], "file");
}

#[test]
fn a_server_that_answers_once_and_goes_delays_nothing() {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let base = format!("http://{}", listener.local_addr().unwrap());
    let server = std::thread::spawn(move || {
        let (mut stream, _) = listener.accept().unwrap();
        let mut head = [0; 4096];
        let _ = stream.read(&mut head).unwrap();
        let length = SPRING.len();
        let head = format!(
            "HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: {length}\r\n\r\n"
        );
        // The port is closed by the time the answer is complete.
        drop(listener);
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(SPRING.as_bytes()).unwrap();
    });
    let started = Instant::now();
    let (plan, said) = plan(&base, &[]);
    server.join().unwrap();
    assert_eq!(plan["summary"]["tests"]["from"], "error-model");
    assert!(said.contains("cannot be reached"), "{said}");
    assert!(started.elapsed() < Duration::from_secs(10), "{:?}", started.elapsed());
}
