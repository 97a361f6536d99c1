//! Whether the server does its work: for a service manager or a watchman.

use std::sync::Arc;

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::app::App;

/// 200 while every site can be shown, 503 while one cannot; counts only, for anybody may ask.
pub(super) async fn health(State(app): State<Arc<App>>) -> Response {
    let seen: Vec<_> = app.roofs.iter().map(|roof| roof.seen()).collect();
    let shown = seen.iter().filter(|seen| seen.view.is_some() && seen.fault.is_none()).count();
    let is_well = shown == seen.len();
    let status = if is_well { StatusCode::OK } else { StatusCode::SERVICE_UNAVAILABLE };
    let body = serde_json::json!({
        "status": if is_well { "ok" } else { "degraded" },
        "version": env!("CARGO_PKG_VERSION"),
        "sites": seen.len(),
        "sites_shown": shown,
    });
    (status, [(header::CONTENT_TYPE, "application/json")], body.to_string()).into_response()
}
