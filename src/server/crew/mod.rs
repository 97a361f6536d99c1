//! The crew's page on its phones, and what it fetches and sends.
//!
//! `page` is the page and what makes it installable, `day` what a phone keeps of the day, `trials`
//! how a test weld comes in.

mod day;
mod language;
mod page;
mod trials;

use std::sync::Arc;

use axum::Extension;
use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};

use super::access::{OfSite, Shape, Visitor};
use super::app::App;
use super::live;
use super::problem::Problem;
use crate::store::keys::Role;

pub(super) use day::day_json;
pub(super) use page::{manifest, page, worker};
pub(super) use trials::trials;

/// The page of the crew's own site: where the installed page starts.
pub(super) async fn own_site(Extension(visitor): Extension<Visitor>) -> Response {
    match (&visitor.key.site_key, visitor.key.role) {
        (Some(site), _) => Redirect::to(&format!("/crew/{site}/")).into_response(),
        (None, Role::Office) => Redirect::to("/office/").into_response(),
        (None, _) => Problem::not_yours().into_response(),
    }
}

/// The day as a phone keeps it.
pub(super) async fn day(
    State(app): State<Arc<App>>,
    Extension(OfSite(roof)): Extension<OfSite>,
) -> Response {
    let Some(view) = roof.view() else {
        return Problem::not_yet().shaped(Shape::Data).into_response();
    };
    let body = day::with_clock(&view.crew_json, app.now(), view.look.time_zone);
    ([(header::CONTENT_TYPE, "application/json")], body).into_response()
}

/// What changes, while the page is open.
pub(super) async fn events(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
    Extension(OfSite(roof)): Extension<OfSite>,
) -> Response {
    live::events(&app, visitor, vec![roof])
}
