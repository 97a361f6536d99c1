//! A test-weld book that is damaged, locked, full, or not one: one sentence each, nothing lost.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use fairseam::store::book::{
    BookFault, BookStore, Sending, SqliteBook, entries, export_lines, record, verify,
};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, Executor};

use super::book_store_sample::{
    assert_holds, filled, note, open, raw, run, sentence, site, trial_entry,
};

/// A closed book of `count` entries; with the path of its database.
fn closed(count: i64) -> (tempfile::TempDir, std::path::PathBuf) {
    let home = tempfile::tempdir().unwrap();
    run(async { filled(home.path(), count).await.close().await });
    let path = home.path().canonicalize().unwrap().join("book.sqlite3");
    (home, path)
}

/// Both ways of opening fail alike, and what is there stays as it is.
fn assert_both_refuse(home: &Path, expected: &str) {
    let path = home.canonicalize().unwrap().join("book.sqlite3");
    let before = fs::read(&path).ok();
    let faults = run(async {
        [
            SqliteBook::open(home).await.err().unwrap(),
            SqliteBook::open_to_read(home).await.err().unwrap(),
        ]
    });
    for fault in faults {
        let said = sentence(&fault, Some(&path));
        assert!(said.contains(expected), "{said}, expected {expected}");
    }
    assert!(fs::read(&path).ok() == before, "the file was touched");
}

#[test]
fn what_is_no_book_is_named_and_left_alone() {
    let cases: &[(&[u8], &str)] = &[
        (b"", "is empty: put a backup back"),
        (&[b'x'; 5000], "is damaged (file is not a database)"),
        (b"SQLite", "is damaged (file is not a database)"),
    ];
    for (content, expected) in cases {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("book.sqlite3"), content).unwrap();
        assert_both_refuse(home.path(), expected);
    }
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("book.sqlite3")).unwrap();
    assert_both_refuse(home.path(), "is a folder, expected the test-weld book: move it away");
}

#[test]
fn a_database_of_another_program_is_left_alone() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let path = home.path().join("book.sqlite3");
        let options = SqliteConnectOptions::new().filename(&path).create_if_missing(true);
        let mut other = options.connect().await.unwrap();
        other.execute("CREATE TABLE entry (sequence INTEGER)").await.unwrap();
        other.close().await.unwrap();
    });
    assert_both_refuse(home.path(), "is a database, but no test-weld book: move it away");
}

#[test]
fn a_book_of_a_newer_version_is_left_alone() {
    let (home, _) = closed(2);
    run(async {
        let mut raw = raw(home.path()).await;
        let later = "INSERT INTO _sqlx_migrations SELECT 4, 'later', installed_on, 1, checksum, 0 \
                     FROM _sqlx_migrations LIMIT 1";
        raw.execute(later).await.unwrap();
        raw.close().await.unwrap();
    });
    assert_both_refuse(
        home.path(),
        "was written by a newer fairseam (version 4 of the book; this one knows 3): update fairseam",
    );
}

#[test]
fn a_book_that_is_gone_is_not_begun_anew() {
    let (home, path) = closed(2);
    fs::remove_file(&path).unwrap();
    assert_both_refuse(home.path(), "is gone, though");
    // Without a trace there was none.
    fs::remove_file(home.path().join("book.head")).unwrap();
    run(async { assert_holds(&open(home.path()).await, 0).await });
}

#[test]
fn a_log_that_was_left_alone_is_not_played_into_another_book() {
    let (home, path) = closed(2);
    fs::remove_file(&path).unwrap();
    fs::remove_file(home.path().join("book.head")).unwrap();
    fs::write(home.path().join("book.sqlite3-wal"), "left behind").unwrap();
    assert_both_refuse(home.path(), "book.sqlite3-wal` shows that there was one");
}

/// Cut anywhere and overwritten anywhere: opening, reading, writing and verifying say so or, where
/// the damage hits nothing, hold.
#[test]
fn damage_anywhere_is_told_and_never_believed() {
    let (home, path) = closed(40);
    run(async {
        let book = open(home.path()).await;
        for date in ["2027-04-20", "2027-04-21", "2027-04-22"] {
            let plan = crate::kept_plan::kept(date, "2027-04-19T20:00:00Z");
            assert!(book.keep_plan(&site("east bay"), &plan).await.unwrap());
        }
        let sending = Sending::new(&"a".repeat(36), &site("east bay").key, "a trial");
        book.append_once(&[trial_entry(40)], &sending).await.unwrap();
        book.close().await;
    });
    let whole = fs::read(&path).unwrap();
    let damaged = |bytes: &[u8], what: &str| {
        fs::write(&path, bytes).unwrap();
        for leftover in ["-wal", "-shm"] {
            let _ = fs::remove_file(format!("{}{leftover}", path.display()));
        }
        run(async {
            let book = match SqliteBook::open(home.path()).await {
                Ok(book) => book,
                Err(fault) => return told(&fault, what),
            };
            match verify(&book).await {
                Err(fault) => told(&fault, what),
                Ok(verified) => {
                    let held = verified.fault.is_none();
                    assert!(!held || verified.entries == 41, "{what}: {verified:?}");
                    !held
                }
            }
        })
    };
    let mut noticed = 0;
    for part in 1..8 {
        assert!(damaged(&whole[..whole.len() * part / 8], "cut"), "cut at {part}/8");
    }
    for page in 0..whole.len() / 4096 {
        let mut bytes = whole.clone();
        bytes[page * 4096 + 8..(page + 1) * 4096].fill(0xa5);
        noticed += u32::from(damaged(&bytes, "overwritten"));
    }
    assert!(noticed as usize >= whole.len() / 4096 - 1, "{noticed} of {}", whole.len() / 4096);
    fs::write(&path, &whole).unwrap();
    run(async { assert_holds(&open(home.path()).await, 41).await });
}

fn told(fault: &BookFault, what: &str) -> bool {
    sentence(fault, None);
    let expected = matches!(
        fault,
        BookFault::Damaged { .. } | BookFault::Foreign { .. } | BookFault::Empty { .. }
    );
    assert!(expected, "{what}: {fault:?}");
    true
}

#[test]
fn a_book_that_another_program_holds_is_waited_for_and_then_told() {
    let (home, path) = closed(2);
    run(async {
        let patience = Duration::from_millis(300);
        let book = SqliteBook::open_waiting(home.path(), patience).await.unwrap();
        let mut other = raw(home.path()).await;
        other.execute("BEGIN IMMEDIATE").await.unwrap();
        let begun = Instant::now();
        let fault = record(&book, &note(1)).await.unwrap_err();
        assert!(matches!(fault, BookFault::Busy { .. }), "{fault:?}");
        assert!(begun.elapsed() >= patience && begun.elapsed() < Duration::from_secs(20));
        assert!(sentence(&fault, Some(&path)).contains("nothing was written: try again"));
        // Reading goes on meanwhile.
        assert_eq!(entries(&book, None).await.unwrap().len(), 2);
        assert_holds(&book, 2).await;
        other.execute("ROLLBACK").await.unwrap();
        record(&book, &note(1)).await.unwrap();
        assert_holds(&book, 3).await;
    });
}

#[cfg(target_os = "linux")]
#[test]
fn an_export_onto_a_full_disk_is_told() {
    let (home, _) = closed(3);
    run(async {
        let book = open(home.path()).await;
        let mut full = std::io::BufWriter::new(fs::File::create("/dev/full").unwrap());
        let fault = export_lines(&book, &mut full).await.unwrap_err();
        assert!(sentence(&fault, None).starts_with("could not write the export: "), "{fault}");
    });
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_cannot_be_made_is_named() {
    run(async {
        let folder = Path::new("/proc/fairseam");
        let fault = SqliteBook::open(folder).await.err().unwrap();
        assert!(matches!(fault, BookFault::Folder { .. }), "{fault:?}");
        sentence(&fault, Some(folder));
        assert!(SqliteBook::open_to_read(folder).await.unwrap().is_none());
    });
}

#[test]
fn a_file_in_place_of_the_folder_is_named() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("data");
    fs::write(&folder, "x").unwrap();
    run(async {
        let fault = SqliteBook::open(&folder).await.err().unwrap();
        sentence(&fault, Some(&folder));
        let fault = SqliteBook::open_to_read(&folder.join("deeper")).await.err().unwrap();
        sentence(&fault, Some(&folder));
    });
}
