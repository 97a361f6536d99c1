//! What is answered when something is not answered: a page for people, JSON for programs, in the
//! asker's language.

use std::fmt;

use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use http_body_util::LengthLimitError;

use super::access::Shape;
use super::cookie;
use super::house::HouseFault;
use super::page::{self, Sheet};
use crate::render::markup::{element, element_of};
use crate::words::{Language, tell};

/// Why there is no answer. As a response it has no body yet: `front` puts the words in, which knows
/// who asks in which language.
#[derive(Debug, Clone)]
pub(super) struct Problem {
    what: What,
    shape: Shape,
}

#[derive(Debug, Clone)]
enum What {
    NoKey,
    WrongKey,
    ExpiredKey,
    RevokedKey,
    NotYours,
    FeedKey,
    Elsewhere,
    NotFound,
    NoSuchSite,
    WrongMethod,
    TooOften,
    TooSlow,
    TooLarge {
        most: usize,
    },
    BrokeOff,
    WrongKind,
    NotText,
    Busy,
    NotYet,
    Inside,
    /// In the words of the house.
    Said(StatusCode, String),
}

/// How long to wait before asking again, in seconds.
const WAIT: u32 = 60;

/// Problems that are only named.
macro_rules! named {
    ($($function:ident => $what:ident),* $(,)?) => {
        impl Problem {
            $(pub(super) const fn $function() -> Self {
                Self::new(What::$what)
            })*
        }
    };
}

named! {
    no_key => NoKey,
    wrong_key => WrongKey,
    expired_key => ExpiredKey,
    revoked_key => RevokedKey,
    not_yours => NotYours,
    feed_key => FeedKey,
    elsewhere => Elsewhere,
    not_found => NotFound,
    no_such_site => NoSuchSite,
    wrong_method => WrongMethod,
    too_often => TooOften,
    too_slow => TooSlow,
    wrong_kind => WrongKind,
    not_text => NotText,
    busy => Busy,
    not_yet => NotYet,
}

impl Problem {
    const fn new(what: What) -> Self {
        Self { what, shape: Shape::Page }
    }

    pub(super) const fn refused(said: String) -> Self {
        Self::new(What::Said(StatusCode::UNPROCESSABLE_ENTITY, said))
    }

    /// Why a body could not be taken in.
    pub(super) fn of_body(error: &axum::Error, most: usize) -> Self {
        let mut cause: Option<&dyn std::error::Error> = Some(error);
        while let Some(found) = cause {
            if found.is::<LengthLimitError>() {
                return Self::new(What::TooLarge { most });
            }
            cause = found.source();
        }
        Self::new(What::BrokeOff)
    }

    /// What happened is for the log; whoever asks is told no more than that it did.
    pub(super) fn inside(cause: &dyn fmt::Display) -> Self {
        tracing::error!(cause = %cause, "a request could not be answered");
        Self::new(What::Inside)
    }

    pub(super) fn shaped(self, shape: Shape) -> Self {
        Self { shape, ..self }
    }

    pub(super) const fn is_too_often(&self) -> bool {
        matches!(self.what, What::TooOften)
    }

    pub(super) const fn status(&self) -> StatusCode {
        match &self.what {
            What::NoKey | What::WrongKey | What::ExpiredKey | What::RevokedKey => {
                StatusCode::UNAUTHORIZED
            }
            What::NotYours | What::FeedKey | What::Elsewhere => StatusCode::FORBIDDEN,
            What::NotFound | What::NoSuchSite => StatusCode::NOT_FOUND,
            What::WrongMethod => StatusCode::METHOD_NOT_ALLOWED,
            What::TooOften => StatusCode::TOO_MANY_REQUESTS,
            What::TooSlow => StatusCode::REQUEST_TIMEOUT,
            What::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            What::BrokeOff => StatusCode::BAD_REQUEST,
            What::WrongKind => StatusCode::UNSUPPORTED_MEDIA_TYPE,
            What::NotText => StatusCode::UNPROCESSABLE_ENTITY,
            What::Busy | What::NotYet => StatusCode::SERVICE_UNAVAILABLE,
            What::Inside => StatusCode::INTERNAL_SERVER_ERROR,
            What::Said(status, _) => *status,
        }
    }

    pub(super) fn said(&self, language: Language) -> String {
        match &self.what {
            What::NoKey => tell!(language, "server-no-key"),
            What::WrongKey => tell!(language, "server-wrong-key"),
            What::ExpiredKey => tell!(language, "server-expired-key"),
            What::RevokedKey => tell!(language, "server-revoked-key"),
            What::NotYours => tell!(language, "server-not-yours"),
            What::FeedKey => tell!(language, "server-feed-key"),
            What::Elsewhere => tell!(language, "server-elsewhere"),
            What::NotFound => tell!(language, "server-not-found"),
            What::NoSuchSite => tell!(language, "server-no-such-site"),
            What::WrongMethod => tell!(language, "server-wrong-method"),
            What::TooOften => tell!(language, "server-too-often"),
            What::TooSlow => tell!(language, "server-too-slow"),
            What::TooLarge { most } => {
                let most = most.to_string();
                tell!(language, "server-too-large", most)
            }
            What::BrokeOff => tell!(language, "server-broke-off"),
            What::WrongKind => tell!(language, "server-wrong-kind"),
            What::NotText => tell!(language, "server-not-text"),
            What::Busy => tell!(language, "server-busy"),
            What::NotYet => tell!(language, "server-not-yet"),
            What::Inside => tell!(language, "server-inside"),
            What::Said(_, said) => said.clone(),
        }
    }

    /// The browser's key opens nothing any more.
    const fn forgets_key(&self) -> bool {
        matches!(self.what, What::WrongKey | What::ExpiredKey | What::RevokedKey)
    }

    /// The whole answer, in `language`.
    pub(super) fn told(&self, language: Language) -> Response {
        let (status, said) = (self.status(), self.said(language));
        let mut answer = match (self.shape, &self.what) {
            // Nobody has gone wrong who has merely not come in yet.
            (Shape::Page, What::NoKey) => Redirect::to("/enter").into_response(),
            (Shape::Page, _) => page(status, &said, language),
            (Shape::Data, _) => {
                let body = serde_json::json!({ "error": said }).to_string();
                ([(header::CONTENT_TYPE, "application/json")], body).into_response()
            }
            (Shape::Calendar, _) => {
                ([(header::CONTENT_TYPE, "text/plain; charset=utf-8")], said).into_response()
            }
        };
        if !answer.status().is_redirection() {
            *answer.status_mut() = status;
        }
        if self.forgets_key() && self.shape != Shape::Calendar {
            answer.headers_mut().insert(header::SET_COOKIE, cookie::forget());
        }
        if matches!(self.what, What::TooOften | What::Busy | What::NotYet) {
            answer.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(WAIT));
        }
        answer
    }
}

impl From<HouseFault> for Problem {
    fn from(fault: HouseFault) -> Self {
        match fault {
            HouseFault::Refused(said) => Self::refused(said),
            HouseFault::Conflict(said) => Self::new(What::Said(StatusCode::CONFLICT, said)),
            HouseFault::NotFound(said) => Self::new(What::Said(StatusCode::NOT_FOUND, said)),
            HouseFault::Inside(cause) => Self::inside(&cause),
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let mut answer = Response::new(Body::empty());
        *answer.status_mut() = self.status();
        answer.extensions_mut().insert(self);
        answer
    }
}

fn page(status: StatusCode, said: &str, language: Language) -> Response {
    let parts = [
        element_of("h1", &[], &tell!(language, "server-problem-title")),
        element_of("p", &[("class", "problem")], said),
        element_of("a", &[("href", "/enter")], &tell!(language, "server-enter-link")),
    ];
    let main = element("main", &[("class", "enter")], parts.into());
    let title = format!("{} - fairseam", status.as_u16());
    page::page(&title, language, Sheet::Office, &[], main)
}
