//! Damaged bodies: an error or a forecast, never a panic and never a hang.

use chrono::{DateTime, Utc};
use fairseam::weather::sources::{nws, open_meteo, recognize};
use proptest::prelude::*;

use super::weather_server::ENSEMBLE;

const BODIES: [&str; 6] = [
    include_str!("../fixtures/open-meteo/invented_three_hours.json"),
    include_str!("../fixtures/open-meteo/invented_two_models_iso.json"),
    ENSEMBLE,
    include_str!("../fixtures/met-norway/invented_complete.json"),
    include_str!("../fixtures/csv/ewr_2013-09-12.csv"),
    SMALL_GRID,
];

const SMALL_GRID: &str = r#"{"properties":{"updateTime":"2026-03-01T10:50:36+00:00",
"temperature":{"uom":"wmoUnit:degC","values":[{"validTime":"2026-03-01T04:00:00+00:00/PT3H","value":3.33},{"validTime":"2026-03-01T07:00:00+00:00/PT1H","value":3.88}]},
"quantitativePrecipitation":{"uom":"wmoUnit:mm","values":[{"validTime":"2026-03-01T06:00:00+00:00/PT6H","value":0.254}]},
"probabilityOfThunder":{"values":[{"validTime":"2026-03-01T04:08:23+00:00/P3DT12H","value":0}]},
"weather":{"values":[{"validTime":"2026-03-01T04:00:00+00:00/PT3H","value":[{"weather":"thunderstorms"}]}]}}}"#;

/// Texts that break readers: of numbers, times, units and structure.
const SPLINTERS: [&str; 14] = [
    "1e308",
    "-1e308",
    "99999999999999999999",
    "null",
    "[",
    "}",
    "\"",
    ",",
    "\u{0}",
    "é",
    "NaN",
    "P9999999D",
    "9999-12-31T23:00:00Z",
    "-262143-01-01T00:00",
];

fn read(body: &[u8]) {
    let now: DateTime<Utc> = "2026-03-01T08:30:00Z".parse().unwrap();
    for hour in recognize::parse_file(body, now).iter().flat_map(|forecast| forecast.hours()) {
        for value in [hour.air.map(|air| air.celsius()), hour.humidity_pct].into_iter().flatten() {
            assert!(value.is_finite(), "a number that no weather has went through");
        }
    }
    let members = open_meteo::parse_ensemble(body, now);
    for (_, air) in members.iter().flatten().flatten() {
        assert!(air.celsius().is_finite(), "a number that no weather has went through");
    }
    let _ = open_meteo::parse_time_zone(body);
    let _ = nws::parse_point(body);
    let _ = nws::parse_hourly(body, now);
    let _ = nws::grid_facts(body, now);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..Default::default() })]

    #[test]
    fn damaged_bodies_never_panic(
        which in 0..BODIES.len(),
        damage in prop::collection::vec((any::<prop::sample::Index>(), 0..12_usize, 0..SPLINTERS.len()), 1..4),
        cut in prop::option::of(any::<prop::sample::Index>()),
    ) {
        let mut body = BODIES[which].as_bytes().to_vec();
        for (place, length, splinter) in damage {
            let start = place.index(body.len());
            let end = (start + length).min(body.len());
            body.splice(start..end, SPLINTERS[splinter].bytes());
        }
        if let Some(cut) = cut {
            body.truncate(cut.index(body.len()));
        }
        read(&body);
    }

    #[test]
    fn a_number_exchanged_for_another_never_panics(
        which in 0..BODIES.len(),
        place in any::<prop::sample::Index>(),
        splinter in 0..SPLINTERS.len(),
    ) {
        let body = BODIES[which];
        let numbers: Vec<(usize, usize)> = numbers(body);
        let (start, end) = numbers[place.index(numbers.len())];
        read(format!("{}{}{}", &body[..start], SPLINTERS[splinter], &body[end..]).as_bytes());
    }

    #[test]
    fn noise_never_panics(body in prop::collection::vec(any::<u8>(), 0..200)) {
        read(&body);
    }
}

/// Start and end of every run of digits, points and signs.
fn numbers(body: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = None;
    for (index, byte) in body.bytes().enumerate() {
        match (byte.is_ascii_digit() || matches!(byte, b'.' | b'-'), start) {
            (true, None) => start = Some(index),
            (false, Some(begin)) => {
                found.push((begin, index));
                start = None;
            }
            _ => {}
        }
    }
    found
}
