//! The page itself, and what makes it installable.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{Html, IntoResponse, Redirect, Response};

use super::language;
use crate::plan::DayPlan;
use crate::render::crew::{self, CrewDay, CrewPage};
use crate::server::access::{OfSite, Shape, Visitor};
use crate::server::app::App;
use crate::server::assets::{Asset, send_own};
use crate::server::house::Day;
use crate::server::problem::Problem;
use crate::server::roof::{Roof, View};
use crate::words::Language;

static WORKER: Asset = Asset {
    name: "worker.js",
    kind: "text/javascript; charset=utf-8",
    body: include_bytes!("../assets/worker.js"),
};

static MANIFEST: Asset = Asset {
    name: "manifest.webmanifest",
    kind: "application/manifest+json",
    body: include_bytes!("../assets/manifest.webmanifest"),
};

/// The page; with `?language=es` the choice of a language, which the phone keeps.
pub(in crate::server) async fn page(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
    Extension(OfSite(roof)): Extension<OfSite>,
    RawQuery(query): RawQuery,
    headers: HeaderMap,
) -> Response {
    if let Some(chosen) = query.as_deref().and_then(language::chosen) {
        let mut answer = Redirect::to(&format!("/crew/{}/", roof.key)).into_response();
        let cookie = language::keep(chosen, app.settings.secure);
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            answer.headers_mut().insert(header::SET_COOKIE, cookie);
        }
        return answer;
    }
    let seen = roof.seen();
    let Some(view) = seen.view else {
        return Problem::not_yet().shaped(Shape::Page).into_response();
    };
    let language = language::of(&headers, roof.site.language);
    match render(&app, &visitor, &roof, &view, language) {
        Some(page) => Html(page).into_response(),
        None => Problem::inside(&"a number of the site or its plan is none").into_response(),
    }
}

fn render(
    app: &App,
    visitor: &Visitor,
    roof: &Roof,
    view: &View,
    language: Language,
) -> Option<String> {
    let look = &view.look;
    let (today, tomorrow) = (spoken(&look.today, language), spoken(&look.tomorrow, language));
    let last = look.trials.iter().max_by_key(|kept| kept.when());
    crew::page(&CrewPage {
        site: &roof.site,
        site_key: &roof.key,
        holder: &visitor.key.holder,
        language,
        zone: look.time_zone,
        now: app.now(),
        at: look.at,
        plan_version: &view.plan_version,
        book_version: &view.book_version,
        today: day(&look.today, today.as_ref()),
        tomorrow: day(&look.tomorrow, tomorrow.as_ref()),
        last: last.map(|kept| &kept.judged.trial),
        warnings: &look.warnings,
    })
}

/// The plan as it speaks to this phone.
fn spoken(day: &Day, language: Language) -> Result<DayPlan, String> {
    day.plan.as_ref().map(|plan| plan.in_language(language)).map_err(|why| why.said(language))
}

fn day<'a>(day: &'a Day, plan: Result<&'a DayPlan, &'a String>) -> CrewDay<'a> {
    CrewDay { date: day.date, plan: plan.map_err(String::as_str), report: &day.report }
}

/// Keeps the page and the day for the hours without signal. Its own address decides how far it
/// reaches: everything below `/crew/`.
pub(in crate::server) async fn worker(headers: HeaderMap) -> Response {
    send_own(&WORKER, &headers)
}

pub(in crate::server) async fn manifest(headers: HeaderMap) -> Response {
    send_own(&MANIFEST, &headers)
}
