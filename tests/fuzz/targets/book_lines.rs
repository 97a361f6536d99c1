//! A book's own export, brought back; a book that refuses stays empty.

#![no_main]

use std::cell::RefCell;

use fairseam::store::book::{SqliteBook, entries, import_lines};
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
    DESK.with_borrow_mut(|kept| {
        let Desk { runtime, book, .. } = kept.get_or_insert_with(desk);
        let mut input = body;
        let adopted = runtime.block_on(import_lines(book, &mut input));
        if adopted.is_err() {
            let held = runtime.block_on(entries(book, None)).expect("a book to read");
            assert!(held.is_empty(), "refused, and yet something was written");
        } else if adopted.is_ok_and(|adopted| adopted.added > 0) {
            // A sound export went in: the next input meets a new book.
            *kept = None;
        }
    });
});
