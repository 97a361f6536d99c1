//! The page and the order of its sections.

use super::credit::credit;
use super::glance::glance_list;
use super::heading::{heading, window_title};
use super::hours::hours_table;
use super::markup::{Markup, document, element, element_of, page_head, text};
use super::picture::{letter, picture};
use super::tests_table::tests_table;
use crate::plan::{DayPlan, Span};
use crate::render::{advice_words, figures, words};

/// The plan as one HTML file of its own: no script, nothing loaded, ready for a printer.
///
/// The same plan gives the same bytes. Names from the site file are escaped, whatever they hold.
pub fn day_page(plan: &DayPlan) -> String {
    let body = [heading(plan), element("main", &[], day_sections(plan)), footer(plan)];
    let page = [head(plan), element("body", &[], body.into())];
    document(element("html", &[("lang", "en")], page.into()))
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
    let notes = plan.notes.iter().map(|note| words::note(note, plan));
    let advice = plan.advice.iter().map(|advice| advice_words::advice(advice, plan));
    let how = words::how_to_test(plan.units).into_iter().map(str::to_owned);
    let cautions = words::CAUTIONS.iter().map(|caution| (*caution).to_owned());
    Markup::from([
        section("glance", "At a glance", glance_list(plan)),
        section("tests", "When to test, what to set", tests_table(plan)),
        section("stand-by", "Stand by (not in the plan, but may fall due)", stand_by(plan)),
        section("picture", "Air and sheet", picture(plan)),
        section("hours", "Hour by hour", hours_table(plan)),
        section("spans", "When it can be welded", spans(plan)),
        section("notes", "Notes", list("ul", notes)),
        section("advice", "Advice", list("ol", advice)),
        section("how", "The test weld (common practice)", list("ol", how)),
        section("cautions", "Cautions", list("ul", cautions)),
    ])
}

/// Nothing where there is nothing to say.
fn section(id: &str, title: &str, body: Markup) -> Markup {
    if body.is_empty() {
        return body;
    }
    let named = format!("{id}-title");
    let title = element_of("h2", &[("id", &named)], title);
    element("section", &[("id", id), ("aria-labelledby", &named)], [title, body].into())
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
            let said = text(&format!(" {}", words::stand_by(test, plan.time_zone)));
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
    let verdict = span.verdict.name();
    let mark = element_of("span", &[("class", &format!("verdict {verdict}"))], verdict);
    let reasons: Vec<String> =
        span.reasons.iter().map(|reason| words::reason(reason, plan.units)).collect();
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
