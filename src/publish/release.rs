//! Publishing: revisions, the record, the calendar file.

use std::path::Path;

use chrono::{DateTime, Utc};

use crate::follow::Published;
use crate::render::ics::{self, Refused, Revised};
use crate::store::follow::{FollowFault, FollowedDay};
use crate::store::{
    DayKey, Previous, PublishedStore, StoreFault, WriteFault, revise, write_atomically,
};
use crate::words::Language;

/// Why something could not be published. It is tried again at the next look.
#[derive(Debug, thiserror::Error)]
pub enum PublishFault {
    /// The record of followed days.
    #[error(transparent)]
    Follow(#[from] FollowFault),
    /// The record of revisions.
    #[error(transparent)]
    Revisions(#[from] StoreFault),
    /// The calendar file.
    #[error(transparent)]
    File(#[from] WriteFault),
    /// An event that cannot be written as a calendar.
    #[error(transparent)]
    Event(#[from] Refused),
}

/// The events of a day with their revisions, recorded before anybody sees them: a revision that
/// nobody has seen is harmless, one that stands for two contents is not.
pub(super) fn revised(
    data_folder: &Path,
    key: &DayKey,
    published: &Published,
    language: Language,
    now: DateTime<Utc>,
) -> Result<(Vec<Revised>, Option<String>), PublishFault> {
    let store = PublishedStore::new(data_folder).lock()?;
    let (previous, warning) = match store.load(key) {
        Ok(previous) => (previous, None),
        Err(fault) => (Previous::Lost, Some(fault.to_string())),
    };
    let (events, record) = revise(&previous, key, &published.entries(), language, now);
    store.save(&record)?;
    Ok((events, warning))
}

/// Writes the calendar file of these days.
pub(super) fn write_file(
    path: &Path,
    (language, site): (Language, &str),
    days: &[FollowedDay],
) -> Result<(), PublishFault> {
    let events: Vec<Revised> = days.iter().flat_map(|day| day.events.iter().cloned()).collect();
    Ok(write_atomically(path, ics::calendar(language, site, &events)?.as_bytes())?)
}
