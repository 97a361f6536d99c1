//! Radiation: published clear skies and cloud factors, the hour's mean kept, unknown never zero.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::physics::ephemeris::Ephemeris;
use fairseam::physics::radiation::{Source, SunHour, haurwitz1945_w_m2, kasten_czeplak1980};
use fairseam::physics::sun::Place;
use fairseam::units::Length;

use crate::proof::{Allowed, Proof};

fn instant(text: &str) -> DateTime<Utc> {
    DateTime::parse_from_rfc3339(text).unwrap().to_utc()
}

fn newark() -> Place {
    Place::new(40.6925, -74.1687, Length::from_meters(5.0)).unwrap()
}

/// (elevation in degrees, W/m²): Source: Haurwitz1945 with the coefficient 0.059, as the tests of an
/// open solar library print it.
const CLEAR_SKY: &[(f64, f64)] = &[
    (5.0, 48.629_868_8),
    (10.0, 135.741_748),
    (30.0, 487.894_133),
    (50.0, 778.766_689),
    (90.0, 1_035.092_03),
];

#[test]
fn clear_sky_as_printed() {
    let mut proof = Proof::of(
        "sun/clear-sky-printed",
        "Radiation of a clear sky by the sun's height",
        "Haurwitz1945, as the tests of pvlib print it",
        "heights",
        Allowed::Relative(1e-5),
    );
    for &(elevation, printed) in CLEAR_SKY {
        let got = haurwitz1945_w_m2(elevation.to_radians().sin()).unwrap();
        proof.near(got, printed, || format!("{elevation}°"));
    }
    proof.done();
    for below in [0.0, -1e-300, -0.3, -1.0] {
        assert_eq!(haurwitz1945_w_m2(below), Some(0.0), "{below}");
    }
    // The thinnest sliver of sun neither overflows nor is lost.
    assert!(haurwitz1945_w_m2(1e-300).unwrap() >= 0.0);
    for none in [1.000_001, -1.000_001, f64::NAN, f64::INFINITY] {
        assert_eq!(haurwitz1945_w_m2(none), None, "{none}");
    }
}

#[test]
fn cloud_lets_through_what_hamburg_measured() {
    // KastenCzeplak1980: 1 - 0.75 (N/8)^3.4; N = 8 is the printed quarter, N = 0 all of it. The
    // values between are the formula worked by hand to three digits.
    let mut proof = Proof::of(
        "sun/cloud-printed",
        "Share of the radiation that cloud lets through",
        "KastenCzeplak1980, its formula by hand",
        "covers",
        Allowed::absolute(5e-4, ""),
    );
    for (eighths, share) in [(0.0, 1.0), (4.0, 0.929), (6.0, 0.718), (8.0, 0.25)] {
        proof.near(kasten_czeplak1980(eighths * 12.5).unwrap(), share, || format!("{eighths}/8"));
    }
    proof.done();
    for none in [-0.1, 100.1, f64::NAN] {
        assert_eq!(kasten_czeplak1980(none), None, "{none}");
    }
}

/// Mean over the hour of what each ten seconds get.
fn mean_over(hour: &SunHour, start: DateTime<Utc>, service: f64) -> f64 {
    let of = |n: i64| {
        let at = start + TimeDelta::seconds(n * 10 + 5);
        let radiation = hour.radiation(at, Some(service), None).unwrap();
        assert_eq!(radiation.source, Source::Service);
        assert!(radiation.w_m2 >= 0.0);
        radiation.w_m2
    };
    (0..360).map(of).sum::<f64>() / 360.0
}

#[test]
fn the_mean_of_the_hour_is_kept_through_sunrise_and_sunset() {
    let start = instant("2013-04-09T00:00:00Z");
    let ephemeris = Ephemeris::covering(start, start + TimeDelta::days(2)).unwrap();
    // Any offset of the hour against the sun, a service that says dim, bright or impossible.
    for minutes in (0..48 * 60).step_by(13) {
        let start = start + TimeDelta::minutes(minutes);
        let Some(hour) = SunHour::new(&ephemeris, &newark(), start) else { continue };
        for share in [0.0, 0.3, 1.0, 1.3] {
            let mean = share * hour.clear_mean_w_m2();
            let kept = mean_over(&hour, start, mean);
            // Within an hour that the sun's rise cuts, sampling the bend costs a hundredth or so.
            assert!((kept - mean).abs() <= 0.01 * mean + 0.05, "{start} {mean}: {kept}");
        }
        // Twilight that the clear-sky formula leaves out stays what the service says.
        let twilight = 2.0 * hour.clear_mean_w_m2() + 3.0;
        if twilight < 1500.0 {
            assert!((mean_over(&hour, start, twilight) - twilight).abs() < 1e-9);
        }
    }
}

#[test]
fn a_sliver_of_sun_is_not_blown_up_to_carry_the_hour() {
    // Law: no instant gets more than the hour's mean or two clear skies, whichever is more.
    let first = instant("2013-04-09T00:00:00Z");
    let ephemeris = Ephemeris::covering(first, first + TimeDelta::days(1)).unwrap();
    for offset in 0..24 * 60 {
        let start = first + TimeDelta::minutes(offset);
        let hour = SunHour::new(&ephemeris, &newark(), start).unwrap();
        for minute in (0..60).step_by(7).chain([59]) {
            let at = start + TimeDelta::minutes(minute);
            let clear = haurwitz1945_w_m2(hour.sun_at(at).unwrap().sin_elevation).unwrap();
            let got = hour.radiation(at, Some(30.0), None).unwrap().w_m2;
            assert!(got <= f64::max(30.0, 2.0 * clear) + 1e-9, "{at}: {got} under {clear}");
        }
    }
}

#[test]
fn the_sun_climbs_within_a_morning_hour() {
    let start = instant("2013-04-09T13:00:00Z");
    let ephemeris = Ephemeris::covering(start, start + TimeDelta::hours(1)).unwrap();
    let hour = SunHour::new(&ephemeris, &newark(), start).unwrap();
    let at = |minute| {
        hour.radiation(start + TimeDelta::minutes(minute), Some(400.0), None).unwrap().w_m2
    };
    assert!(at(0) < 380.0 && at(59) > 420.0, "{} {}", at(0), at(59));
    // A service's word goes before the cloud cover.
    let with_cloud = hour.radiation(start, Some(400.0), Some(100.0)).unwrap();
    assert_eq!((with_cloud.w_m2, with_cloud.source), (at(0), Source::Service));
}

#[test]
fn unknown_is_not_zero_and_night_is() {
    let noon = instant("2013-04-09T17:00:00Z");
    let midnight = instant("2013-04-09T05:00:00Z");
    let ephemeris = Ephemeris::covering(midnight, noon + TimeDelta::hours(1)).unwrap();
    let day = SunHour::new(&ephemeris, &newark(), noon).unwrap();
    let night = SunHour::new(&ephemeris, &newark(), midnight).unwrap();
    assert_eq!(day.radiation(noon, None, None), None);
    let dark = night.radiation(midnight, None, None).unwrap();
    assert_eq!((dark.w_m2, dark.source), (0.0, Source::Night));
    let clear = day.radiation(noon, None, Some(0.0)).unwrap();
    assert_eq!(clear.source, Source::ClearSkyAndCloud);
    let gray = day.radiation(noon, None, Some(100.0)).unwrap();
    assert!((gray.w_m2 / clear.w_m2 - 0.25).abs() < 1e-12);
    // What is no mean and no cover is not taken for one.
    for wrong in [-1.0, 1500.1, f64::NAN, f64::INFINITY] {
        assert_eq!(day.radiation(noon, Some(wrong), Some(0.0)), Some(clear), "{wrong}");
        assert_eq!(day.radiation(noon, Some(wrong), None), None, "{wrong}");
    }
    assert_eq!(day.radiation(noon, None, Some(100.1)), None);
    // The hour answers for itself only.
    assert_eq!(day.radiation(noon - TimeDelta::seconds(1), Some(400.0), None), None);
    assert_eq!(day.radiation(noon + TimeDelta::hours(1), Some(400.0), None), None);
    assert!(SunHour::new(&ephemeris, &newark(), noon + TimeDelta::days(9)).is_none());
}

#[test]
fn more_cloud_never_brightens_the_roof() {
    let noon = instant("2013-04-09T17:00:00Z");
    let ephemeris = Ephemeris::covering(noon, noon + TimeDelta::hours(1)).unwrap();
    let hour = SunHour::new(&ephemeris, &newark(), noon).unwrap();
    let mut before = f64::INFINITY;
    for cover in 0..=100 {
        let now = hour.radiation(noon, None, Some(f64::from(cover))).unwrap().w_m2;
        assert!(now <= before, "{cover} %");
        before = now;
    }
}
