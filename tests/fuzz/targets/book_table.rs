//! A table of trials, made by hand or exported.

#![no_main]

use std::cell::RefCell;

use fairseam::store::book::{BookSite, Importing, SqliteBook, entries, import_table};
use fairseam_fuzz::read_at;
use libfuzzer_sys::fuzz_target;
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};

struct Desk {
    runtime: Runtime,
    _folder: TempDir,
    book: SqliteBook,
}

thread_local! {
    static DESK: RefCell<Option<Desk>> = const { RefCell::new(None) };
}

fn desk() -> Desk {
    let runtime = Builder::new_current_thread().enable_all().build().expect("a runtime");
    let folder = tempfile::tempdir().expect("a folder");
    let book = runtime.block_on(SqliteBook::open(folder.path())).expect("a new book");
    Desk { runtime, _folder: folder, book }
}

fuzz_target!(|body: &[u8]| {
    let importing = Importing {
        site: BookSite { key: "fuzz".to_owned(), name: "Fuzzed roof".to_owned() },
        recorded_at: read_at(),
        recorded_by: "fuzz".to_owned(),
    };
    DESK.with_borrow_mut(|kept| {
        let Desk { runtime, book, .. } = kept.get_or_insert_with(desk);
        match runtime.block_on(import_table(book, &importing, body)) {
            Ok(adopted) if adopted.added > 0 => *kept = None,
            Ok(_) => {}
            Err(_) => {
                let held = runtime.block_on(entries(book, None)).expect("a book to read");
                assert!(held.is_empty(), "refused, and yet something was written");
            }
        }
    });
});
