//! The page itself, and what makes it installable.

use axum::Extension;
use axum::http::HeaderMap;
use axum::response::Response;

use crate::render::markup::{element, element_of};
use crate::server::access::OfSite;
use crate::server::assets::{Asset, send_own};
use crate::server::page::{self, Sheet};
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

pub(in crate::server) async fn page(Extension(OfSite(roof)): Extension<OfSite>) -> Response {
    let title = format!("{} - test welds", roof.site.name);
    let parts = [element_of("h1", &[("dir", "auto")], &roof.site.name)];
    page::page(&title, Language::En, Sheet::Office, &[], element("main", &[], parts.into()))
}

/// Keeps the page and the day for the hours without signal. Its own address decides how far it
/// reaches: everything below `/crew/`.
pub(in crate::server) async fn worker(headers: HeaderMap) -> Response {
    send_own(&WORKER, &headers)
}

pub(in crate::server) async fn manifest(headers: HeaderMap) -> Response {
    send_own(&MANIFEST, &headers)
}
