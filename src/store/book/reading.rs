//! Reading the book: entries in order, trials with their corrections applied, the whole chain.

use chrono::{DateTime, Utc};

use super::chain::{ChainBreak, Walk};
use super::entry::{Content, Entry, EntryId, RecordedTrial};
use super::fault::BookFault;
use super::head_file::Witness;
use super::keeping::{BookStore, Inspection};
use super::plans;
use super::seal::{Head, SealedEntry};

/// Entries fetched at once.
pub(super) const PAGE: u32 = 200;

/// An entry with all that it was before it was corrected.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// As it stands now.
    pub current: Entry,
    /// What was superseded, oldest first; empty where nothing was corrected.
    pub history: Vec<Entry>,
}

/// What became of the whole chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verified {
    /// How many entries hold, from the first on.
    pub entries: u64,
    /// The last of them. Its hash, written down elsewhere, proves everything up to it.
    pub head: Option<Head>,
    /// Where the chain does not hold; `None` for a sound book.
    pub fault: Option<ChainBreak>,
    /// What is worth knowing and breaks nothing.
    pub remarks: Vec<Remark>,
}

/// What is worth knowing about a chain and breaks nothing.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Remark {
    /// Written when the clock stood earlier than for an entry before it.
    #[error(
        "entry {entry} is dated before an entry that was written earlier: a clock was set back"
    )]
    ClockSetBack {
        /// Which.
        entry: EntryId,
    },
    /// The end of the chain was not noted outside the database.
    #[error("`book.head` is missing: entries cut off at the end would not be noticed")]
    NoWitness,
    /// What was noted cannot be read.
    #[error(
        "`book.head` cannot be read ({cause}): entries cut off at the end would not be noticed"
    )]
    WitnessUnreadable {
        /// Why.
        cause: String,
    },
    /// The database would let entries be changed.
    #[error("the database no longer refuses changes to entries: somebody has worked on it")]
    Unguarded,
}

impl Thread {
    /// The trial as it stands; `None` for anything else, and where it was withdrawn.
    pub fn trial(&self) -> Option<&RecordedTrial> {
        match &self.current.content {
            Content::Trial(recorded) => Some(recorded),
            Content::Run(_) | Content::Note(_) | Content::Withdrawn => None,
        }
    }

    /// Whether it was withdrawn, whatever it was.
    pub fn is_withdrawn(&self) -> bool {
        self.current.content == Content::Withdrawn
    }
}

/// Every entry in order; of one site, or of all.
///
/// # Errors
/// Whatever keeps the book from being read; [`BookFault::Broken`] for an entry that makes no sense.
/// Hashes are not looked at: that is for [`verify`].
pub async fn entries(
    store: &impl BookStore,
    site_key: Option<&str>,
) -> Result<Vec<Entry>, BookFault> {
    let mut entries = Vec::new();
    let mut after = 0;
    loop {
        let page = store.page(after, PAGE, site_key).await?;
        let Some(last) = page.last() else { return Ok(entries) };
        after = last.sequence;
        for sealed in &page {
            entries.push(opened(sealed)?);
        }
    }
}

/// Everything with its corrections applied, in the order in which it was first written down.
///
/// # Errors
/// See [`entries`].
pub async fn threads(
    store: &impl BookStore,
    site_key: Option<&str>,
) -> Result<Vec<Thread>, BookFault> {
    Ok(thread(entries(store, site_key).await?))
}

/// Trials made from `from` up to, not including, `until`, as they stand now, in order of time; of
/// one site, or of all. A withdrawn trial is left out.
///
/// # Errors
/// See [`entries`].
pub async fn current_trials(
    store: &impl BookStore,
    site_key: Option<&str>,
    from: Option<DateTime<Utc>>,
    until: Option<DateTime<Utc>>,
) -> Result<Vec<Thread>, BookFault> {
    let mut trials = threads(store, site_key).await?;
    let when = |thread: &Thread| thread.trial().map(|recorded| recorded.trial.when);
    trials.retain(|thread| {
        when(thread).is_some_and(|when| {
            from.is_none_or(|from| from <= when) && until.is_none_or(|until| when < until)
        })
    });
    // Stable: at one instant the order of the book stays.
    trials.sort_by_key(when);
    Ok(trials)
}

/// Applies corrections. `entries` are in order; a correction of what is not among them stands alone.
pub fn thread(entries: Vec<Entry>) -> Vec<Thread> {
    let mut threads: Vec<Thread> = Vec::new();
    let mut thread_of = std::collections::HashMap::new();
    for entry in entries {
        let id = entry.id;
        let corrected =
            entry.supersedes.as_ref().and_then(|old| thread_of.get(&old.entry).copied());
        let index = match corrected {
            Some(index) => {
                let thread: &mut Thread = &mut threads[index];
                let old = std::mem::replace(&mut thread.current, entry);
                thread.history.push(old);
                index
            }
            None => {
                threads.push(Thread { current: entry, history: Vec::new() });
                threads.len() - 1
            }
        };
        thread_of.insert(id, index);
    }
    threads
}

/// Walks the whole chain and holds it against what is known of its end.
///
/// # Errors
/// Only where the book cannot be read at all; a chain that does not hold is an answer.
pub async fn verify(store: &impl BookStore) -> Result<Verified, BookFault> {
    // First, so that entries written meanwhile lie beyond the known end.
    let Inspection { damage, guarded, witness } = store.inspect().await?;
    let mut walk = Walk::default();
    let mut fault = damage;
    let mut met = false;
    let mut after = 0;
    while fault.is_none() {
        let page = store.page(after, PAGE, None).await?;
        let Some(last) = page.last() else { break };
        after = last.sequence;
        for sealed in &page {
            if let Err(found) = walk.step(sealed) {
                fault = Some(found);
                break;
            }
            met = met || matches!(&witness, Witness::Head(known) if sealed.head() == *known);
        }
    }
    let mut remarks: Vec<Remark> =
        walk.clock_set_back.iter().map(|&entry| Remark::ClockSetBack { entry }).collect();
    if !guarded {
        remarks.push(Remark::Unguarded);
    }
    match witness {
        Witness::Head(known) if fault.is_none() && !met => {
            fault = Some(missed(walk.entries(), known.entry));
        }
        Witness::Head(_) => {}
        Witness::Unreadable { cause } => remarks.push(Remark::WitnessUnreadable { cause }),
        Witness::Absent if walk.entries() > 0 => remarks.push(Remark::NoWitness),
        Witness::Absent => {}
    }
    if fault.is_none() {
        fault = plans::walk(store).await?;
    }
    Ok(Verified { entries: walk.entries(), head: walk.head().cloned(), fault, remarks })
}

/// The known end was not met.
fn missed(entries: u64, known: EntryId) -> ChainBreak {
    if known.0 > entries {
        ChainBreak::CutOff { entries, known }
    } else {
        ChainBreak::WrittenAnew { entry: known }
    }
}

fn opened(sealed: &SealedEntry) -> Result<Entry, ChainBreak> {
    let entry = EntryId(sealed.sequence);
    sealed.open().map_err(|cause| ChainBreak::Unreadable { entry, cause })
}
