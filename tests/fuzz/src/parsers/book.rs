//! What is brought into a book; a book that refuses stays empty.

use std::cell::RefCell;

use chrono::{TimeZone, Utc};
use fairseam::store::book::{BookSite, Importing, SqliteBook, entries, import_lines, import_table};
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

struct Desk {
    runtime: Runtime,
    _folder: TempDir,
    book: SqliteBook,
}

impl Desk {
    fn new() -> Self {
        let runtime = Builder::new_current_thread().enable_all().build().expect("a runtime");
        let folder = tempfile::tempdir().expect("a folder");
        let book = runtime.block_on(SqliteBook::open(folder.path())).expect("a new book");
        Self { runtime, _folder: folder, book }
    }
}

thread_local! {
    static DESK: RefCell<Option<Desk>> = const { RefCell::new(None) };
}

/// Brings something into an empty book by `adopt`, which tells how much went in, if anything could.
fn into_empty_book(adopt: impl FnOnce(&Runtime, &SqliteBook) -> Option<u64>) -> bool {
    DESK.with_borrow_mut(|kept| {
        let Desk { runtime, book, .. } = kept.get_or_insert_with(Desk::new);
        match adopt(runtime, book) {
            // The next input meets a new book.
            Some(added) => {
                if added > 0 {
                    *kept = None;
                }
                true
            }
            None => {
                let held = runtime.block_on(entries(book, None)).expect("a book to read");
                assert!(held.is_empty(), "refused, and yet something was written");
                false
            }
        }
    })
}

/// A book's own export, brought back.
pub(super) fn book_lines(body: &[u8]) -> bool {
    into_empty_book(|runtime, book| {
        let mut input = body;
        let adopted = runtime.block_on(import_lines(book, &mut input));
        adopted.ok().map(|adopted| adopted.added)
    })
}

/// A table of trials, made by hand or exported.
pub(super) fn book_table(body: &[u8]) -> bool {
    // After the seed's trial: what lies ahead is refused.
    let recorded_at = Utc.timestamp_opt(1_810_000_000, 0).single().expect("a moment");
    let importing = Importing {
        site: BookSite { key: "fuzz".to_owned(), name: "Fuzzed roof".to_owned() },
        recorded_at,
        recorded_by: "fuzz".to_owned(),
    };
    into_empty_book(|runtime, book| {
        let adopted = runtime.block_on(import_table(book, &importing, body));
        adopted.ok().map(|adopted| adopted.added)
    })
}
