//! What holds for every trial, however odd.

use std::collections::BTreeSet;

use chrono::TimeDelta;
use fairseam::site::Polymer;
use fairseam::testweld::{
    Book, Carry, EarlierWindows, HeatTrial, HeatVerdict, JudgedTrial, Parted, Peeled, RunSetting,
    Sign, Strip, StripRules, Trial, accept, judge_strips,
};
use fairseam::units::{BondWidth, Temperature, Thickness, UnitSystem};
use proptest::prelude::*;

use crate::testweld_crew::{
    at, automatic, fahrenheit, feet_per_minute, hand, judge, strip_of, trial,
};

const WHEN: &str = "2027-04-20T12:00:00Z";

fn any_strip() -> impl Strategy<Value = Strip> {
    let signs = prop::collection::btree_set(prop::sample::select(&Sign::ALL[..]), 0..2);
    let way = prop::sample::select(&Parted::ALL[..]);
    let peeled = prop::sample::select(&[Peeled::Across, Peeled::Across, Peeled::Along][..]);
    (0..10_u32, way, signs, peeled).prop_map(|(quarters, parted, signs, peeled)| Strip {
        bond_width: BondWidth::from_inches(f64::from(quarters) / 4.0),
        parted,
        signs,
        peeled,
    })
}

/// Mostly whole verdicts, so that good, cold and burnt heats all are common.
fn any_strips() -> impl Strategy<Value = Vec<Strip>> {
    let usual = prop::sample::select(&["ggg", "ggg", "ccc", "bbb", "ggm", "gg", "aaa"][..]);
    prop_oneof![
        3 => usual.prop_map(|letters| letters.chars().map(strip_of).collect()),
        1 => prop::collection::vec(any_strip(), 0..6),
    ]
}

/// From below the machine's range to above it, some heats twice.
fn any_heats() -> impl Strategy<Value = Vec<HeatTrial>> {
    let heat = (13..23_u32, any_strips()).prop_map(|(fifties, strips)| {
        HeatTrial::new(fahrenheit(f64::from(fifties) * 50.0), strips)
    });
    prop::collection::vec(heat, 1..9)
}

fn with_heats(heats: Vec<HeatTrial>) -> Trial {
    Trial { heats, ..trial(WHEN, "800 ggg") }
}

/// Higher is better; cold and burnt are equally bad.
fn rank(verdict: &HeatVerdict) -> u8 {
    match verdict {
        HeatVerdict::Good { .. } => 2,
        HeatVerdict::NotConclusive(_) => 1,
        HeatVerdict::Cold(_) | HeatVerdict::Burnt(_) => 0,
    }
}

/// Any trial of the last weeks on any of two welders and three sheets.
fn any_judged() -> impl Strategy<Value = JudgedTrial> {
    let minutes = 0..30_000_i64;
    (minutes, any::<bool>(), 0..3_u8, any_heats()).prop_map(|(minutes, by_hand, sheet, heats)| {
        let mut trial = with_heats(heats);
        trial.when -= TimeDelta::minutes(minutes);
        if by_hand {
            (trial.welder, trial.welder_kind, trial.speed) = (hand().name, hand().kind, None);
        }
        match sheet {
            0 => {}
            1 => trial.thickness = Thickness::from_mils(80.0),
            _ => trial.polymer = Polymer::Tpo,
        }
        judge(trial)
    })
}

fn book(trials: &[JudgedTrial]) -> Book<'_> {
    Book {
        trials,
        polymer: Polymer::Pvc,
        thickness: Thickness::from_mils(60.0),
        carry_days: 7,
        time_zone: chrono_tz::America::New_York,
    }
}

proptest! {
    #[test]
    fn the_order_of_strips_and_heats_changes_nothing(heats in any_heats(), turn in 0..9_usize) {
        let before = judge(with_heats(heats.clone()));
        let mut turned = heats;
        let turn = turn % turned.len();
        turned.rotate_left(turn);
        for heat in &mut turned {
            heat.strips.reverse();
        }
        let after = judge(with_heats(turned));
        prop_assert_eq!(before.heats, after.heats);
        prop_assert_eq!(before.reading, after.reading);
    }

    #[test]
    fn a_burn_sign_never_makes_a_verdict_better(
        strips in prop::collection::vec(any_strip(), 1..7),
        index in 0..7_usize,
        sign in prop::sample::select(&Sign::ALL[..]),
    ) {
        let rules = StripRules::default_for(UnitSystem::Us);
        let before = judge_strips(&strips, &rules);
        let mut burnt = strips;
        let index = index % burnt.len();
        burnt[index].signs.insert(sign);
        let after = judge_strips(&burnt, &rules);
        prop_assert!(rank(&after) <= rank(&before), "{before:?} became {after:?}");
        prop_assert!(!sign.is_burn() || matches!(after, HeatVerdict::Burnt(_)));
    }

    #[test]
    fn a_wider_burnt_strip_is_still_burnt(inches in 1.0..4.0_f64) {
        let strip = Strip {
            bond_width: BondWidth::from_inches(inches),
            parted: Parted::FilmTear,
            signs: BTreeSet::from([Sign::Char]),
            peeled: Peeled::Across,
        };
        let verdict = judge_strips(&vec![strip; 5], &StripRules::default_for(UnitSystem::Us));
        prop_assert!(matches!(verdict, HeatVerdict::Burnt(_)));
    }

    #[test]
    fn a_good_heat_more_never_narrows_the_window(heats in any_heats(), fifties in 14..=22_u32) {
        let new = fahrenheit(f64::from(fifties) * 50.0);
        let tried = |heat: &HeatTrial| (heat.heat - new).abs().kelvin() < 1e-6;
        prop_assume!(!heats.iter().any(tried));
        let before = judge(with_heats(heats.clone())).reading.window;
        let mut more = heats;
        more.push(HeatTrial::new(new, "ggg".chars().map(strip_of).collect()));
        let after = judge(with_heats(more)).reading.window.unwrap();
        prop_assert!(!new.is_below(after.bottom) && !new.is_above(after.top));
        if let Some(before) = before {
            prop_assert!(!after.bottom.is_above(before.bottom));
            prop_assert!(!after.top.is_below(before.top));
        }
    }

    #[test]
    fn a_setting_lies_between_good_heats_and_has_no_failed_one_among_them(heats in any_heats()) {
        let judged = judge(with_heats(heats));
        let good: Vec<Temperature> = judged
            .heats
            .iter()
            .filter(|heat| heat.verdict.is_good())
            .map(|heat| heat.heat)
            .collect();
        match (judged.reading.setting, good.first(), good.last()) {
            (RunSetting::RunAt { heat, .. }, Some(&bottom), Some(&top)) => {
                prop_assert!(!heat.is_below(bottom) && !heat.is_above(top));
                let failed = judged.heats.iter().any(|tried| {
                    rank(&tried.verdict) == 0
                        && !tried.heat.is_below(bottom)
                        && !tried.heat.is_above(top)
                });
                prop_assert!(!failed);
            }
            (RunSetting::RunAt { .. }, ..) => prop_assert!(false, "a setting without a good heat"),
            (RunSetting::DoNotWeld(_), None, None) => prop_assert_eq!(judged.reading.window, None),
            (RunSetting::DoNotWeld(_), ..) => prop_assert!(
                judged.reading.findings.iter().any(|finding| finding.is_contradiction())
            ),
        }
    }

    #[test]
    fn whatever_is_not_plain_is_said(heats in any_heats()) {
        let judged = judge(with_heats(heats));
        let closed = judged.reading.window.is_some_and(|window| {
            window.is_closed() && window.width().reaches(automatic().heat_step)
        });
        let doubtful = judged.heats.iter().any(|heat| rank(&heat.verdict) == 1);
        let silent = judged.reading.findings.is_empty();
        prop_assert!(!silent || (closed && !doubtful), "{:?}", judged.reading);
    }

    #[test]
    fn carry_never_picks_another_welder_or_sheet(
        mut trials in prop::collection::vec(any_judged(), 0..12),
        minutes in 0..20_000_i64,
    ) {
        let asked = at(WHEN) - TimeDelta::minutes(minutes);
        for welder in [automatic(), hand()] {
            let found = book(&trials).look_up(&welder, asked);
            let own: Vec<JudgedTrial> = trials
                .iter()
                .filter(|judged| judged.trial.welder == welder.name)
                .filter(|judged| judged.trial.polymer == Polymer::Pvc)
                .filter(|judged| judged.trial.thickness == Thickness::from_mils(60.0))
                .filter(|judged| judged.trial.when < asked)
                .cloned()
                .collect();
            let alone = book(&own).look_up(&welder, asked);
            match found.carry {
                Carry::Bracket(_) => prop_assert_eq!(found.carry, alone.carry),
                Carry::FullRange(_) => prop_assert!(matches!(alone.carry, Carry::FullRange(_))),
            }
            // Each trial passed over is newer than the one used, newest first, none twice or lost.
            prop_assert!(found.passed_over.windows(2).all(|pair| pair[0].when >= pair[1].when));
            if matches!(found.carry, Carry::FullRange(_)) {
                let earlier = trials.iter().filter(|judged| judged.trial.when < asked).count();
                prop_assert_eq!(found.passed_over.len(), earlier);
            }
            prop_assert_eq!(book(&trials).passed_over(&welder, asked), found.passed_over);
        }
        let before = book(&trials).carry(&automatic(), asked);
        trials.reverse();
        prop_assert_eq!(book(&trials).carry(&automatic(), asked), before);
    }

    #[test]
    fn no_number_whatever_makes_it_stumble(
        numbers in prop::collection::vec(any::<f64>(), 7),
        strips in any_strips(),
    ) {
        let mut odd = trial(WHEN, "800 ggg, 900 ggg");
        odd.ambient = Temperature::from_celsius(numbers[0]);
        odd.sheet = Some(Temperature::from_celsius(numbers[1]));
        odd.thickness = Thickness::from_millimeters(numbers[2]);
        odd.speed = Some(feet_per_minute(numbers[3]));
        odd.heats[0] = HeatTrial::new(Temperature::from_celsius(numbers[4]), strips);
        if let Some(strip) = odd.heats[0].strips.first_mut() {
            strip.bond_width = BondWidth::from_millimeters(numbers[5]);
        }
        let welders = [automatic()];
        let finite = numbers[..5].iter().all(|number| number.is_finite());
        let taken = accept(&odd, &welders, at(WHEN));
        prop_assert!(finite || taken.is_err());
        let judged = judge(odd);
        let _ = book(&[judged]).look_up(&automatic(), at("2027-04-21T11:00:00Z"));
    }
}
