//! What is answered when something is not answered: a page for people, JSON for programs.

use std::fmt;

use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use http_body_util::LengthLimitError;

use super::access::Shape;
use super::house::HouseFault;
use super::page::{self, Sheet};
use super::session;
use crate::render::markup::element_of;

/// Why there is no answer.
#[derive(Debug, Clone)]
pub(super) struct Problem {
    status: StatusCode,
    said: String,
    shape: Shape,
    /// The way out is the page where a key is typed in.
    wants_key: bool,
    /// The browser's key opens nothing any more.
    forget_key: bool,
    retry_after_seconds: Option<u32>,
}

impl Problem {
    fn new(status: StatusCode, said: impl Into<String>) -> Self {
        Self {
            status,
            said: said.into(),
            shape: Shape::Page,
            wants_key: false,
            forget_key: false,
            retry_after_seconds: None,
        }
    }

    fn key(said: &str) -> Self {
        let problem = Self::new(StatusCode::UNAUTHORIZED, said);
        Self { wants_key: true, forget_key: true, ..problem }
    }

    pub(super) fn no_key() -> Self {
        Self { forget_key: false, ..Self::key("a key is needed here: enter it first") }
    }

    pub(super) fn wrong_key() -> Self {
        Self::key("this key is not known: check it, or ask the office for a new one")
    }

    pub(super) fn expired_key() -> Self {
        Self::key("this key has expired: ask the office for a new one")
    }

    pub(super) fn revoked_key() -> Self {
        Self::key("this key was taken back: ask the office for a new one")
    }

    pub(super) fn not_yours() -> Self {
        Self::new(StatusCode::FORBIDDEN, "this key does not open that: enter the one that does")
    }

    pub(super) fn elsewhere() -> Self {
        Self::new(StatusCode::FORBIDDEN, "this was not sent from a page of this server")
    }

    pub(super) fn not_found() -> Self {
        Self::new(StatusCode::NOT_FOUND, "there is nothing at this address")
    }

    pub(super) fn no_such_site() -> Self {
        Self::new(StatusCode::NOT_FOUND, "this site is not served here: ask the office")
    }

    pub(super) fn wrong_method() -> Self {
        Self::new(StatusCode::METHOD_NOT_ALLOWED, "that cannot be done at this address")
    }

    pub(super) fn too_often() -> Self {
        let problem =
            Self::new(StatusCode::TOO_MANY_REQUESTS, "too many requests: wait a minute, try again");
        Self { retry_after_seconds: Some(60), ..problem }
    }

    pub(super) fn too_slow() -> Self {
        Self::new(StatusCode::REQUEST_TIMEOUT, "this took too long: send it again")
    }

    pub(super) fn too_large(most: usize) -> Self {
        let said = format!("what was sent is too long: expected at most {most} bytes");
        Self::new(StatusCode::PAYLOAD_TOO_LARGE, said)
    }

    /// Why a body could not be taken in.
    pub(super) fn of_body(error: &axum::Error, most: usize) -> Self {
        let mut cause: Option<&dyn std::error::Error> = Some(error);
        while let Some(found) = cause {
            if found.is::<LengthLimitError>() {
                return Self::too_large(most);
            }
            cause = found.source();
        }
        Self::new(StatusCode::BAD_REQUEST, "what was sent broke off: send it again")
    }

    pub(super) fn wrong_kind() -> Self {
        let said = "expected JSON (`Content-Type: application/json`)";
        Self::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, said)
    }

    pub(super) fn refused(said: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, said)
    }

    pub(super) fn busy() -> Self {
        let problem =
            Self::new(StatusCode::SERVICE_UNAVAILABLE, "too many pages are open: try again later");
        Self { retry_after_seconds: Some(30), ..problem }
    }

    pub(super) fn not_yet(said: impl Into<String>) -> Self {
        let problem = Self::new(StatusCode::SERVICE_UNAVAILABLE, said);
        Self { retry_after_seconds: Some(60), ..problem }
    }

    /// What happened is for the log; whoever asks is told no more than that it did.
    pub(super) fn inside(cause: &dyn fmt::Display) -> Self {
        tracing::error!(cause = %cause, "a request could not be answered");
        let said = "something went wrong here; the server's log says what: try again later";
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, said)
    }

    pub(super) const fn status(&self) -> StatusCode {
        self.status
    }

    pub(super) fn said(&self) -> &str {
        &self.said
    }

    pub(super) fn shaped(self, shape: Shape) -> Self {
        Self { shape, ..self }
    }

    pub(super) fn is_too_often(&self) -> bool {
        self.status == StatusCode::TOO_MANY_REQUESTS
    }
}

impl From<HouseFault> for Problem {
    fn from(fault: HouseFault) -> Self {
        match fault {
            HouseFault::Refused(said) => Self::refused(said),
            HouseFault::Conflict(said) => Self::new(StatusCode::CONFLICT, said),
            HouseFault::NotFound(said) => Self::new(StatusCode::NOT_FOUND, said),
            HouseFault::Inside(cause) => Self::inside(&cause),
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let mut answer = match self.shape {
            Shape::Page if self.wants_key && !self.forget_key => {
                Redirect::to("/enter").into_response()
            }
            Shape::Page => (self.status, self.page()).into_response(),
            Shape::Data => {
                let body = serde_json::json!({ "error": self.said }).to_string();
                (self.status, [(header::CONTENT_TYPE, "application/json")], body).into_response()
            }
            Shape::Calendar => {
                let text = [(header::CONTENT_TYPE, "text/plain; charset=utf-8")];
                (self.status, text, self.said).into_response()
            }
        };
        if self.forget_key && self.shape != Shape::Calendar {
            answer.headers_mut().insert(header::SET_COOKIE, session::forget());
        }
        if let Some(seconds) = self.retry_after_seconds {
            answer.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
        }
        answer
    }
}

impl Problem {
    fn page(&self) -> Response {
        let title = format!("{} {}", self.status.as_u16(), "fairseam");
        let body = [
            element_of("h1", &[], "That did not work"),
            element_of("p", &[("class", "problem")], &self.said),
            element_of("a", &[("href", "/enter")], "Enter a key"),
        ];
        page::page(&title, "en", Sheet::Office, &[], body.into())
    }
}
