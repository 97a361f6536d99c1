//! A judged trial as text: the setting first, then what to do next, then why.

use chrono_tz::Tz;

use super::layout::{bullet, page, section, wrap};
use super::{CERTIFIES_NOTHING, amounts, setting_words, strip_words, verdict_words};
use crate::render::figures;
use crate::testweld::{HeatTrial, JudgedHeat, JudgedTrial, RunSetting, Trial};
use crate::units::UnitSystem;

/// The verdict and everything behind it, in 80 columns.
pub fn judged_text(
    judged: &JudgedTrial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> String {
    let mut lines = verdict_lines(judged, units);
    section(&mut lines, "Heat by heat", heat_lines(judged, units));
    section(&mut lines, "As written down", trial_lines(&judged.trial, checkpoint, zone, units));
    lines.push(String::new());
    lines.extend(wrap(CERTIFIES_NOTHING, "", ""));
    page(&lines)
}

/// The setting, the window, and what to do next: what the operator needs.
pub fn verdict_text(judged: &JudgedTrial, units: UnitSystem) -> String {
    verdict_lines(judged, units).join("\n")
}

fn verdict_lines(judged: &JudgedTrial, units: UnitSystem) -> Vec<String> {
    let mut lines = wrap(&setting_words::headline(judged, units), "", "  ");
    // Two good ends of a trial that contradicts itself are no window to weld in.
    let sound = matches!(judged.reading.setting, RunSetting::RunAt { .. });
    if let Some(window) = judged.reading.window.as_ref().filter(|_| sound) {
        let window = format!("Window {}", setting_words::window(window, units));
        lines.extend(wrap(&window, "  ", "    "));
    }
    let odd = setting_words::odd_and_next(judged, units);
    let odd = odd
        .iter()
        .flat_map(|(what, next)| bullet(what).into_iter().chain(wrap(next, "    => ", "       ")));
    section(&mut lines, "What is odd, and what to do next", odd.collect());
    lines
}

/// Each heat with its verdict and its strips.
pub(super) fn heat_lines(judged: &JudgedTrial, units: UnitSystem) -> Vec<String> {
    judged
        .heats
        .iter()
        .flat_map(|heat| {
            let figure = amounts::heat(heat.heat, units);
            let verdict = verdict_words::verdict(&heat.verdict);
            let head = format!("  {figure:>8}  {verdict:<14}  ");
            let mut lines = wrap(&verdict_words::reason(heat, units), &head, &" ".repeat(28));
            for tried in of_heat(&judged.trial, heat) {
                let strips = strip_words::strips(&tried.strips, units);
                let held = held(tried, units);
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
pub(super) fn held(tried: &HeatTrial, units: UnitSystem) -> String {
    let speed = tried.speed.map(|speed| figures::travel_speed(speed, units));
    let weights = tried.weights.as_ref().map(|words| format!("weights {words}"));
    let air_flow = tried.air_flow.as_ref().map(|words| format!("air flow {words}"));
    let own: Vec<String> = [speed, weights, air_flow].into_iter().flatten().collect();
    if own.is_empty() { String::new() } else { format!(" (here {})", own.join(", ")) }
}

/// When, who, where, what.
pub(super) fn trial_lines(
    trial: &Trial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<String> {
    facts(trial, checkpoint, zone, units)
        .into_iter()
        .flat_map(|(name, value)| wrap(&value, &format!("  {name:<9}"), &" ".repeat(11)))
        .collect()
}

/// What was written down besides heats and strips, each with its name.
pub(super) fn facts(
    trial: &Trial,
    checkpoint: Option<&str>,
    zone: Tz,
    units: UnitSystem,
) -> Vec<(&'static str, String)> {
    let when = trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M");
    let thickness = amounts::thickness(trial.thickness, units);
    let named = |name: &str, words: &Option<String>| {
        words.as_ref().map_or_else(String::new, |words| format!(", {name} {words}"))
    };
    let sheet = format!(
        "{} {thickness}{}{}",
        trial.polymer.name(),
        named("lot", &trial.lot),
        named("roll", &trial.roll)
    );
    let own = trial.sheet.map_or_else(String::new, |sheet| {
        format!(", sheet {}", figures::temperature(sheet, units))
    });
    let speed = trial
        .speed
        .map_or_else(|| "no speed".to_owned(), |speed| figures::travel_speed(speed, units));
    let machine = format!(
        "{}, {}, {speed}{}{}",
        trial.welder,
        trial.welder_kind.name(),
        named("weights", &trial.weights),
        named("air flow", &trial.air_flow)
    );
    let mut facts = vec![("When", format!("{when} by {}", trial.who))];
    facts.extend(checkpoint.map(|id| ("For", format!("checkpoint {id}"))));
    facts.extend([
        ("Machine", machine),
        ("Sheet", sheet),
        ("Read", format!("air {}{own}", figures::temperature(trial.ambient, units))),
    ]);
    facts.extend(trial.note.as_ref().map(|note| ("Note", note.clone())));
    facts
}
