//! What a site's calendar feed holds.

use chrono::{DateTime, Utc};

use super::followed::Followed;
use crate::cli::folders::Folders;
use crate::plan::DayPlan;
use crate::render::ics::{Revised, entries};
use crate::site::Site;
use crate::store::{DayKey, LockedStore, Previous, PublishedStore, StoreFault, revise};

/// The events of the days that the crew works, with their revisions, and what is to be told.
///
/// They are published by this: the record of what was published last is kept where `fairseam plan`
/// keeps it, so that the two never give one revision to two contents.
pub(super) fn of(
    site: &Site,
    plans: &[&DayPlan],
    followed: &[Followed],
    folders: &Folders,
    now: DateTime<Utc>,
) -> (Vec<Revised>, Vec<String>) {
    let mut told = Vec::new();
    let mut tell = |fault: &StoreFault| told.push(fault.to_string());
    let store = PublishedStore::new(&folders.data).lock();
    let store = store.map_err(|fault| tell(&fault)).ok();
    let mut events = Vec::new();
    for plan in plans {
        // The feed of a followed day is what was published of it, to the last revision.
        if let Some(followed) = followed.iter().find(|one| one.date() == plan.date) {
            events.extend(followed.day.events.iter().cloned());
            continue;
        }
        if !plan.workday {
            continue;
        }
        let key = DayKey::of(plan);
        let previous = match &store {
            Some(store) => store.load(&key).unwrap_or_else(|fault| {
                tell(&fault);
                Previous::Lost
            }),
            None => Previous::Lost,
        };
        let (revised, published) =
            revise(&previous, &key, &entries(plan, &site.reminders), site.language, now);
        let is_new = !matches!(&previous, Previous::Known(day) if *day == published);
        if let Some(fault) = store
            .as_ref()
            .filter(|_| is_new)
            .and_then(|store| LockedStore::save(store, &published).err())
        {
            tell(&fault);
        }
        events.extend(revised);
    }
    (events, told)
}
