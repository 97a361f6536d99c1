//! The verdict on one heat against the trade's own rules. All rows are *common practice*.

use fairseam::testweld::{
    ColdSign, HeatDoubt, HeatVerdict, Parted, Peeled, Sign, Strip, StripRules, judge_strips,
};
use fairseam::units::{BondWidth, UnitSystem};

use crate::proof::{Allowed, Proof};
use crate::testweld_crew::{fahrenheit, judged, strip, strip_of};

fn strips(letters: &str) -> Vec<Strip> {
    letters.chars().map(strip_of).collect()
}

fn verdict(strips: &[Strip]) -> HeatVerdict {
    judge_strips(strips, &StripRules::default_for(UnitSystem::Us))
}

#[test]
fn strips_give_the_verdict_that_the_trade_gives() {
    let mut proof = Proof::of(
        "weld/strips",
        "Verdict on a heat from its strips",
        "*common practice*",
        "heats",
        Allowed::Nothing,
    );
    for (letters, expected, why) in [
        ("ggg", "good", "three strips that tear down to the reinforcement"),
        ("gggggg", "good", "more than three"),
        ("gg", "not-conclusive", "three strips are needed to pass"),
        ("", "not-conclusive", "none at all"),
        ("ggc", "cold", "every strip has to tear"),
        ("c", "cold", "one strip is enough to fail"),
        ("ggm", "cold", "a mixed strip is not good"),
        ("bbb", "burnt", "two inches of film tear on an overheated weld is a fail"),
        ("ggb", "burnt", "a burn on one strip wins over the width of all"),
        ("ccb", "burnt", "a burn wins over cold as well"),
        ("b", "burnt", "a burn is seen, not peeled: one strip is enough"),
        ("aaa", "not-conclusive", "peeling along the seam tells nothing"),
        ("gga", "not-conclusive", "the one peeled along does not count"),
        ("ggga", "good", "it is set aside where three others pass"),
    ] {
        proof.same(verdict(&strips(letters)).name(), expected, || format!("{letters}: {why}"));
    }
    proof.done();
}

#[test]
fn the_least_width_is_an_inch_and_the_target_an_inch_and_a_half() {
    let three = |inches: f64| vec![strip(inches, Parted::FilmTear, &[], Peeled::Across); 3];
    let width = BondWidth::from_inches;
    let mut proof = Proof::of(
        "weld/widths",
        "An inch holds, an inch and a half is aimed at, less is cold",
        "*common practice*",
        "widths",
        Allowed::Nothing,
    );
    for (inches, expected) in [
        (1.0, HeatVerdict::Good { narrowest: width(1.0), reaches_target: false }),
        (1.5, HeatVerdict::Good { narrowest: width(1.5), reaches_target: true }),
        (0.9, HeatVerdict::Cold(vec![ColdSign::Narrow { strips: 3, narrowest: width(0.9) }])),
    ] {
        proof.same(&verdict(&three(inches)), &expected, || format!("{inches} in"));
    }
    proof.done();
    // A metric crew measures in whole millimeters: 25 mm, not 25.4.
    let metric = StripRules::default_for(UnitSystem::Metric);
    let mut strips = three(1.0);
    for strip in &mut strips {
        strip.bond_width = BondWidth::from_millimeters(25.0);
    }
    assert!(judge_strips(&strips, &metric).is_good());
}

#[test]
fn every_burn_sign_fails_a_strip_that_holds_two_inches() {
    let mut proof = Proof::of(
        "weld/burns",
        "Every sign of a burn fails a strip that holds two inches, across and along",
        "*common practice*",
        "strips",
        Allowed::Nothing,
    );
    for sign in [Sign::Browning, Sign::Yellowing, Sign::Char, Sign::HeavyBleedOut] {
        let mut strips = strips("gg");
        strips.push(strip(2.0, Parted::FilmTear, &[sign], Peeled::Across));
        let burnt = HeatVerdict::Burnt(vec![sign]);
        proof.same(&verdict(&strips), &burnt, || sign.name().to_owned());
        // Also on a strip peeled the wrong way.
        strips[2].peeled = Peeled::Along;
        proof.same(&verdict(&strips), &burnt, || format!("{} along", sign.name()));
    }
    proof.done();
}

#[test]
fn a_void_or_hidden_reinforcement_fails_as_not_fused() {
    for (sign, expected) in [
        (Sign::Void, ColdSign::Void { strips: 1 }),
        (Sign::ScrimNotReached, ColdSign::ScrimNotReached { strips: 1 }),
    ] {
        let mut strips = strips("ggg");
        strips.push(strip(1.5, Parted::FilmTear, &[sign], Peeled::Across));
        assert_eq!(verdict(&strips), HeatVerdict::Cold(vec![expected]));
    }
}

#[test]
fn a_cold_strip_peeled_along_the_seam_fails_nothing() {
    let mut strips = strips("gggc");
    strips[3].peeled = Peeled::Along;
    assert!(verdict(&strips).is_good());
    strips.remove(0);
    assert_eq!(
        verdict(&strips),
        HeatVerdict::NotConclusive(vec![
            HeatDoubt::TooFewStrips { found: 2, needed: 3 },
            HeatDoubt::PeeledAlong { strips: 1 },
        ])
    );
}

#[test]
fn a_heat_that_was_tried_twice_is_judged_on_all_its_strips() {
    let trial = judged("2027-04-20T12:00:00Z", "800 gg, 900 ggg, 800 g, 900 c");
    let verdicts: Vec<&str> = trial.heats.iter().map(|heat| heat.verdict.name()).collect();
    assert_eq!(verdicts, ["good", "cold"]);
    assert_eq!((trial.heats[0].strips_across, trial.heats[1].strips_across), (3, 4));
}

#[test]
fn a_heat_outside_the_machine_proves_nothing_whatever_its_strips_show() {
    let trial = judged("2027-04-20T12:00:00Z", "90 ggg, 900 ggg, 1200 bbb");
    let outside = HeatVerdict::NotConclusive(vec![HeatDoubt::OutsideMachine {
        lowest: fahrenheit(700.0),
        highest: fahrenheit(1100.0),
    }]);
    assert_eq!(trial.heats[0].verdict, outside);
    assert!(trial.heats[1].verdict.is_good());
    assert_eq!(trial.heats[2].verdict, outside);
}

#[test]
fn every_word_of_a_record_reads_back_and_no_other() {
    assert!(Parted::ALL.into_iter().all(|way| Parted::parse(way.name()) == Some(way)));
    assert!(Sign::ALL.into_iter().all(|sign| Sign::parse(sign.name()) == Some(sign)));
    assert!(Peeled::ALL.into_iter().all(|way| Peeled::parse(way.name()) == Some(way)));
    assert_eq!(Parted::parse("film tear"), None);
    assert_eq!(Sign::parse("Browning"), None);
    assert_eq!(Peeled::parse(""), None);
}
