//! The clients against a local server, when all goes well: what is sent, what is kept, and when
//! nothing is sent at all.

use fairseam::weather::{Request, Source, WeatherError, forecast_for, time_zone_for};

use super::weather_asking::{
    Asker, GRID, HOURLY, LITTLE_ROCK, MET_NORWAY, OPEN_METEO, OSLO, POINT, is_minutes, noon, run,
};
use super::weather_server::{Canned, Server};

const FORECAST: &str = "/v1/forecast";
const ENSEMBLE: &str = "/v1/ensemble";

fn http_date(minutes: i64) -> String {
    httpdate::fmt_http_date((noon() + chrono::TimeDelta::minutes(minutes)).into())
}

#[test]
fn open_meteo_is_asked_once_an_hour() {
    let server = Server::start([Canned::json(OPEN_METEO), Canned::json(OPEN_METEO)]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let answer = asker.ask(0).unwrap();
    assert_eq!(answer.warnings, Vec::<String>::new());
    assert!(!answer.forecast.provenance.stale);
    assert!(is_minutes(answer.forecast.provenance.fetched_at, 0));
    let asked = server.asked();
    assert!(asked[0].path.starts_with("/v1/forecast?latitude=59.9333&longitude=10.7166&"));
    let agent = concat!("fairseam/", env!("CARGO_PKG_VERSION"), " (foreman@example.com)");
    assert_eq!(asked[0].header("User-Agent"), Some(agent));
    assert_eq!(asked[0].header("Accept-Encoding"), Some("gzip"));
    assert!(asked[0].header("Accept").unwrap().contains("application/geo+json"));
    assert_eq!(asked[0].header("If-Modified-Since"), None);

    let again = asker.ask(59).unwrap();
    assert_eq!(server.paths(), [FORECAST, ENSEMBLE], "both still fresh");
    assert!(!again.forecast.provenance.stale);
    assert!(is_minutes(again.forecast.provenance.fetched_at, 0));
    let renewed = asker.ask(61).unwrap();
    assert_eq!(server.paths()[2..], [FORECAST]);
    assert!(is_minutes(renewed.forecast.provenance.fetched_at, 61));
    assert_eq!(asker.kept().len(), 2, "the new reply in place of the old");
}

#[test]
fn packed_and_chunked_bodies_are_read() {
    for answer in [
        Canned::json(OPEN_METEO).gzip(),
        Canned::json(OPEN_METEO).chunked(),
        Canned::json(OPEN_METEO).gzip().chunked(),
    ] {
        let server = Server::start([answer]);
        let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
        assert_eq!(asker.ask(0).unwrap().forecast.hours().len(), 4);
    }
}

#[test]
fn met_norways_expires_and_last_modified_hold_across_runs() {
    let modified = "Sun, 01 Mar 2026 11:58:07 GMT";
    let server = Server::start([
        Canned::json(MET_NORWAY)
            .header("Expires", &http_date(33))
            .header("Last-Modified", modified)
            .header("ETag", "\"abc\""),
        Canned::bare("304 Not Modified").header("Expires", &http_date(70)),
        Canned::json(MET_NORWAY).header("Expires", &http_date(120)),
    ]);
    let asker = Asker::new(Source::MetNorway, OSLO, &server);
    let first = asker.ask(0).unwrap();
    assert!(is_minutes(first.ask_again_at.unwrap(), 33), "as the service says");
    let kept = asker.ask(32).unwrap();
    assert_eq!(server.connections(), 1, "not before Expires");
    assert!(is_minutes(kept.ask_again_at.unwrap(), 33), "and from the kept copy");

    let confirmed = asker.ask(34).unwrap();
    let second = &server.asked()[1];
    assert_eq!(second.header("If-Modified-Since"), Some(modified), "the very string");
    assert_eq!(second.header("If-None-Match"), Some("\"abc\""));
    assert!(!confirmed.forecast.provenance.stale);
    assert!(is_minutes(confirmed.forecast.provenance.fetched_at, 34), "confirmed then");
    assert_eq!(confirmed.forecast.hours().len(), 16, "the kept body");

    asker.ask(69).unwrap();
    assert_eq!(server.connections(), 2, "not before the new Expires");
    asker.ask(71).unwrap();
    let third = &server.asked()[2];
    assert_eq!(third.header("If-Modified-Since"), Some(modified), "kept through the 304");
}

#[test]
fn the_nws_leads_from_the_point_to_the_grid_on_the_configured_host() {
    // The point's reply names addresses at api.weather.gov; none of them is followed.
    let server = Server::start([
        Canned::new("200 OK", "application/geo+json", POINT.as_bytes()),
        Canned::new("200 OK", "application/geo+json", GRID.as_bytes())
            .header("Cache-Control", "public, max-age=1800, s-maxage=3600"),
    ]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    let answer = asker.ask(0).unwrap();
    assert_eq!(server.paths(), ["/points/34.749,-92.275", "/gridpoints/LZK/83,73"]);
    let provenance = &answer.forecast.provenance;
    assert_eq!(provenance.source, "nws");
    assert_eq!(provenance.time_zone, Some(chrono_tz::America::Chicago));
    assert_eq!(answer.warnings, Vec::<String>::new());

    asker.ask(29).unwrap();
    assert_eq!(server.connections(), 2, "max-age of half an hour");
    let zone = run(time_zone_for(&asker.request(40, &asker.cache())));
    assert_eq!(zone.unwrap(), Some(chrono_tz::America::Chicago));
    assert_eq!(server.connections(), 2, "the point is good for days");
    server.then([Canned::json(GRID)]);
    asker.ask(31).unwrap();
    assert_eq!(server.paths()[2..], ["/gridpoints/LZK/83,73"]);
}

#[test]
fn the_nws_is_asked_for_periods_only_where_a_layer_is_empty() {
    let grid = GRID.replacen("\"dewpoint\":{", "\"dewpoint\":{\"values\":[]},\"other\":{", 1);
    let server = Server::start([Canned::json(POINT), Canned::json(&grid), Canned::json(HOURLY)]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    let answer = asker.ask(0).unwrap();
    assert_eq!(server.paths()[2..], ["/gridpoints/LZK/83,73/forecast/hourly"]);
    let dew_points = answer.forecast.hours().iter().filter(|hour| hour.dew_point.is_some());
    assert_eq!(dew_points.count(), 72, "all from the periods");
}

#[test]
fn a_cell_that_is_gone_is_looked_up_once_more() {
    let server = Server::start([Canned::json(POINT), Canned::json(GRID)]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    asker.ask(0).unwrap();
    let moved = POINT.replace("\"gridX\":83", "\"gridX\":84");
    let gone = r#"{"type":"https://api.weather.gov/problems/InvalidPoint","detail":"Gone"}"#;
    server.then([
        Canned::new("404 Not Found", "application/problem+json", gone.as_bytes()),
        Canned::json(&moved),
        Canned::json(GRID),
    ]);
    let answer = asker.ask(120).unwrap();
    assert!(!answer.forecast.provenance.stale);
    assert_eq!(
        server.paths()[2..],
        ["/gridpoints/LZK/83,73", "/points/34.749,-92.275", "/gridpoints/LZK/84,73"]
    );
}

#[test]
fn a_relative_redirect_is_followed() {
    let server = Server::start([
        Canned::new("301 Moved Permanently", "application/problem+json", b"{}")
            .header("Location", "/points/34.749,-92.275"),
        Canned::json(POINT),
        Canned::json(GRID),
    ]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    asker.ask(0).unwrap();
    assert_eq!(server.paths()[1], "/points/34.749,-92.275");
}

#[test]
fn the_key_goes_to_the_configured_host_and_no_further() {
    let elsewhere = Server::start([Canned::json(OPEN_METEO)]);
    let target = format!("{}/v1/forecast", elsewhere.base());
    let server = Server::start([Canned::bare("302 Found").header("Location", &target)]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.settings.api_key = Some("secret-key".to_owned());
    asker.ask(0).unwrap();
    assert_eq!(server.asked()[0].header("X-Api-Key"), Some("secret-key"));
    assert!(!server.asked()[0].path.contains("secret"), "not in the address either");
    assert_eq!(elsewhere.asked()[0].header("X-Api-Key"), None);
    assert!(!format!("{:?}", asker.settings).contains("secret"));
    for (name, content) in asker.kept() {
        assert!(!String::from_utf8_lossy(&content).contains("secret"), "{name}");
    }
}

#[test]
fn offline_opens_no_socket() {
    let server = Server::start([Canned::json(OPEN_METEO)]);
    let mut asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.offline = true;
    let error = asker.ask(0).unwrap_err();
    assert!(matches!(error, WeatherError::OfflineWithoutCopy { .. }), "{error}");
    assert!(error.hint().unwrap().contains("--offline"));
    assert_eq!(server.connections(), 0);

    asker.offline = false;
    asker.ask(0).unwrap();
    asker.offline = true;
    assert!(!asker.ask(30).unwrap().forecast.provenance.stale, "as good as when online");
    let old = asker.ask(24 * 60).unwrap();
    assert!(old.forecast.provenance.stale);
    assert!(is_minutes(old.forecast.provenance.fetched_at, 0));
    assert_eq!(server.connections(), 2, "both when there was a network");

    // A copy that something has been at is told, and no copy of year −262143 is shown in a zone.
    let copy = asker.kept().into_iter().find(|(name, _)| name.contains("forecast")).unwrap();
    let whole = String::from_utf8(copy.1).unwrap();
    for (from, to) in
        [("2026-03-01T12:00", "-262143-01-01T00:00"), ("\"etag\"", "\u{1b}[31m"), ("}\n{", "\n{")]
    {
        assert!(whole.contains(from), "{from}");
        std::fs::write(asker.cache().join(&copy.0), whole.replace(from, to)).unwrap();
        let error = asker.ask(0).unwrap_err();
        let said = error.to_string();
        assert!(said.contains(&copy.0) && said.contains("its first line is broken"), "{said}");
        assert!(error.hint().unwrap().contains("--offline"));
    }
}

#[test]
fn offline_the_nws_needs_all_its_parts_and_no_socket() {
    let server = Server::start([Canned::json(POINT), Canned::json(GRID)]);
    let mut asker = Asker::new(Source::Auto, LITTLE_ROCK, &server);
    asker.ask(0).unwrap();
    asker.offline = true;
    // Ten days on even the point is past its time.
    let old = asker.ask(10 * 24 * 60).unwrap();
    assert!(old.forecast.provenance.stale);
    assert_eq!(old.forecast.provenance.source, "nws");
    assert_eq!(server.connections(), 2);
}

#[test]
fn without_a_usable_folder_there_is_a_forecast_and_a_warning() {
    let server = Server::start([Canned::json(OPEN_METEO)]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let file = tempfile::NamedTempFile::new().unwrap();
    let answer = asker.ask_with(0, &file.path().join("below-a-file")).unwrap();
    assert!(!answer.forecast.provenance.stale);
    assert_eq!(answer.warnings.len(), 1);
    assert!(answer.warnings[0].contains("could not be kept in"), "{:?}", answer.warnings);
}

#[test]
fn a_damaged_copy_is_reported_and_replaced() {
    let server = Server::start([Canned::json(OPEN_METEO), Canned::json(OPEN_METEO)]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    asker.ask(0).unwrap();
    let (name, whole) = asker.kept().remove(1);
    assert!(name.starts_with("open-meteo_forecast_59.9333_10.7166_"), "{name}");
    std::fs::write(asker.cache().join(&name), &whole[..whole.len() / 2]).unwrap();
    let answer = asker.ask(1).unwrap();
    assert!(answer.warnings[0].contains("left aside"), "{:?}", answer.warnings);
    assert_eq!(server.times_asked(FORECAST), 2);
    assert_eq!(asker.kept()[1].1.len(), whole.len());
}

#[test]
fn open_meteo_names_the_zone_when_asked() {
    let reply = OPEN_METEO.replacen("\"timezone\":\"GMT\"", "\"timezone\":\"Europe/Oslo\"", 1);
    let server = Server::start([Canned::json(&reply)]);
    let asker = Asker::new(Source::OpenMeteo, OSLO, &server);
    let cache = asker.cache();
    for minutes in [0, 24 * 60] {
        let zone = run(time_zone_for(&asker.request(minutes, &cache))).unwrap();
        assert_eq!(zone, Some(chrono_tz::Europe::Oslo));
    }
    assert_eq!(server.connections(), 1, "asked once, then kept");
    assert!(server.asked()[0].path.contains("timezone=auto"));
}

#[test]
fn a_server_may_ask_from_any_of_its_threads() {
    fn is_send<T: Send>(_: &T) {}
    let server = Server::start([]);
    let asker = Asker::new(Source::File, OSLO, &server);
    let cache = asker.cache();
    let request: Request<'_> = asker.request(0, &cache);
    let future = forecast_for(&request);
    is_send(&future);
    assert!(matches!(run(future), Err(WeatherError::NoPath)));
}
