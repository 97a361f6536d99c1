//! `book.head`: the end of the chain, kept beside the database, so that a cut-off end is noticed.
//!
//! It is written after an entry is safe in the database, so it may lag behind, never lead.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::entry::EntryId;
use super::seal::Head;
use crate::store::write_atomically;

/// Version of the file.
const VERSION: u32 = 1;
/// Largest file read, in bytes.
const LARGEST: u64 = 4096;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Record {
    fairseam_book_head: u32,
    entry: u64,
    hash: String,
}

/// What the file beside the book says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Witness {
    /// There is none.
    Absent,
    /// It cannot be read.
    Unreadable {
        /// Why.
        cause: String,
    },
    /// The chain had at least this end.
    Head(Head),
}

/// Why the file was not brought up to date. The entry itself is safe.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum HeadLag {
    /// It cannot be written.
    #[error("the entry is in the book, but its seal beside the book could not be renewed: {cause}")]
    Unwritable {
        /// What the system says.
        cause: String,
    },
    /// It says that entries are missing or were replaced; left as it is, as proof.
    #[error(
        "the entry is in the book, but the book does not hold entry {known} as it was once \
         written: run `fairseam book --verify`"
    )]
    Contradicted {
        /// The last that is known to have been written.
        known: EntryId,
    },
}

pub(super) fn path(folder: &Path) -> PathBuf {
    folder.join("book.head")
}

pub(super) fn load(folder: &Path) -> Witness {
    let read = || -> io::Result<Head> {
        let mut text = String::new();
        File::open(path(folder))?.take(LARGEST).read_to_string(&mut text)?;
        let record: Record = serde_json::from_str(&text)?;
        if record.fairseam_book_head != VERSION || record.hash.len() != 64 {
            return Err(io::Error::other("expected the end of a test-weld book, version 1"));
        }
        Ok(Head { entry: EntryId(record.entry), hash: record.hash })
    };
    match read() {
        Ok(head) => Witness::Head(head),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Witness::Absent,
        Err(error) => Witness::Unreadable { cause: error.to_string() },
    }
}

/// Writes `head`, unless another process has written a later one meanwhile.
pub(super) fn save(folder: &Path, head: &Head) -> Result<(), HeadLag> {
    if matches!(load(folder), Witness::Head(other) if other.entry > head.entry) {
        return Ok(());
    }
    let record =
        Record { fairseam_book_head: VERSION, entry: head.entry.0, hash: head.hash.clone() };
    let unwritable = |cause: String| HeadLag::Unwritable { cause };
    let mut text = serde_json::to_string(&record).map_err(|error| unwritable(error.to_string()))?;
    text.push('\n');
    write_atomically(&path(folder), text.as_bytes()).map_err(|fault| unwritable(fault.to_string()))
}
