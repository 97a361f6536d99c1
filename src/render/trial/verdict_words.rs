//! What one heat's strips prove, in words.

use super::amounts::{self, strips};
use super::strip_words::sign;
use crate::testweld::{ColdSign, HeatDoubt, HeatVerdict, JudgedHeat};
use crate::units::UnitSystem;
use crate::words::{Language, tell};

/// The verdict in one word or two.
pub fn verdict(language: Language, verdict: &HeatVerdict) -> String {
    match verdict {
        HeatVerdict::Good { .. } => tell!(language, "heat-good"),
        HeatVerdict::Cold(_) => tell!(language, "heat-cold"),
        HeatVerdict::Burnt(_) => tell!(language, "heat-burnt"),
        HeatVerdict::NotConclusive(_) => tell!(language, "heat-proves-nothing"),
    }
}

/// What led to it: `narrowest of 3 strips 1.5 in`, `2 strips parted cold`.
pub fn reason(language: Language, heat: &JudgedHeat, units: UnitSystem) -> String {
    let why = match &heat.verdict {
        HeatVerdict::Good { narrowest, reaches_target } => {
            let strips = strips(language, heat.strips_across);
            let width = amounts::width(*narrowest, units);
            if *reaches_target {
                tell!(language, "good-why", strips, width)
            } else {
                tell!(language, "good-short-why", strips, width)
            }
        }
        HeatVerdict::Cold(signs) => joined(signs.iter().map(|sign| cold(language, *sign, units))),
        HeatVerdict::Burnt(signs) => {
            tell!(
                language,
                "burnt-why",
                signs = joined(signs.iter().map(|one| sign(language, *one)))
            )
        }
        HeatVerdict::NotConclusive(doubts) => {
            joined(doubts.iter().map(|doubt| heat_doubt(language, *doubt, units)))
        }
    };
    let decided = !matches!(heat.verdict, HeatVerdict::NotConclusive(_));
    if decided && heat.strips_along > 0 {
        let strips = strips(language, heat.strips_along);
        return format!("{why}; {}", tell!(language, "along-set-aside", strips));
    }
    why
}

fn joined(words: impl Iterator<Item = String>) -> String {
    words.collect::<Vec<_>>().join("; ")
}

fn cold(language: Language, sign: ColdSign, units: UnitSystem) -> String {
    let count = |count| strips(language, count);
    match sign {
        ColdSign::Parted { strips } => tell!(language, "cold-parted", strips = count(strips)),
        ColdSign::Mixed { strips } => tell!(language, "cold-mixed", strips = count(strips)),
        ColdSign::Narrow { strips, narrowest } => {
            let width = amounts::width(narrowest, units);
            tell!(language, "cold-narrow", strips = count(strips), width)
        }
        ColdSign::Void { strips } => tell!(language, "cold-void", strips = count(strips)),
        ColdSign::ScrimNotReached { strips } => {
            tell!(language, "cold-no-scrim", strips = count(strips))
        }
    }
}

fn heat_doubt(language: Language, doubt: HeatDoubt, units: UnitSystem) -> String {
    let count = |count| strips(language, count);
    match doubt {
        HeatDoubt::TooFewStrips { found, needed } => {
            tell!(language, "doubt-few-strips", strips = count(found), needed)
        }
        HeatDoubt::PeeledAlong { strips } => {
            tell!(language, "doubt-along", strips = count(strips))
        }
        HeatDoubt::OutsideMachine { lowest, highest } => tell!(
            language,
            "doubt-outside",
            lowest = amounts::heat_figure(lowest, units),
            highest = amounts::heat(highest, units),
        ),
    }
}
