//! What people and their phones write: the site file, a trial, a language.

use std::sync::LazyLock;

use chrono::{TimeZone, Utc};
use fairseam::cli::record::draft::Desk;
use fairseam::cli::record::json_form::parse_json;
use fairseam::site::{self, Site};
use fairseam::words::Language;

use super::read_at;

static SITE: LazyLock<Site> = LazyLock::new(|| {
    let text = include_str!("../../../../config/demo/site.toml");
    site::load(text, "site.toml").expect("the demo's site is sound").site
});

/// A site file; what loads says its rules without a panic.
pub(super) fn site_file(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    match site::load(text, "roof.toml") {
        Ok(loaded) => !site::rules_in_force(&loaded).is_empty(),
        Err(faults) => {
            assert!(!faults.to_string().is_empty(), "refused without a word");
            false
        }
    }
}

/// What a phone asks for in `Accept-Language`.
pub(super) fn accept_language(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let of_tag = Language::of_tag(text);
    Language::accepted(text).or(of_tag).is_some()
}

/// A trial as JSON, as `record` and the phones send it.
pub(super) fn trial_json(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let zone = SITE.time_zone.expect("the demo's site has a zone");
    // Twice a year a wall time is skipped or comes twice: read some on such days.
    let now = if body.len().is_multiple_of(2) {
        read_at()
    } else {
        Utc.timestamp_opt(1_362_900_600, 0).single().unwrap_or_default()
    };
    parse_json(text, &Desk { site: &SITE, zone, now }).is_ok()
}
