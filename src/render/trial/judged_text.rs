//! A judged trial as text: the setting first, then what to do next, then why.

use chrono_tz::Tz;

use super::layout::{bullet, page, section, wrap};
use super::{amounts, certifies_nothing, setting_words, strip_words, verdict_words};
use crate::render::figures;
use crate::testweld::{HeatTrial, JudgedHeat, JudgedTrial, RunSetting, Trial};
use crate::units::UnitSystem;
use crate::words::{Language, tell};

/// The verdict and everything behind it, in 80 columns.
pub fn judged_text(
    language: Language,
    judged: &JudgedTrial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> String {
    let mut lines = verdict_lines(language, judged, units);
    let heats = heat_lines(language, judged, units);
    section(&mut lines, &tell!(language, "trial-heats"), heats);
    let written = trial_lines(language, &judged.trial, checkpoint, zone, units);
    section(&mut lines, &tell!(language, "trial-written"), written);
    lines.push(String::new());
    lines.extend(wrap(&certifies_nothing(language), "", ""));
    page(&lines)
}

/// The setting, the window, and what to do next: what the operator needs.
pub fn verdict_text(language: Language, judged: &JudgedTrial, units: UnitSystem) -> String {
    verdict_lines(language, judged, units).join("\n")
}

fn verdict_lines(language: Language, judged: &JudgedTrial, units: UnitSystem) -> Vec<String> {
    let mut lines = wrap(&setting_words::headline(language, judged, units), "", "  ");
    // Two good ends of a trial that contradicts itself are no window to weld in.
    let sound = matches!(judged.reading.setting, RunSetting::RunAt { .. });
    if let Some(window) = judged.reading.window.as_ref().filter(|_| sound) {
        let window = setting_words::window(language, window, units);
        lines.extend(wrap(&tell!(language, "window-head", window), "  ", "    "));
    }
    let odd = setting_words::odd_and_next(language, judged, units);
    let odd = odd
        .iter()
        .flat_map(|(what, next)| bullet(what).into_iter().chain(wrap(next, "    => ", "       ")));
    section(&mut lines, &tell!(language, "trial-odd"), odd.collect());
    lines
}

/// Each heat with its verdict and its strips.
pub(super) fn heat_lines(
    language: Language,
    judged: &JudgedTrial,
    units: UnitSystem,
) -> Vec<String> {
    judged
        .heats
        .iter()
        .flat_map(|heat| {
            let figure = amounts::heat(heat.heat, units);
            let verdict = verdict_words::verdict(language, &heat.verdict);
            let head = format!("  {figure:>8}  {verdict:<14}  ");
            let why = verdict_words::reason(language, heat, units);
            let mut lines = wrap(&why, &head, &" ".repeat(28));
            for tried in of_heat(&judged.trial, heat) {
                let strips = strip_words::strips(language, &tried.strips, units);
                let held = held(language, tried, units);
                lines.extend(wrap(&format!("{strips}{held}"), &" ".repeat(12), &" ".repeat(14)));
            }
            lines
        })
        .collect()
}

/// The entries of the trial that were judged together as `heat`.
pub(super) fn of_heat<'a>(
    trial: &'a Trial,
    heat: &JudgedHeat,
) -> impl Iterator<Item = &'a HeatTrial> {
    let heat = heat.heat;
    let same = move |tried: &&HeatTrial| !tried.heat.is_below(heat) && !tried.heat.is_above(heat);
    trial.heats.iter().filter(same)
}

/// What was set otherwise at this heat than in the rest of the trial.
pub(super) fn held(language: Language, tried: &HeatTrial, units: UnitSystem) -> String {
    let speed = tried.speed.map(|speed| figures::travel_speed(speed, units));
    let weights = tried.weights.as_ref().map(|weights| tell!(language, "fact-weights", weights));
    let air_flow = tried.air_flow.as_ref().map(|flow| tell!(language, "fact-air-flow", flow));
    let own: Vec<String> = [speed, weights, air_flow].into_iter().flatten().collect();
    if own.is_empty() {
        return String::new();
    }
    format!(" ({})", tell!(language, "held-here", what = own.join(", ")))
}

/// When, who, where, what.
pub(super) fn trial_lines(
    language: Language,
    trial: &Trial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<String> {
    facts(language, trial, checkpoint, zone, units)
        .into_iter()
        .flat_map(|(name, value)| wrap(&value, &format!("  {name:<9}"), &" ".repeat(11)))
        .collect()
}

/// What was written down besides heats and strips, each with its name.
pub(super) fn facts(
    language: Language,
    trial: &Trial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<(String, String)> {
    let when = trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
    let mut facts = vec![(
        tell!(language, "fact-when"),
        tell!(language, "fact-when-by", when, who = &trial.who),
    )];
    facts.extend(
        checkpoint.map(|id| (tell!(language, "fact-for"), tell!(language, "fact-checkpoint", id))),
    );
    facts.extend([
        (tell!(language, "fact-machine"), machine(language, trial, units)),
        (tell!(language, "fact-sheet"), sheet(language, trial, units)),
        (tell!(language, "fact-read"), read(language, trial, units)),
    ]);
    facts.extend(trial.note.as_ref().map(|note| (tell!(language, "fact-note"), note.clone())));
    facts
}

fn machine(language: Language, trial: &Trial, units: UnitSystem) -> String {
    let speed = trial.speed.map_or_else(
        || tell!(language, "fact-no-speed"),
        |speed| figures::travel_speed(speed, units),
    );
    let kind = tell!(language, "welder-kind", kind = trial.welder_kind.name());
    let weights = trial.weights.as_ref().map(|weights| tell!(language, "fact-weights", weights));
    let air_flow = trial.air_flow.as_ref().map(|flow| tell!(language, "fact-air-flow", flow));
    listed([Some(trial.welder.clone()), Some(kind), Some(speed), weights, air_flow])
}

fn sheet(language: Language, trial: &Trial, units: UnitSystem) -> String {
    let thickness = amounts::thickness(trial.thickness, units);
    let sheet = format!("{} {thickness}", trial.polymer.name());
    let lot = trial.lot.as_ref().map(|lot| tell!(language, "fact-lot", lot));
    let roll = trial.roll.as_ref().map(|roll| tell!(language, "fact-roll", roll));
    listed([Some(sheet), lot, roll])
}

fn read(language: Language, trial: &Trial, units: UnitSystem) -> String {
    let air = figures::temperature(trial.ambient, units);
    match trial.sheet {
        Some(sheet) => {
            let sheet = figures::temperature(sheet, units);
            tell!(language, "fact-air-and-sheet", air, sheet)
        }
        None => tell!(language, "fact-air", air),
    }
}

fn listed<const N: usize>(parts: [Option<String>; N]) -> String {
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
