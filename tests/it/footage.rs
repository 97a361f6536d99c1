//! Seam that can be laid, against arithmetic by hand.
//!
//! At 68 °F the rule of the trade gives 70/10 + 2 = 9 ft/min. The shift from 07:00 to 15:30 has 510
//! minutes, breaks of 15 and 30, and three tests of 10: 435 minutes of production, 3915 ft.

use fairseam::plan::{Footage, FootageTarget, Note};
use fairseam::units::Length;
use fairseam::weather::Forecast;

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{
    JUNE, at, clock, fahrenheit, forecast, inches, mph, plan, site, site_of, tests,
};
use crate::support::example_site;

fn quiet() -> Forecast {
    forecast(JUNE, |_, _| {})
}

fn laid(overrides: &[(&str, &str)], weather: &Forecast) -> Option<Footage> {
    plan(&site(overrides), JUNE, weather).footage
}

fn feet(footage: &Footage) -> f64 {
    footage.total.feet()
}

fn assert_feet(got: f64, expected: f64, what: &str) {
    assert!((got - expected).abs() < 1e-6, "{what}: {got} ft, not {expected}");
}

#[test]
fn working_minutes_less_tests_times_speed() {
    let footage = laid(&[], &quiet()).unwrap();
    let mut proof = Proof::of(
        "plan/seam",
        "Feet of seam in a shift, on a slow machine, with long tests, with a short stop",
        "worked by hand; start speed *common practice*",
        "shifts",
        Allowed::absolute(1e-6, "ft"),
    );
    proof.near(feet(&footage), 435.0 * 9.0, || "the whole shift".to_owned());
    let [stretch] = &footage.stretches[..] else { panic!("{footage:?}") };
    assert_eq!((stretch.start, stretch.end), (at(JUNE, "7:00"), at(JUNE, "15:30")));
    assert_eq!((&*stretch.welder, stretch.length), ("automatic 1", footage.total));
    assert_eq!(footage.target, None);
    // 6 ft/min is as fast as this machine goes; and three tests of 20 minutes.
    let slow = laid(&[("welders.speed_max", "6")], &quiet()).unwrap();
    proof.near(feet(&slow), 2610.0, || "slow".to_owned());
    let slow_tests = laid(&[("rules.trial_minutes", "20")], &quiet()).unwrap();
    proof.near(feet(&slow_tests), 405.0 * 9.0, || "long tests".to_owned());
    // A stop of less than 10 minutes costs its minutes and no test: 510 - 9 - 10.
    let short = "[ { name = \"coffee\", start = \"09:30\", minutes = 9 } ]";
    let short = laid(&[("shift.breaks", short), ("rules.max_hours_between", "24")], &quiet());
    proof.near(feet(&short.unwrap()), 491.0 * 9.0, || "a short stop".to_owned());
    proof.done();
}

#[test]
fn each_span_by_itself_and_nothing_in_a_hold() {
    // Rain from 10:00 to 11:00 makes a hold, then the sheet has to dry in a fresh wind.
    let weather = forecast(JUNE, |hour, row| {
        (row.wind, row.gust) = (mph(15.0), None);
        if hour == 10 {
            row.rain = inches(0.02);
        }
    });
    let plan = plan(&site(&[]), JUNE, &weather);
    let footage = plan.footage.as_ref().unwrap();
    let dry = plan.spans.last().unwrap().start;
    assert!(dry > at(JUNE, "11:00") && dry <= at(JUNE, "11:50"), "{:?}", plan.spans);
    // Less lunch, the test after the hold and that after lunch.
    let afternoon = (at(JUNE, "15:30") - dry).num_minutes() as f64 - 50.0;
    // 07:00 to 10:00: 180 minutes, a break of 15, tests of 20.
    let lengths: Vec<f64> = footage.stretches.iter().map(|s| s.length.feet()).collect();
    let [before, after] = lengths[..] else { panic!("{footage:?}") };
    assert_feet(before, 145.0 * 9.0, "before the rain");
    assert_feet(after, afternoon * 9.0, "after it");
    assert_feet(feet(footage), before + after, "total");
}

#[test]
fn a_new_speed_counts_from_its_test_on() {
    // 60 °F until 10:00, 70 °F from 11:00: the change of 10 °F falls due at 11:00.
    let weather = forecast(JUNE, |hour, row| {
        row.air = fahrenheit(if hour <= 10 { 60.0 } else { 70.0 });
        row.cloud_cover_pct = None;
    });
    let overrides = [("shift.breaks", "[]"), ("rules.max_hours_between", "24")];
    let plan = plan(&site(&overrides), JUNE, &weather);
    assert_eq!(tests(&plan), ["start 07:00", "change-1 11:00"]);
    // 230 minutes at 6 + 2, 260 at 7 + 2.
    assert_feet(feet(plan.footage.as_ref().unwrap()), 230.0 * 8.0 + 260.0 * 9.0, "two speeds");
}

#[test]
fn production_ends_where_a_test_would_come_too_late() {
    // A break until 15:10: the test after it would fall into the last half hour.
    let late = "[ { name = \"late break\", start = \"14:50\", minutes = 20 } ]";
    let site = site(&[("shift.breaks", late), ("rules.max_hours_between", "24")]);
    let plan = plan(&site, JUNE, &quiet());
    assert!(plan.notes.iter().any(|note| matches!(note, Note::TooLate { .. })), "{:?}", plan.notes);
    // 07:10 to 14:50.
    assert_feet(feet(plan.footage.as_ref().unwrap()), 460.0 * 9.0, "until the break");
}

#[test]
fn by_when_a_target_is_reached() {
    let target = |feet: &str| {
        let footage = laid(&[("rules.footage_target", feet)], &quiet()).unwrap();
        footage.target.unwrap()
    };
    // 140 minutes before the morning break lay 1260 ft, 125 from 09:55 to noon 1125 ft.
    let cases = [
        ("1260", Some("9:30")),
        ("1261", Some("9:56")),
        // 740 ft to go at 09:55: 82.2 minutes, so within the 83rd.
        ("2000", Some("11:18")),
        ("2386", Some("12:41")),
        ("3915", Some("15:30")),
        ("3916", None),
    ];
    let mut proof = Proof::of(
        "plan/seam-target",
        "When so many feet are laid, or that they are not",
        "worked by hand",
        "targets",
        Allowed::Nothing,
    );
    for (feet, reached) in cases {
        let expected = reached.map(|clock| at(JUNE, clock));
        let found = target(feet);
        proof.same(&found.reached_at, &expected, || format!("{feet} ft"));
        assert!((found.length.feet() - feet.parse::<f64>().unwrap()).abs() < 1e-6);
    }
    proof.done();
    let FootageTarget { length, .. } = target("100");
    assert_eq!(length, Length::from_feet(100.0));
}

const SECOND: &str = "
[[welders]]
name = \"automatic 2\"
kind = \"automatic\"
heat_low = 700
heat_max = 1100
heat_step = 100
speed_min = 3
speed_max = 5
";

#[test]
fn every_automatic_welder_counts_and_no_hand_welder() {
    let two = plan(&site_of(&(example_site(&[]) + SECOND)), JUNE, &quiet()).footage.unwrap();
    let by_welder: Vec<(&str, f64)> =
        two.stretches.iter().map(|s| (s.welder.as_str(), s.length.feet().round())).collect();
    assert_eq!(by_welder, [("automatic 1", 3915.0), ("automatic 2", 2175.0)]);
    assert_feet(feet(&two), 6090.0, "both");
    let by_hand: &[(&str, &str)] =
        &[("welders.kind", "\"hand\""), ("welders.speed_min", ""), ("welders.speed_max", "")];
    assert_eq!(laid(by_hand, &quiet()), None);
    let hand_beside =
        SECOND.replace("automatic", "hand").replace("speed_min = 3\nspeed_max = 5\n", "");
    let mixed = plan(&site_of(&(example_site(&[]) + &hand_beside)), JUNE, &quiet());
    assert_feet(feet(mixed.footage.as_ref().unwrap()), 3915.0, "the automatic alone");
    assert_eq!(clock(&mixed, mixed.shift.end), "15:30");
}
