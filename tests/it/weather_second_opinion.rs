//! A grid of the NWS that looks old: asked for once more in another way, then reported.

use fairseam::weather::Source;

use super::weather_asking::{Asker, GRID, LITTLE_ROCK, POINT};
use super::weather_server::{Canned, Server};

/// The fixture as it would have been issued two days before the question, and on its day.
fn issued(time: &str) -> Canned {
    let fixture = "\"updateTime\":\"2026-04-14T15:36:55+00:00\"";
    assert!(GRID.contains(fixture));
    Canned::json(&GRID.replacen(fixture, &format!("\"updateTime\":\"{time}\""), 1))
}

const OLD: &str = "2026-02-27T11:00:00+00:00";
const NEW: &str = "2026-03-01T11:00:00+00:00";
const GRID_PATH: &str = "/gridpoints/LZK/83,73";

#[test]
fn an_old_grid_is_asked_for_once_more_with_another_accept() {
    let server = Server::start([Canned::json(POINT), issued(OLD), issued(NEW)]);
    let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
    let answer = asker.ask(0).unwrap();
    assert_eq!(answer.warnings, Vec::<String>::new());
    assert_eq!(answer.forecast.provenance.issued_at, Some(NEW.parse().unwrap()));
    assert_eq!(server.times_asked(GRID_PATH), 2);
    let accepts: Vec<_> = server.asked()[1..]
        .iter()
        .map(|asked| asked.header("Accept").unwrap_or_default().to_owned())
        .collect();
    assert!(accepts[0].contains("application/geo+json"), "{accepts:?}");
    assert_eq!(accepts[1], "*/*");
    // The newer one is the one that is kept.
    let kept = asker.ask(1).unwrap();
    assert_eq!(kept.forecast.provenance.issued_at, Some(NEW.parse().unwrap()));
    assert_eq!(server.times_asked(GRID_PATH), 2);
}

#[test]
fn one_that_stays_old_is_used_and_reported() {
    let down = Canned::bare("500 Internal Server Error");
    for second in [issued(OLD), issued("2026-02-26T00:00:00+00:00"), down] {
        let server = Server::start([Canned::json(POINT), issued(OLD), second]);
        let asker = Asker::new(Source::Nws, LITTLE_ROCK, &server);
        let answer = asker.ask(0).unwrap();
        assert_eq!(answer.forecast.provenance.issued_at, Some(OLD.parse().unwrap()));
        // From 11:00 on the 27th to noon on the 1st: two days and an hour.
        let expected = "issued 2026-02-27 11:00 UTC, 49 hours before it was fetched";
        assert!(answer.warnings[0].contains(expected), "{:?}", answer.warnings);
        assert_eq!(server.times_asked(GRID_PATH), 2, "one second opinion");
        let again = asker.ask(1).unwrap();
        assert_eq!(again.warnings, answer.warnings, "as long as it is kept");
        assert_eq!(server.times_asked(GRID_PATH), 2);
    }
}

#[test]
fn a_grid_whose_hours_are_over_is_old_whatever_it_says() {
    // The fixture ends on 2026-04-18; 50 days after noon on 2026-03-01 is 2026-04-20.
    let minutes = 50 * 24 * 60;
    let server = Server::start([
        Canned::json(POINT),
        issued("2026-04-20T11:00:00+00:00"),
        issued("2026-04-20T11:00:00+00:00"),
    ]);
    let answer = Asker::new(Source::Nws, LITTLE_ROCK, &server).ask(minutes).unwrap();
    assert!(answer.warnings[0].contains("its last hour is 2026-04-"), "{:?}", answer.warnings);
    assert_eq!(server.times_asked(GRID_PATH), 2);
}
