//! What a database has to promise to stand behind the book. Today that is SQLite alone.

use chrono::NaiveDate;

use super::chain::ChainBreak;
use super::entry::{BookSite, EntryId, NewEntry};
use super::fault::BookFault;
use super::head_file::{HeadLag, Witness};
use super::known_sites::KnownSite;
use super::plan_seal::SealedPlan;
use super::seal::{Head, SealedEntry};
use super::sendings::{Sending, Sent};
use crate::quality::KeptPlan;

/// A place that keeps the chain of entries.
///
/// Whatever the database: entries are numbered from 1 without gaps over the whole book, each sealed
/// to the one before; writers take turns; an entry that was acknowledged survives a crash of the
/// process and of the machine; nothing is ever changed or removed. Everything else about the book
/// (verifying, exports, corrections applied) is built on these few calls.
pub trait BookStore: Sync {
    /// Writes `entries` down, in order, all or none. With `after`, only if the book still ends
    /// there; `Some(None)` is an empty book.
    ///
    /// # Errors
    /// [`BookFault::Refused`] for what cannot be written down, [`BookFault::Moved`] where the book
    /// does not end at `after`, and whatever keeps the database from being written.
    fn append_all(
        &self,
        entries: &[NewEntry],
        after: Option<Option<&Head>>,
    ) -> impl Future<Output = Result<Vec<Appended>, BookFault>> + Send;

    /// Writes `entries` down as [`Self::append_all`] does, unless that sending was taken in before:
    /// then nothing is written, and the first of its entries is named.
    ///
    /// # Errors
    /// See [`Self::append_all`]; [`BookFault::SentOtherwise`] where the same name stands for a
    /// sending of something else.
    fn append_once(
        &self,
        entries: &[NewEntry],
        sending: &Sending,
    ) -> impl Future<Output = Result<Sent, BookFault>> + Send;

    /// Takes in entries of another copy of the same book: those it has are passed over, those that
    /// follow its end are added as they are; all or none.
    ///
    /// # Errors
    /// The first error that `entries` yields; [`BookFault::Conflict`] where the two books have
    /// parted; whatever keeps the database from being written.
    fn adopt(
        &self,
        entries: &mut (dyn Iterator<Item = Result<SealedEntry, BookFault>> + Send),
    ) -> impl Future<Output = Result<Adopted, BookFault>> + Send;

    /// The next entries after number `after`, at most `most`, in order; of one site, or of all.
    ///
    /// # Errors
    /// Whatever keeps the database from being read.
    fn page(
        &self,
        after: u64,
        most: u32,
        site_key: Option<&str>,
    ) -> impl Future<Output = Result<Vec<SealedEntry>, BookFault>> + Send;

    /// The end of the chain; `None` for an empty book.
    ///
    /// # Errors
    /// Whatever keeps the database from being read.
    fn head(&self) -> impl Future<Output = Result<Option<Head>, BookFault>> + Send;

    /// What can be said of the database without walking the chain.
    ///
    /// # Errors
    /// Whatever keeps the database from being read at all.
    fn inspect(&self) -> impl Future<Output = Result<Inspection, BookFault>> + Send;

    /// Keeps a day's plan, unless the last one kept of that site and day says the same; whether it
    /// is new. Plans form a chain of their own, numbered and sealed as entries are, and like them
    /// are never changed or removed.
    ///
    /// # Errors
    /// [`BookFault::Refused`] for a plan that cannot be written down, and whatever keeps the
    /// database from being written.
    fn keep_plan(
        &self,
        site: &BookSite,
        plan: &KeptPlan,
    ) -> impl Future<Output = Result<bool, BookFault>> + Send;

    /// Every plan kept of a site's days from `first` to `last`, both included, in order.
    ///
    /// # Errors
    /// Whatever keeps the database from being read.
    fn plans_between(
        &self,
        site_key: &str,
        first: NaiveDate,
        last: NaiveDate,
    ) -> impl Future<Output = Result<Vec<SealedPlan>, BookFault>> + Send;

    /// The next plans after number `after`, at most `most`, in order, of all sites.
    ///
    /// # Errors
    /// Whatever keeps the database from being read.
    fn plan_page(
        &self,
        after: u64,
        most: u32,
    ) -> impl Future<Output = Result<Vec<SealedPlan>, BookFault>> + Send;

    /// Every site that has an entry or a plan.
    ///
    /// # Errors
    /// Whatever keeps the database from being read.
    fn sites(&self) -> impl Future<Output = Result<Vec<KnownSite>, BookFault>> + Send;
}

/// An entry that is in the book for good.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Appended {
    /// Its number.
    pub id: EntryId,
    /// Its hash.
    pub hash: String,
    /// Why the end of the chain could not be noted outside the database; to be told, no more.
    pub lag: Option<HeadLag>,
}

/// What became of entries of another copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Adopted {
    /// New to this book.
    pub added: u64,
    /// Already in it.
    pub known: u64,
}

/// What can be said of a database without walking the chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inspection {
    /// Where the database itself is damaged.
    pub damage: Option<ChainBreak>,
    /// Whether it still refuses changes and removals.
    pub guarded: bool,
    /// The end of the chain as noted outside the database.
    pub witness: Witness,
}

/// Writes one entry down. When this returns, it is in the book for good.
///
/// # Errors
/// See [`BookStore::append_all`].
pub async fn record(store: &impl BookStore, entry: &NewEntry) -> Result<Appended, BookFault> {
    let mut appended = store.append_all(std::slice::from_ref(entry), None).await?;
    appended.pop().ok_or(BookFault::Moved)
}
