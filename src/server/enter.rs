//! The door: a key comes in by a form, or behind the `#` of a link that a script puts into that
//! form. It never stands in an address that is sent anywhere.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::access::{asker, identify};
use super::app::App;
use super::cookie;
use super::front::language;
use super::page::{self, Sheet};
use super::problem::Problem;
use crate::render::markup::{Markup, element, element_of, empty};
use crate::store::keys::{Key, Role, Secret};
use crate::words::{Language, tell};

/// Bytes of a form at most; a key has 52 signs.
const LONGEST_FORM: usize = 1024;

/// Where whoever has come in is led to.
pub(super) async fn front_door(State(app): State<Arc<App>>, request: Request) -> Response {
    let (given, asker) = (cookie::given(request.headers()), asker(request.extensions()));
    drop(request);
    if given.is_none() {
        return Redirect::to("/enter").into_response();
    }
    match identify(&app, asker, given.as_deref()).await {
        Ok(visitor) => Redirect::to(&home(&visitor.key)).into_response(),
        Err(_) => Redirect::to("/enter").into_response(),
    }
}

/// The form, empty.
pub(super) async fn page(headers: HeaderMap) -> Response {
    form(language(&headers), None)
}

fn form(language: Language, problem: Option<&Problem>) -> Response {
    let said = problem.map(|problem| {
        let said = problem.said(language);
        element_of("p", &[("class", "problem"), ("role", "alert"), ("id", "problem")], &said)
    });
    let mut input = vec![
        ("id", "key"),
        ("name", "key"),
        ("type", "password"),
        ("autocomplete", "current-password"),
        ("autocapitalize", "none"),
        ("spellcheck", "false"),
        ("required", "required"),
    ];
    if problem.is_some() {
        input.extend([("aria-invalid", "true"), ("aria-describedby", "problem")]);
    }
    let fields = [
        element_of("label", &[("for", "key")], &tell!(language, "server-enter-key")),
        empty("input", &input),
        element_of("button", &[("type", "submit")], &tell!(language, "server-enter-button")),
    ];
    let action = [("id", "enter"), ("method", "post"), ("action", "/enter")];
    let form = element("form", &action, fields.into());
    let who = element_of("p", &[("class", "quiet")], &tell!(language, "server-enter-who-has-it"));
    let name = element_of("h1", &[], "fairseam");
    let parts: Markup = [name].into_iter().chain(said).chain([form, who]).collect();
    let main = element("main", &[("class", "enter")], parts);
    let title = format!("{} - fairseam", tell!(language, "server-enter-title"));
    let mut answer = page::page(&title, language, Sheet::Office, &["/assets/enter.js"], main);
    *answer.status_mut() = problem.map_or(StatusCode::OK, Problem::status);
    answer
}

/// Takes a key in: the browser keeps it as a cookie that no script can read.
pub(super) async fn enter(State(app): State<Arc<App>>, request: Request) -> Response {
    let (asker, language) = (asker(request.extensions()), language(request.headers()));
    let body = match axum::body::to_bytes(request.into_body(), LONGEST_FORM).await {
        Ok(body) => body,
        Err(error) => return Problem::of_body(&error, LONGEST_FORM).into_response(),
    };
    let given = key_of(&body);
    match identify(&app, asker, given.as_deref()).await {
        Ok(visitor) if visitor.key.role == Role::Feed => form(language, Some(&Problem::feed_key())),
        Ok(visitor) => {
            let secret = given.as_deref().and_then(Secret::read);
            let (now, secure) = (app.now(), app.settings.secure);
            let cookie = secret.and_then(|key| cookie::keep(&key, &visitor.key, now, secure));
            let Some(cookie) = cookie else { return Problem::wrong_key().into_response() };
            let mut answer = Redirect::to(&home(&visitor.key)).into_response();
            answer.headers_mut().insert(header::SET_COOKIE, cookie);
            answer
        }
        Err(problem) => form(language, Some(&problem)),
    }
}

/// Has the browser forget its key.
pub(super) async fn leave() -> Response {
    let mut answer = Redirect::to("/enter").into_response();
    answer.headers_mut().insert(header::SET_COOKIE, cookie::forget());
    answer
}

fn key_of(form: &Bytes) -> Option<String> {
    let mut pairs = url::form_urlencoded::parse(form);
    pairs.find(|(name, _)| name == "key").map(|(_, key)| key.into_owned())
}

fn home(key: &Key) -> String {
    match (key.role, &key.site_key) {
        (Role::Crew, Some(site)) => format!("/crew/{site}/"),
        (Role::Office, _) => "/office/".to_owned(),
        _ => "/enter".to_owned(),
    }
}
