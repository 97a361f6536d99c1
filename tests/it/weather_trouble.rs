//! The clients against a local server in trouble: how often it is asked, that the last good forecast
//! stands in, and that nothing kept is touched.

use std::time::{Duration, Instant};

use fairseam::weather::{Failure, Source, WeatherError};

use super::weather_asking::{Asker, LITTLE_ROCK, MET_NORWAY, OPEN_METEO, OSLO, is_minutes};
use super::weather_server::{Canned, Server};

fn html(status: &'static str) -> Canned {
    Canned::new(status, "text/html", b"<html><head><title>503 Upstream down</title></head></html>")
}

/// What the server does wrong, how often it is asked for it, and what the user reads.
fn troubles() -> Vec<(&'static str, Canned, usize, &'static str)> {
    let truncated = &OPEN_METEO[..OPEN_METEO.len() - 20];
    let reason = r#"{"error":true,"reason":"Parameter 'x' is out of range"}"#;
    vec![
        ("500", Canned::bare("500 Internal Server Error"), 3, "status 500"),
        ("502 HTML", html("502 Bad Gateway"), 3, "status 502: 503 Upstream down"),
        ("503 HTML", html("503 Service Unavailable"), 3, "status 503: 503 Upstream down"),
        ("HTML with 200", html("200 OK"), 3, "\"text/html\"; expected JSON"),
        ("HTML as JSON", Canned::json("<html><title>Sign in</title>"), 3, "titled \"Sign in\""),
        ("plain text", Canned::new("200 OK", "text/plain", OPEN_METEO.as_bytes()), 3, "text/plain"),
        ("truncated JSON", Canned::json(truncated), 3, "cut short"),
        ("cut connection", Canned::json(OPEN_METEO).cut_short(), 3, "broke off"),
        ("empty body", Canned::json(""), 3, "empty body"),
        ("unknown unit", Canned::json(&OPEN_METEO.replace("°C", "°X")), 3, "unit \"°X\""),
        (
            "400",
            Canned::new("400 Bad Request", "application/json", reason.as_bytes()),
            1,
            "out of range",
        ),
        ("401", Canned::bare("401 Unauthorized"), 1, "status 401"),
        ("403 HTML", html("403 Forbidden"), 1, "status 403"),
        ("404", Canned::bare("404 Not Found"), 1, "status 404"),
        ("422", Canned::bare("422 Unprocessable Entity"), 1, "status 422"),
        ("304 unasked", Canned::bare("304 Not Modified"), 1, "not modified"),
        ("redirect to nowhere", Canned::bare("302 Found"), 1, "without saying where"),
        (
            "redirect to a file",
            Canned::bare("302 Found").header("Location", "file:///etc/hosts"),
            1,
            "redirects",
        ),
    ]
}

#[test]
fn every_trouble_is_named_and_leaves_nothing_behind() {
    for (name, answer, times, message) in troubles() {
        let server = Server::start(vec![answer; times]);
        let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
        let error = asker.ask(0).unwrap_err().to_string();
        assert!(error.contains(message), "{name}: {error}");
        assert!(!error.contains('\n'), "{name}: one sentence");
        assert_eq!(server.connections(), times, "{name}");
        assert_eq!(asker.kept(), [], "{name}");
    }
}

#[test]
fn in_every_trouble_the_last_good_forecast_stands_in_untouched() {
    for (name, answer, times, message) in troubles() {
        let mut answers = vec![Canned::json(OPEN_METEO)];
        answers.extend(vec![answer; times]);
        let server = Server::start(answers);
        let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
        let good = asker.ask(0).unwrap();
        let kept = asker.kept();
        let stale = asker.ask(300).unwrap();
        assert!(stale.forecast.provenance.stale, "{name}");
        assert!(is_minutes(stale.forecast.provenance.fetched_at, 0), "{name}");
        assert_eq!(stale.forecast.hours(), good.forecast.hours(), "{name}");
        assert!(stale.warnings[0].contains(message), "{name}: {:?}", stale.warnings);
        assert!(stale.warnings[0].contains("2026-03-01 12:00 UTC"), "{name}: {:?}", stale.warnings);
        assert_eq!(asker.kept(), kept, "{name}: not a byte changed");
    }
}

#[test]
fn after_a_hiccup_the_second_try_counts() {
    for hiccup in [
        Canned::bare("500 Internal Server Error"),
        html("503 Service Unavailable"),
        Canned::json(OPEN_METEO).cut_short(),
        Canned::bare("429 Too Many Requests"),
        Canned::bare("429 Too Many Requests").header("Retry-After", "7"),
        Canned::bare("503 Service Unavailable")
            .header("Retry-After", "Sun, 01 Mar 2026 12:00:09 GMT"),
    ] {
        let server = Server::start([hiccup, Canned::json(OPEN_METEO)]);
        let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
        let answer = asker.ask(0).unwrap();
        assert!(!answer.forecast.provenance.stale && answer.warnings.is_empty());
        assert_eq!(server.times_asked("/v1/forecast"), 2);
    }
}

#[test]
fn retry_after_is_waited_for() {
    let server = Server::start([
        Canned::bare("429 Too Many Requests").header("Retry-After", "20"),
        Canned::json(OPEN_METEO),
    ]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    // Twenty seconds at a hundredth of their length.
    asker.patience.pace = 0.01;
    let started = Instant::now();
    asker.ask(0).unwrap();
    assert!(Duration::from_millis(200) <= started.elapsed());
}

#[test]
fn a_long_retry_after_is_kept_to_across_runs() {
    let server = Server::start([
        Canned::json(OPEN_METEO),
        Canned::bare("429 Too Many Requests").header("Retry-After", "600"),
        Canned::json(OPEN_METEO),
    ]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    assert!(asker.ask(100).unwrap().forecast.provenance.stale);
    assert_eq!(server.times_asked("/v1/forecast"), 2, "not retried within the run");
    let waiting = asker.ask(109).unwrap();
    assert!(waiting.forecast.provenance.stale);
    assert!(
        waiting.warnings[0].contains("not asked before 2026-03-01 13:50 UTC"),
        "{:?}",
        waiting.warnings
    );
    assert_eq!(server.times_asked("/v1/forecast"), 2, "nor in the next one");
    assert!(!asker.ask(111).unwrap().forecast.provenance.stale);
    assert_eq!(server.times_asked("/v1/forecast"), 3);
}

#[test]
fn open_meteos_daily_limit_lasts_until_after_midnight() {
    let body = br#"{"error":true,"reason":"Daily API request limit exceeded. Please try again tomorrow."}"#;
    let server = Server::start([
        Canned::new("429 Too Many Requests", "application/json", body),
        Canned::json(OPEN_METEO),
    ]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let error = asker.ask(0).unwrap_err();
    assert!(error.to_string().contains("Daily API request limit"), "{error}");
    // 00:04 UTC is 724 minutes after noon.
    let error = asker.ask(724).unwrap_err();
    assert!(matches!(error, WeatherError::NotBefore { .. }), "{error}");
    assert_eq!(server.connections(), 1);
    asker.ask(726).unwrap();
}

#[test]
fn three_failures_rest_a_host_for_five_minutes() {
    let mut answers = vec![Canned::bare("500 Internal Server Error"); 3];
    answers.push(Canned::json(OPEN_METEO));
    let server = Server::start(answers);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap_err();
    let error = asker.ask(4).unwrap_err();
    assert!(matches!(error, WeatherError::NotBefore { .. }), "{error}");
    assert_eq!(server.connections(), 3);
    asker.ask(6).unwrap();
}

#[test]
fn met_norway_is_not_asked_again_for_ten_minutes_after_429() {
    let server = Server::start([Canned::bare("429 Too Many Requests"), Canned::json(MET_NORWAY)]);
    let asker = Asker::new(Source::MetNorway, OSLO, &server);
    asker.ask(0).unwrap_err();
    asker.ask(9).unwrap_err();
    assert_eq!(server.connections(), 1);
    asker.ask(11).unwrap();
}

#[test]
fn met_norways_refusal_stands_until_the_contact_changes() {
    let server = Server::start([html("403 Forbidden"), Canned::json(MET_NORWAY)]);
    let mut asker = Asker::new(Source::MetNorway, OSLO, &server);
    let error = asker.ask(0).unwrap_err();
    assert!(error.hint().unwrap().contains("contact"), "{error}");
    asker.ask(60).unwrap_err();
    assert_eq!(server.connections(), 1);
    asker.settings.contact = Some("office@example.com".to_owned());
    asker.ask(61).unwrap();
}

#[test]
fn a_deprecated_service_is_used_and_reported() {
    let answer =
        Canned::new("203 Non-Authoritative Information", "application/json", MET_NORWAY.as_bytes());
    let server = Server::start([answer]);
    let answer = Asker::new(Source::MetNorway, OSLO, &server).ask(0).unwrap();
    assert!(answer.warnings[0].contains("203"), "{:?}", answer.warnings);
}

#[test]
fn a_slow_drip_ends_with_the_patience() {
    let drip = Canned::json("").drip();
    let server = Server::start(vec![drip; 3]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.patience.total = Duration::from_millis(100);
    let started = Instant::now();
    let error = asker.ask(0).unwrap_err();
    assert!(error.to_string().contains("no complete answer"), "{error}");
    assert!(started.elapsed() < Duration::from_secs(2));
    assert_eq!(server.connections(), 3);
}

#[test]
fn no_new_try_begins_when_the_patience_with_all_of_them_is_at_its_end() {
    let drip = Canned::json("").drip();
    let server = Server::start(vec![drip; 3]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.patience.total = Duration::from_millis(100);
    asker.patience.overall = Duration::from_millis(150);
    asker.ask(0).unwrap_err();
    assert_eq!(server.connections(), 2);
}

#[test]
fn an_endless_body_is_left_at_the_limit() {
    let server = Server::start([Canned::json("").endless()]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let error = asker.ask(0).unwrap_err();
    assert!(error.to_string().contains("larger than 1048576 bytes"), "{error}");
    assert_eq!(server.connections(), 1, "a large body is not asked for again");
    // What lies in the system's buffers comes on top of the limit of 1 MiB.
    assert!(server.sent() < 32 << 20, "{} bytes were sent", server.sent());
    assert_eq!(asker.kept(), []);
}

#[test]
fn a_small_body_that_unpacks_into_a_large_one_is_left_too() {
    let bomb = Canned::json(&" ".repeat(4 << 20)).gzip();
    let server = Server::start([bomb]);
    let error = Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).unwrap_err();
    let WeatherError::Service { failure: Failure::TooBig { .. }, .. } = error else {
        panic!("{error}")
    };
}

#[test]
fn a_circle_of_redirects_ends() {
    let circle = Canned::bare("302 Found").header("Location", "/v1/forecast");
    let server = Server::start(vec![circle; 20]);
    let error = Asker::new(Source::OpenMeteo, OSLO, &server).ask(0).unwrap_err();
    assert!(error.to_string().contains("more than 5 times"), "{error}");
    assert_eq!(server.connections(), 6);
}

#[test]
fn nobody_there_is_found_out_soon_and_closes_nothing() {
    let gone = Server::start([]);
    let mut asker = Asker::new(Source::OpenMeteo, LITTLE_ROCK, &gone);
    drop(gone);
    let error = asker.ask(0).unwrap_err();
    assert!(error.to_string().contains("cannot be reached"), "{error}");
    assert!(error.hint().unwrap().contains("connection"));
    // The connection is back: no rest is kept.
    let server = Server::start([Canned::json(OPEN_METEO)]);
    asker.settings.base_url = Some(server.base());
    asker.ask(1).unwrap();
}

#[test]
fn a_server_that_does_not_speak_tls_is_an_error_and_no_crash() {
    let server = Server::start([]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.settings.base_url = Some(server.base().replace("http://", "https://"));
    let error = asker.ask(0).unwrap_err().to_string();
    assert!(error.contains("cannot be reached"), "{error}");
    assert_eq!(server.asked().len(), 0, "nothing went over in the clear");
}
