//! Keeping a day's plan in the test-weld book, for the report and the month.

use std::time::Duration;

use anyhow::bail;
use chrono::{DateTime, Utc};

use super::earlier;
use super::folders::Folders;
use super::outcome::say;
use super::shell::block_on;
use crate::plan::DayPlan;
use crate::quality::KeptPlan;
use crate::render::{OFFICE, words};
use crate::site::Site;
use crate::store::book::{BookFault, BookSite, BookStore, EarlierSelf, SqliteBook, earlier_self};

/// Others are waited for this long: a plan is wanted now, and comes out either way.
const PATIENCE: Duration = Duration::from_secs(3);

/// Whether a plan made at `now` is one that the crew may go by.
///
/// A forecast file is somebody's question (what if, or the demonstration), so that its plan is kept
/// only where that is asked for; and nobody goes by a plan of a shift that is over.
///
/// # Errors
/// When it is asked for and the shift is over.
pub(super) fn is_kept(plan: &DayPlan, asked: bool, now: DateTime<Utc>) -> anyhow::Result<bool> {
    let is_over = plan.shift.end <= now;
    if asked && is_over {
        bail!(
            "`--keep` is for a shift that is still to come or under way; that of {} is over, and \
             no crew went by this plan",
            plan.date
        );
    }
    Ok(!is_over && (asked || plan.weather.source != "file"))
}

/// Keeps `plan` of `site`; a plan that cannot be kept comes out all the same.
pub(super) fn keep(plan: &DayPlan, site: &Site, folders: &Folders, now: DateTime<Utc>) {
    if let Err(cause) = try_to_keep(plan, site, folders, now) {
        say(&not_kept(&cause));
    }
}

/// The same where the book has been read before, in vain if `unread` says so: one trouble is told
/// once.
pub(super) fn keep_in(
    unread: Option<&BookFault>,
    plan: &DayPlan,
    site: &Site,
    folders: &Folders,
    now: DateTime<Utc>,
) {
    let Err(cause) = try_to_keep(plan, site, folders, now) else {
        return unread.iter().for_each(|fault| say(&earlier::unread(fault)));
    };
    match unread {
        Some(fault) if fault.to_string() == cause => say(&format!(
            "warning: the test-weld book could not be read, and this plan could not be kept in it \
             for the daily report and the month: {cause}"
        )),
        _ => {
            unread.iter().for_each(|fault| say(&earlier::unread(fault)));
            say(&not_kept(&cause));
        }
    }
}

fn not_kept(cause: &str) -> String {
    format!("warning: this plan could not be kept for the daily report and the month: {cause}")
}

fn try_to_keep(
    plan: &DayPlan,
    site: &Site,
    folders: &Folders,
    now: DateTime<Utc>,
) -> Result<(), String> {
    // The reports that read it are the office's.
    let in_english = plan.in_language(OFFICE);
    let kept = KeptPlan::of(plan, now, &|point| words::because(point, &in_english));
    match block_on(write(&kept, site, folders)) {
        Ok(Ok(earlier)) => {
            earlier.iter().for_each(say_earlier_self);
            Ok(())
        }
        Ok(Err(fault)) => Err(fault.to_string()),
        Err(error) => Err(error.to_string()),
    }
}

async fn write(
    plan: &KeptPlan,
    site: &Site,
    folders: &Folders,
) -> Result<Option<EarlierSelf>, BookFault> {
    let book = SqliteBook::open_waiting(&folders.data, PATIENCE).await?;
    let kept = book.keep_plan(&BookSite::of(site), plan).await;
    let earlier = earlier_self(&book, site).await;
    book.close().await;
    kept?;
    earlier
}

/// Says that the trials of a site may lie under another name or place, and what to do.
pub(super) fn say_earlier_self(earlier: &EarlierSelf) {
    let EarlierSelf { known, same_name } = earlier;
    let common = if *same_name { "of the same name" } else { "at the same place" };
    say(&format!(
        "note: the test-weld book has nothing of this site, but {count} {entries} of a site \
         {common}, `{name}`: if that is this roof, write `id = \"{key}\"` below the name in the \
         site file to go on with them",
        count = known.entries,
        entries = if known.entries == 1 { "entry" } else { "entries" },
        name = known.site.name,
        key = known.site.key
    ));
}
