//! What one heat's strips prove, in words.

use super::amounts::{self, strips};
use crate::testweld::{ColdSign, HeatDoubt, HeatVerdict, JudgedHeat, Sign};
use crate::units::UnitSystem;

/// The verdict in one word or two.
pub const fn verdict(verdict: &HeatVerdict) -> &'static str {
    match verdict {
        HeatVerdict::Good { .. } => "good",
        HeatVerdict::Cold(_) => "cold",
        HeatVerdict::Burnt(_) => "burnt",
        HeatVerdict::NotConclusive(_) => "proves nothing",
    }
}

/// What led to it: `narrowest of 3 strips 1.5 in`, `2 strips parted cold`.
pub fn reason(heat: &JudgedHeat, units: UnitSystem) -> String {
    let why = match &heat.verdict {
        HeatVerdict::Good { narrowest, reaches_target } => {
            let narrowest = amounts::width(*narrowest, units);
            let short = if *reaches_target { "" } else { ", short of the width aimed at" };
            let strips = strips(heat.strips_across);
            format!("{strips} tore to the scrim, the narrowest over {narrowest}{short}")
        }
        HeatVerdict::Cold(signs) => joined(signs.iter().map(|sign| cold(*sign, units))),
        HeatVerdict::Burnt(signs) => {
            format!("{} seen; a burn counts however wide it holds", joined(signs.iter().map(sign)))
        }
        HeatVerdict::NotConclusive(doubts) => {
            joined(doubts.iter().map(|doubt| heat_doubt(*doubt, units)))
        }
    };
    let decided = !matches!(heat.verdict, HeatVerdict::NotConclusive(_));
    if decided && heat.strips_along > 0 {
        return format!("{why}; {} peeled along the seam set aside", strips(heat.strips_along));
    }
    why
}

fn joined(words: impl Iterator<Item = String>) -> String {
    words.collect::<Vec<_>>().join("; ")
}

fn sign(sign: &Sign) -> String {
    sign.name().replace('-', " ")
}

fn cold(sign: ColdSign, units: UnitSystem) -> String {
    match sign {
        ColdSign::Parted { strips: count } => format!("{} parted cold", strips(count)),
        ColdSign::Mixed { strips: count } => format!("{} tore only in part", strips(count)),
        ColdSign::Narrow { strips: count, narrowest } => format!(
            "{} tore over too little, the narrowest over {}",
            strips(count),
            amounts::width(narrowest, units)
        ),
        ColdSign::Void { strips: count } => format!("{} with a void", strips(count)),
        ColdSign::ScrimNotReached { strips: count } => {
            format!("{} without scrim in sight", strips(count))
        }
    }
}

fn heat_doubt(doubt: HeatDoubt, units: UnitSystem) -> String {
    match doubt {
        HeatDoubt::TooFewStrips { found, needed } => {
            format!("{} peeled across the seam, expected {needed} or more", strips(found))
        }
        HeatDoubt::PeeledAlong { strips: count } => {
            format!("{} peeled along the seam, which tells nothing", strips(count))
        }
        HeatDoubt::OutsideMachine { lowest, highest } => format!(
            "the site file gives this machine {} to {}",
            amounts::heat_figure(lowest, units),
            amounts::heat(highest, units)
        ),
    }
}
