//! The book as a list, and one trial of it whole.

use chrono_tz::Tz;

use super::judged_text::{judged_text, trial_lines, verdict_text};
use super::layout::{bullet, cell, page, section, wrap};
use super::withdrawn::{self, withdrawn_lines};
use super::{OFFICE, amounts, certifies_nothing, changes, setting_words};
use crate::quality::{Correction, KeptTrial, WithdrawnTrial};
use crate::render::figures;
use crate::testweld::RunSetting;
use crate::units::UnitSystem;

/// One line for each trial, newest first; then those that were withdrawn.
pub fn list_text(
    trials: &[KeptTrial],
    withdrawn: &[WithdrawnTrial],
    zone: Tz,
    units: UnitSystem,
) -> String {
    let mut trials: Vec<&KeptTrial> = trials.iter().collect();
    trials.sort_by(|one, other| other.when().cmp(&one.when()).then_with(|| other.id.cmp(&one.id)));
    let mut lines =
        if trials.is_empty() { wrap(EMPTY, "", "") } else { trial_rows(&trials, zone, units) };
    section(&mut lines, withdrawn::TITLE, withdrawn_lines(withdrawn, zone));
    page(&lines)
}

fn trial_rows(trials: &[&KeptTrial], zone: Tz, units: UnitSystem) -> Vec<String> {
    let mut lines = vec![format!(
        "{} {} {} {} SETTING",
        cell("TRIAL", 7),
        cell("WHEN", 16),
        cell("WELDER", 14),
        cell("AIR", 6)
    )];
    for kept in trials {
        let trial = &kept.judged.trial;
        let when = trial.when.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string();
        let setting = match kept.judged.reading.setting {
            RunSetting::RunAt { heat, speed } => setting_words::setting(OFFICE, heat, speed, units),
            RunSetting::DoNotWeld(why) => {
                format!("do not weld: {}", setting_words::why_not(OFFICE, why))
            }
        };
        let corrected = if kept.correction.is_some() { " (corrected)" } else { "" };
        let head = format!(
            "{} {} {} {} ",
            cell(&kept.id, 7),
            cell(&when, 16),
            cell(&trial.welder, 14),
            cell(&figures::temperature(trial.ambient, units), 6)
        );
        let made_for =
            kept.checkpoint.as_ref().map_or_else(String::new, |id| format!(", for {id}"));
        lines.extend(wrap(&format!("{setting}{made_for}{corrected}"), &head, &" ".repeat(47)));
    }
    lines
}

/// What is said of an empty book.
pub(super) const EMPTY: &str =
    "No test weld of this site is in the book. `fairseam record` writes one down.";

/// A trial whole: verdict, strips, what was run, and everything that it said before.
pub fn trial_text(kept: &KeptTrial, zone: Tz, units: UnitSystem) -> String {
    let mut text = format!("Trial {}\n\n", super::clean(&kept.id));
    let whole = judged_text(OFFICE, &kept.judged, kept.checkpoint.as_deref(), zone, units);
    let caution = wrap(&certifies_nothing(OFFICE), "", "").join("\n");
    text.push_str(whole.trim_end().trim_end_matches(&caution).trim_end());
    text.push('\n');
    let mut lines = Vec::new();
    let local = |at: chrono::DateTime<chrono::Utc>| {
        at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()
    };
    let ran = kept.ran.iter().flat_map(|ran| {
        let setting = setting_words::setting(OFFICE, ran.heat, ran.speed, units);
        bullet(&format!("{setting}, written down {}", local(ran.written_at)))
    });
    section(&mut lines, "Settings really run", ran.collect());
    section(&mut lines, "History, newest first", history(kept, zone, units));
    lines.push(String::new());
    lines.extend(wrap(&certifies_nothing(OFFICE), "", ""));
    text + &page(&lines)
}

fn history(kept: &KeptTrial, zone: Tz, units: UnitSystem) -> Vec<String> {
    let local = |at: chrono::DateTime<chrono::Utc>| {
        at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()
    };
    let mut lines = Vec::new();
    let mut newer = (&kept.judged, &kept.correction, kept.written_at, kept.checkpoint.as_deref());
    let taken_out = |forms_before: usize| {
        let of_form = kept.withdrawals.iter().rev();
        let of_form = of_form.filter(move |withdrawal| withdrawal.forms_before == forms_before);
        of_form.flat_map(|withdrawal| {
            let said = &withdrawal.said;
            bullet(&format!("{} withdrawn by {}: {}", local(withdrawal.at), said.by, said.why))
        })
    };
    for (place, form) in kept.earlier.iter().enumerate().rev() {
        lines.extend(taken_out(place + 2));
        lines.extend(bullet(&format!("{} {}", local(newer.2), corrected(newer.1.as_ref()))));
        let old = (&form.judged.trial, form.checkpoint.as_deref());
        for change in changes::between(old, (&newer.0.trial, newer.3), zone, units) {
            lines.extend(wrap(&change, "      ", "        "));
        }
        newer = (&form.judged, &form.correction, form.written_at, form.checkpoint.as_deref());
    }
    lines.extend(taken_out(1));
    lines.extend(bullet(&format!("{} written down", local(newer.2))));
    if !kept.earlier.is_empty() {
        lines.extend(wrap("As it was first written down:", "    ", "    "));
        let first = verdict_text(OFFICE, newer.0, units);
        lines.extend(
            first
                .lines()
                .filter(|line| !line.is_empty())
                .map(|line| format!("    {line}"))
                .flat_map(|line| wrap(line.trim_start(), "      ", "        ")),
        );
        lines.extend(
            trial_lines(OFFICE, &newer.0.trial, newer.3, zone, units)
                .iter()
                .flat_map(|line| wrap(line.trim_start(), "      ", "        ")),
        );
        for heat in &newer.0.trial.heats {
            let strips = super::strip_words::strips(OFFICE, &heat.strips, units);
            let line = format!("{}: {strips}", amounts::heat(heat.heat, units));
            lines.extend(wrap(&line, "      ", "        "));
        }
    }
    lines
}

fn corrected(correction: Option<&Correction>) -> String {
    correction.map_or_else(
        || "written down".to_owned(),
        |correction| format!("corrected by {}: {}", correction.by, correction.why),
    )
}
