//! The clock: the only place that reads it.

use anyhow::Context;
use chrono::{DateTime, Utc};

/// The present moment, or the one that `FAIRSEAM_NOW` fixes.
///
/// # Errors
/// When `FAIRSEAM_NOW` is set and is no RFC 3339 time.
pub(super) fn now() -> anyhow::Result<DateTime<Utc>> {
    match std::env::var_os("FAIRSEAM_NOW") {
        Some(text) => parse(&text.to_string_lossy()),
        #[expect(clippy::disallowed_methods, reason = "this is the place")]
        None => Ok(Utc::now()),
    }
}

fn parse(text: &str) -> anyhow::Result<DateTime<Utc>> {
    DateTime::parse_from_rfc3339(text).map(|at| at.to_utc()).with_context(|| {
        format!(
            "`FAIRSEAM_NOW` is `{text}`; expected an RFC 3339 time such as `2026-04-20T22:00:00Z`"
        )
    })
}
