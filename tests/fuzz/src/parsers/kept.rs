//! What the program itself keeps on disk, read back when something has been at it.

use std::cell::RefCell;
use std::fs;

use chrono::NaiveDate;
use fairseam::render::ics::feed;
use fairseam::store::book::SealedPlan;
use fairseam::store::follow::FollowedDay;
use fairseam::store::{DayKey, PublishedStore};
use fairseam::words::Language;
use tempfile::TempDir;

/// A followed day; what can be read can be published.
pub(super) fn followed_day(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let Ok(day) = FollowedDay::from_record(text) else { return false };
    feed(Language::En, "Fuzzed roof", &day.events).is_ok()
}

/// A kept plan's payload.
pub(super) fn kept_plan(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let sealed = SealedPlan {
        sequence: 1,
        site_key: "fuzz".to_owned(),
        site: "Fuzzed roof".to_owned(),
        date: "2027-04-21".to_owned(),
        made_at: String::new(),
        payload: text.to_owned(),
        previous_hash: String::new(),
        hash: String::new(),
    };
    sealed.open().is_ok()
}

thread_local! {
    static FOLDER: RefCell<Option<TempDir>> = const { RefCell::new(None) };
}

/// The record of a published day.
pub(super) fn published_day(body: &[u8]) -> bool {
    FOLDER.with_borrow_mut(|folder| {
        let folder = folder.get_or_insert_with(|| tempfile::tempdir().expect("a folder")).path();
        let store = PublishedStore::new(folder).lock().expect("a store of our own");
        let date = NaiveDate::from_ymd_opt(2027, 4, 21).expect("a day");
        let file = folder.join("published").join("roof-a-2027-04-21.json");
        fs::write(file, body).expect("room for a file");
        store.load(&DayKey { site: "roof-a".to_owned(), date }).is_ok()
    })
}
