//! Every odd case of a trial in words, and what to do next.

use super::amounts::{self, heat, heat_figure, heats};
use crate::render::figures;
use crate::testweld::{Finding, SpeedRoom};
use crate::units::{Temperature, UnitSystem};
use crate::words::{Language, tell};

/// What was seen.
pub fn finding(language: Language, finding: &Finding, units: UnitSystem) -> String {
    let at = |value: Temperature| heat(value, units);
    let all = |values: &[Temperature]| heats(language, values, units);
    match finding {
        Finding::HoleInTheMiddle { good_below, failed, good_above } => tell!(
            language,
            "seen-hole",
            failed = all(failed),
            below = heat_figure(*good_below, units),
            above = at(*good_above),
        ),
        Finding::ColdAboveGood { good, cold } => {
            tell!(language, "seen-cold-above-good", cold = at(*cold), good = at(*good))
        }
        Finding::BurntBelowGood { burnt, good } => {
            tell!(language, "seen-burnt-below-good", burnt = at(*burnt), good = at(*good))
        }
        Finding::BurntBelowCold { burnt, cold } => {
            tell!(language, "seen-burnt-below-cold", burnt = at(*burnt), cold = at(*cold))
        }
        Finding::AllCold { highest, .. } => {
            tell!(language, "seen-all-cold", heat = at(*highest))
        }
        Finding::AllColdToMaximum { maximum, .. } => {
            tell!(language, "seen-all-cold-to-maximum", heat = at(*maximum))
        }
        Finding::AllBurnt { lowest, .. } => {
            tell!(language, "seen-all-burnt", heat = at(*lowest))
        }
        Finding::AllBurntToLowest { lowest, .. } => {
            tell!(language, "seen-all-burnt-to-lowest", heat = at(*lowest))
        }
        Finding::ColdThenBurnt { cold, burnt, .. } => {
            tell!(language, "seen-cold-then-burnt", cold = at(*cold), burnt = at(*burnt))
        }
        Finding::SingleGoodHeat { heat: only, .. } => {
            tell!(language, "seen-single", heat = at(*only))
        }
        Finding::NarrowerThanStep { width, step, .. } => tell!(
            language,
            "seen-narrow",
            width = amounts::degrees(*width, units),
            step = amounts::degrees(*step, units),
        ),
        Finding::TopNotFound { highest_good, .. } => {
            tell!(language, "seen-top-not-found", heat = at(*highest_good))
        }
        Finding::TopAtMaximum { maximum, .. } => {
            tell!(language, "seen-top-at-maximum", heat = at(*maximum))
        }
        Finding::BottomNotFound { lowest_good, .. } => {
            tell!(language, "seen-bottom-not-found", heat = at(*lowest_good))
        }
        Finding::BottomAtLowest { lowest, .. } => {
            tell!(language, "seen-bottom-at-lowest", heat = at(*lowest))
        }
        Finding::OutsideMachine { heats: outside, lowest, highest } => tell!(
            language,
            "seen-outside-machine",
            heats = all(outside),
            lowest = heat_figure(*lowest, units),
            highest = at(*highest),
        ),
        Finding::Repeat { heats: doubtful } => {
            tell!(language, "seen-repeat", heats = all(doubtful))
        }
    }
}

/// What to do next.
pub fn next(language: Language, finding: &Finding, units: UnitSystem) -> String {
    let at = |value: Temperature| heat(value, units);
    let all = |values: &[Temperature]| heats(language, values, units);
    match finding {
        Finding::HoleInTheMiddle { failed, .. } => {
            tell!(language, "next-look-and-repeat", heats = all(failed))
        }
        Finding::ColdAboveGood { cold: one, .. } | Finding::BurntBelowGood { burnt: one, .. } => {
            tell!(language, "next-look-and-repeat", heats = at(*one))
        }
        Finding::BurntBelowCold { .. } => tell!(language, "next-look-and-repeat-all"),
        Finding::AllCold { next, .. } | Finding::AllBurnt { next, .. } => {
            tell!(language, "next-try", heat = at(*next))
        }
        Finding::AllColdToMaximum { slower, .. } => only_slower(language, slower, units),
        Finding::AllBurntToLowest { faster, .. } => only_faster(language, faster, units),
        Finding::ColdThenBurnt { half_steps, .. } if half_steps.is_empty() => {
            tell!(language, "next-nothing-between")
        }
        Finding::ColdThenBurnt { half_steps, .. } => {
            tell!(language, "next-half-steps-between", heats = all(half_steps))
        }
        Finding::SingleGoodHeat { half_steps, .. }
        | Finding::NarrowerThanStep { half_steps, .. }
            if half_steps.is_empty() =>
        {
            tell!(language, "next-half-steps-done")
        }
        Finding::SingleGoodHeat { half_steps, .. }
        | Finding::NarrowerThanStep { half_steps, .. } => {
            tell!(language, "next-half-steps-beside", heats = all(half_steps))
        }
        Finding::TopNotFound { next, .. } => {
            tell!(language, "next-find-top", heat = at(*next))
        }
        Finding::BottomNotFound { next, .. } => {
            tell!(language, "next-find-bottom", heat = at(*next))
        }
        Finding::TopAtMaximum { slower, .. } => top_slower(language, slower, units),
        Finding::BottomAtLowest { faster, .. } => bottom_faster(language, faster, units),
        Finding::OutsideMachine { .. } => tell!(language, "next-keep-to-heats"),
        Finding::Repeat { heats: doubtful } => {
            tell!(language, "next-repeat", heats = all(doubtful))
        }
    }
}

/// No heat is left: slower, and by how much.
fn only_slower(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    match room {
        SpeedRoom::Change { .. } => {
            tell!(language, "next-only-speed", change = slower(language, room, units))
        }
        SpeedRoom::None { at } => {
            tell!(language, "next-no-slower", speed = figures::travel_speed(*at, units))
        }
        SpeedRoom::ByHand => tell!(language, "next-hand-slower"),
    }
}

/// No heat is left: faster, and by how much.
fn only_faster(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    match room {
        SpeedRoom::Change { .. } => {
            tell!(language, "next-only-speed", change = faster(language, room, units))
        }
        SpeedRoom::None { at } => {
            tell!(language, "next-no-faster", speed = figures::travel_speed(*at, units))
        }
        SpeedRoom::ByHand => tell!(language, "next-hand-faster"),
    }
}

fn top_slower(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    match room {
        SpeedRoom::Change { .. } => {
            tell!(language, "next-top-slower", change = slower(language, room, units))
        }
        SpeedRoom::None { at } => {
            tell!(language, "next-top-last-speed", speed = figures::travel_speed(*at, units))
        }
        SpeedRoom::ByHand => tell!(language, "next-top-hand"),
    }
}

fn bottom_faster(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    match room {
        SpeedRoom::Change { .. } => {
            tell!(language, "next-bottom-faster", change = faster(language, room, units))
        }
        SpeedRoom::None { at } => {
            tell!(language, "next-bottom-last-speed", speed = figures::travel_speed(*at, units))
        }
        SpeedRoom::ByHand => tell!(language, "next-bottom-hand"),
    }
}

/// `at about 7.2 ft/min instead of 10, 2.8 slower: worth about 100 °F of heat (…)`.
fn slower(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    let Some(Change { from, to, by, worth, to_the_end }) = Change::of(room, units) else {
        return String::new();
    };
    if to_the_end {
        tell!(language, "speed-slower-to-end", to, from, by, worth)
    } else {
        tell!(language, "speed-slower", to, from, by, worth)
    }
}

fn faster(language: Language, room: &SpeedRoom, units: UnitSystem) -> String {
    let Some(Change { from, to, by, worth, to_the_end }) = Change::of(room, units) else {
        return String::new();
    };
    if to_the_end {
        tell!(language, "speed-faster-to-end", to, from, by, worth)
    } else {
        tell!(language, "speed-faster", to, from, by, worth)
    }
}

/// A change of speed in figures.
struct Change {
    from: String,
    to: String,
    by: String,
    worth: String,
    to_the_end: bool,
}

impl Change {
    fn of(room: &SpeedRoom, units: UnitSystem) -> Option<Self> {
        let SpeedRoom::Change { from, to, worth, stopped_by_machine } = room else {
            return None;
        };
        let by = figures::round_to((to.in_units(units) - from.in_units(units)).abs(), 10.0);
        Some(Self {
            from: figures::travel_speed_figure(*from, units),
            to: figures::travel_speed(*to, units),
            by: by.to_string(),
            worth: figures::difference_whole(*worth, units),
            to_the_end: *stopped_by_machine,
        })
    }
}
