//! The chain of the test-weld book: what was altered, taken out or cut off is noticed.

use std::fs;

use fairseam::store::book::{
    BookSite, BookStore, ChainBreak, Content, EntryId, HeadLag, NewEntry, Remark, SealedEntry,
    Supersedes, record, verify,
};
use sqlx::Executor;

use super::book_store_sample::{assert_holds, filled, note, open, raw, run, utc};

use crate::proof::{Allowed, Proof};

/// Of the two entries below, by Python's hashlib after the recipe in docs/book.md.
const FIRST_HASH: &str = "35bec7aa99d6251b259e68853971478f7ef0d901d446ac9836b8ccb43d7c4702";
const SECOND_HASH: &str = "9665e74d7e46929a42bc2cde2f87f6767e49b7d1ec35224898b4fa89589b913d";

#[test]
fn hashes_are_those_of_an_independent_implementation() {
    let home = tempfile::tempdir().unwrap();
    let site = BookSite { key: "0123456789abcdef".to_owned(), name: "Kühlhaus 7".to_owned() };
    let first = NewEntry {
        site,
        recorded_at: utc("2026-04-20T22:00:00Z"),
        recorded_by: "R. Ortiz".to_owned(),
        supersedes: None,
        content: Content::Note("Rain at noon".to_owned()),
    };
    let second = NewEntry {
        recorded_at: utc("2026-04-20T22:05:00.250Z"),
        recorded_by: "M. Chen".to_owned(),
        supersedes: Some(Supersedes { entry: EntryId(1), because: "Rain at one".to_owned() }),
        content: Content::Note("Rain at 13:00".to_owned()),
        ..first.clone()
    };
    let mut proof = Proof::of(
        "files/book-hashes",
        "Hashes that chain the entries of the book",
        "Python's hashlib after the recipe in docs/book.md",
        "entries",
        Allowed::Nothing,
    );
    run(async {
        let book = open(home.path()).await;
        proof.same(&*record(&book, &first).await.unwrap().hash, FIRST_HASH, || "first".to_owned());
        let got = record(&book, &second).await.unwrap().hash;
        proof.same(&*got, SECOND_HASH, || "second".to_owned());
    });
    proof.done();
}

/// A book of six entries on which somebody has worked with other tools.
async fn tampered(statements: &[String]) -> (tempfile::TempDir, Option<ChainBreak>, Vec<Remark>) {
    let home = tempfile::tempdir().unwrap();
    let book = filled(home.path(), 6).await;
    assert_holds(&book, 6).await;
    let mut raw = raw(home.path()).await;
    for guard in ["changed", "removed"] {
        let drop = format!("DROP TRIGGER entry_is_never_{guard}");
        raw.execute(sqlx::AssertSqlSafe(drop)).await.unwrap();
    }
    for statement in statements {
        raw.execute(sqlx::AssertSqlSafe(statement.clone())).await.unwrap();
    }
    let verified = verify(&book).await.unwrap();
    (home, verified.fault, verified.remarks)
}

#[test]
fn a_change_of_any_field_is_found() {
    let altered = ChainBreak::Altered { entry: EntryId(3) };
    let changes = [
        "kind = 'note'",
        "site_key = site_key || 'x'",
        "site = ''",
        "recorded_at = '2026-04-20T11:12:00.000001Z'",
        "recorded_by = 'R. Ortiz '",
        "payload = replace(payload, '510', '511')",
        "hash = replace(hash, substr(hash, 1, 1), 'g')",
        "supersedes = 1, because = 'x', kind = 'correction'",
    ];
    run(async {
        for change in changes {
            let statement = format!("UPDATE entry SET {change} WHERE sequence = 3");
            let (_home, fault, remarks) = tampered(&[statement]).await;
            assert_eq!(fault, Some(altered.clone()), "{change}");
            assert_eq!(remarks, [Remark::Unguarded]);
        }
        let relinked = "UPDATE entry SET previous_hash = hash WHERE sequence = 3".to_owned();
        let (_home, fault, _) = tampered(&[relinked]).await;
        assert_eq!(fault, Some(ChainBreak::Unlinked { entry: EntryId(3) }));
        assert_eq!(altered.to_string(), "entry 3 was altered after it was written");
    });
}

#[test]
fn what_is_missing_or_moved_is_found() {
    let delete = |which: &str| format!("DELETE FROM entry WHERE sequence {which}");
    let swap = [
        "SET sequence = 99 WHERE sequence = 3",
        "SET sequence = 3 WHERE sequence = 4",
        "SET sequence = 4 WHERE sequence = 99",
    ];
    let id = EntryId;
    let cases: Vec<(Vec<String>, ChainBreak, &str)> = vec![
        (
            vec![delete("= 3")],
            ChainBreak::Missing { first: id(3), last: id(3) },
            "entry 3 is missing",
        ),
        (
            vec![delete("< 3")],
            ChainBreak::Missing { first: id(1), last: id(2) },
            "entries 1 to 2 are missing",
        ),
        (
            swap.map(|set| format!("UPDATE entry {set}")).to_vec(),
            ChainBreak::Unlinked { entry: id(3) },
            "entry 3 does not follow the one before it: one of the two was replaced, or their order was changed",
        ),
        (
            vec![delete("> 4")],
            ChainBreak::CutOff { entries: 4, known: id(6) },
            "the book ends after entry 4 and entry 6 had been written: the end is missing",
        ),
        (
            vec![delete("> 0")],
            ChainBreak::CutOff { entries: 0, known: id(6) },
            "the book ends after no entry at all and entry 6 had been written: the end is missing",
        ),
    ];
    run(async {
        for (statements, expected, words) in cases {
            let (_home, fault, _) = tampered(&statements).await;
            assert_eq!(fault, Some(expected.clone()), "{statements:?}");
            assert_eq!(expected.to_string(), words);
        }
    });
}

/// Whoever knows the recipe can seal a changed entry again; the entry after it gives that away, and
/// for the last entry the end that was noted beside the database does.
#[test]
fn an_entry_that_was_sealed_again_is_found() {
    let cases = [
        (3, ChainBreak::Unlinked { entry: EntryId(4) }),
        (6, ChainBreak::WrittenAnew { entry: EntryId(6) }),
    ];
    run(async {
        for (sequence, expected) in cases {
            let home = tempfile::tempdir().unwrap();
            let book = filled(home.path(), 6).await;
            let mut forged: SealedEntry = book.page(sequence - 1, 1, None).await.unwrap().remove(0);
            forged.recorded_by = "Nobody".to_owned();
            let hash = forged.computed_hash();
            let mut raw = raw(home.path()).await;
            let forge = format!(
                "DROP TRIGGER entry_is_never_changed; UPDATE entry SET recorded_by = 'Nobody', \
                 hash = '{hash}' WHERE sequence = {sequence}"
            );
            raw.execute(sqlx::AssertSqlSafe(forge)).await.unwrap();
            assert_eq!(verify(&book).await.unwrap().fault, Some(expected));
        }
    });
}

#[test]
fn a_correction_that_the_book_would_refuse_does_not_hold_either() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 6).await;
        let mut forged: SealedEntry = book.page(5, 1, None).await.unwrap().remove(0);
        (forged.supersedes, forged.because) = (Some(1), Some("x".to_owned()));
        (forged.kind, forged.payload) =
            ("correction".to_owned(), r#"{"format":1,"content":{"note":"x"}}"#.to_owned());
        let hash = forged.computed_hash();
        let mut raw = raw(home.path()).await;
        let forge = format!(
            "DROP TRIGGER entry_is_never_changed; UPDATE entry SET kind = 'correction', \
             supersedes = 1, because = 'x', payload = '{}', hash = '{hash}' WHERE sequence = 6",
            forged.payload
        );
        raw.execute(sqlx::AssertSqlSafe(forge)).await.unwrap();
        let fault = verify(&book).await.unwrap().fault.unwrap();
        assert_eq!(
            fault.to_string(),
            "entry 6 is a correction that the book does not allow: entry 1 is a trial and cannot \
             be corrected by a note"
        );
    });
}

/// Recording goes on, and the proof that something is missing stays.
#[test]
fn the_end_that_was_noted_is_not_overwritten_by_a_shorter_chain() {
    run(async {
        let (home, _, _) = tampered(&["DELETE FROM entry WHERE sequence > 4".to_owned()]).await;
        let before = fs::read(home.path().join("book.head")).unwrap();
        let book = open(home.path()).await;
        for minutes in 50..54 {
            let appended = record(&book, &note(minutes)).await.unwrap();
            assert_eq!(appended.lag, Some(HeadLag::Contradicted { known: EntryId(6) }));
        }
        assert_eq!(fs::read(home.path().join("book.head")).unwrap(), before);
        let fault = verify(&book).await.unwrap().fault;
        assert_eq!(fault, Some(ChainBreak::WrittenAnew { entry: EntryId(6) }));
    });
}

#[test]
fn the_noted_end_may_lag_be_lost_or_be_unreadable_without_harm() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("book.head");
    run(async {
        let book = filled(home.path(), 3).await;
        let old = fs::read(&file).unwrap();
        record(&book, &note(9)).await.unwrap();
        fs::write(&file, &old).unwrap();
        assert_eq!(assert_holds(&book, 4).await.remarks, []);
        for (content, remark) in [
            (None, Remark::NoWitness),
            (
                Some("{\"fairseam_book_head\":2}"),
                Remark::WitnessUnreadable { cause: String::new() },
            ),
            (Some(""), Remark::WitnessUnreadable { cause: String::new() }),
        ] {
            match content {
                None => fs::remove_file(&file).unwrap(),
                Some(content) => fs::write(&file, content).unwrap(),
            }
            let remarks =
                assert_holds(&book, book.head().await.unwrap().unwrap().entry.0).await.remarks;
            assert_eq!(remarks.len(), 1, "{remarks:?}");
            assert_eq!(std::mem::discriminant(&remarks[0]), std::mem::discriminant(&remark));
            let appended = record(&book, &note(10)).await.unwrap();
            assert_eq!(appended.lag, None);
            let entries = appended.id.0;
            assert_eq!(assert_holds(&book, entries).await.remarks, []);
        }
        fs::remove_file(&file).unwrap();
        fs::create_dir(&file).unwrap();
        let appended = record(&book, &note(11)).await.unwrap();
        let lag = appended.lag.unwrap().to_string();
        assert!(lag.starts_with("the entry is in the book, but its seal"), "{lag}");
        assert_holds(&book, appended.id.0).await;
    });
}
