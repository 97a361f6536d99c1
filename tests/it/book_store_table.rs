//! Trials of the test-weld book as CSV.

use fairseam::store::book::{
    Adopted, BookFault, BookStore, Content, Importing, NewEntry, SqliteBook, Thread,
    current_trials, entries, export_table, import_table,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, TestRunner};

use super::book_store_sample::{
    any_entries, any_trial, assert_holds, entry, few, open, run, sentence, site, utc,
};

pub(crate) async fn table(book: &SqliteBook) -> String {
    let mut out = Vec::new();
    export_table(&current_trials(book, None, None, None).await.unwrap(), &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn importing() -> Importing {
    Importing {
        site: site("by hand"),
        recorded_at: utc("2026-04-21T08:00:00Z"),
        recorded_by: "M. Chen".to_owned(),
    }
}

async fn import_csv(book: &SqliteBook, text: &str) -> Result<Adopted, BookFault> {
    import_table(book, &importing(), text.as_bytes()).await
}

#[test]
fn a_table_carries_every_trial() {
    let property = |new: Vec<NewEntry>| {
        let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        run(async {
            let book = open(one.path()).await;
            book.append_all(&new, None).await.unwrap();
            let exported = table(&book).await;
            let copy = open(other.path()).await;
            let there = current_trials(&book, None, None, None).await.unwrap();
            let adopted = import_csv(&copy, &exported).await.unwrap();
            prop_assert_eq!(adopted, Adopted { added: there.len() as u64, known: 0 });
            let back = current_trials(&copy, None, None, None).await.unwrap();
            let plain = |threads: &[Thread]| {
                let all = threads.iter();
                all.map(|one| (one.current.site.clone(), one.trial().cloned())).collect::<Vec<_>>()
            };
            prop_assert_eq!(plain(&back), plain(&there));
            let again = import_csv(&copy, &exported).await.unwrap();
            prop_assert_eq!(again, Adopted { added: 0, known: there.len() as u64 });
            Ok(())
        })
    };
    few().run(&any_entries(), property).unwrap();
}

#[test]
fn a_hundred_trials_of_any_kind_survive_both_ways() {
    let mut runner = TestRunner::new(Config { failure_persistence: None, ..Config::default() });
    let many = proptest::collection::vec(any_trial(), 100);
    let trials = many.new_tree(&mut runner).unwrap().current();
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    run(async {
        let book = open(one.path()).await;
        let new: Vec<_> = trials
            .into_iter()
            .map(|trial| entry(1_000_000, Content::Trial(Box::new(trial))))
            .collect();
        book.append_all(&new, None).await.unwrap();
        for (old, new) in entries(&book, None).await.unwrap().iter().zip(&new) {
            assert_eq!(old.content, new.content);
        }
        let copy = open(other.path()).await;
        assert_eq!(import_csv(&copy, &table(&book).await).await.unwrap().added, 100);
        let trials = |threads: Vec<Thread>| {
            threads.iter().map(|one| one.trial().cloned().unwrap()).collect::<Vec<_>>()
        };
        assert_eq!(
            trials(current_trials(&copy, None, None, None).await.unwrap()),
            trials(current_trials(&book, None, None, None).await.unwrap())
        );
    });
}

const BY_HAND: &str = "\
entry,when,who,welder,welder_kind,polymer,thickness_mm,ambient_c,speed_ft_per_min,heat,heat_c,bond_width_mm,parted,signs
a,2026-04-20T12:00:00Z,R. Ortiz,automatic 1,automatic,pvc,2.0,21.5,9,1,480,38,film-tear,
a,2026-04-20T12:00:00Z,R. Ortiz,automatic 1,automatic,pvc,2.0,21.5,9,1,480,39.5,film-tear,void
a,2026-04-20T12:00:00Z,R. Ortiz,automatic 1,automatic,pvc,2.0,21.5,9,2,540,40,mixed,browning char
b,2026-04-20T13:00:00-04:00,R. Ortiz,hand 1,hand,pvc,2.0,21.5,,1,420,30,cold,
";

#[test]
fn a_table_made_by_hand_is_read() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        assert_eq!(import_csv(&book, BY_HAND).await.unwrap(), Adopted { added: 2, known: 0 });
        let trials = current_trials(&book, Some("key of by hand"), None, None).await.unwrap();
        let trial = &trials[0].trial().unwrap().trial;
        let strips: Vec<usize> = trial.heats.iter().map(|heat| heat.strips.len()).collect();
        assert_eq!(strips, [2, 1]);
        assert_eq!(trial.heats[1].strips[0].signs.len(), 2);
        assert_eq!(trials[1].trial().unwrap().trial.when, utc("2026-04-20T17:00:00Z"));
        assert_eq!(trials[0].current.recorded_by, "M. Chen");
        // A second time changes nothing.
        assert_eq!(import_csv(&book, BY_HAND).await.unwrap(), Adopted { added: 0, known: 2 });
        // With a mark at its start, as spreadsheets save it.
        let marked = format!("\u{feff}{BY_HAND}");
        assert_eq!(import_csv(&book, &marked).await.unwrap(), Adopted { added: 0, known: 2 });
    });
}

#[test]
fn two_imports_at_once_double_nothing() {
    let home = tempfile::tempdir().unwrap();
    let import =
        || run(async { import_csv(&open(home.path()).await, BY_HAND).await.unwrap().added });
    let added: u64 = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..4).map(|_| scope.spawn(import)).collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).sum()
    });
    assert_eq!(added, 2);
    run(async { assert_holds(&open(home.path()).await, 2).await });
}

#[test]
fn a_wrong_table_is_refused_with_its_line_and_nothing_of_it_is_kept() {
    let home = tempfile::tempdir().unwrap();
    let with = |old: &str, new: &str| {
        assert!(BY_HAND.contains(old), "{old}");
        BY_HAND.replacen(old, new, 1)
    };
    let cases: Vec<(String, &str)> = vec![
        (String::new(), "line 1: the column `entry` is missing"),
        (with("heat_c", "heat_f"), "line 1: no column is called \"heat_f\"; there are entry, "),
        (with(",parted", ",signs"), "line 1: the column `parted` is missing"),
        (
            with("hand,pvc", "robot,pvc"),
            "line 5: `welder_kind` is \"robot\", expected `automatic` or `hand`",
        ),
        (with("480,38,", "480,NaN,"), "line 2: `bond_width_mm` is \"NaN\", expected a number"),
        (with("480,38,", "480,1e999,"), "line 2: `bond_width_mm` is \"1e999\", expected a number"),
        (with("480,38,", "480,\"1,5\","), "line 2: `bond_width_mm` is \"1,5\", expected a number"),
        (with("480,38,", "480,-1,"), "line 2: the bond width of heat 1, strip 1 is"),
        (with("480,38,", "4800,38,"), "line 3: the columns of the heat differ from line 2"),
        (
            with("\na,2026-04-20T12", "\na,2026-04-20T11"),
            "line 3: the columns of the trial differ from line 2",
        ),
        (
            with("2026-04-20T13:00:00-04:00", "2026-04-20 13:00"),
            "line 5: `when` is \"2026-04-20 13:00\", expected a time",
        ),
        (with("2026-04-20T13:00:00-04:00", "2027-04-20T13:00:00Z"), "line 5: the trial is dated"),
        (with("void", "hole"), "line 3: `signs` is \"hole\", expected `browning` or "),
        (with("420,30,cold,", "420,30,cold"), "line 5: expected 14 cells, found 13"),
        (
            with("R. Ortiz,hand 1", ",hand 1"),
            "line 5: the name of who made it is empty: write a name",
        ),
        (
            format!(
                "{BY_HAND}c,2026-04-20T12:00:00Z,R. Ortiz,automatic 1,automatic,tpo,2.0,21.5,9,1,480,38,cold,\n"
            ),
            "line 6: an earlier row is another trial of \"automatic 1\" at 2026-04-20 12:00:00 UTC",
        ),
    ];
    run(async {
        let book = open(home.path()).await;
        for (text, expected) in cases {
            let fault = import_csv(&book, &text).await.unwrap_err();
            let said = sentence(&fault, None);
            assert!(said.contains(expected), "{said}, expected {expected}");
            assert!(said.ends_with("; nothing was imported"), "{said}");
        }
        assert_eq!(book.head().await.unwrap(), None);
        import_csv(&book, BY_HAND).await.unwrap();
        let fault = import_csv(&book, &with("540,40,mixed", "550,40,mixed")).await.unwrap_err();
        let expected = "line 2: entry 1 is another trial of \"automatic 1\" at 2026-04-20 12:00:00 \
                        UTC: correct that one, or leave this one out; nothing was imported";
        assert_eq!(fault.to_string(), expected);
        assert_holds(&book, 2).await;
    });
}
