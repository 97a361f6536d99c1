//! Walking the chain: does every entry follow the one before, as it was written?

use std::collections::HashMap;

use chrono::{DateTime, Utc};

use super::entry::{Entry, EntryId};
use super::refusal::{Refusal, Sort, Target};
use super::seal::{Head, NO_HASH, SealedEntry};

/// The first place at which a chain does not hold, and how.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChainBreak {
    /// Entries are missing before one that is there.
    #[error("{} missing", span(*.first, *.last))]
    Missing {
        /// The first that is missing.
        first: EntryId,
        /// The last that is missing.
        last: EntryId,
    },
    /// An entry stands where another belongs.
    #[error("entry {found} stands where entry {expected} belongs: the order was changed")]
    OutOfOrder {
        /// Which should be there.
        expected: EntryId,
        /// Which is there.
        found: EntryId,
    },
    /// It was written after another entry than the one that stands before it.
    #[error(
        "entry {entry} does not follow the one before it: one of the two was replaced, or their \
         order was changed"
    )]
    Unlinked {
        /// Which.
        entry: EntryId,
    },
    /// A field is not as it was written.
    #[error("entry {entry} was altered after it was written")]
    Altered {
        /// Which.
        entry: EntryId,
    },
    /// It cannot be understood.
    #[error("entry {entry} cannot be read: {cause}")]
    Unreadable {
        /// Which.
        entry: EntryId,
        /// What was expected and found.
        cause: String,
    },
    /// It is a correction that the book would have refused.
    #[error("entry {entry} is a correction that the book does not allow: {cause}")]
    NotAllowed {
        /// Which.
        entry: EntryId,
        /// Why not.
        cause: Refusal,
    },
    /// The end is gone: entries that were acknowledged are not there.
    #[error("the book ends after {} and entry {known} had been written: the end is missing", span_end(*.entries))]
    CutOff {
        /// How many entries there are.
        entries: u64,
        /// The last that is known to have been written.
        known: EntryId,
    },
    /// The chain holds and is another one than was written.
    #[error("entry {entry} is not the one that was written: the chain was written anew")]
    WrittenAnew {
        /// The last that is known to have been written.
        entry: EntryId,
    },
    /// A kept plan is missing, or not as it was written.
    #[error(
        "plan {plan} of the plans kept is missing, was altered, or follows another one than it did"
    )]
    PlanAltered {
        /// Which.
        plan: EntryId,
    },
    /// A kept plan cannot be understood.
    #[error("plan {plan} of the plans kept cannot be read: {cause}")]
    PlanUnreadable {
        /// Which.
        plan: EntryId,
        /// What was expected and found.
        cause: String,
    },
    /// The database itself is damaged.
    #[error("the database is damaged: {cause}")]
    Damaged {
        /// As SQLite says it.
        cause: String,
    },
}

fn span(first: EntryId, last: EntryId) -> String {
    if first == last {
        format!("entry {first} is")
    } else {
        format!("entries {first} to {last} are")
    }
}

fn span_end(entries: u64) -> String {
    if entries == 0 { "no entry at all".to_owned() } else { format!("entry {entries}") }
}

/// Takes entries one after the other from the first on.
#[derive(Debug, Default)]
pub(super) struct Walk {
    last: Option<Head>,
    latest: Option<DateTime<Utc>>,
    targets: HashMap<u64, Target>,
    /// Entries dated before an earlier one.
    pub(super) clock_set_back: Vec<EntryId>,
}

impl Walk {
    /// The last entry taken.
    pub(super) const fn head(&self) -> Option<&Head> {
        self.last.as_ref()
    }

    /// How many entries were taken.
    pub(super) fn entries(&self) -> u64 {
        self.last.as_ref().map_or(0, |last| last.entry.0)
    }

    /// The entry that `sealed` stands for, if it is the next of the chain.
    pub(super) fn step(&mut self, sealed: &SealedEntry) -> Result<Entry, ChainBreak> {
        let entry = EntryId(sealed.sequence);
        let expected = EntryId(self.entries() + 1);
        if entry > expected {
            return Err(ChainBreak::Missing { first: expected, last: EntryId(entry.0 - 1) });
        }
        if entry < expected {
            return Err(ChainBreak::OutOfOrder { expected, found: entry });
        }
        if sealed.previous_hash != self.last.as_ref().map_or(NO_HASH, |last| &last.hash) {
            return Err(ChainBreak::Unlinked { entry });
        }
        if sealed.computed_hash() != sealed.hash {
            return Err(ChainBreak::Altered { entry });
        }
        let opened = sealed.open().map_err(|cause| ChainBreak::Unreadable { entry, cause })?;
        self.supersede(&opened).map_err(|cause| ChainBreak::NotAllowed { entry, cause })?;
        if self.latest.is_some_and(|latest| opened.recorded_at < latest) {
            self.clock_set_back.push(entry);
        }
        self.latest = self.latest.max(Some(opened.recorded_at));
        self.last = Some(sealed.head());
        Ok(opened)
    }

    fn supersede(&mut self, opened: &Entry) -> Result<(), Refusal> {
        let sort = Sort::of(&opened.content);
        if let Some(supersedes) = &opened.supersedes {
            let entry = supersedes.entry;
            let target = self.targets.get_mut(&entry.0).ok_or(Refusal::UnknownEntry { entry })?;
            target.gives_way_to(sort, &opened.site.key)?;
            target.superseded_by = Some(opened.id);
        }
        let site_key = opened.site.key.clone();
        let target = Target { entry: opened.id, sort, site_key, superseded_by: None };
        self.targets.insert(opened.id.0, target);
        Ok(())
    }
}
