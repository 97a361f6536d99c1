//! Days that `fairseam follow` keeps current: the server shows what was published of them.

use std::fs;
use std::path::Path;
use std::time::UNIX_EPOCH;

use chrono::NaiveDate;

use crate::cli::shell::block_on;
use crate::follow::Published;
use crate::site::Site;
use crate::store::follow::{FollowFault, FollowStore, FollowedDay};

/// A followed day of which something was published.
pub(super) struct Followed {
    pub(super) day: FollowedDay,
    pub(super) published: Published,
}

impl Followed {
    pub(super) fn date(&self) -> NaiveDate {
        self.day.followed.date
    }
}

/// Those of `dates` that were published.
///
/// # Errors
/// When they cannot be read; they then look as if nobody followed them.
pub(super) fn days(
    site: &Site,
    dates: &[NaiveDate],
    data_folder: &Path,
) -> anyhow::Result<Vec<Followed>> {
    let found = block_on(async {
        let Some(store) = FollowStore::open_to_read(data_folder).await? else {
            return Ok(Vec::new());
        };
        let mut found = Vec::new();
        for date in dates {
            found.extend(store.day(&site.key(), *date).await?);
        }
        store.close().await;
        Ok::<_, FollowFault>(found)
    })??;
    let published = found.into_iter().filter_map(|day| {
        let published = day.followed.published.clone()?;
        Some(Followed { day, published })
    });
    Ok(published.collect())
}

/// Something that differs whenever a follower has written. Both files count: what was written last
/// stands in the log beside the database for a while.
pub(super) fn mark(data_folder: &Path) -> String {
    let of_file = |name: &str| {
        let found = fs::metadata(data_folder.join(name)).ok()?;
        let at = found.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
        Some(format!(" {} {}", at.as_nanos(), found.len()))
    };
    ["follow.sqlite3", "follow.sqlite3-wal"].into_iter().filter_map(of_file).collect()
}
