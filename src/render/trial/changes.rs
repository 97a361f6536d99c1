//! What a correction changed, each in one line: `lot: none, now B7`.

use chrono_tz::Tz;

use super::judged_text::held;
use super::{OFFICE, amounts, strip_words};
use crate::render::figures;
use crate::testweld::Trial;
use crate::units::UnitSystem;

/// A trial, and the checkpoint that it was said to be for.
pub(super) type Written<'a> = (&'a Trial, Option<&'a str>);

/// From `old` to `new`; empty where nothing that is shown differs.
pub(super) fn between(
    old: Written<'_>,
    new: Written<'_>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<String> {
    let (old, new) = (parts(old, zone, units), parts(new, zone, units));
    old.into_iter()
        .zip(new)
        .filter(|((_, old), (_, new))| old != new)
        .map(|((name, old), (_, new))| format!("{name}: {old}, now {new}"))
        .collect()
}

/// Every part of a trial in words, always in the same order.
fn parts(
    (trial, checkpoint): Written<'_>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<(&'static str, String)> {
    let words = |words: &Option<String>| words.clone().unwrap_or_else(none);
    let heats: Vec<String> = trial
        .heats
        .iter()
        .map(|heat| {
            let strips = strip_words::strips(OFFICE, &heat.strips, units);
            format!("{} {strips}{}", amounts::heat(heat.heat, units), held(OFFICE, heat, units))
        })
        .collect();
    vec![
        ("when", trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()),
        ("who", trial.who.clone()),
        ("checkpoint", checkpoint.map_or_else(none, str::to_owned)),
        ("welder", format!("{} ({})", trial.welder, trial.welder_kind.name())),
        ("polymer", trial.polymer.name().to_owned()),
        ("thickness", amounts::thickness(trial.thickness, units)),
        ("lot", words(&trial.lot)),
        ("roll", words(&trial.roll)),
        ("air", amounts::heat(trial.ambient, units)),
        ("sheet temperature", trial.sheet.map_or_else(none, |sheet| amounts::heat(sheet, units))),
        ("weights", words(&trial.weights)),
        ("air flow", words(&trial.air_flow)),
        ("speed", trial.speed.map_or_else(none, |speed| figures::travel_speed(speed, units))),
        ("heats", heats.join(" | ")),
        ("note", words(&trial.note)),
    ]
}

fn none() -> String {
    "none".to_owned()
}
