//! A roof's day: how its test welds stand, then the whole plan with its picture.

use axum::Extension;
use axum::extract::RawQuery;
use axum::response::{IntoResponse, Response};
use chrono_tz::Tz;

use super::frame::{Current, frame, link, way_of};
use super::standing::mark;
use crate::render::figures;
use crate::render::html::{day_credit, day_heading, day_sections};
use crate::render::markup::{Markup, element, element_of, section, text};
use crate::render::trial::{certifies_nothing, status_words};
use crate::server::access::OfSite;
use crate::server::house::Day;
use crate::server::problem::Problem;
use crate::server::roof::Roof;
use crate::words::Language;

/// Today, or tomorrow with `?day=tomorrow`.
pub(in crate::server) async fn site(
    Extension(OfSite(roof)): Extension<OfSite>,
    RawQuery(query): RawQuery,
) -> Response {
    let Some(view) = roof.view() else { return Problem::not_yet().into_response() };
    let is_tomorrow = query.as_deref() == Some("day=tomorrow");
    let day = if is_tomorrow { &view.look.tomorrow } else { &view.look.today };
    let zone = view.look.time_zone;
    let other = if is_tomorrow { link("?", "Today") } else { link("?day=tomorrow", "Tomorrow") };
    let header = match &day.plan {
        Ok(plan) => day_heading(plan),
        Err(_) => {
            let name = element_of("span", &[("class", "site"), ("dir", "auto")], &roof.site.name);
            let date = day.date.format("%A, %B %-d, %Y").to_string();
            let parts = [element("h1", &[], name), element_of("p", &[("class", "date")], &date)];
            element("header", &[], parts.into())
        }
    };
    let main = [
        standing(day, zone, &roof, other),
        match &day.plan {
            Ok(plan) => day_sections(plan),
            Err(why) => element_of("p", &[("class", "problem")], &format!("No plan: {why}.")),
        },
        foot(day),
    ];
    frame(&roof.site.name, Current::Roof(&roof.key), way_of(&roof), header, main.into())
}

fn standing(day: &Day, zone: Tz, roof: &Roof, other: Markup) -> Markup {
    let rows: Markup = day
        .report
        .checkpoints
        .iter()
        .map(|point| {
            let welders: Markup = point
                .welders
                .iter()
                .map(|one| {
                    let trials: Markup = one
                        .trials
                        .iter()
                        .filter_map(|place| day.report.trials.get(*place))
                        .map(|kept| {
                            let to = format!("/office/{}/book/{}", roof.key, kept.id);
                            [text(" "), link(&to, &format!("trial {}", kept.id))].into()
                        })
                        .collect();
                    let said = format!("{}: {}", one.welder, status_words::status(one.status));
                    element("li", &[], [text(&said), trials].into())
                })
                .collect();
            let time = figures::clock(point.due, zone);
            let cells = [
                element_of("th", &[("scope", "row")], &time),
                element("td", &[], mark(point.status)),
                element("td", &[], element("ul", &[("class", "plain")], welders)),
            ];
            element("tr", &[], cells.into())
        })
        .collect();
    let body = if rows.is_empty() {
        element_of("p", &[], "No test weld falls due.")
    } else {
        let heads = ["Due", "Standing", "Welders"];
        let heads = heads.iter().map(|head| element_of("th", &[("scope", "col")], head));
        let head = element("thead", &[], element("tr", &[], heads.collect()));
        let how = element_of("p", &[("class", "hint")], &status_words::how());
        let rows = element("tbody", &[], rows);
        [element("table", &[("class", "standings")], [head, rows].into()), how].into()
    };
    let other = element("p", &[], other);
    section("standing", "How the test welds stand", [other, body].into())
}

fn foot(day: &Day) -> Markup {
    let credit = day.plan.as_ref().ok().map(|plan| element("p", &[], day_credit(plan)));
    let caution = element_of("p", &[], &certifies_nothing(Language::En));
    element("footer", &[], credit.into_iter().chain([caution]).collect())
}
