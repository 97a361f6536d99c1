//! The page and the order of its sections.

use super::credit::credit;
use super::heading::{heading, window_title};
use super::hours::hours_table;
use super::markup::{Markup, document, element, element_of, page_head, section, text};
use super::picture::{letter, picture};
use super::tests_table::tests_table;
use crate::plan::{DayPlan, Span, Verdict};
use crate::render::glance::{Glance, glance};
use crate::render::{advice_words, figures, words};
use crate::words::{Language, tell};

/// The plan as one HTML file of its own: no script, nothing loaded, ready for a printer.
///
/// The same plan gives the same bytes. Names from the site file are escaped, whatever they hold.
pub fn day_page(plan: &DayPlan) -> String {
    let body = [heading(plan), element("main", &[], day_sections(plan)), footer(plan)];
    let page = [head(plan), element("body", &[], body.into())];
    document(element("html", &[("lang", plan.language.tag())], page.into()))
}

fn head(plan: &DayPlan) -> Markup {
    // Phones take a row of heats for a number to call.
    let no_calls = [("format-detection", "telephone=no")];
    page_head(&window_title(plan), &no_calls, include_str!("day_page.css"))
}

/// Site, day and weather, for a page around it.
pub(crate) fn day_heading(plan: &DayPlan) -> Markup {
    heading(plan)
}

/// The credit that the weather's license asks for.
pub(crate) fn day_credit(plan: &DayPlan) -> Markup {
    credit(&plan.weather.attribution)
}

/// Everything that the page has to say of the day, section by section.
pub(crate) fn day_sections(plan: &DayPlan) -> Markup {
    let language = plan.language;
    let notes = plan.notes.iter().map(|note| words::note(note, plan));
    let advice = plan.advice.iter().map(|advice| advice_words::advice(advice, plan));
    let how = advice_words::how_to_test(language, plan.units);
    let cautions = advice_words::cautions(language);
    Markup::from([
        section("glance", &tell!(language, "section-glance"), glance_list(plan)),
        section("tests", &tell!(language, "section-tests"), tests_table(plan)),
        section("stand-by", &tell!(language, "section-stand-by"), stand_by(plan)),
        section("picture", &tell!(language, "section-picture"), picture(plan)),
        section("hours", &tell!(language, "section-hours"), hours_table(plan)),
        section("spans", &tell!(language, "section-spans"), spans(plan)),
        section("notes", &tell!(language, "section-notes"), list("ul", notes)),
        section("advice", &tell!(language, "section-advice"), list("ol", advice)),
        section("how", &tell!(language, "section-how"), list("ol", how.into_iter())),
        section("cautions", &tell!(language, "section-cautions"), list("ul", cautions.into_iter())),
    ])
}

/// The day at a glance; what a crew asks first stands out.
fn glance_list(plan: &DayPlan) -> Markup {
    let item = |row: &Glance| {
        let class = if row.first { "first" } else { "" };
        let lines = row.lines.iter().map(|line| element_of("dd", &[], line));
        let term = element_of("dt", &[], &row.name);
        element("div", &[("class", class)], std::iter::once(term).chain(lines).collect())
    };
    element("dl", &[("class", "glance")], glance(plan).iter().map(item).collect())
}

/// A verdict in its word and its color.
pub(super) fn verdict_mark(language: Language, verdict: Verdict) -> Markup {
    let class = format!("verdict {}", verdict.name());
    element_of("span", &[("class", &class)], &words::verdict(language, verdict))
}

fn list(kind: &str, items: impl Iterator<Item = String>) -> Markup {
    let items: Markup = items.map(|item| element_of("li", &[], &item)).collect();
    if items.is_empty() { items } else { element(kind, &[], items) }
}

/// With the letters that the picture shows.
fn stand_by(plan: &DayPlan) -> Markup {
    let items: Markup = plan
        .stand_by
        .iter()
        .enumerate()
        .map(|(index, test)| {
            let badge = element_of("span", &[("class", "badge open")], &letter(index));
            let said = text(&format!(" {}", words::stand_by(plan.language, test, plan.time_zone)));
            element("li", &[], [badge, said].into())
        })
        .collect();
    if items.is_empty() { items } else { element("ul", &[("class", "plain")], items) }
}

fn spans(plan: &DayPlan) -> Markup {
    let rows = plan.spans.iter().map(|span| span_row(plan, span));
    let body = element("tbody", &[], rows.collect());
    element("table", &[("class", "spans")], body)
}

fn span_row(plan: &DayPlan, span: &Span) -> Markup {
    let clock = |at| figures::clock(at, plan.time_zone);
    let from_to = format!("{}-{}", clock(span.start), clock(span.end));
    let mark = verdict_mark(plan.language, span.verdict);
    let reasons = span.reasons.iter();
    let reasons: Vec<String> =
        reasons.map(|reason| words::reason(plan.language, reason, plan.units)).collect();
    let cells = [
        element_of("th", &[("scope", "row")], &from_to),
        element("td", &[("class", "judged")], mark),
        element_of("td", &[], &reasons.join("; ")),
    ];
    element("tr", &[], cells.into())
}

fn footer(plan: &DayPlan) -> Markup {
    element("footer", &[], element("p", &[], credit(&plan.weather.attribution)))
}
