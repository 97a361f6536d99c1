//! The office's pages: all roofs, a roof's day, its book, the days ahead.
//!
//! `frame` is what stands around each of them, `standing` how a test weld's state is shown.

mod book;
mod form;
mod frame;
mod overview;
mod site;
mod standing;
mod trial;

use std::sync::Arc;

use axum::Extension;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{Html, IntoResponse, Response};

use super::access::Visitor;
use super::app::App;
use super::live;
use super::problem::Problem;

pub(super) use book::book;
pub(super) use overview::overview;
pub(super) use site::site;
pub(super) use trial::{correct, trial};

/// The page of the days ahead is a file of its own with its style sheet in it. It may run nothing.
const OUTLOOK_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; \
    form-action 'none'; frame-ancestors 'none'";

/// What changes on any roof, while a page is open.
pub(super) async fn events(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
) -> Response {
    live::events(&app, visitor, app.roofs.clone())
}

/// The days ahead of every roof.
pub(super) async fn outlook(State(app): State<Arc<App>>) -> Response {
    match app.with_house(|house| house.outlook()).await {
        Ok(page) => {
            let policy = HeaderValue::from_static(OUTLOOK_POLICY);
            ([(header::CONTENT_SECURITY_POLICY, policy)], Html(page)).into_response()
        }
        Err(fault) => Problem::from(fault).into_response(),
    }
}
