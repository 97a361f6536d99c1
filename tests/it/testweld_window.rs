//! The heat window: the trade's own example, and every odd case by hand.

use fairseam::site::Kind;
use fairseam::testweld::{Finding, Reading, RunSetting, SpeedRoom, WhyNot};

use crate::proof::{Allowed, Proof};
use crate::testweld_crew::{feet_per_minute, hand, judge, judged, trial, whole};

const WHEN: &str = "2027-04-20T12:00:00Z";

/// `bottom-top @ setting: finding, finding`, in whole °F.
fn told(reading: &Reading) -> String {
    let window = reading.window.map_or_else(
        || "none".to_owned(),
        |window| format!("{:.0}-{:.0}", window.bottom.fahrenheit(), window.top.fahrenheit()),
    );
    let setting = match reading.setting {
        RunSetting::RunAt { heat, .. } => format!("{:.0}", heat.fahrenheit()),
        RunSetting::DoNotWeld(why) => why.name().to_owned(),
    };
    let findings: Vec<&str> = reading.findings.iter().map(Finding::name).collect();
    format!("{window} @ {setting}: {}", findings.join(", "))
}

#[test]
fn hand_worked_table() {
    let mut proof = Proof::of(
        "weld/windows",
        "Window, setting and findings of a trial, in every odd case",
        "worked by hand; the first, 800 to 1050 °F set at 925, is *common practice*",
        "trials",
        Allowed::Nothing,
    );
    for (heats, expected, why) in [
        // The trade's own example (*common practice*): 800 bottom, 1050 top, set about 925.
        ("700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1050 ggg, 1100 bbb", "800-1050 @ 925: ", "plain"),
        ("700 ccc, 800 ccc, 900 ccc", "none @ nothing-good: all-cold", "all cold, more heat left"),
        ("700 ccc, 1100 ccc", "none @ nothing-good: all-cold-to-maximum", "only speed is left"),
        ("900 bbb, 1000 bbb", "none @ nothing-good: all-burnt", "all burnt, less heat left"),
        ("700 bbb, 800 bbb", "none @ nothing-good: all-burnt-to-lowest", "only speed is left"),
        ("800 ccc, 900 bbb", "none @ nothing-good: cold-then-burnt", "try half steps"),
        ("800 bbb, 900 ccc", "none @ contradiction: burnt-below-cold", "upside down"),
        (
            "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1100 ggg",
            "800-1100 @ 950: top-at-maximum",
            "good up to the machine's maximum",
        ),
        (
            "700 ggg, 800 ggg, 900 bbb",
            "700-800 @ 750: bottom-at-lowest",
            "good down to the machine's first heat",
        ),
        (
            "825 ggg, 925 ggg, 1025 ggg",
            "825-1025 @ 925: top-not-found, bottom-not-found",
            "a bracket that is good throughout keeps its center",
        ),
        (
            "700 ccc, 800 ggg, 900 ggg, 1000 bbb, 1300 ggg",
            "800-900 @ 850: outside-machine",
            "a heat that the machine does not have is not to be repeated",
        ),
        (
            "700 ccc, 800 ggg, 900 ccc, 1000 ggg, 1100 bbb",
            "800-1000 @ contradiction: hole-in-the-middle",
            "a cold heat between good ones",
        ),
        (
            "700 ccc, 800 ggg, 900 bbb, 1000 ggg, 1100 bbb",
            "800-1000 @ contradiction: hole-in-the-middle",
            "a burnt heat between good ones",
        ),
        (
            "800 ggg, 900 ggg, 1000 ccc",
            "800-900 @ contradiction: cold-above-good",
            "good below cold",
        ),
        ("800 bbb, 900 ggg, 1000 ggg", "900-1000 @ contradiction: burnt-below-good", "burnt below"),
        (
            "700 ccc, 800 ccc, 900 ggg, 1000 bbb, 1100 bbb",
            "900-900 @ 900: single-good-heat",
            "a single good heat",
        ),
        (
            "800 ccc, 850 ggg, 900 ggg, 950 bbb",
            "850-900 @ 875: narrower-than-step",
            "narrower than a step",
        ),
        (
            "700 ccc, 800 ccc, 900 ccc, 1000 ccc, 1100 ggg",
            "1100-1100 @ 1100: single-good-heat, top-at-maximum",
            "only the maximum itself is good: no room",
        ),
        (
            "700 ccc, 800 ggg, 900 gg, 1000 ggg, 1100 bbb",
            "800-1000 @ 900: repeat",
            "a heat in the middle that proves nothing is no hole, but is named",
        ),
        ("800 gg, 900 aaa", "none @ not-conclusive: repeat", "nothing proved at all"),
        (
            "800 ccc, 900 gg, 1000 bbb",
            "none @ nothing-good: cold-then-burnt, repeat",
            "none proved good",
        ),
        ("1100 bbb, 900 ggg, 700 ccc, 800 ggg, 1000 ggg", "800-1000 @ 900: ", "order is nothing"),
    ] {
        let told = told(&judged(WHEN, heats).reading);
        proof.same(&*told, expected, || format!("{why}: {heats}"));
    }
    proof.done();
}

#[test]
fn the_middle_is_set_and_the_width_is_told() {
    let table = "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1050 ggg, 1100 bbb";
    let reading = judged(WHEN, table).reading;
    let window = reading.window.unwrap();
    // Common practice: "800 bottom and 1050 top: window 250 °F, set about 925".
    let mut proof = Proof::of(
        "weld/trade-example",
        "Width, middle and setting of a window from 800 to 1050 °F",
        "*common practice*: the trade's own example",
        "numbers",
        Allowed::absolute(1e-6, "°F"),
    );
    proof.near(window.width().fahrenheit(), 250.0, || "width".to_owned());
    proof.near(window.middle().fahrenheit(), 925.0, || "middle".to_owned());
    assert!(window.is_closed());
    let RunSetting::RunAt { heat, speed } = reading.setting else { panic!("{reading:?}") };
    proof.near(heat.fahrenheit(), 925.0, || "setting".to_owned());
    proof.done();
    assert_eq!(speed, Some(feet_per_minute(8.0)));
}

#[test]
fn findings_say_which_heats_to_try_next() {
    let first = |table: &str| judged(WHEN, table).reading.findings[0].clone();
    let halves = |table: &str| match first(table) {
        Finding::ColdThenBurnt { half_steps, .. }
        | Finding::SingleGoodHeat { half_steps, .. }
        | Finding::NarrowerThanStep { half_steps, .. } => whole(&half_steps),
        other => panic!("{table}: {other:?}"),
    };
    let mut proof = Proof::of(
        "weld/heats-to-try",
        "Which heats to try next",
        "worked by hand from the machine's range and steps",
        "trials",
        Allowed::Nothing,
    );
    for (table, expected) in [
        ("800 ccc, 900 bbb", &[850][..]),
        ("700 ccc, 900 bbb", &[750, 800, 850]),
        ("800 ccc, 850 bbb", &[]),
        ("800 ccc, 900 ggg, 1000 bbb", &[850, 950]),
        ("850 ccc, 900 ggg, 950 bbb", &[]),
        ("1000 ccc, 1100 ggg", &[1050]),
        ("800 ccc, 850 ggg, 900 ggg, 1000 bbb", &[950]),
    ] {
        proof.same(&halves(table)[..], expected, || table.to_owned());
    }
    let next = |table: &str| match first(table) {
        Finding::AllCold { next, .. }
        | Finding::AllBurnt { next, .. }
        | Finding::TopNotFound { next, .. }
        | Finding::BottomNotFound { next, .. } => whole(&[next])[0],
        other => panic!("{table}: {other:?}"),
    };
    for (table, expected) in [
        ("700 ccc, 800 ccc", 900),
        // Never above the machine's maximum, never below its first heat.
        ("700 ccc, 1050 ccc", 1100),
        ("900 bbb", 800),
        ("750 bbb", 700),
        ("800 ccc, 900 ggg, 1000 ggg", 1100),
        ("800 ggg, 900 ggg, 1000 bbb", 700),
    ] {
        proof.same(&next(table), &expected, || table.to_owned());
    }
    proof.done();
    let Finding::HoleInTheMiddle { good_below, failed, good_above } =
        first("700 ggg, 800 ggg, 900 ccc, 1000 bbb, 1100 ggg")
    else {
        panic!()
    };
    assert_eq!(whole(&[good_below, good_above]), [800, 1100]);
    assert_eq!(whole(&failed), [900, 1000]);
}

fn speed_room(reading: &Reading) -> SpeedRoom {
    let found = reading.findings.iter().find_map(|finding| match finding {
        Finding::AllColdToMaximum { slower: room, .. }
        | Finding::TopAtMaximum { slower: room, .. }
        | Finding::AllBurntToLowest { faster: room, .. }
        | Finding::BottomAtLowest { faster: room, .. } => Some(*room),
        _ => None,
    });
    found.unwrap()
}

#[test]
fn where_only_speed_is_left_it_is_told_by_how_much() {
    let at_speed = |speed: f64, table: &str| {
        let mut trial = trial(WHEN, table);
        trial.speed = Some(feet_per_minute(speed));
        speed_room(&judge(trial).reading)
    };
    let SpeedRoom::Change { from, to, worth, stopped_by_machine } =
        at_speed(10.0, "1000 ccc, 1100 ccc")
    else {
        panic!()
    };
    assert!(from.same_as(feet_per_minute(10.0)) && !stopped_by_machine);
    assert!((worth.fahrenheit() - 100.0).abs() < 1e-6, "one heat step: {worth:?}");
    // 100 °F at 26 °F for 1 ft/min near 10 ft/min is 3.8 ft/min in a straight line; the rate grows
    // as the welder slows, so a little less.
    let slower = 10.0 - to.feet_per_minute();
    assert!((2.9..3.9).contains(&slower), "{slower} ft/min slower");
    // The machine's slowest, 3 ft/min, is reached first.
    let SpeedRoom::Change { to, worth, stopped_by_machine, .. } =
        at_speed(3.5, "1000 ccc, 1100 ccc")
    else {
        panic!()
    };
    assert!(to.same_as(feet_per_minute(3.0)) && stopped_by_machine);
    assert!(worth.fahrenheit() > 0.0 && worth.fahrenheit() < 100.0, "{worth:?}");
    assert_eq!(
        at_speed(3.0, "1100 ccc"),
        SpeedRoom::None { at: feet_per_minute(3.0) },
        "nothing is left"
    );
    let SpeedRoom::Change { to, worth, .. } = at_speed(10.0, "700 bbb") else { panic!() };
    assert!(to.feet_per_minute() > 13.0 && worth.fahrenheit() < 0.0, "faster for less heat");
}

#[test]
fn a_hand_welder_has_a_window_and_no_speed() {
    let mut trial = trial(WHEN, "800 ccc, 900 ggg, 1000 ggg, 1100 ggg");
    (trial.welder, trial.welder_kind, trial.speed) = (hand().name, Kind::Hand, None);
    let reading = judge(trial).reading;
    assert_eq!(told(&reading), "900-1100 @ 1000: top-at-maximum");
    assert_eq!(speed_room(&reading), SpeedRoom::ByHand);
    let RunSetting::RunAt { speed, .. } = reading.setting else { panic!() };
    assert_eq!(speed, None);
}

#[test]
fn a_trial_with_doubts_has_no_window_however_good_its_strips() {
    let mut two_things = trial(WHEN, "700 ccc, 800 ggg, 900 ggg, 1000 bbb");
    two_things.heats[2].speed = Some(feet_per_minute(10.0));
    let judged = judge(two_things);
    assert_eq!(told(&judged.reading), "none @ not-conclusive: ");
    assert!(!judged.is_conclusive() && judged.doubts[0].name() == "speed-varied");
    assert_eq!(judged.heats.len(), 4, "its heats are still judged, for the record");
}

#[test]
fn nothing_good_says_do_not_weld_and_never_a_heat() {
    for table in ["700 ccc, 800 ccc", "1000 bbb", "800 ccc, 900 bbb", "800 bbb, 900 ccc"] {
        let reading = judged(WHEN, table).reading;
        assert!(matches!(
            reading.setting,
            RunSetting::DoNotWeld(WhyNot::NothingGood | WhyNot::Contradiction)
        ));
        assert_eq!(reading.window, None);
    }
}
