//! The office's pages.

use std::sync::Arc;

use axum::Extension;
use axum::extract::State;
use axum::response::{Html, IntoResponse, Response};

use super::access::Visitor;
use super::app::App;
use super::live;
use super::page::{self, Sheet};
use super::problem::Problem;
use crate::render::markup::{element, element_of};

pub(super) async fn overview(State(app): State<Arc<App>>) -> Response {
    let items = app.roofs.iter().map(|roof| {
        let at = format!("/office/{}/", roof.key);
        let link = element_of("a", &[("href", &at), ("dir", "auto")], &roof.site.name);
        element("li", &[], link)
    });
    let body = [element_of("h1", &[], "Roofs"), element("ul", &[], items.collect())];
    page::page(
        "Roofs",
        "en",
        Sheet::Office,
        &["/assets/office.js"],
        element("main", &[], body.into()),
    )
}

pub(super) async fn events(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
) -> Response {
    live::events(&app, visitor, app.roofs.clone())
}

pub(super) async fn outlook(State(app): State<Arc<App>>) -> Response {
    match app.with_house(|house| house.outlook()).await {
        Ok(page) => Html(page).into_response(),
        Err(fault) => Problem::from(fault).into_response(),
    }
}

pub(super) async fn site(State(_app): State<Arc<App>>) -> Response {
    Problem::not_found().into_response()
}
pub(super) async fn book() -> Response {
    Problem::not_found().into_response()
}
pub(super) async fn trial() -> Response {
    Problem::not_found().into_response()
}
pub(super) async fn correct() -> Response {
    Problem::not_found().into_response()
}
