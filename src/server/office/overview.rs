//! Every roof today and tomorrow, what needs somebody first.

use std::sync::Arc;

use axum::extract::State;
use axum::response::Response;
use chrono_tz::Tz;

use super::frame::{Current, frame, way};
use super::standing::{is_trouble, mark, tests};
use crate::plan::DayPlan;
use crate::render::markup::{Markup, element, element_of, section, text};
use crate::render::{figures, words};
use crate::server::app::App;
use crate::server::house::Day;
use crate::server::roof::{Roof, Seen};
use crate::words::Language;

pub(in crate::server) async fn overview(State(app): State<Arc<App>>) -> Response {
    let seen: Vec<(&Roof, Seen)> = app.roofs.iter().map(|roof| (&**roof, roof.seen())).collect();
    let header = element("header", &[], element_of("h1", &[], "Roofs"));
    let main = [trouble(&seen), roofs(&seen)];
    frame("Roofs", Current::AllRoofs, way(), header, main.into())
}

/// Tests that are late or missed, old forecasts, roofs that cannot be shown.
fn trouble(seen: &[(&Roof, Seen)]) -> Markup {
    let items: Markup = seen.iter().flat_map(|(roof, seen)| of_roof(roof, seen)).collect();
    let body = if items.is_empty() {
        element_of("p", &[], "Nothing: no test weld is late or missed, no forecast is old.")
    } else {
        element("ul", &[("class", "plain trouble")], items)
    };
    section("attention", "Needs attention", body)
}

fn of_roof(roof: &Roof, seen: &Seen) -> Vec<Markup> {
    let item = |said: Markup| {
        let name = [link(roof), text(": ")];
        element("li", &[], name.into_iter().chain([said]).collect())
    };
    let mut items = Vec::new();
    if let Some(fault) = &seen.fault {
        let since = if seen.view.is_some() { "what is shown is not current" } else { "not shown" };
        items.push(item(text(&format!("{since}: {fault}"))));
    }
    let Some(view) = &seen.view else { return items };
    let zone = view.look.time_zone;
    for point in view.look.today.report.checkpoints.iter().filter(|one| is_trouble(one.status)) {
        let time = figures::clock(point.due, zone);
        items.push(item([text(&format!("test of {time} ")), mark(point.status)].into()));
    }
    let days = [&view.look.today, &view.look.tomorrow];
    // Both days are planned from one forecast.
    let stale = days.iter().filter_map(|day| day.plan.as_ref().ok()).find(|one| one.weather.stale);
    items.extend(stale.map(|plan| item(text(&words::stale_line(Language::En, plan.weather.age)))));
    for day in days {
        if let Err(why) = &day.plan {
            items.push(item(text(&format!("no plan for {}: {why}", day.date))));
        }
    }
    items.extend(view.look.warnings.iter().map(|warning| item(text(warning))));
    items
}

fn roofs(seen: &[(&Roof, Seen)]) -> Markup {
    let cards: Markup = seen
        .iter()
        .map(|(roof, seen)| {
            let name = element("h3", &[], link(roof));
            let days = seen.view.as_ref().map(|view| {
                let zone = view.look.time_zone;
                let (today, tomorrow) = (&view.look.today, &view.look.tomorrow);
                Markup::from([day("Today", today, zone), day("Tomorrow", tomorrow, zone)])
            });
            let days = days.unwrap_or_else(|| element_of("p", &[], "Nothing to show yet."));
            element("article", &[("class", "roof")], [name, days].into())
        })
        .collect();
    section("roofs", "Today and tomorrow", cards)
}

fn link(roof: &Roof) -> Markup {
    let at = format!("/office/{}/", roof.key);
    element_of("a", &[("href", &at), ("dir", "auto")], &roof.site.name)
}

fn day(name: &str, day: &Day, zone: Tz) -> Markup {
    let title = format!("{name}, {}", day.date.format("%a %b %-d"));
    let body = match &day.plan {
        Err(why) => element_of("p", &[], &format!("No plan: {why}.")),
        Ok(plan) if !plan.workday => element_of("p", &[], "The crew does not work."),
        Ok(plan) => [element_of("p", &[], &weldable(plan)), tests(day, zone)].into(),
    };
    element("div", &[("class", "day")], [element_of("h4", &[], &title), body].into())
}

fn weldable(plan: &DayPlan) -> String {
    let clock = |at| figures::clock(at, plan.time_zone);
    let (low, high) = (plan.summary.air_min, plan.summary.air_max);
    let air = format!(
        "air {} to {}",
        figures::temperature(low, plan.units),
        figures::temperature(high, plan.units)
    );
    match (plan.summary.first_weldable, plan.summary.last_weldable) {
        (Some(first), Some(last)) => format!(
            "Weldable {} to {}, {} of work; {air}",
            clock(first),
            clock(last),
            figures::duration(plan.summary.weldable)
        ),
        _ => format!("Not weldable in this shift; {air}"),
    }
}
