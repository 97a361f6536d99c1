//! The line that says that a follower is alive, and how it is.

use chrono::{DateTime, TimeDelta, Utc};

use super::one_site::OnSite;

/// How often it is said.
pub(super) const EVERY: TimeDelta = TimeDelta::minutes(15);

/// `alive: forecast 12 min old, published 09:10, next forecast 09:42, 0 waiting for the server`.
pub(super) fn line(on: &OnSite, now: DateTime<Utc>, waiting: u64) -> String {
    let zone = on.time_zone.unwrap_or(chrono_tz::UTC);
    let clock = |at: Option<DateTime<Utc>>, none: &str| {
        at.map_or_else(|| none.to_owned(), |at| at.with_timezone(&zone).format("%H:%M").to_string())
    };
    let age = on.forecast.as_ref().map_or_else(
        || "no forecast".to_owned(),
        |forecast| {
            let minutes = (now - forecast.provenance.fetched_at).num_minutes().max(0);
            format!("forecast {minutes} min old")
        },
    );
    let waiting = match on.followed.caldav {
        Some(_) => format!(", {waiting} waiting for the server"),
        None => String::new(),
    };
    format!(
        "alive: {age}, published {}, next forecast {}{waiting}",
        clock(on.last_published, "nothing yet"),
        clock(on.ask_at, "now"),
    )
}
