//! Writing the calendar file, with the revisions that tell a phone what has changed.

use std::path::Path;

use anyhow::bail;
use chrono::{DateTime, Utc};

use super::folders::Folders;
use super::outcome::say;
use super::shell::block_on;
use crate::plan::DayPlan;
use crate::render::ics;
use crate::site::Reminders;
use crate::store::follow::published_at;
use crate::store::{DayKey, LockedStore, Previous, PublishedStore, revise, stage};

/// Writes the calendar of `plan` to `path`, against what was published of that day before.
///
/// # Errors
/// When the file cannot be written; the old one is then still there.
pub(super) fn write(
    plan: &DayPlan,
    reminders: &Reminders,
    path: &Path,
    folders: &Folders,
    now: DateTime<Utc>,
) -> anyhow::Result<()> {
    let key = DayKey::of(plan);
    refuse_followed(&key, plan, folders)?;
    let store = open(folders);
    let previous = store.as_ref().map_or(Previous::Lost, |store| load(store, &key));
    let entries = ics::entries(plan, reminders);
    let (events, published) = revise(&previous, &key, &entries, plan.language, now);
    let text = ics::calendar(plan.language, &plan.site, &events)?;
    let file = stage(path, text.as_bytes())?;
    // The record first: a revision that nobody has seen is harmless, one that stands for two
    // contents is not.
    if let Some(store) = &store
        && let Err(fault) = store.save(&published)
    {
        say(&format!("warning: {fault}"));
    }
    file.put_in_place()?;
    say(&format!("calendar written to {}", path.display()));
    Ok(())
}

/// A day that is followed has entries that no plan knows, its holds for one: another calendar would
/// withdraw them from every phone.
fn refuse_followed(key: &DayKey, plan: &DayPlan, folders: &Folders) -> anyhow::Result<()> {
    let Some(at) = block_on(published_at(&folders.data, &key.site, key.date))?? else {
        return Ok(());
    };
    bail!(
        "the calendar of {} is kept current by `fairseam follow`, which last published it at {}; a \
         second one would withdraw its holds from the phones. Take the file that `publish.ics` names, \
         or plan without `--ics`",
        key.date,
        at.with_timezone(&plan.time_zone).format("%Y-%m-%d %H:%M")
    )
}

/// Without a data folder the calendar is still good; only a later change may go unnoticed.
fn open(folders: &Folders) -> Option<LockedStore> {
    match PublishedStore::new(&folders.data).lock() {
        Ok(store) => Some(store),
        Err(fault) => {
            say(&format!(
                "warning: {fault}; phones that already hold this day may not take the new entries"
            ));
            None
        }
    }
}

fn load(store: &LockedStore, key: &DayKey) -> Previous {
    store.load(key).unwrap_or_else(|fault| {
        say(&format!("warning: {fault}"));
        Previous::Lost
    })
}
