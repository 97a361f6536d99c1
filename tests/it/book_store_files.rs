//! The test-weld book as JSON Lines, as a backup, and as other programs see it.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Command;

use fairseam::store::book::{
    Adopted, BookFault, BookStore, Content, NewEntry, SqliteBook, current_trials, entries,
    export_lines, export_table, import_lines, record,
};
use fairseam::units::Temperature;
use proptest::prelude::*;

use super::book_store_sample::{
    any_entries, assert_holds, entry, few, filled, instead_of, note, open, run, run_entry,
    sentence, trial, trial_entry,
};
use super::book_store_table::table;

use crate::proof::{Allowed, Proof};

async fn lines(book: &SqliteBook) -> String {
    let mut out = Vec::new();
    export_lines(book, &mut out).await.unwrap();
    String::from_utf8(out).unwrap()
}

async fn import(book: &SqliteBook, text: &str) -> Result<Adopted, BookFault> {
    import_lines(book, &mut text.as_bytes()).await
}

#[test]
fn json_lines_carry_the_whole_book() {
    let property = |new: Vec<NewEntry>| {
        let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        run(async {
            let book = open(one.path()).await;
            book.append_all(&new, None).await.unwrap();
            let exported = lines(&book).await;
            let copy = open(other.path()).await;
            let all = new.len() as u64;
            let adopted = import(&copy, &exported).await.unwrap();
            prop_assert_eq!(adopted, Adopted { added: all, known: 0 });
            prop_assert_eq!(lines(&copy).await, exported.clone());
            prop_assert_eq!(
                entries(&copy, None).await.unwrap(),
                entries(&book, None).await.unwrap()
            );
            let again = import(&copy, &exported).await.unwrap();
            prop_assert_eq!(again, Adopted { added: 0, known: all });
            assert_holds(&copy, all).await;
            Ok(())
        })
    };
    few().run(&any_entries(), property).unwrap();
}

#[test]
fn an_import_adds_what_follows_and_refuses_a_book_that_has_parted() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    run(async {
        let book = filled(one.path(), 4).await;
        let early = lines(&book).await;
        record(&book, &instead_of(1, trial_entry(50))).await.unwrap();
        record(&book, &note(60)).await.unwrap();
        let late = lines(&book).await;

        let copy = open(other.path()).await;
        assert_eq!(import(&copy, &early).await.unwrap(), Adopted { added: 4, known: 0 });
        assert_eq!(import(&copy, &late).await.unwrap(), Adopted { added: 2, known: 4 });
        assert_eq!(import(&copy, &early).await.unwrap(), Adopted { added: 0, known: 4 });
        assert_holds(&copy, 6).await;

        record(&book, &note(70)).await.unwrap();
        record(&copy, &note(71)).await.unwrap();
        record(&copy, &note(72)).await.unwrap();
        let fault = import(&book, &lines(&copy).await).await.unwrap_err();
        assert_eq!(
            fault.to_string(),
            "line 8: entry 7 is in the book already, with other content: the file and the book \
             come from two books that have parted; nothing was imported"
        );
        assert_holds(&book, 7).await;
    });
}

#[test]
fn a_partial_or_altered_file_imports_nothing() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    run(async {
        let book = filled(one.path(), 5).await;
        let whole = lines(&book).await;
        let copy = open(other.path()).await;
        let line = |number: usize| whole.split_inclusive('\n').nth(number - 1).unwrap();
        let without = |number: usize| {
            let kept = whole.split_inclusive('\n').enumerate();
            kept.filter(|(at, _)| at + 1 != number).map(|(_, text)| text).collect::<String>()
        };
        let cases: Vec<(String, &str)> = vec![
            (String::new(), "line 1: expected the first line of an export"),
            ("<html>".to_owned(), "line 1: expected the first line of an export"),
            (without(1), "line 1: expected the first line of an export"),
            (whole.replacen("book\":1", "book\":2", 1), "line 1: the export has version 2"),
            (whole[..whole.len() / 2].to_owned(), "expected an entry of the book"),
            (
                without(6),
                "line 6: expected 5 entries as the first line says, found 4: the file is not whole",
            ),
            (without(4), "line 4: entry 3 is missing"),
            (format!("{whole}{}", line(6)), "line 7: entry 5 stands where entry 6 belongs"),
            (format!("{whole}\n"), "line 7: expected an entry of the book"),
            (whole.replacen("\"entries\":5", "\"entries\":6", 1), "line 7: expected 6 entries"),
            (
                whole.replacen("film-tear", "cold", 1),
                "line 2: entry 1 was altered after it was written",
            ),
            (whole.replacen("510.0", "NaN", 1), "line 4: expected an entry of the book"),
            (whole.replacen("510.0", "1e999", 1), "line 4: "),
            (
                whole.replacen("\"sequence\"", "\"x\":1,\"sequence\"", 1),
                "line 2: expected an entry of the book",
            ),
            (
                whole.replacen("\"head\":\"", "\"head\":\"0", 1),
                "line 7: the last entry is not the one",
            ),
            (
                format!("{}{}", line(1), "[".repeat(200_000)),
                "line 2: expected an entry of the book",
            ),
            (
                format!("{}{}", line(1), " ".repeat(9 << 20)),
                "line 2: expected at most 8388608 bytes",
            ),
        ];
        for (text, expected) in cases {
            let fault = import(&copy, &text).await.unwrap_err();
            let said = sentence(&fault, None);
            assert!(said.contains(expected), "{said}, expected {expected}");
            assert!(said.ends_with("; nothing was imported"), "{said}");
        }
        let mut other_bytes = whole.clone().into_bytes();
        let half = other_bytes.len() / 2;
        other_bytes[half] = 0xff;
        let fault = import_lines(&copy, &mut other_bytes.as_slice()).await.unwrap_err();
        assert!(fault.to_string().contains("expected UTF-8 text"), "{fault}");
        assert_eq!(copy.head().await.unwrap(), None);
        // What other systems do to line ends does no harm.
        let adopted = import(&copy, &whole.replace('\n', "\r\n")).await.unwrap();
        assert_eq!(adopted.added, 5);
        assert_holds(&copy, 5).await;
    });
}

/// Every single character of a small export: whatever it is changed to, the change is noticed or
/// means nothing.
#[test]
fn no_changed_character_slips_through() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    run(async {
        let book = open(one.path()).await;
        record(&book, &run_entry(0)).await.unwrap();
        let whole = lines(&book).await;
        let copy = open(other.path()).await;
        for at in (0..whole.len()).filter(|&at| {
            whole.is_char_boundary(at) && whole.as_bytes()[at].is_ascii_alphanumeric()
        }) {
            let mut changed = whole.clone();
            changed.replace_range(at..=at, if &whole[at..=at] == "7" { "8" } else { "7" });
            let fault = import(&copy, &changed).await;
            assert!(matches!(fault, Err(BookFault::Line { .. })), "{at}: {changed}: {fault:?}");
        }
        assert_eq!(copy.head().await.unwrap(), None);
    });
}

#[test]
fn a_backup_is_whole_while_others_write_and_replaces_nothing_unasked() {
    let (home, shelf) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let to = shelf.path().join("book.sqlite3");
    run(async { filled(home.path(), 5).await.close().await });
    std::thread::scope(|scope| {
        let writer = scope.spawn(|| {
            run(async {
                let book = open(home.path()).await;
                for minutes in 0..30 {
                    record(&book, &note(minutes)).await.unwrap();
                }
            });
        });
        run(async {
            let book = open(home.path()).await;
            book.backup(&to, false).await.unwrap();
            let fault = book.backup(&to, false).await.unwrap_err();
            assert!(matches!(fault, BookFault::BackupExists { .. }), "{fault}");
            sentence(&fault, Some(&to));
            book.backup(&to, true).await.unwrap();
        });
        writer.join().unwrap();
    });
    assert_eq!(names(shelf.path()), ["book.sqlite3"], "nothing is left beside it");
    run(async {
        let copy = open(shelf.path()).await;
        let entries = copy.head().await.unwrap().unwrap().entry.0;
        assert!((5..=35).contains(&entries), "{entries}");
        assert_holds(&copy, entries).await;
        record(&copy, &note(99)).await.unwrap();
        assert_holds(&copy, entries + 1).await;
        assert_holds(&open(home.path()).await, 35).await;
    });
}

#[test]
fn a_backup_that_cannot_be_written_leaves_nothing() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 2).await;
        let folder = home.path().join("shelf");
        fs::create_dir(&folder).unwrap();
        for (to, expected) in [
            (folder.clone(), "it is a folder"),
            (home.path().join("none").join("b.sqlite3"), "could not be written"),
            (home.path().join("book.sqlite3"), "it is the book itself"),
        ] {
            let fault = book.backup(&to, true).await.unwrap_err();
            assert!(sentence(&fault, Some(&to)).contains(expected), "{fault}");
        }
        assert!(names(&folder).is_empty());
        assert_holds(&book, 2).await;
    });
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
}

/// Written by this program, read by another one that shares no code with it.
#[test]
fn python_reads_the_book_and_finds_the_same_chain() {
    let home = tempfile::tempdir().unwrap();
    let mut proof = Proof::of(
        "files/book-python",
        "A book, and its exports as lines and as a table: chain, entries, rows, names",
        "read by Python's sqlite3, csv, json and hashlib, tests/book/read_back.py",
        "facts",
        Allowed::Nothing,
    )
    .when_installed(9);
    let python = std::env::var("FAIRSEAM_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let probe = Command::new(&python).args(["-c", "import sqlite3, csv, hashlib"]).output();
    if !probe.is_ok_and(|output| output.status.success()) {
        let reason = format!("{python} with sqlite3 cannot be run (FAIRSEAM_PYTHON names it)");
        let required = std::env::var("FAIRSEAM_REQUIRE_TOOLS").is_ok_and(|value| value == "1");
        assert!(!required, "{reason}");
        // Straight to the terminal: what a passing test prints is not shown.
        writeln!(std::io::stderr(), "SKIPPED: {reason}").unwrap();
        return proof.done();
    }
    let hostile = ["Robert'); DROP TABLE entry;--", "two\nlines\r\n", "\"q\",'a'", "👷‍♀️ <b>&amp;"];
    run(async {
        let book = filled(home.path(), 8).await;
        for (minutes, name) in (100..).zip(hostile) {
            let mut recorded = trial(minutes);
            recorded.trial.who = name.to_owned();
            let content = Content::Trial(Box::new(recorded));
            let mut new = entry(minutes, content);
            name.clone_into(&mut new.recorded_by);
            record(&book, &new).await.unwrap();
        }
        record(&book, &instead_of(1, trial_entry(200))).await.unwrap();
        fs::write(home.path().join("book.jsonl"), lines(&book).await).unwrap();
        fs::write(home.path().join("book.csv"), table(&book).await).unwrap();
    });
    let output = Command::new(python)
        .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/book/read_back.py"))
        .args(["book.sqlite3", "book.jsonl", "book.csv"].map(|name| home.path().join(name)))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    // Eight trials, of which the first is there as corrected: three heats of three strips each.
    let rows = 8 * 9;
    for (fact, expected) in [
        ("database_holds", serde_json::json!(true)),
        ("lines_hold", true.into()),
        ("same", true.into()),
        ("entries", 13.into()),
        ("announced", 13.into()),
        ("journal", "wal".into()),
        ("integrity", "ok".into()),
        ("rows", rows.into()),
    ] {
        proof.same(&found[fact], &expected, || format!("{fact}: {found}"));
    }
    assert!(found["widths_mm"].as_array().unwrap().iter().all(|width| *width == 38.1));
    let mut who: Vec<&str> = hostile.into_iter().chain(["R. Ortiz"]).collect();
    who.sort_unstable();
    proof.same(&found["who"], &serde_json::json!(who), || "who".to_owned());
    proof.done();
}

/// The example in docs/book.md was sealed by Python's hashlib; were it wrong, or were we, it would
/// not be taken in.
#[test]
fn the_example_in_the_documents_is_a_book() {
    let page = include_str!("../../docs/book.md");
    let (_, rest) = page.split_once("```jsonl\n").unwrap();
    let (example, _) = rest.split_once("```").unwrap();
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        assert_eq!(import(&book, example).await.unwrap(), Adopted { added: 3, known: 0 });
        assert_eq!(lines(&book).await, example);
        let trials = current_trials(&book, None, None, None).await.unwrap();
        let recorded = trials[0].trial().unwrap();
        assert_eq!(recorded.trial.lot.as_deref(), Some("A-71"));
        assert_eq!(recorded.trial.ambient, Temperature::from_celsius(21.5));
        assert_eq!(recorded.trial.heats[0].strips[1].bond_width.millimeters(), 40.5);
        assert_eq!(trials[0].history.len(), 1);
    });
    let header = String::from_utf8({
        let mut out = Vec::new();
        export_table(&[], &mut out).unwrap();
        out
    })
    .unwrap();
    for column in header.trim().split(',') {
        assert!(page.contains(&format!("`{column}`")), "docs/book.md lacks the column {column}");
    }
}
