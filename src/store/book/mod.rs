//! The test-weld book on disk: an append-only chain of entries, and its exports.
//!
//! [`SqliteBook`] keeps the entries; [`BookStore`] is what any other database would have to
//! promise. Everything else works on that promise: [`entries`], [`current_trials`] and [`verify`]
//! read, [`record`] writes, [`export_lines`] and [`import_lines`] carry the whole book,
//! [`export_table`] and [`import_table`] its trials. Formats are in `docs/book.md`.

mod backup;
mod chain;
mod entry;
mod fault;
mod head_file;
mod keeping;
mod known_sites;
mod lines;
mod opening;
mod payload;
mod plan_payload;
mod plan_seal;
mod plans;
mod reading;
mod refusal;
mod seal;
mod sendings;
mod sqlite;
mod sqlite_plans;
mod table;
mod trial_words;

pub use chain::ChainBreak;
pub use entry::{
    BookSite, Content, Entry, EntryId, EntryKind, ForecastThen, NewEntry, RecordedTrial, Run,
    Supersedes,
};
pub use fault::BookFault;
pub use head_file::{HeadLag, Witness};
pub use keeping::{Adopted, Appended, BookStore, Inspection, record};
pub use known_sites::{EarlierSelf, KnownSite, earlier_self};
pub use lines::{export_lines, import_lines};
pub use plan_seal::SealedPlan;
pub use plans::plans_that_count;
pub use reading::{Remark, Thread, Verified, current_trials, entries, thread, threads, verify};
pub use refusal::Refusal;
pub use seal::{Head, SealedEntry};
pub use sendings::{Sending, Sent};
pub use sqlite::SqliteBook;
pub use table::{Importing, export_table, import_table};
