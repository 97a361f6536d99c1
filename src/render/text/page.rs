//! The page: the day at a glance, when to test and what to set, the air along the day, advice.

use textwrap::{Options, WordSeparator};

use super::day_chart::day_chart;
use super::picture::picture;
use super::{COLUMNS, Paint};
use crate::plan::{Checkpoint, DayPlan, Setting, Span, Verdict};
use crate::render::glance::glance;
use crate::render::{advice_words, figures, record_words, steers_a_terminal, words};
use crate::words::{Language, date, tell};

/// The plan as a page of 80 columns, with a line end after every line.
pub fn plan_text(plan: &DayPlan, paint: Paint) -> String {
    let language = plan.language;
    let stand_by = plan.stand_by.iter();
    let stand_by = stand_by.map(|test| words::stand_by(language, test, plan.time_zone));
    let notes = plan.notes.iter().map(|note| words::note(note, plan));
    let advice = plan.advice.iter().map(|advice| advice_words::advice(advice, plan));
    let how = advice_words::how_to_test(language, plan.units);
    let cautions = advice_words::cautions(language);
    let sections = [
        (tell!(language, "section-glance"), glance_lines(plan)),
        (tell!(language, "section-tests"), tests(plan, paint)),
        (tell!(language, "section-stand-by"), bullets(stand_by)),
        (tell!(language, "section-picture"), picture(plan, paint)),
        (tell!(language, "section-hours"), day_chart(plan, paint)),
        (tell!(language, "section-spans"), spans(plan, paint)),
        (tell!(language, "section-notes"), bullets(notes)),
        (tell!(language, "section-advice"), bullets(advice)),
        (tell!(language, "section-how"), bullets(how.into_iter())),
        (tell!(language, "section-cautions"), bullets(cautions.into_iter())),
    ];
    let mut lines = heading(plan, paint);
    for (title, body) in sections {
        section(&mut lines, paint, &title, body);
    }
    lines.push(String::new());
    lines.extend(wrap(&plan.weather.attribution, "", ""));
    lines.push(String::new());
    lines.join("\n")
}

fn heading(plan: &DayPlan, paint: Paint) -> Vec<String> {
    let language = plan.language;
    let mut lines = Vec::new();
    if plan.weather.stale {
        let line = words::stale_line(language, plan.weather.age);
        lines.extend(wrap(&line, "", "").iter().map(|line| paint.verdict(Verdict::Hold, line)));
    }
    let title = format!("{} - {}", clean(&plan.site), date(language, plan.date));
    lines.extend(wrap(&title, "", "  ").iter().map(|line| paint.strong(line)));
    let weather = words::weather_and_gaps(language, &plan.weather, plan.time_zone);
    lines.extend(wrap(&weather, "", "  "));
    lines
}

pub(in crate::render) fn section(
    lines: &mut Vec<String>,
    paint: Paint,
    title: &str,
    body: Vec<String>,
) {
    if body.is_empty() {
        return;
    }
    lines.push(String::new());
    lines.push(paint.strong(&title.to_uppercase()));
    lines.extend(body);
}

fn glance_lines(plan: &DayPlan) -> Vec<String> {
    let mut lines = Vec::new();
    for row in glance(plan) {
        let mut name = row.name.as_str();
        for line in &row.lines {
            lines.extend(wrap(&clean(line), &format!("  {name:<12}"), &" ".repeat(14)));
            name = "";
        }
    }
    lines
}

fn tests(plan: &DayPlan, paint: Paint) -> Vec<String> {
    if plan.checkpoints.is_empty() {
        return bullet(&match plan.summary.first_weldable {
            None => tell!(plan.language, "tests-no-minute"),
            Some(_) => tell!(plan.language, "tests-none-planned"),
        });
    }
    let before = std::iter::once(None).chain(plan.checkpoints.iter().map(Some));
    let points = plan.checkpoints.iter().zip(before);
    points.flat_map(|(point, before)| checkpoint(plan, point, before, paint)).collect()
}

/// One test; why its heats are what they are is left out where it is as for the one before.
fn checkpoint(
    plan: &DayPlan,
    point: &Checkpoint,
    before: Option<&Checkpoint>,
    paint: Paint,
) -> Vec<String> {
    let language = plan.language;
    let time = figures::clock(point.time, plan.time_zone);
    let sure = point.likelihood.as_ref().map_or_else(String::new, |likelihood| {
        format!(" ({})", words::likelihood(language, likelihood, plan.time_zone))
    });
    let head = format!("{}{sure}", why_and_air(plan, point));
    let mut lines = wrap(&head, &format!("  {time}  "), &" ".repeat(9));
    if let Some(first) = lines.first_mut() {
        *first = first.replacen(&time, &paint.strong(&time), 1);
    }
    let because = |setting: &Setting| {
        let kind = words::trial_kind(language, &setting.trial.kind);
        format!("({kind}: {})", words::trial_because(language, setting, plan.units))
    };
    for (number, setting) in point.settings.iter().enumerate() {
        let name = clean(&setting.welder);
        let trial = words::trial(language, setting, plan.units);
        lines.extend(wrap(&format!("{name}: {trial}"), &" ".repeat(9), &" ".repeat(11)));
        for hint in words::trial_hints(language, setting, plan.units) {
            lines.extend(wrap(&hint, &" ".repeat(11), &" ".repeat(13)));
        }
        if let Some(estimate) = &setting.learned {
            let learned = record_words::learned(language, estimate, plan.units);
            lines.extend(wrap(&learned, &" ".repeat(11), &" ".repeat(13)));
        }
        let told = before.and_then(|before| before.settings.get(number));
        let because_told = told.map(because);
        let because = because(setting);
        if because_told.as_ref() != Some(&because) {
            lines.extend(wrap(&because, &" ".repeat(11), &" ".repeat(12)));
        }
        let passed_over =
            |setting| record_words::passed_over(language, setting, plan.time_zone, plan.units);
        let passed_over_told = told.and_then(passed_over);
        if let Some(passed_over) = passed_over(setting)
            && passed_over_told.as_ref() != Some(&passed_over)
        {
            lines.extend(wrap(&format!("({passed_over})"), &" ".repeat(11), &" ".repeat(12)));
        }
    }
    lines
}

/// Why, and what the air and the sheet are at.
fn why_and_air(plan: &DayPlan, point: &Checkpoint) -> String {
    let why = clean(&words::because(point, plan));
    let air = figures::temperature(point.air, plan.units);
    match point.sheet {
        Some(sheet) => {
            let sheet = figures::temperature(sheet.nominal, plan.units);
            tell!(plan.language, "test-air-and-sheet", why, air, sheet)
        }
        None => tell!(plan.language, "test-air", why, air),
    }
}

fn spans(plan: &DayPlan, paint: Paint) -> Vec<String> {
    plan.spans.iter().flat_map(|span| span_lines(plan, span, paint)).collect()
}

fn span_lines(plan: &DayPlan, span: &Span, paint: Paint) -> Vec<String> {
    let language = plan.language;
    let clock = |at| figures::clock(at, plan.time_zone);
    let width = verdict_width(language);
    let verdict = words::verdict(language, span.verdict);
    let reasons: Vec<String> =
        span.reasons.iter().map(|reason| words::reason(language, reason, plan.units)).collect();
    let from_to = format!("  {}-{}  ", clock(span.start), clock(span.end));
    let text = format!("{verdict:<width$}{}", reasons.join("; "));
    let mut lines = wrap(text.trim_end(), &from_to, &" ".repeat(15 + width));
    if let Some(first) = lines.first_mut() {
        *first = first.replacen(&verdict, &paint.verdict(span.verdict, &verdict), 1);
    }
    lines
}

/// Room for any verdict and two blanks.
pub(super) fn verdict_width(language: Language) -> usize {
    let words = Verdict::ALL.iter().map(|verdict| words::verdict(language, *verdict));
    2 + words.map(|word| word.chars().count()).max().unwrap_or(0)
}

fn bullets(texts: impl Iterator<Item = String>) -> Vec<String> {
    texts.flat_map(|text| bullet(&text)).collect()
}

pub(in crate::render) fn bullet(text: &str) -> Vec<String> {
    wrap(&clean(text), "  - ", "    ")
}

/// Names come from a site file: what steers a terminal must not reach one.
pub(in crate::render) fn clean(text: &str) -> String {
    text.chars().map(|c| if steers_a_terminal(c) { ' ' } else { c }).collect()
}

pub(in crate::render) fn wrap(text: &str, first: &str, rest: &str) -> Vec<String> {
    let options = Options::new(COLUMNS)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(WordSeparator::AsciiSpace);
    textwrap::wrap(text, options).into_iter().map(std::borrow::Cow::into_owned).collect()
}
