//! What the events say, laid out for a phone in the crew's language.
//!
//! Nothing here may differ between two runs that decide the same: no age of the forecast and no
//! time of fetching, or every event of the day would count as changed at every run.

use chrono::{DateTime, Utc};

use super::titles;
use crate::plan::{Checkpoint, DayPlan, Reason, Setting, Span, Verdict};
use crate::render::{advice_words, figures, record_words, words};
use crate::site::Reminders;
use crate::words::{Language, date_of_this_year, tell};

/// The two texts of an event.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EventTexts {
    /// One line, the essence first; `titles` makes it.
    pub summary: String,
    /// Everything.
    pub description: String,
}

/// The texts of a test weld.
pub fn event_texts(plan: &DayPlan, checkpoint: &Checkpoint, reminders: &Reminders) -> EventTexts {
    let language = plan.language;
    let time = figures::clock(checkpoint.time, plan.time_zone);
    let air = figures::temperature(checkpoint.air, plan.units);
    let why = words::because(checkpoint, plan);
    let mut text = Vec::from_iter(stale_line(plan));
    text.push(tell!(language, "event-head", time, air, why));
    text.extend(care_line(plan, checkpoint));
    for setting in &checkpoint.settings {
        text.push(String::new());
        text.extend(setting_lines(plan, setting));
    }
    let how = numbered(&advice_words::how_to_test(language, plan.units));
    push_section(&mut text, &tell!(language, "head-how"), how);
    push_cautions(&mut text, language);
    text.push(String::new());
    text.push(source_line(plan));
    let summary = titles::test_title(plan, checkpoint, reminders);
    EventTexts { summary, description: text.join("\n") }
}

/// The texts of the evening before: the whole of tomorrow.
pub fn evening_texts(plan: &DayPlan) -> EventTexts {
    let language = plan.language;
    let clock = |at| figures::clock(at, plan.time_zone);
    let day = date_of_this_year(language, plan.date);
    let (start, end) = (clock(plan.shift.start), clock(plan.shift.end));
    let mut text = Vec::from_iter(stale_line(plan));
    text.push(tell!(language, "evening-head", day, start, end, site = &plan.site));
    text.push(air_line(plan));
    text.push(weldable_line(plan));
    let advice: Vec<String> =
        plan.advice.iter().map(|advice| advice_words::advice(advice, plan)).collect();
    push_section(&mut text, &tell!(language, "head-tests"), test_lines(plan));
    push_section(&mut text, &tell!(language, "head-weather"), span_lines(plan));
    push_section(&mut text, &tell!(language, "head-notes"), bulleted(&notes(plan)));
    push_section(&mut text, &tell!(language, "head-advice"), bulleted(&advice));
    push_cautions(&mut text, language);
    text.push(String::new());
    if let Some(issued) = plan.weather.issued_at {
        let issued = words::day_and_time(language, issued, plan.time_zone);
        text.push(tell!(language, "evening-issued", issued));
    }
    text.push(source_line(plan));
    EventTexts { summary: titles::evening_title(plan), description: text.join("\n") }
}

/// The texts of a hold.
pub(super) fn hold_texts(
    plan: &DayPlan,
    (start, end): (DateTime<Utc>, DateTime<Utc>),
    reasons: &[Reason],
    reminders: &Reminders,
) -> EventTexts {
    let language = plan.language;
    let clock = |at| figures::clock(at, plan.time_zone);
    let (start, end) = (clock(start), clock(end));
    let full = reasons.iter().map(|reason| words::reason(language, reason, plan.units));
    let full = full.collect::<Vec<_>>().join("; ");
    let why = words::reasons_short(language, reasons);
    let summary = titles::hold_title(plan, &end, &why, reminders);
    let mut text = Vec::from_iter(stale_line(plan));
    text.push(tell!(language, "hold-head", start, end, reasons = full));
    text.push(tell!(language, "hold-resumes"));
    if reasons.iter().any(|reason| matches!(reason, Reason::Thunder | Reason::WindStop { .. })) {
        text.push(tell!(language, "hold-off-the-roof"));
    }
    text.push(String::new());
    text.push(source_line(plan));
    EventTexts { summary, description: text.join("\n") }
}

/// The texts of an event that has gone from the plan; `earlier` is the summary that it had.
pub(super) fn cancelled_texts(language: Language, earlier: &str) -> EventTexts {
    EventTexts {
        summary: tell!(language, "summary-cancelled", earlier),
        description: tell!(language, "description-cancelled"),
    }
}

/// The first line of every text when an old forecast stands in: with the hour of that forecast,
/// since its age would be another at every run.
fn stale_line(plan: &DayPlan) -> Option<String> {
    let read = words::day_and_time(plan.language, plan.weather.fetched_at, plan.time_zone);
    plan.weather.stale.then(|| tell!(plan.language, "event-stale", read))
}

fn care_line(plan: &DayPlan, checkpoint: &Checkpoint) -> Option<String> {
    let inside = |span: &&Span| span.start <= checkpoint.time && checkpoint.time < span.end;
    let span = plan.spans.iter().find(inside)?;
    let reasons = reasons(plan, span);
    (!reasons.is_empty()).then(|| tell!(plan.language, "event-care", reasons))
}

fn reasons(plan: &DayPlan, span: &Span) -> String {
    let reasons = span.reasons.iter();
    let reasons: Vec<String> =
        reasons.map(|reason| words::reason(plan.language, reason, plan.units)).collect();
    reasons.join("; ")
}

fn setting_lines(plan: &DayPlan, setting: &Setting) -> Vec<String> {
    let (language, units) = (plan.language, plan.units);
    let kind = words::trial_kind(language, &setting.trial.kind);
    let mut lines = vec![format!("{}: {}", setting.welder, words::trial(language, setting, units))];
    if let Some(estimate) = &setting.learned {
        lines.push(format!("({})", record_words::learned(language, estimate, units)));
    }
    lines.push(format!("({kind}: {})", words::trial_because(language, setting, units)));
    let passed_over = record_words::passed_over(language, setting, plan.time_zone, units);
    lines.extend(passed_over.map(|passed_over| format!("({passed_over})")));
    lines
}

fn test_lines(plan: &DayPlan) -> Vec<String> {
    let language = plan.language;
    let mut lines = Vec::new();
    for checkpoint in &plan.checkpoints {
        let clock = figures::clock(checkpoint.time, plan.time_zone);
        let air = figures::temperature(checkpoint.air, plan.units);
        let why = words::because(checkpoint, plan);
        lines.push(format!("{clock}  {}", tell!(language, "evening-test", why, air)));
        lines.extend(checkpoint.settings.iter().map(|setting| {
            format!("  {}: {}", setting.welder, words::trial(language, setting, plan.units))
        }));
    }
    if lines.is_empty() {
        lines.push(tell!(language, "evening-no-test"));
    }
    lines
}

fn span_lines(plan: &DayPlan) -> Vec<String> {
    let clock = |at| figures::clock(at, plan.time_zone);
    plan.spans
        .iter()
        .filter(|span| span.verdict != Verdict::Weld)
        .map(|span| {
            let (start, end) = (clock(span.start), clock(span.end));
            let from_to = tell!(plan.language, "evening-span", start, end);
            let verdict = words::verdict(plan.language, span.verdict);
            format!("{from_to}  {verdict}: {}", reasons(plan, span))
        })
        .collect()
}

/// What the plan leaves out or bends, and what the forecast lacks.
fn notes(plan: &DayPlan) -> Vec<String> {
    let (language, weather) = (plan.language, &plan.weather);
    let mut notes: Vec<String> = plan.notes.iter().map(|note| words::note(note, plan)).collect();
    if !weather.missing.is_empty() {
        let fields = words::fields(language, &weather.missing);
        notes.push(tell!(language, "evening-missing", fields));
    }
    if !weather.partly_missing.is_empty() {
        let fields = words::fields(language, &weather.partly_missing);
        notes.push(tell!(language, "evening-gaps", fields));
    }
    if !weather.bridged.is_empty() {
        let hours = weather.bridged.iter().map(|&hour| figures::clock(hour, plan.time_zone));
        let hours = hours.collect::<Vec<_>>().join(", ");
        notes.push(tell!(language, "evening-bridged", hours));
    }
    notes
}

fn air_line(plan: &DayPlan) -> String {
    let low = figures::whole(plan.summary.air_min.in_units(plan.units));
    let high = figures::temperature(plan.summary.air_max, plan.units);
    tell!(plan.language, "evening-air", low, high)
}

fn weldable_line(plan: &DayPlan) -> String {
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    match (plan.summary.first_weldable, plan.summary.last_weldable) {
        (Some(first), Some(last)) => {
            let work = figures::duration(plan.summary.weldable);
            let (first, last) = (clock(first), clock(last));
            tell!(plan.language, "evening-weldable", work, first, last)
        }
        _ => tell!(plan.language, "evening-no-welding"),
    }
}

fn source_line(plan: &DayPlan) -> String {
    let (source, credit) = (&plan.weather.source, &plan.weather.attribution);
    tell!(plan.language, "event-source", source, credit)
}

fn push_cautions(text: &mut Vec<String>, language: Language) {
    let cautions = bulleted(&advice_words::cautions(language));
    push_section(text, &tell!(language, "head-cautions"), cautions);
}

fn push_section(text: &mut Vec<String>, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    text.push(String::new());
    text.push(format!("{title}:"));
    text.extend(lines);
}

fn numbered(lines: &[String]) -> Vec<String> {
    lines.iter().zip(1..).map(|(line, number)| format!("{number}. {line}")).collect()
}

fn bulleted(lines: &[String]) -> Vec<String> {
    lines.iter().map(|line| format!("- {line}")).collect()
}
