//! A test weld comes in: once, however often a phone sends it.

use std::sync::Arc;

use axum::Extension;
use axum::extract::{Request, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::language;
use crate::server::access::{OfSite, Shape, Visitor};
use crate::server::app::App;
use crate::server::house::Sent;
use crate::server::problem::Problem;
use crate::server::refresh;

/// Bytes of a trial at most: several times the longest that the book takes in.
const LONGEST: usize = 1 << 20;

/// 201 with the verdict for a trial that is now in the book, 200 with the same words for one that
/// was sent before.
pub(in crate::server) async fn trials(
    State(app): State<Arc<App>>,
    Extension(visitor): Extension<Visitor>,
    Extension(OfSite(roof)): Extension<OfSite>,
    request: Request,
) -> Response {
    let refuse = |problem: Problem| problem.shaped(Shape::Data).into_response();
    let language = language::of(request.headers(), roof.site.language);
    let kind = request.headers().get(header::CONTENT_TYPE);
    let kind = kind.and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    // No form of another site can send this kind without asking first.
    if kind.split(';').next().map(str::trim) != Some("application/json") {
        return refuse(Problem::wrong_kind());
    }
    let json = match text(request).await {
        Ok(json) => json,
        Err(problem) => return refuse(problem),
    };
    let number = roof.number;
    let recorded = app.with_house(move |house| {
        house.record(number, &Sent { json: &json, holder: &visitor.key.holder, language })
    });
    match recorded.await {
        Ok(recorded) => {
            refresh::look(&app, &roof).await;
            let status = if recorded.known { StatusCode::OK } else { StatusCode::CREATED };
            (status, [(header::CONTENT_TYPE, "application/json")], recorded.json).into_response()
        }
        Err(fault) => refuse(fault.into()),
    }
}

async fn text(request: Request) -> Result<String, Problem> {
    let bytes = axum::body::to_bytes(request.into_body(), LONGEST).await;
    let bytes = bytes.map_err(|error| Problem::of_body(&error, LONGEST))?;
    String::from_utf8(bytes.into()).map_err(|_| Problem::not_text())
}
