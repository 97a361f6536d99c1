//! What every request goes through: its number, its address, its time, its headers, its line in the
//! log.

use std::net::IpAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use axum::extract::{MatchedPath, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::access::AskedBy;
use super::app::App;
use super::problem::Problem;
use crate::words::Language;

/// The address at the other end of the connection.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peer(pub(super) IpAddr);

/// The address that asks: the peer's, or what our proxy says.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Asker(pub(super) Option<IpAddr>);

/// By which a request is called in the log and in the answer.
#[derive(Debug, Clone)]
pub(super) struct RequestId(pub(super) Arc<str>);

/// Nothing is loaded from elsewhere, no script stands in a page, nobody shows us in a frame.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; \
    img-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; \
    frame-ancestors 'none'";

const HEADERS: [(HeaderName, &str); 6] = [
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    // Not `no-referrer`: with that a browser tells no origin even to ourselves.
    (header::REFERRER_POLICY, "same-origin"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    ),
];

/// Goes around every answer, errors included.
pub(super) async fn front(
    State(app): State<Arc<App>>,
    mut request: Request,
    next: Next,
) -> Response {
    let started = Instant::now();
    let id = RequestId(next_id());
    let asker = Asker(asker(&app, &request));
    let method = request.method().clone();
    // The pattern of the address, never the address itself: that of a feed holds its key.
    let route = request
        .extensions()
        .get::<MatchedPath>()
        .map_or_else(|| "-".into(), |path| Arc::<str>::from(path.as_str()));
    let language = language(request.headers());
    request.extensions_mut().insert(asker);
    request.extensions_mut().insert(id.clone());
    let mut answer = if app.limiter.address_may(asker.0) {
        tokio::time::timeout(app.settings.patience, next.run(request))
            .await
            .unwrap_or_else(|_| Problem::too_slow().into_response())
    } else {
        Problem::too_often().into_response()
    };
    if let Some(problem) = answer.extensions().get::<Problem>() {
        // What stands beside it, such as who asked and which methods there are, stays.
        let (told, beside) = (problem.told(language), answer.headers().clone());
        let extensions = std::mem::take(answer.extensions_mut());
        answer = told;
        *answer.extensions_mut() = extensions;
        for (name, value) in beside {
            answer.headers_mut().extend(name.map(|name| (name, value)));
        }
    }
    let by = answer.extensions().get::<AskedBy>().map(|by| by.0);
    dress(answer.headers_mut(), &id);
    tracing::info!(
        request = &*id.0,
        method = method.as_str(),
        route = &*route,
        status = answer.status().as_u16(),
        micros = u64::try_from(started.elapsed().as_micros()).unwrap_or(u64::MAX),
        key = by,
        address = asker.0.map(tracing::field::display),
        "answered"
    );
    answer
}

/// The language that the asker reads; English where none of ours is asked for.
pub(super) fn language(headers: &HeaderMap) -> Language {
    let accepted = headers.get(header::ACCEPT_LANGUAGE).and_then(|text| text.to_str().ok());
    accepted.and_then(Language::accepted).unwrap_or(Language::En)
}

fn dress(headers: &mut HeaderMap, id: &RequestId) {
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CONTENT_SECURITY_POLICY).or_insert(HeaderValue::from_static(POLICY));
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    if let Ok(id) = HeaderValue::from_str(&id.0) {
        headers.insert("x-request-id", id);
    }
}

/// The last address of the list is the one that our own proxy has put there; what stands before it
/// anybody can write.
fn asker(app: &App, request: &Request) -> Option<IpAddr> {
    let peer = request.extensions().get::<Peer>().map(|peer| peer.0);
    if !app.settings.behind_proxy {
        return peer;
    }
    let mut lists = request.headers().get_all("x-forwarded-for").iter();
    let last = lists.next_back().and_then(|list| list.to_str().ok()?.rsplit(',').next());
    last.and_then(|address| address.trim().parse().ok()).or(peer)
}

/// Numbers that begin elsewhere at every start, so that two runs are told apart in one log.
fn next_id() -> Arc<str> {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    format!("{:08x}-{number}", std::process::id()).into()
}
