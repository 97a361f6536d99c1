//! Why the book could not be used: one sentence each, with what to do.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::chain::ChainBreak;
use super::entry::EntryId;
use super::refusal::Refusal;

/// The test-weld book could not be read or written. Whatever was acknowledged before is kept.
#[derive(Debug, thiserror::Error)]
pub enum BookFault {
    /// The data folder cannot be made or reached.
    #[error("the folder of the test-weld book `{}` could not be opened: {cause}", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// A folder has the name of the book.
    #[error("`{}` is a folder, expected the test-weld book: move it away", path.display())]
    IsFolder {
        /// The folder.
        path: PathBuf,
    },
    /// The file is there and cannot be opened.
    #[error(
        "the test-weld book `{}` could not be opened: {cause}; check the rights on it and on its \
         folder",
        path.display()
    )]
    CannotOpen {
        /// The book.
        path: PathBuf,
        /// What the system or SQLite says.
        cause: String,
    },
    /// There was a book once.
    #[error(
        "the test-weld book `{}` is gone, though `{}` shows that there was one: put a backup back, \
         or move `{}` away to begin a new book",
        path.display(), trace.display(), trace.display()
    )]
    Gone {
        /// The book.
        path: PathBuf,
        /// What is left of it.
        trace: PathBuf,
    },
    /// The file has no content.
    #[error(
        "the test-weld book `{}` is empty: put a backup back, or delete the file to begin a new book",
        path.display()
    )]
    Empty {
        /// The book.
        path: PathBuf,
    },
    /// The file is a database of another program.
    #[error("`{}` is a database, but no test-weld book: move it away", path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
    },
    /// A newer version of this program has been here.
    #[error(
        "the test-weld book `{}` was written by a newer fairseam (version {found} of the book; this \
         one knows {known}): update fairseam",
        path.display()
    )]
    Newer {
        /// The book.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The newest that this program knows.
        known: i64,
    },
    /// The file is damaged.
    #[error(
        "the test-weld book `{}` is damaged ({cause}): keep a copy of it and put a backup back",
        path.display()
    )]
    Damaged {
        /// The book.
        path: PathBuf,
        /// What was found.
        cause: String,
    },
    /// The file or its folder can be read only.
    #[error(
        "the test-weld book `{}` can only be read, so nothing was written: allow writing to it and \
         to its folder",
        path.display()
    )]
    ReadOnly {
        /// The book.
        path: PathBuf,
    },
    /// Another process holds the book.
    #[error(
        "the test-weld book `{}` has been in use by another program for {:.0} s, so nothing was \
         written: try again when it is done",
        path.display(), waited.as_secs_f64()
    )]
    Busy {
        /// The book.
        path: PathBuf,
        /// How long it was waited for.
        waited: Duration,
    },
    /// One name for two sendings.
    #[error("`{id}` was the name of another sending already: give this one a name of its own")]
    SentOtherwise {
        /// The name.
        id: String,
    },
    /// No room, or the disk fails.
    #[error(
        "the test-weld book `{}` could not be written ({cause}), so nothing was recorded: make \
         room on the disk and record it again",
        path.display()
    )]
    NoRoom {
        /// The book.
        path: PathBuf,
        /// What SQLite says.
        cause: String,
    },
    /// Anything else that SQLite says.
    #[error("the test-weld book `{}` could not be used: {cause}", path.display())]
    Database {
        /// The book.
        path: PathBuf,
        /// As SQLite says it.
        cause: String,
    },
    /// The entry cannot be written down.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The chain of entries does not hold where it is read.
    #[error("the test-weld book does not hold: {0}")]
    Broken(#[from] ChainBreak),
    /// Others have written meanwhile; only where that was asked for.
    #[error("somebody else is writing into the test-weld book: try again")]
    Moved,
    /// An entry to be taken in is another one than the book has under that number.
    #[error("entry {entry} is in the book already, with other content: the two books have parted")]
    Conflict {
        /// Which.
        entry: EntryId,
    },
    /// A line of a file to be taken in is wrong; nothing of the file was taken in.
    #[error("line {line}: {problem}; nothing was imported")]
    Line {
        /// Counted from 1.
        line: u64,
        /// What was expected and found.
        problem: String,
    },
    /// An import cannot be read, or an export cannot be written.
    #[error("could not {doing}: {cause}")]
    Stream {
        /// Such as `write the export`.
        doing: &'static str,
        /// What the system says.
        cause: io::Error,
    },
    /// There is a file already where a backup should go.
    #[error("`{}` is there already: choose another name, or move it away", path.display())]
    BackupExists {
        /// The file.
        path: PathBuf,
    },
    /// A backup cannot be written; nothing is left of it.
    #[error("the backup `{}` could not be written: {cause}", path.display())]
    Backup {
        /// The file.
        path: PathBuf,
        /// What the system or SQLite says.
        cause: String,
    },
}

/// Reads SQLite's errors for the book at `path`, after a wait of `waited` for other processes.
///
/// Source: SqliteCodes, primary result codes; the low byte of an extended one.
pub(super) fn from_sqlx(path: &Path, waited: Duration, error: &sqlx::Error) -> BookFault {
    let path = path.to_owned();
    let Some(database) = error.as_database_error() else {
        return match error {
            // A text that is no text: nothing that this program writes.
            sqlx::Error::ColumnDecode { .. } | sqlx::Error::Decode(_) => {
                BookFault::Damaged { path, cause: error.to_string() }
            }
            sqlx::Error::PoolTimedOut => BookFault::Busy { path, waited },
            sqlx::Error::Io(cause) => BookFault::CannotOpen { path, cause: cause.to_string() },
            _ => BookFault::Database { path, cause: error.to_string() },
        };
    };
    let cause = database.message().to_owned();
    let code = database.code().and_then(|code| code.parse::<i32>().ok()).unwrap_or(1);
    match code & 0xff {
        5 | 6 => BookFault::Busy { path, waited },
        3 | 8 => BookFault::ReadOnly { path },
        10 | 13 => BookFault::NoRoom { path, cause },
        11 | 26 => BookFault::Damaged { path, cause },
        14 => BookFault::CannotOpen { path, cause },
        _ => BookFault::Database { path, cause },
    }
}

#[cfg(test)]
mod tests {
    use sqlx::query;

    use super::*;
    use crate::store::book::{BookSite, BookStore, Content, NewEntry, SqliteBook, record, verify};

    /// A limit on the database's pages is to SQLite what a full disk is.
    #[test]
    fn a_full_disk_is_told_and_costs_nothing_that_was_acknowledged() {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(fill_up());
    }

    async fn fill_up() {
        let home = tempfile::tempdir().unwrap();
        let book = SqliteBook::open(home.path()).await.unwrap();
        let new = NewEntry {
            site: BookSite { key: "k".to_owned(), name: "s".to_owned() },
            recorded_at: chrono::DateTime::UNIX_EPOCH,
            recorded_by: "x".to_owned(),
            supersedes: None,
            content: Content::Note("y".repeat(20_000)),
        };
        record(&book, &new).await.unwrap();
        query("PRAGMA max_page_count = 20").execute(&book.pool).await.unwrap();
        let mut written = 1;
        let fault = loop {
            assert!(written < 100, "the limit does not hold");
            match record(&book, &new).await {
                Ok(_) => written += 1,
                Err(fault) => break fault,
            }
        };
        assert!(
            matches!(&fault, BookFault::NoRoom { cause, .. } if cause == "database or disk is full"),
            "{fault:?}"
        );
        let said = fault.to_string();
        assert!(
            said.ends_with("so nothing was recorded: make room on the disk and record it again"),
            "{said}"
        );
        let verified = verify(&book).await.unwrap();
        assert_eq!((verified.entries, verified.fault), (written, None));
        // The limit is a connection's own: a book opened anew has room again.
        book.close().await;
        let book = SqliteBook::open(home.path()).await.unwrap();
        record(&book, &new).await.unwrap();
        assert_eq!(book.head().await.unwrap().unwrap().entry.0, written + 1);
    }
}
