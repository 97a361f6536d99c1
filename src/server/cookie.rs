//! The cookie: the key itself, where no script can read it.

use axum::http::{HeaderMap, HeaderValue, header};
use chrono::{DateTime, Utc};

use crate::store::keys::{Key, Secret};

const NAME: &str = "fairseam-key";
/// Browsers keep no cookie for longer.
const LONGEST_SECONDS: i64 = 400 * 24 * 3600;

/// The key that a request carries: as a cookie, or in the header that programs use.
pub(super) fn given(headers: &HeaderMap) -> Option<String> {
    let bearer = headers.get(header::AUTHORIZATION).and_then(|value| value.to_str().ok());
    if let Some(bearer) = bearer.and_then(|text| text.strip_prefix("Bearer ")) {
        return Some(bearer.to_owned());
    }
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut pairs = cookies.flat_map(|cookie| cookie.split(';'));
    pairs.find_map(|pair| {
        let (name, value) = pair.trim().split_once('=')?;
        (name == NAME).then(|| value.to_owned())
    })
}

/// Has the browser keep `secret` for as long as `key` opens anything.
pub(super) fn keep(
    secret: &Secret,
    key: &Key,
    now: DateTime<Utc>,
    secure: bool,
) -> Option<HeaderValue> {
    let seconds = (key.expires_at - now).num_seconds().clamp(0, LONGEST_SECONDS);
    let secure = if secure { "; Secure" } else { "" };
    let shown = secret.shown();
    let cookie =
        format!("{NAME}={shown}; Path=/; Max-Age={seconds}; HttpOnly; SameSite=Strict{secure}");
    let mut value = HeaderValue::from_str(&cookie).ok()?;
    value.set_sensitive(true);
    Some(value)
}

/// Has the browser forget it.
pub(super) fn forget() -> HeaderValue {
    HeaderValue::from_static("fairseam-key=; Path=/; Max-Age=0; HttpOnly; SameSite=Strict")
}
