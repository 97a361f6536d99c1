//! The calendar feed: made once for each change, sent as it is.

use std::fmt::Write;
use std::sync::Arc;
use std::time::SystemTime;

use axum::Extension;
use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use chrono::{DateTime, Utc};
use sha2::{Digest, Sha256};

use super::access::{OfSite, Shape};
use super::assets::matches_tag;
use super::house::HouseFault;
use super::problem::Problem;
use crate::render::ics::{Revised, feed as render};
use crate::words::Language;

/// How long a program may go on showing what it has, in seconds.
const FRESH: &str = "private, max-age=300";

/// A calendar as it is sent.
pub(super) struct Feed {
    body: Bytes,
    tag: HeaderValue,
    last_modified: HeaderValue,
    modified_at: SystemTime,
}

impl Feed {
    /// The calendar of `events`; the one `before` where nothing has changed.
    pub(super) fn of(
        (language, site): (Language, &str),
        events: &[Revised],
        now: DateTime<Utc>,
        before: Option<&Arc<Self>>,
    ) -> Result<Arc<Self>, HouseFault> {
        let inside = |cause: String| HouseFault::Inside(format!("no calendar feed: {cause}"));
        let text = render(language, site, events).map_err(|refused| inside(refused.to_string()))?;
        if let Some(before) = before
            && before.body == text.as_bytes()
        {
            return Ok(Arc::clone(before));
        }
        let mut tag = String::from("\"");
        for byte in Sha256::digest(&text) {
            // Writing into a text cannot fail.
            let _ = write!(tag, "{byte:02x}");
        }
        tag.push('"');
        let modified = events.iter().map(|event| event.revision.last_modified).max();
        // What has merely gone from a feed leaves no younger event behind.
        let modified = before.map_or(modified, |_| modified.max(Some(now)));
        let modified_at = modified.map_or(SystemTime::UNIX_EPOCH, SystemTime::from);
        let last_modified = httpdate::fmt_http_date(modified_at);
        let header = |text: &str| HeaderValue::from_str(text).map_err(|e| inside(e.to_string()));
        let (tag, last_modified) = (header(&tag)?, header(&last_modified)?);
        Ok(Arc::new(Self { body: text.into(), tag, last_modified, modified_at }))
    }

    /// Whether the asker has it already. With a tag the date says nothing more.
    /// Source: RFC9110, section 13.1.3.
    fn is_known(&self, headers: &HeaderMap) -> bool {
        if headers.contains_key(header::IF_NONE_MATCH) {
            return self.tag.to_str().is_ok_and(|tag| matches_tag(headers, tag));
        }
        let since = headers.get(header::IF_MODIFIED_SINCE).and_then(|date| date.to_str().ok());
        let since = since.and_then(|date| httpdate::parse_http_date(date).ok());
        since.is_some_and(|since| self.modified_at <= since)
    }
}

/// The feed of the site whose key was given. An old one is better than none: programs switch a feed
/// off over an error.
pub(super) async fn feed(
    Extension(OfSite(roof)): Extension<OfSite>,
    headers: HeaderMap,
) -> Response {
    let Some(view) = roof.view() else {
        return Problem::not_yet().shaped(Shape::Calendar).into_response();
    };
    let feed = &view.feed;
    let mut answer = if feed.is_known(&headers) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        Body::from(feed.body.clone()).into_response()
    };
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("text/calendar; charset=utf-8"));
    headers.insert(header::ETAG, feed.tag.clone());
    headers.insert(header::LAST_MODIFIED, feed.last_modified.clone());
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(FRESH));
    answer
}
