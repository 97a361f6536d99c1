//! Who may ask what: every request is held against its route before anything else happens.

use std::sync::Arc;

use axum::extract::{FromRequestParts, RawPathParams, Request, State};
use axum::http::request::Parts;
use axum::http::{Extensions, HeaderMap, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::app::App;
use super::cookie;
use super::front::Asker;
use super::problem::Problem;
use super::roof::Roof;
use super::routes::Route;
use crate::store::keys::{Key, KeyHash, KeyState, Role, Secret};

/// Whom a route is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Anybody.
    Open,
    /// A key of any crew or of the office.
    Anyone,
    /// The crew of the site in the address, and the office.
    Site,
    /// The office.
    Office,
    /// Whoever has the feed's key, which stands in the address.
    Feed,
}

/// How a route answers, its errors included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A page for people.
    Page,
    /// JSON, events and other things for programs.
    Data,
    /// A calendar.
    Calendar,
}

/// Whoever asks, with a key that opens the route.
#[derive(Debug, Clone)]
pub(super) struct Visitor {
    pub(super) key: Arc<Key>,
    pub(super) hash: KeyHash,
}

/// The site in the address of a route that is for its crew.
#[derive(Clone)]
pub(super) struct OfSite(pub(super) Arc<Roof>);

/// What is known of whoever asked, for the log.
#[derive(Debug, Clone, Copy)]
pub(super) struct AskedBy(pub(super) u64);

/// Holds a request against its route.
pub(super) async fn guard(
    State((app, route)): State<(Arc<App>, &'static Route)>,
    request: Request,
    next: Next,
) -> Response {
    let (mut parts, body) = request.into_parts();
    let mut key_id = None;
    let mut answer = match admit(&app, route, &mut parts, &mut key_id).await {
        Ok(()) => next.run(Request::from_parts(parts, body)).await,
        Err(problem) => problem.shaped(route.shape).into_response(),
    };
    if let Some(id) = key_id {
        answer.extensions_mut().insert(AskedBy(id));
    }
    answer
}

async fn admit(
    app: &Arc<App>,
    route: &Route,
    parts: &mut Parts,
    key_id: &mut Option<u64>,
) -> Result<(), Problem> {
    if route.method == Method::POST && !is_from_our_pages(&parts.headers) {
        return Err(Problem::elsewhere());
    }
    if route.access == Access::Open {
        return Ok(());
    }
    let params = RawPathParams::from_request_parts(parts, &()).await;
    let params = params.map_err(|_| Problem::not_found())?;
    let param = |name: &str| params.iter().find(|(key, _)| *key == name).map(|(_, text)| text);
    let given = match route.access {
        Access::Feed => {
            param("file").and_then(|file| file.strip_suffix(".ics")).map(ToOwned::to_owned)
        }
        _ => cookie::given(&parts.headers),
    };
    let asker = asker(&parts.extensions);
    let found = identify(app, asker, given.as_deref()).await;
    let found = found.map_err(|problem| not_at_all(route.access, problem))?;
    *key_id = Some(found.key.id);
    if !app.limiter.key_may(found.key.id) {
        return Err(Problem::too_often());
    }
    let site = param("site");
    if !opens(&found.key, route.access, site) {
        return Err(not_at_all(route.access, Problem::not_yours()));
    }
    // Only now: whoever may not see a site is not told whether there is one.
    if let Some(site) = site {
        let roof = app.roof(site).ok_or_else(Problem::no_such_site)?;
        parts.extensions.insert(OfSite(Arc::clone(roof)));
    }
    parts.extensions.insert(found);
    Ok(())
}

/// Whether a valid key opens a route, for the site in its address.
fn opens(key: &Key, access: Access, site: Option<&str>) -> bool {
    let is_own = site.is_some() && key.site_key.as_deref() == site;
    match (access, key.role) {
        (Access::Open, _) | (Access::Anyone | Access::Site | Access::Office, Role::Office) => true,
        (Access::Anyone, Role::Crew) => true,
        (Access::Site, Role::Crew) | (Access::Feed, Role::Feed) => is_own,
        (Access::Feed, Role::Crew | Role::Office)
        | (Access::Office, Role::Crew)
        | (Access::Anyone | Access::Site | Access::Office, Role::Feed) => false,
    }
}

/// A feed that is not there looks the same as one that is somebody else's: calendar programs keep
/// what they have over a 404 and give up over others.
fn not_at_all(access: Access, problem: Problem) -> Problem {
    if access == Access::Feed && !problem.is_too_often() { Problem::not_found() } else { problem }
}

/// The address that asks, as the front door has found it.
pub(super) fn asker(extensions: &Extensions) -> Asker {
    extensions.get::<Asker>().copied().unwrap_or_default()
}

/// The visitor whose key `given` is.
///
/// A wrong one costs its address something, and beyond that is not even looked up on the disk; a
/// right one always comes through, so that nobody can lock a crew out from the same address.
pub(super) async fn identify(
    app: &App,
    asker: Asker,
    given: Option<&str>,
) -> Result<Visitor, Problem> {
    let given = given.ok_or_else(Problem::no_key)?;
    let secret = Secret::read(given);
    let mut key = secret.as_ref().and_then(|secret| app.keys.known(secret));
    if key.is_none() {
        if !app.limiter.may_try_a_key(asker.0) {
            return Err(Problem::too_often());
        }
        if let Some(secret) = &secret {
            key = app.keys.look_up(secret).await.map_err(|fault| Problem::inside(&fault))?;
        }
    }
    let (Some(key), Some(secret)) = (key, secret) else { return Err(Problem::wrong_key()) };
    match key.state(app.now()) {
        KeyState::Valid => Ok(Visitor { hash: secret.hash(), key }),
        KeyState::Expired => Err(Problem::expired_key()),
        KeyState::Revoked => Err(Problem::revoked_key()),
    }
}

/// Whether a form or script of another site has sent this. A browser says so; what is no browser
/// carries nobody's cookie.
fn is_from_our_pages(headers: &HeaderMap) -> bool {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    // Of the two this one says more: a page may have no origin to tell.
    if let Some(from) = text(header::HeaderName::from_static("sec-fetch-site")) {
        return matches!(from, "same-origin" | "none");
    }
    let Some(origin) = text(header::ORIGIN) else { return true };
    let host = origin.split_once("://").map(|(_, host)| host);
    host.is_some() && host == text(header::HOST)
}
