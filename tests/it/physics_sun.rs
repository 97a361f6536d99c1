//! Sun: published positions and almanac times, both edges, and laws over a sweep.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::physics::ephemeris::Ephemeris;
use fairseam::physics::sun::{
    Crossings, Line, Place, SunError, apparent_position, crossings, position,
};
use fairseam::units::{Length, Temperature};

use crate::proof::{Allowed, Proof};

fn instant(text: &str) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(text).unwrap().to_utc()
}

fn place(latitude_deg: f64, longitude_deg: f64) -> Place {
    Place::new(latitude_deg, longitude_deg, Length::from_meters(0.0)).unwrap()
}

fn day(local_midnight: &str, place: &Place, line: Line) -> Crossings {
    let from = instant(local_midnight);
    crossings(from, from + TimeDelta::hours(24), place, line).unwrap()
}

#[test]
fn the_worked_example_through_the_public_door() {
    // RedaAndreas2004, table A5.1: zenith 50.11162°, azimuth 194.340241°. The example takes 67 s for
    // the clock's lag; this year's own is 64.5 s, which moves the sun by less than 0.0001°.
    let roof = Place::new(39.742_476, -105.178_6, Length::from_meters(1830.14)).unwrap();
    let at = instant("2003-10-17T12:30:30-07:00");
    let seen = apparent_position(at, &roof, 820.0, Temperature::from_celsius(11.0)).unwrap();
    let mut proof = Proof::of(
        "sun/worked-example",
        "The sun's place at a moment, with and without refraction",
        "RedaAndreas2004, table A5.1",
        "angles",
        Allowed::absolute(1e-4, "°"),
    );
    proof.near(90.0 - seen.elevation_deg, 50.111_62, || format!("{seen:?}"));
    proof.near(seen.azimuth_deg, 194.340_241, || format!("{seen:?}"));
    // The same table: 39.872046° without refraction, so zenith 50.127954°.
    let plain = position(at, &roof).unwrap();
    proof.near(90.0 - plain.elevation_deg, 50.127_954, || format!("{plain:?}"));
    proof.done();
}

/// (date, sunrise, sunset in minutes after midnight MST): Source: USNO2024, sunrise and sunset
/// tables for 39.0 N 105.0 W, as quoted in the tests of an open solar library. Whole minutes are
/// printed.
const ALMANAC: &[(&str, i64, i64)] = &[
    ("2015-01-02", 439, 1009),
    ("2015-04-02", 343, 1104),
    ("2015-08-02", 301, 1150),
    ("2015-12-02", 421, 998),
];

#[test]
fn sunrise_and_sunset_are_those_of_the_almanac() {
    let mut proof = Proof::of(
        "sun/almanac",
        "Sunrise and sunset on four days at 39° N",
        "USNO2024, its tables; whole minutes",
        "times",
        Allowed::absolute(120.0, "s"),
    );
    for &(date, sunrise, sunset) in ALMANAC {
        let midnight = format!("{date}T00:00:00-07:00");
        let Crossings::RisesAndSets { rises, sets } =
            day(&midnight, &place(39.0, -105.0), Line::Horizon)
        else {
            panic!("{date}: no rise and set");
        };
        assert_eq!((rises.len(), sets.len()), (1, 1), "{date}");
        for (found, printed, what) in [(rises[0], sunrise, "sunrise"), (sets[0], sunset, "sunset")]
        {
            let second = (found - instant(&midnight)).num_seconds();
            proof.near(second as f64, (printed * 60) as f64, || format!("{date}: {what}"));
        }
    }
    proof.done();
}

#[test]
fn polar_day_polar_night_and_the_white_nights() {
    // USNO2024's lines and the sun's declination of ±23.44° at the solstices give the latitudes by
    // hand: no set in June north of 65.7°, no rise in December north of 67.4°, and civil twilight
    // all through a June night north of 60.6°.
    let (north_cape, saint_petersburg, miami) =
        (place(71.17, 25.78), place(60.9, 30.3), place(25.8, -80.2));
    let mut proof = Proof::of(
        "sun/polar-days",
        "Polar day, polar night, white nights, and the poles",
        "USNO2024, its lines, and the latitudes by hand",
        "days",
        Allowed::Nothing,
    );
    let (horizon, twilight) = (Line::Horizon, Line::CivilTwilight);
    for (midnight, place, line, expected) in [
        ("2024-06-21T00:00:00+02:00", north_cape, horizon, "above"),
        ("2024-12-21T00:00:00+01:00", north_cape, horizon, "below"),
        // At noon on that day the sun is 4.6° below the horizon: above the line of civil twilight.
        ("2024-12-21T00:00:00+01:00", north_cape, twilight, "crosses"),
        ("2024-06-21T00:00:00+03:00", saint_petersburg, twilight, "above"),
        ("2024-06-21T00:00:00+03:00", saint_petersburg, horizon, "crosses"),
        ("2024-12-21T00:00:00-05:00", miami, horizon, "crosses"),
        // At the very poles, where noon and midnight are the same.
        ("2024-06-21T00:00:00Z", place(90.0, 0.0), horizon, "above"),
        ("2024-06-21T00:00:00Z", place(-90.0, 0.0), horizon, "below"),
    ] {
        let state = match day(midnight, &place, line) {
            Crossings::AlwaysAbove => "above",
            Crossings::AlwaysBelow => "below",
            Crossings::RisesAndSets { .. } => "crosses",
        };
        proof.same(state, expected, || format!("{midnight} {place:?} {line:?}"));
    }
    proof.done();
}

#[test]
fn a_day_can_have_two_sets() {
    // Law: where the summer sun sets shortly after local midnight, and a little earlier every day,
    // some local day holds two sets; and searching by days or by longer pieces finds the same ones.
    let tromso_edge = place(65.9, 20.0);
    let mut sets_of_days = Vec::new();
    let mut from = instant("2024-05-20T00:00:00+02:00");
    let first = from;
    let mut widest = 0;
    while from < instant("2024-07-25T00:00:00+02:00") {
        if let Crossings::RisesAndSets { sets, .. } =
            crossings(from, from + TimeDelta::hours(24), &tromso_edge, Line::Horizon).unwrap()
        {
            widest = widest.max(sets.len());
            sets_of_days.extend(sets);
        }
        from += TimeDelta::hours(24);
    }
    let mut sets_in_long_pieces = Vec::new();
    let mut at = first;
    while at < from {
        let to = (at + TimeDelta::hours(72)).min(from);
        if let Crossings::RisesAndSets { sets, .. } =
            crossings(at, to, &tromso_edge, Line::Horizon).unwrap()
        {
            sets_in_long_pieces.extend(sets);
        }
        at = to;
    }
    assert_eq!(sets_of_days.len(), sets_in_long_pieces.len());
    for (one, other) in sets_of_days.iter().zip(&sets_in_long_pieces) {
        assert!((*one - *other).num_seconds().abs() <= 1, "{one} {other}");
    }
    assert_eq!(widest, 2, "one of these days has two sets");
}

#[test]
fn a_set_on_the_stroke_of_midnight_belongs_to_one_day_only() {
    let here = place(48.0, 13.0);
    let from = instant("2025-03-09T12:00:00Z");
    let sets_between = |from, to| match crossings(from, to, &here, Line::Horizon).unwrap() {
        Crossings::RisesAndSets { sets, .. } => sets,
        _ => Vec::new(),
    };
    let whole = sets_between(from, from + TimeDelta::hours(12));
    // Times are whole milliseconds: try the stroke just before, on and after the set itself.
    for nudge_ms in -3..=3 {
        let stroke = whole[0] + TimeDelta::milliseconds(nudge_ms);
        let before = sets_between(from, stroke).len();
        let after = sets_between(stroke, from + TimeDelta::hours(12)).len();
        assert_eq!(before + after, whole.len(), "{nudge_ms} ms: {before} and {after}");
    }
}

#[test]
fn rises_and_sets_stand_on_their_line() {
    for latitude in [-60.0, -35.0, 0.0, 21.0, 48.0, 64.0] {
        for line in [Line::Horizon, Line::CivilTwilight] {
            let here = place(latitude, 13.0);
            if let Crossings::RisesAndSets { rises, sets } =
                day("2025-03-09T23:00:00Z", &here, line)
            {
                for at in rises.iter().chain(&sets) {
                    let elevation = position(*at, &here).unwrap().elevation_deg;
                    // The almanac leaves out the parallax of 0.0024°.
                    assert!(
                        (elevation - line.elevation_deg()).abs() < 0.003,
                        "{latitude} {line:?} {elevation}"
                    );
                }
                assert!(
                    position(rises[0] + TimeDelta::minutes(5), &here).unwrap().elevation_deg
                        > line.elevation_deg()
                );
                assert!(
                    position(sets[0] + TimeDelta::minutes(5), &here).unwrap().elevation_deg
                        < line.elevation_deg()
                );
            } else {
                panic!("{latitude}: the sun rises in March");
            }
        }
    }
}

#[test]
fn the_cheap_path_stays_within_a_hundredth_of_a_degree() {
    let from = instant("2023-12-25T00:00:00Z");
    let ephemeris = Ephemeris::covering(from, from + TimeDelta::days(800)).unwrap();
    let mut proof = Proof::of(
        "inner/ephemeris",
        "The sun's height by the shorter way that plans take",
        "the full algorithm",
        "moments",
        Allowed::absolute(0.01, "°"),
    );
    for step in 0..1500 {
        let at = from + TimeDelta::minutes(step * 767 + 13);
        let here =
            place(f64::from(step as i32 % 179 - 89), f64::from((step * 7) as i32 % 359 - 179));
        let cheap = ephemeris.sun_at(at, &here).unwrap().elevation_deg();
        proof.near(cheap, position(at, &here).unwrap().elevation_deg, || format!("{at} {here:?}"));
    }
    proof.done();
}

#[test]
fn a_day_of_extraterrestrial_radiation_is_that_of_the_handbook() {
    // Allen1998, example 8: 20° S, 3 September: 32.2 MJ/m² at the top of the air, with its solar
    // constant 0.0820 MJ/(m² min) and its inverse distance 0.985. Ours is the sun's height.
    let from = instant("2015-09-03T00:00:00Z");
    let ephemeris = Ephemeris::covering(from, from + TimeDelta::days(1)).unwrap();
    let here = place(-20.0, 0.0);
    let megajoules: f64 = (0..1440)
        .map(|minute| {
            ephemeris.sun_at(from + TimeDelta::minutes(minute), &here).unwrap().sin_elevation
        })
        .map(|sine| 0.0820 * 0.985 * sine.max(0.0))
        .sum();
    // The example's declination, 0.120 rad or 6.9°, is by a short formula; the almanac's is 7.4°.
    let mut proof = Proof::of(
        "sun/top-of-the-air",
        "A day's radiation at the top of the air; the example's declination is by a shorter formula",
        "Allen1998, example 8",
        "day",
        Allowed::absolute(0.4, "MJ/m²"),
    );
    proof.near(megajoules, 32.2, || "20° S".to_owned());
    proof.done();
}

#[test]
fn solar_noon_is_twelve_and_stands_highest() {
    // Allen1998 by its eq. 32 and everyone else: the equation of time is +14.6 min on 17 October
    // (RedaAndreas2004, table A5.1: 14.64 min) so that the sun is ahead of the clock by that.
    let from = instant("2003-10-17T00:00:00Z");
    let ephemeris = Ephemeris::covering(from, from + TimeDelta::days(2)).unwrap();
    let at = instant("2003-10-17T19:30:30Z");
    let sun = ephemeris.sun_at(at, &place(39.742_476, -105.178_6)).unwrap();
    let mean_solar_hour = 19.0 + 30.5 / 60.0 - 105.178_6 / 15.0;
    let ahead_min = (sun.solar_hour() - mean_solar_hour) * 60.0;
    let mut proof = Proof::of(
        "sun/equation-of-time",
        "How far the sun is ahead of the clock",
        "RedaAndreas2004, table A5.1",
        "moment",
        Allowed::absolute(0.01, "min"),
    );
    proof.near(ahead_min, 14.64, || "17 October".to_owned());
    proof.done();
}

#[test]
fn what_is_no_place_or_no_time_is_told() {
    for (latitude, longitude, elevation) in [
        (90.000_1, 0.0, 0.0),
        (-90.000_1, 0.0, 0.0),
        (0.0, 180.000_1, 0.0),
        (0.0, -180.000_1, 0.0),
        (0.0, 0.0, 9000.1),
        (0.0, 0.0, -500.1),
        (f64::NAN, 0.0, 0.0),
        (0.0, f64::INFINITY, 0.0),
        (0.0, 0.0, f64::NAN),
    ] {
        let told = Place::new(latitude, longitude, Length::from_meters(elevation));
        assert!(matches!(told, Err(SunError::Place { .. })), "{latitude} {longitude} {elevation}");
    }
    assert!(Place::new(90.0, -180.0, Length::from_meters(9000.0)).is_ok());
    let here = place(40.0, -75.0);
    assert_eq!(
        position(instant("2101-01-01T00:00:00Z"), &here),
        Err(SunError::Year { year: 2101 })
    );
    assert_eq!(
        position(instant("1899-12-31T23:59:59Z"), &here),
        Err(SunError::Year { year: 1899 })
    );
    assert!(position(instant("2100-12-31T23:59:59Z"), &here).is_ok());
    let noon = instant("2024-06-01T12:00:00Z");
    for (pressure, air) in
        [(299.9, 10.0), (1100.1, 10.0), (f64::NAN, 10.0), (1000.0, f64::NAN), (1000.0, 60.1)]
    {
        let told = apparent_position(noon, &here, pressure, Temperature::from_celsius(air));
        assert!(matches!(told, Err(SunError::Air { .. })), "{pressure} {air}");
    }
    for hours in [-1, 0, 73] {
        let told = crossings(noon, noon + TimeDelta::hours(hours), &here, Line::Horizon);
        assert_eq!(told, Err(SunError::Stretch { hours, longest_hours: 72 }));
    }
    assert!(Ephemeris::covering(noon, noon - TimeDelta::hours(1)).is_err());
    assert!(Ephemeris::covering(noon, noon + TimeDelta::days(61 * 366)).is_err());
    assert!(
        Ephemeris::covering(instant("2100-12-31T00:00:00Z"), instant("2101-06-01T00:00:00Z"))
            .is_err()
    );
    let short = Ephemeris::covering(noon, noon).unwrap();
    assert!(short.sun_at(noon, &here).is_some());
    assert_eq!(short.sun_at(noon - TimeDelta::days(1), &here), None);
    assert_eq!(short.sun_at(noon + TimeDelta::days(1), &here), None);
}
