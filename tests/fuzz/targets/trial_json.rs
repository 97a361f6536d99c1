//! A trial as JSON, as `record` and the phones send it.

#![no_main]

use std::sync::LazyLock;

use chrono::{TimeZone, Utc};
use fairseam::cli::record::draft::Desk;
use fairseam::cli::record::json_form::parse_json;
use fairseam::site::{self, Site};
use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

static SITE: LazyLock<Site> = LazyLock::new(|| {
    let text = include_str!("../../../config/demo/site.toml");
    site::load(text, "site.toml").expect("the demo's site is sound").site
});

fuzz_target!(|body: &[u8]| {
    let Ok(text) = std::str::from_utf8(body) else { return };
    let zone = SITE.time_zone.expect("the demo's site has a zone");
    // Twice a year a wall time is skipped or comes twice: read some on such days.
    let now = if body.len() % 2 == 0 {
        read_at()
    } else {
        Utc.timestamp_opt(1_362_900_600, 0).single().unwrap_or_default()
    };
    bounded(body, |_| parse_json(text, &Desk { site: &SITE, zone, now }));
});
