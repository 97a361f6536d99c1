//! Style sheets, scripts and pictures: part of the program, sent with a tag so that a browser need
//! not fetch them twice.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

use super::access::Shape;
use super::problem::Problem;

/// A file that is part of the program.
pub(super) struct Asset {
    pub(super) name: &'static str,
    pub(super) kind: &'static str,
    pub(super) body: &'static [u8],
}

const CSS: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";
const SVG: &str = "image/svg+xml";
const PNG: &str = "image/png";

/// Every file below `/assets/`.
static ASSETS: &[Asset] = &[
    Asset { name: "office.css", kind: CSS, body: include_bytes!("assets/office.css") },
    Asset { name: "day.css", kind: CSS, body: include_bytes!("../render/html/day_page.css") },
    Asset { name: "enter.js", kind: SCRIPT, body: include_bytes!("assets/enter.js") },
    Asset { name: "office.js", kind: SCRIPT, body: include_bytes!("assets/office.js") },
    Asset { name: "crew.css", kind: CSS, body: include_bytes!("assets/crew.css") },
    Asset { name: "crew-base.js", kind: SCRIPT, body: include_bytes!("assets/crew-base.js") },
    Asset { name: "crew-outbox.js", kind: SCRIPT, body: include_bytes!("assets/crew-outbox.js") },
    Asset { name: "crew-verdict.js", kind: SCRIPT, body: include_bytes!("assets/crew-verdict.js") },
    Asset {
        name: "crew-verdict-view.js",
        kind: SCRIPT,
        body: include_bytes!("assets/crew-verdict-view.js"),
    },
    Asset { name: "crew-keypad.js", kind: SCRIPT, body: include_bytes!("assets/crew-keypad.js") },
    Asset { name: "crew-strips.js", kind: SCRIPT, body: include_bytes!("assets/crew-strips.js") },
    Asset { name: "crew-draft.js", kind: SCRIPT, body: include_bytes!("assets/crew-draft.js") },
    Asset { name: "crew-heat.js", kind: SCRIPT, body: include_bytes!("assets/crew-heat.js") },
    Asset { name: "crew-review.js", kind: SCRIPT, body: include_bytes!("assets/crew-review.js") },
    Asset { name: "crew-form.js", kind: SCRIPT, body: include_bytes!("assets/crew-form.js") },
    Asset { name: "crew-next.js", kind: SCRIPT, body: include_bytes!("assets/crew-next.js") },
    Asset { name: "crew-unsent.js", kind: SCRIPT, body: include_bytes!("assets/crew-unsent.js") },
    Asset { name: "crew.js", kind: SCRIPT, body: include_bytes!("assets/crew.js") },
    Asset { name: "icon.svg", kind: SVG, body: include_bytes!("assets/icon.svg") },
    Asset { name: "icon-192.png", kind: PNG, body: include_bytes!("assets/icon-192.png") },
    Asset { name: "icon-512.png", kind: PNG, body: include_bytes!("assets/icon-512.png") },
];

/// In the order of [`ASSETS`].
static TAGS: LazyLock<Vec<String>> =
    LazyLock::new(|| ASSETS.iter().map(|asset| tag(asset.body)).collect());

fn tag(body: &[u8]) -> String {
    let hash: String = Sha256::digest(body).iter().take(12).map(|b| format!("{b:02x}")).collect();
    format!("\"{hash}\"")
}

pub(super) async fn asset(Path(name): Path<String>, headers: HeaderMap) -> Response {
    let Some(number) = ASSETS.iter().position(|asset| asset.name == name) else {
        return Problem::not_found().shaped(Shape::Data).into_response();
    };
    match (ASSETS.get(number), TAGS.get(number)) {
        (Some(asset), Some(tag)) => send(asset, tag, &headers),
        _ => Problem::not_found().shaped(Shape::Data).into_response(),
    }
}

/// A file with another address than below `/assets/`.
pub(super) fn send_own(asset: &Asset, headers: &HeaderMap) -> Response {
    send(asset, &tag(asset.body), headers)
}

fn send(asset: &Asset, tag: &str, headers: &HeaderMap) -> Response {
    let mut answer = if matches_tag(headers, tag) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        ([(header::CONTENT_TYPE, asset.kind)], asset.body).into_response()
    };
    let headers = answer.headers_mut();
    if let Ok(tag) = HeaderValue::from_str(tag) {
        headers.insert(header::ETAG, tag);
    }
    // Kept, but asked about each time: a new version of the program is seen at once.
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    answer
}

/// Whether the asker has the very same body. Source: RFC9110, section 13.1.2.
pub(super) fn matches_tag(headers: &HeaderMap, tag: &str) -> bool {
    let lists = headers.get_all(header::IF_NONE_MATCH).iter();
    let mut lists = lists.filter_map(|list| list.to_str().ok());
    lists.any(|list| {
        list.split(',')
            .map(str::trim)
            .any(|one| one == "*" || one.strip_prefix("W/").unwrap_or(one) == tag)
    })
}
