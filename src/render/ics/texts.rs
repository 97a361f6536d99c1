//! What the events say. The sentences are those of [`words`]; here they are laid out for a phone.
//!
//! Nothing here may differ between two runs that decide the same: no age of the forecast and no
//! time of fetching, or every event of the day would count as changed at every run.

use chrono::{DateTime, Utc};

use crate::plan::{Checkpoint, DayPlan, Reason, Setting, Span, Verdict};
use crate::render::{advice_words, figures, record_words, words};
use crate::units::Temperature;
use crate::weather::Field;
use crate::words::{Language, tell};

/// Longest name of a welder in a summary, in characters.
const LONGEST_WELDER: usize = 24;
/// Longest name of a site in a summary, in characters.
const LONGEST_SITE: usize = 40;
/// Most kinds of setting that a summary names.
const MOST_SETTINGS: usize = 2;

/// The description of an event that has gone from the plan.
pub(super) const CANCELLED: &str = "No longer in the plan: the forecast or the shift has moved. The other entries of the day hold.";

/// The two texts of an event.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EventTexts {
    /// One line, the essence first: most phones ring with nothing else.
    pub summary: String,
    /// Everything.
    pub description: String,
}

/// The texts of a test weld: `Test weld · 7 ft/min · 700–1100 °F`.
///
/// The summary leaves out the hour, which every phone shows beside it.
pub fn event_texts(plan: &DayPlan, checkpoint: &Checkpoint) -> EventTexts {
    let clock = figures::clock(checkpoint.time, plan.time_zone);
    let air = figures::temperature(checkpoint.air, plan.units);
    let mut text = Vec::from_iter(stale_line(plan));
    text.push(format!("{clock}, air {air}. Why: {}.", words::because(checkpoint, plan)));
    text.extend(care_line(plan, checkpoint));
    for setting in &checkpoint.settings {
        text.push(String::new());
        text.extend(setting_lines(plan, setting));
    }
    push_section(&mut text, "How to test", numbered(&words::how_to_test(plan.units)));
    push_section(&mut text, "Cautions", bulleted(&words::CAUTIONS));
    text.push(String::new());
    text.push(source_line(plan));
    EventTexts { summary: test_summary(plan, checkpoint), description: text.join("\n") }
}

/// The texts of the evening before: the whole of tomorrow.
pub fn evening_texts(plan: &DayPlan) -> EventTexts {
    let clock = |at| figures::clock(at, plan.time_zone);
    let day = plan.date.format("%A, %B %-d");
    let (start, end) = (clock(plan.shift.start), clock(plan.shift.end));
    let mut text = Vec::from_iter(stale_line(plan));
    text.push(format!("{day}: {start} to {end} at {}.", plan.site));
    text.push(format!("Air {}.", air_range(plan)));
    text.push(weldable_line(plan));
    push_section(&mut text, "Test welds", test_lines(plan));
    push_section(&mut text, "Weather that holds or slows the welding", span_lines(plan));
    push_section(&mut text, "Notes", note_lines(plan));
    let advice: Vec<String> =
        plan.advice.iter().map(|advice| advice_words::advice(advice, plan)).collect();
    push_section(&mut text, "Advice", bulleted(&advice));
    push_section(&mut text, "Cautions", bulleted(&words::CAUTIONS));
    text.push(String::new());
    if let Some(issued) = plan.weather.issued_at {
        let issued = issued.with_timezone(&plan.time_zone).format("%b %-d %H:%M");
        text.push(format!("Forecast issued {issued}."));
    }
    text.push(source_line(plan));
    EventTexts { summary: evening_summary(plan), description: text.join("\n") }
}

/// The texts of a hold: `HOLD until 13:05 · rain: no welding`.
pub(super) fn hold_texts(
    plan: &DayPlan,
    (start, end): (DateTime<Utc>, DateTime<Utc>),
    reasons: &[Reason],
) -> EventTexts {
    let language = Language::En;
    let clock = |at| figures::clock(at, plan.time_zone);
    let why = words::reasons_short(reasons);
    let mut text = Vec::from_iter(stale_line(plan));
    let full: Vec<String> =
        reasons.iter().map(|reason| words::reason(reason, plan.units)).collect();
    let reasons_in_full = full.join("; ");
    let (start, end) = (clock(start), clock(end));
    text.push(tell!(language, "hold-span", start, end = &*end, reasons = reasons_in_full));
    text.push(tell!(language, "hold-resumes"));
    if reasons.iter().any(|reason| matches!(reason, Reason::Thunder | Reason::WindStop { .. })) {
        text.push(tell!(language, "hold-off-the-roof"));
    }
    text.push(String::new());
    text.push(source_line(plan));
    EventTexts { summary: tell!(language, "hold-summary", end, why), description: text.join("\n") }
}

/// The summary of an event that has gone from the plan.
pub(super) fn cancelled_summary(earlier: &str) -> String {
    format!("CANCELLED: {earlier}")
}

fn test_summary(plan: &DayPlan, checkpoint: &Checkpoint) -> String {
    let mut kinds: Vec<(String, Vec<&str>)> = Vec::new();
    for setting in &checkpoint.settings {
        let trial = short_trial(plan, setting);
        match kinds.iter_mut().find(|(known, _)| *known == trial) {
            Some((_, welders)) => welders.push(&setting.welder),
            None => kinds.push((trial, vec![&setting.welder])),
        }
    }
    let mut parts = vec!["Test weld".to_owned()];
    if let [(trial, welders)] = kinds.as_slice() {
        parts.push(trial.clone());
        if welders.len() > 1 {
            parts.push(format!("all {} welders", welders.len()));
        }
        return parts.join(" · ");
    }
    for (trial, welders) in kinds.iter().take(MOST_SETTINGS) {
        parts.push(format!("{}: {trial}", short_names(welders)));
    }
    if kinds.len() > MOST_SETTINGS {
        parts.push(format!("+{} more", kinds.len() - MOST_SETTINGS));
    }
    parts.join(" · ")
}

/// `7 ft/min 825/925/1025 °F`, or `7 ft/min 700–1100 °F` where the heats are many.
fn short_trial(plan: &DayPlan, setting: &Setting) -> String {
    let heat = |value: Temperature| figures::whole(value.in_units(plan.units));
    let heats = match setting.trial.heats.as_slice() {
        [low, _, .., _, high] => format!("{}–{}", heat(*low), heat(*high)),
        few => few.iter().map(|&value| heat(value)).collect::<Vec<_>>().join("/"),
    };
    let heats = format!("{heats} {}", plan.units.temperature());
    match setting.trial.speed_held {
        Some(speed) => format!("{} {heats}", figures::travel_speed(speed, plan.units)),
        None => heats,
    }
}

fn short_names(welders: &[&str]) -> String {
    let first = welders.first().map_or_else(String::new, |name| shortened(name, LONGEST_WELDER));
    match welders.len() {
        0 | 1 => first,
        many => format!("{first} +{}", many - 1),
    }
}

/// A name in one line, cut where it is too long for a summary.
fn shortened(name: &str, longest: usize) -> String {
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    if name.chars().count() <= longest {
        return name;
    }
    let cut: String = name.chars().take(longest - 1).collect();
    format!("{}…", cut.trim_end())
}

fn evening_summary(plan: &DayPlan) -> String {
    let site = shortened(&plan.site, LONGEST_SITE);
    let weldable = figures::duration(plan.summary.weldable);
    match (plan.checkpoints.as_slice(), plan.summary.first_weldable) {
        ([first, rest @ ..], _) => {
            let clock = figures::clock(first.time, plan.time_zone);
            let tests = match rest.len() {
                0 => format!("1 test weld at {clock}"),
                more => format!("{} test welds from {clock}", more + 1),
            };
            format!("Tomorrow: {tests} · {weldable} weldable · {site}")
        }
        ([], Some(_)) => format!("Tomorrow: no test weld planned · {weldable} weldable · {site}"),
        ([], None) => format!("Tomorrow: no welding · {site}"),
    }
}

/// The first line of every text when an old forecast stands in: with the hour of that forecast,
/// since its age would be another at every run.
fn stale_line(plan: &DayPlan) -> Option<String> {
    let read = plan.weather.fetched_at.with_timezone(&plan.time_zone).format("%b %-d %H:%M");
    plan.weather.stale.then(|| {
        format!(
            "STALE FORECAST of {read}: the weather service could not be asked since. Watch the \
             thermometer and the sky."
        )
    })
}

fn care_line(plan: &DayPlan, checkpoint: &Checkpoint) -> Option<String> {
    let inside = |span: &&Span| span.start <= checkpoint.time && checkpoint.time < span.end;
    let span = plan.spans.iter().find(inside)?;
    let reasons: Vec<String> =
        span.reasons.iter().map(|reason| words::reason(reason, plan.units)).collect();
    (!reasons.is_empty()).then(|| format!("Take care: {}.", reasons.join("; ")))
}

fn setting_lines(plan: &DayPlan, setting: &Setting) -> Vec<String> {
    let kind = words::trial_kind(&setting.trial.kind).replace('-', " ");
    let mut lines = vec![format!("{}: {}", setting.welder, words::trial(setting, plan.units))];
    if let Some(estimate) = &setting.learned {
        lines.push(format!("({})", record_words::learned(estimate, plan.units)));
    }
    lines.push(format!("({kind}: {})", words::trial_because(setting, plan.units)));
    let passed_over = record_words::passed_over(setting, plan.time_zone, plan.units);
    lines.extend(passed_over.map(|passed_over| format!("({passed_over})")));
    lines
}

fn test_lines(plan: &DayPlan) -> Vec<String> {
    let mut lines = Vec::new();
    for checkpoint in &plan.checkpoints {
        let clock = figures::clock(checkpoint.time, plan.time_zone);
        let air = figures::temperature(checkpoint.air, plan.units);
        lines.push(format!("{clock}  {}, air {air}", words::because(checkpoint, plan)));
        lines.extend(
            checkpoint.settings.iter().map(|setting| {
                format!("  {}: {}", setting.welder, words::trial(setting, plan.units))
            }),
        );
    }
    if lines.is_empty() {
        lines.push("None planned. No production weld without one.".to_owned());
    }
    lines
}

fn span_lines(plan: &DayPlan) -> Vec<String> {
    let clock = |at| figures::clock(at, plan.time_zone);
    plan.spans
        .iter()
        .filter(|span| span.verdict != Verdict::Weld)
        .map(|span| {
            let reasons: Vec<String> =
                span.reasons.iter().map(|reason| words::reason(reason, plan.units)).collect();
            let (start, end, verdict) = (clock(span.start), clock(span.end), span.verdict.name());
            format!("{start} to {end}  {verdict}: {}", reasons.join("; "))
        })
        .collect()
}

/// What the plan leaves out or bends, and what the forecast lacks.
fn note_lines(plan: &DayPlan) -> Vec<String> {
    let names = |fields: &[Field]| {
        let names = fields.iter().map(|field| field.name().replace('_', " "));
        names.collect::<Vec<_>>().join(", ")
    };
    let clocks = |hours: &[DateTime<Utc>]| {
        let clocks = hours.iter().map(|&hour| figures::clock(hour, plan.time_zone));
        clocks.collect::<Vec<_>>().join(", ")
    };
    let weather = &plan.weather;
    let mut notes: Vec<String> =
        plan.notes.iter().map(|note| format!("- {}", words::note(note, plan))).collect();
    if !weather.missing.is_empty() {
        notes.push(format!("- Not in this forecast: {}.", names(&weather.missing)));
    }
    if !weather.partly_missing.is_empty() {
        notes.push(format!("- Missing in some hours: {}.", names(&weather.partly_missing)));
    }
    if !weather.bridged.is_empty() {
        let hours = clocks(&weather.bridged);
        notes.push(format!("- Air missing and bridged from the hours beside: {hours}."));
    }
    notes
}

fn air_range(plan: &DayPlan) -> String {
    let low = figures::whole(plan.summary.air_min.in_units(plan.units));
    format!("{low} to {}", figures::temperature(plan.summary.air_max, plan.units))
}

fn weldable_line(plan: &DayPlan) -> String {
    let clock = |at| figures::clock(at, plan.time_zone);
    match (plan.summary.first_weldable, plan.summary.last_weldable) {
        (Some(first), Some(last)) => format!(
            "Weldable {}, between {} and {}.",
            figures::duration(plan.summary.weldable),
            clock(first),
            clock(last)
        ),
        _ => "No welding: the weather holds it for the whole of the shift.".to_owned(),
    }
}

fn source_line(plan: &DayPlan) -> String {
    format!("Weather: {}. {}", plan.weather.source, plan.weather.attribution)
}

fn push_section(text: &mut Vec<String>, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    text.push(String::new());
    text.push(format!("{title}:"));
    text.extend(lines);
}

fn numbered(lines: &[&str]) -> Vec<String> {
    lines.iter().zip(1..).map(|(line, number)| format!("{number}. {line}")).collect()
}

fn bulleted(lines: &[impl AsRef<str>]) -> Vec<String> {
    lines.iter().map(|line| format!("- {}", line.as_ref())).collect()
}
