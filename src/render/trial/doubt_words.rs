//! Why a whole trial proves nothing, in words, and what to do about it.

use super::amounts;
use crate::render::figures;
use crate::testweld::Doubt;
use crate::units::UnitSystem;

/// What is wrong: `two things were varied: …`.
pub fn doubt(doubt: &Doubt, units: UnitSystem) -> String {
    let speed = |value| figures::travel_speed(value, units);
    let figure = |value| figures::travel_speed_figure(value, units);
    match doubt {
        Doubt::UnknownWelder { name } => format!("the site file has no welder `{name}`"),
        Doubt::OtherKind { record, site } => {
            format!("the record calls this welder {}, the site file {}", record.name(), site.name())
        }
        Doubt::SpeedMissing => {
            "no speed was written down, and a heat window holds for one speed only".to_owned()
        }
        Doubt::SpeedOutsideMachine { speed: found, slowest, fastest } => format!(
            "the speed is {}, and by the site file this machine travels {} to {}",
            speed(*found),
            figure(*slowest),
            speed(*fastest)
        ),
        Doubt::SpeedVaried { slowest, fastest } => format!(
            "two things were varied, heat and speed: the heats were welded at {} to {}",
            figure(*slowest),
            speed(*fastest)
        ),
        Doubt::WeightsVaried { heats } => {
            format!("two things were varied, heat and weights{}", at(heats, units))
        }
        Doubt::AirFlowVaried { heats } => {
            format!("two things were varied, heat and air flow{}", at(heats, units))
        }
    }
}

/// What to do about it.
pub const fn next(doubt: &Doubt) -> &'static str {
    match doubt {
        Doubt::UnknownWelder { .. } => {
            "Correct the name in the record, or write the welder into the site file."
        }
        Doubt::OtherKind { .. } => "Correct the record or the site file.",
        Doubt::SpeedMissing => {
            "Correct the record with the speed that was held; if nobody knows it, test again."
        }
        Doubt::SpeedOutsideMachine { .. } => {
            "Read the dial again and correct the record, or correct the site file."
        }
        Doubt::SpeedVaried { .. } => "Test again: hold one speed and change only the heat.",
        Doubt::WeightsVaried { .. } | Doubt::AirFlowVaried { .. } => {
            "Test again: set weights and air flow first, leave them, and change only the heat."
        }
    }
}

fn at(heats: &[crate::units::Temperature], units: UnitSystem) -> String {
    if heats.is_empty() {
        return String::new();
    }
    format!(" (changed at {})", amounts::heats(heats, units))
}
