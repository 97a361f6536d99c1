//! The sun by pvlib: where it stands, what it gives, when it rises and sets.

use chrono::{NaiveDate, NaiveTime, TimeDelta};
use fairseam::physics::ephemeris::Ephemeris;
use fairseam::physics::radiation::{SunHour, haurwitz1945_w_m2};
use fairseam::physics::sun::{Crossings, Line, crossings, position};

use super::{instant, table};
use crate::proof::{Allowed, Proof};

#[test]
fn sun_positions_and_clear_skies_by_pvlib() {
    let mut angles = Proof::of(
        "sun/position",
        "The sun's height, and its direction across the sky",
        "pvlib 0.16.1, SPA, tests/reference/sun.py",
        "angles",
        Allowed::absolute(0.0005, "°"),
    );
    let mut clear_sky = Proof::of(
        "sun/clear-sky",
        "Radiation of a clear sky",
        "pvlib 0.16.1, tests/reference/sun.py",
        "moments",
        Allowed::absolute(1e-4, "W/m²"),
    );
    let mut ephemeris = Proof::of(
        "sun/position-for-plans",
        "The sun's height by the shorter way that plans take",
        "pvlib 0.16.1, SPA, tests/reference/sun.py",
        "moments",
        Allowed::absolute(0.01, "°"),
    );
    for row in table("sun_position", 300) {
        let (at, place) = (instant(row.text("time")), row.place());
        let sun = position(at, &place).unwrap();
        // SPA itself is good to 0.0003°; the clock's lag differs by seconds between the two.
        let expected = row.number("elevation_deg");
        angles.near(sun.elevation_deg, expected, || format!("{at} {place:?}: elevation"));
        let turn = (sun.azimuth_deg - row.number("azimuth_deg") + 180.0).rem_euclid(360.0) - 180.0;
        let across = turn * sun.elevation_deg.to_radians().cos();
        angles.near(across, 0.0, || format!("{at} {place:?}: azimuth"));
        let clear = haurwitz1945_w_m2(expected.to_radians().sin()).unwrap();
        clear_sky.near(clear, row.number("haurwitz_w_m2"), || format!("{at}"));
        // The cheap path, also where height adds its parallax.
        let cheap = Ephemeris::covering(at, at).unwrap().sun_at(at, &place).unwrap();
        ephemeris.near(cheap.elevation_deg(), expected, || format!("{at}"));
    }
    for proof in [angles, clear_sky, ephemeris] {
        proof.done();
    }
}

#[test]
fn clear_hours_by_pvlib() {
    let mut lit = 0;
    let mut proof = Proof::of(
        "sun/clear-hour",
        "Mean radiation of a clear hour",
        "pvlib 0.16.1, tests/reference/sun.py",
        "hours",
        Allowed::absolute(0.2, "W/m²"),
    );
    for row in table("clear_hour", 120) {
        let start = instant(row.text("start"));
        let ephemeris = Ephemeris::covering(start, start + TimeDelta::hours(1)).unwrap();
        let hour = SunHour::new(&ephemeris, &row.place(), start).unwrap();
        let (got, expected) = (hour.clear_mean_w_m2(), row.number("mean_w_m2"));
        // 0.01° of elevation is at most 0.2 W/m²; twenty samples cost less.
        proof.near(got, expected, || format!("{start}"));
        lit += usize::from(expected > 1.0);
    }
    proof.done();
    assert!(lit > 40, "{lit}");
}

#[test]
fn rises_and_sets_by_pvlib_from_pole_to_pole() {
    let minutes = |text: &str| -> Vec<f64> {
        text.split_whitespace().map(|minute| minute.parse().unwrap()).collect()
    };
    let mut states = Proof::of(
        "sun/days-from-pole-to-pole",
        "Whether the sun rises and sets, never sets, or never rises, and how often",
        "pvlib 0.16.1, SPA, tests/reference/sun.py",
        "days",
        Allowed::Nothing,
    );
    let mut times = Proof::of(
        "sun/rises-and-sets",
        "Rises, sets and civil twilight from pole to pole",
        "pvlib 0.16.1, SPA, tests/reference/sun.py",
        "events",
        Allowed::absolute(30.0, "s"),
    );
    for row in table("sun_day", 180) {
        let date: NaiveDate = row.text("date").parse().unwrap();
        let from = date.and_time(NaiveTime::MIN).and_utc();
        let line = match row.text("line") {
            "horizon" => Line::Horizon,
            _ => Line::CivilTwilight,
        };
        let found = crossings(from, from + TimeDelta::hours(24), &row.place(), line).unwrap();
        let label = || format!("{date} {:?}", row.place());
        let (state, rises, sets) = match found {
            Crossings::AlwaysAbove => ("above", Vec::new(), Vec::new()),
            Crossings::AlwaysBelow => ("below", Vec::new(), Vec::new()),
            Crossings::RisesAndSets { rises, sets } => ("crosses", rises, sets),
        };
        let expected = [minutes(row.text("rise_minutes")), minutes(row.text("set_minutes"))];
        let counts = expected.each_ref().map(Vec::len);
        let got = (state, [rises.len(), sets.len()]);
        states.same(&got, &(row.text("state"), counts), label);
        for (events, expected) in [rises, sets].iter().zip(expected) {
            for (event, minute) in events.iter().zip(expected) {
                let second = (*event - from).num_milliseconds() as f64 / 1000.0;
                // The sun may graze the line: then half a minute is 0.01°.
                times.near(second, minute * 60.0, label);
            }
        }
    }
    states.done();
    times.done();
}
