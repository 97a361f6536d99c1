//! Why a whole trial proves nothing, in words, and what to do about it.

use super::amounts;
use crate::render::figures;
use crate::site::Kind;
use crate::testweld::Doubt;
use crate::units::{Temperature, UnitSystem};
use crate::words::{Language, tell};

/// What is wrong: `two things were varied: …`.
pub fn doubt(language: Language, doubt: &Doubt, units: UnitSystem) -> String {
    let speed = |value| figures::travel_speed(value, units);
    let figure = |value| figures::travel_speed_figure(value, units);
    let kind = |kind: Kind| tell!(language, "welder-kind", kind = kind.name());
    match doubt {
        Doubt::UnknownWelder { name } => tell!(language, "doubt-unknown-welder", name),
        Doubt::OtherKind { record, site } => {
            tell!(language, "doubt-other-kind", record = kind(*record), site = kind(*site))
        }
        Doubt::SpeedMissing => tell!(language, "doubt-no-speed"),
        Doubt::SpeedOutsideMachine { speed: found, slowest, fastest } => tell!(
            language,
            "doubt-speed-outside",
            speed = speed(*found),
            slowest = figure(*slowest),
            fastest = speed(*fastest),
        ),
        Doubt::SpeedVaried { slowest, fastest } => {
            let (slowest, fastest) = (figure(*slowest), speed(*fastest));
            tell!(language, "doubt-speed-varied", slowest, fastest)
        }
        Doubt::WeightsVaried { heats } => {
            changed_at(language, tell!(language, "doubt-weights-varied"), heats, units)
        }
        Doubt::AirFlowVaried { heats } => {
            changed_at(language, tell!(language, "doubt-air-flow-varied"), heats, units)
        }
    }
}

/// What to do about it.
pub fn next(language: Language, doubt: &Doubt) -> String {
    match doubt {
        Doubt::UnknownWelder { .. } => tell!(language, "next-unknown-welder"),
        Doubt::OtherKind { .. } => tell!(language, "next-other-kind"),
        Doubt::SpeedMissing => tell!(language, "next-no-speed"),
        Doubt::SpeedOutsideMachine { .. } => tell!(language, "next-speed-outside"),
        Doubt::SpeedVaried { .. } => tell!(language, "next-speed-varied"),
        Doubt::WeightsVaried { .. } | Doubt::AirFlowVaried { .. } => {
            tell!(language, "next-weights-or-air")
        }
    }
}

fn changed_at(
    language: Language,
    said: String,
    heats: &[Temperature],
    units: UnitSystem,
) -> String {
    if heats.is_empty() {
        return said;
    }
    let heats = amounts::heats(language, heats, units);
    format!("{said} {}", tell!(language, "doubt-changed-at", heats))
}
