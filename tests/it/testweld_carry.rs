//! What carries over: the newest usable window, and why a newer one is not used. By hand.

use chrono::NaiveDate;
use fairseam::site::Polymer;
use fairseam::testweld::{
    Book, Carry, EarlierWindows, JudgedTrial, Origin, WhyFullRange, WhyNot, WhyPassedOver,
};
use fairseam::units::Thickness;

use crate::proof::{Allowed, Proof};
use crate::testweld_crew::{at, automatic, feet_per_minute, hand, judge, judged, trial, whole};

const GOOD: &str = "700 ccc, 800 ggg, 900 ggg, 1000 bbb";
const HOTTER: &str = "800 ccc, 900 ggg, 1000 ggg, 1100 bbb";

fn book(trials: &[JudgedTrial]) -> Book<'_> {
    Book {
        trials,
        polymer: Polymer::Pvc,
        thickness: Thickness::from_mils(60.0),
        carry_days: 7,
        time_zone: chrono_tz::America::New_York,
    }
}

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).unwrap()
}

/// The center in °F and its day, or why the full range.
fn carried(trials: &[JudgedTrial], when: &str) -> Result<(i64, NaiveDate), WhyFullRange> {
    match book(trials).carry(&automatic(), at(when)) {
        Carry::Bracket(window) => {
            let Origin::Book { day } = window.origin else { panic!("{window:?}") };
            assert_eq!(window.speed, Some(feet_per_minute(8.0)));
            Ok((whole(&[window.center])[0], day))
        }
        Carry::FullRange(why) => Err(why),
    }
}

fn passed_over(trials: &[JudgedTrial], when: &str) -> Vec<WhyPassedOver> {
    let passed = book(trials).passed_over(&automatic(), at(when));
    passed.into_iter().map(|entry| entry.because).collect()
}

#[test]
fn the_newest_window_wins_also_within_the_day() {
    let trials = [
        judged("2027-04-20T11:10:00Z", HOTTER),
        judged("2027-04-19T11:10:00Z", GOOD),
        judged("2027-04-20T16:40:00Z", GOOD),
    ];
    let mut proof = Proof::of(
        "weld/carried-over",
        "Which earlier window a checkpoint starts from",
        "the project's rule, worked by hand",
        "checkpoints",
        Allowed::Nothing,
    );
    for (when, expected) in [
        ("2027-04-20T11:00:00Z", (850, day(4, 19))),
        // After the morning's trial the checkpoint after lunch starts from that day's own window.
        ("2027-04-20T16:30:00Z", (950, day(4, 20))),
        ("2027-04-21T11:00:00Z", (850, day(4, 20))),
    ] {
        proof.same(&carried(&trials, when), &Ok::<_, WhyFullRange>(expected), || when.to_owned());
    }
    proof.done();
    assert!(passed_over(&trials, "2027-04-21T11:00:00Z").is_empty());
}

#[test]
fn strictly_before_the_checkpoint() {
    let trials = [judged("2027-04-20T11:00:00Z", GOOD)];
    assert!(carried(&trials, "2027-04-20T11:00:00Z").is_err());
    assert!(carried(&trials, "2027-04-20T11:00:01Z").is_ok());
}

#[test]
fn days_are_counted_on_the_calendar_of_the_site() {
    // Late on the 13th in New York, already the 14th in UTC.
    let trials = [judged("2027-04-14T03:30:00Z", GOOD)];
    assert_eq!(carried(&trials, "2027-04-20T20:00:00Z"), Ok((850, day(4, 13))));
    assert_eq!(
        carried(&trials, "2027-04-21T11:00:00Z"),
        Err(WhyFullRange::TooOld { day: day(4, 13), carry_days: 7 })
    );
    assert_eq!(passed_over(&trials, "2027-04-21T11:00:00Z"), [WhyPassedOver::TooOld { days: 8 }]);
}

#[test]
fn every_reason_for_passing_a_newer_trial_over_is_named() {
    let mut on_hand = trial("2027-04-20T10:50:00Z", GOOD);
    (on_hand.welder, on_hand.welder_kind, on_hand.speed) = (hand().name, hand().kind, None);
    let mut thinner = trial("2027-04-20T10:40:00Z", GOOD);
    thinner.thickness = Thickness::from_mils(50.0);
    let mut other_polymer = trial("2027-04-20T10:30:00Z", GOOD);
    other_polymer.polymer = Polymer::Tpo;
    let mut two_things = trial("2027-04-20T10:20:00Z", GOOD);
    two_things.heats[1].weights = Some("half".to_owned());
    // Made when the site file gave the machine more heat than it does today.
    let roomy = {
        let mut welder = automatic();
        welder.heat_max = crate::testweld_crew::fahrenheit(1400.0);
        let hot = trial("2027-04-20T10:00:00Z", "1100 ccc, 1200 ggg, 1300 ggg, 1400 bbb");
        JudgedTrial::new(hot, Some(&welder), &crate::testweld_crew::judging())
    };
    let trials = [
        judged("2027-04-19T10:00:00Z", GOOD),
        roomy,
        judged("2027-04-20T10:05:00Z", "800 ggg, 900 ccc"),
        judged("2027-04-20T10:10:00Z", "700 ccc, 800 ccc"),
        judge(two_things),
        judge(other_polymer),
        judge(thinner),
        judge(on_hand),
    ];
    let when = "2027-04-20T11:00:00Z";
    assert_eq!(carried(&trials, when), Ok((850, day(4, 19))));
    assert_eq!(
        passed_over(&trials, when),
        [
            WhyPassedOver::OtherWelder,
            WhyPassedOver::OtherSheet,
            WhyPassedOver::OtherSheet,
            WhyPassedOver::NotConclusive,
            WhyPassedOver::DoNotWeld(WhyNot::NothingGood),
            WhyPassedOver::DoNotWeld(WhyNot::Contradiction),
            WhyPassedOver::CenterOutsideHeats,
        ]
    );
    // Without the good one: the full range, for the reason of the newest on this welder.
    assert_eq!(carried(&trials[1..], when), Err(WhyFullRange::OtherSheet { day: day(4, 20) }));
    let last = |count: usize| carried(&trials[1..count], when);
    assert_eq!(last(5), Err(WhyFullRange::NotConclusive { day: day(4, 20) }));
    assert_eq!(last(4), Err(WhyFullRange::DoNotWeld { day: day(4, 20) }));
    assert_eq!(last(2), Err(WhyFullRange::CenterOutsideHeats));
}

#[test]
fn no_trial_on_this_welder_is_no_record() {
    assert_eq!(carried(&[], "2027-04-20T11:00:00Z"), Err(WhyFullRange::NoRecord { carry_days: 7 }));
    let trials = [judged("2027-04-19T11:00:00Z", GOOD)];
    let carry = book(&trials).carry(&hand(), at("2027-04-20T11:00:00Z"));
    assert_eq!(carry, Carry::FullRange(WhyFullRange::NoRecord { carry_days: 7 }));
}

#[test]
fn a_hand_welder_carries_a_center_without_a_speed() {
    let mut on_hand = trial("2027-04-19T11:00:00Z", GOOD);
    (on_hand.welder, on_hand.welder_kind, on_hand.speed) = (hand().name, hand().kind, None);
    let trials = [judge(on_hand)];
    let Carry::Bracket(window) = book(&trials).carry(&hand(), at("2027-04-20T11:00:00Z")) else {
        panic!()
    };
    assert_eq!((whole(&[window.center]), window.speed), (vec![850], None));
}

#[test]
fn the_same_sheet_in_other_units_is_the_same_sheet() {
    // 60 mil is 1.524 mm; a sheet sold as 1.5 mm is another.
    let trials = [judged("2027-04-19T11:00:00Z", GOOD)];
    let mut metric = book(&trials);
    metric.thickness = Thickness::from_millimeters(1.524);
    let carry = metric.carry(&automatic(), at("2027-04-20T11:00:00Z"));
    assert!(matches!(carry, Carry::Bracket(_)), "{carry:?}");
    metric.thickness = Thickness::from_millimeters(1.5);
    assert!(matches!(
        metric.carry(&automatic(), at("2027-04-20T11:00:00Z")),
        Carry::FullRange(WhyFullRange::OtherSheet { .. })
    ));
}
