//! The test-weld book: writing down, correcting, reading.

use chrono::TimeDelta;
use fairseam::store::book::{
    BookFault, BookStore, Content, EntryId, EntryKind, NewEntry, Refusal, Remark, SqliteBook,
    current_trials, entries, record, threads,
};
use fairseam::units::Temperature;
use sqlx::{Executor, query_scalar};

use super::book_store_sample::{
    assert_holds, entry, filled, instead_of, note, open, raw, run, run_entry, site, start, trial,
    trial_entry,
};

#[test]
fn the_book_is_made_at_first_use_and_only_by_a_writer() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("not").join("yet");
    run(async {
        assert!(SqliteBook::open_to_read(&folder).await.unwrap().is_none());
        assert!(!folder.exists());
        let book = open(&folder).await;
        assert_eq!(book.head().await.unwrap(), None);
        assert_holds(&book, 0).await;
        let mut raw = raw(&folder).await;
        let journal: String =
            query_scalar("PRAGMA journal_mode").fetch_one(&mut raw).await.unwrap();
        assert_eq!(journal, "wal");
        let strict: i64 = query_scalar("SELECT strict FROM pragma_table_list WHERE name = 'entry'")
            .fetch_one(&mut raw)
            .await
            .unwrap();
        assert_eq!(strict, 1);
        assert!(SqliteBook::open_to_read(&folder).await.unwrap().is_some());
    });
}

#[test]
fn what_was_written_down_comes_back() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        let written = [trial_entry(0), run_entry(20), note(30), instead_of(1, trial_entry(40))];
        for (index, new) in written.iter().enumerate() {
            let appended = record(&book, new).await.unwrap();
            assert_eq!((appended.id, appended.lag), (EntryId(index as u64 + 1), None));
        }
        book.close().await;

        let book = SqliteBook::open_to_read(home.path()).await.unwrap().unwrap();
        let read = entries(&book, None).await.unwrap();
        let kinds: Vec<EntryKind> = read.iter().map(|entry| entry.kind()).collect();
        assert_eq!(
            kinds,
            [EntryKind::Trial, EntryKind::Run, EntryKind::Note, EntryKind::Correction]
        );
        for (entry, new) in read.into_iter().zip(written) {
            let NewEntry { site, recorded_at, recorded_by, supersedes, content } = new;
            assert_eq!(entry.site, site);
            assert_eq!(entry.recorded_at, recorded_at);
            assert_eq!(entry.recorded_by, recorded_by);
            assert_eq!(entry.supersedes, supersedes);
            assert_eq!(entry.content, content);
        }
        assert_holds(&book, 4).await;
    });
}

#[test]
fn a_correction_stands_in_front_and_the_old_entry_stays_readable() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 2).await;
        let with_sheet = |degrees| {
            let mut recorded = trial(0);
            recorded.trial.sheet = Some(Temperature::from_fahrenheit(degrees));
            entry(60, Content::Trial(Box::new(recorded)))
        };
        record(&book, &instead_of(1, with_sheet(90.0))).await.unwrap();
        record(&book, &instead_of(3, with_sheet(91.0))).await.unwrap();

        let trials = current_trials(&book, None, None, None).await.unwrap();
        let ids: Vec<u64> = trials.iter().map(|thread| thread.current.id.0).collect();
        assert_eq!(ids, [4, 2], "in order of the trials' own time");
        let sheets = |thread: &fairseam::store::book::Thread| {
            let mut all: Vec<_> = thread.history.clone();
            all.push(thread.current.clone());
            all.into_iter()
                .map(|entry| match entry.content {
                    Content::Trial(recorded) => recorded.trial.sheet.unwrap().fahrenheit().round(),
                    other => panic!("{other:?}"),
                })
                .collect::<Vec<f64>>()
        };
        assert_eq!(sheets(&trials[0]), [88.0, 90.0, 91.0]);
        assert!(trials[1].history.is_empty());
        let why = trials[0].current.supersedes.clone().unwrap();
        assert_eq!((why.entry, why.because.as_str()), (EntryId(3), "misread"));
        assert_holds(&book, 4).await;
    });
}

#[test]
fn a_withdrawn_trial_is_gone_from_the_trials_and_can_be_put_back() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 2).await;
        record(&book, &instead_of(1, entry(60, Content::Withdrawn))).await.unwrap();
        let ids = async || {
            let trials = current_trials(&book, None, None, None).await.unwrap();
            trials.iter().map(|thread| thread.current.id.0).collect::<Vec<_>>()
        };
        assert_eq!(ids().await, [2]);
        assert_eq!(threads(&book, None).await.unwrap().len(), 2);
        record(&book, &instead_of(3, trial_entry(0))).await.unwrap();
        assert_eq!(ids().await, [4, 2]);
    });
}

#[test]
fn what_cannot_be_written_down_is_refused_and_leaves_nothing() {
    let home = tempfile::tempdir().unwrap();
    let hand_speed = |speed: f64| {
        let mut recorded = trial(9);
        recorded.trial.speed = Some(fairseam::units::TravelSpeed::from_feet_per_minute(speed));
        entry(9, Content::Trial(Box::new(recorded)))
    };
    let width = |millimeters| {
        let mut recorded = trial(9);
        recorded.trial.heats[1].strips[2].bond_width =
            fairseam::units::BondWidth::from_millimeters(millimeters);
        entry(9, Content::Trial(Box::new(recorded)))
    };
    let far = note(0).recorded_at + TimeDelta::days(366 * 9000);
    let nameless = NewEntry { recorded_by: " \n".to_owned(), ..note(9) };
    let mut no_reason = instead_of(2, trial_entry(9));
    no_reason.supersedes.as_mut().unwrap().because.clear();
    let elsewhere = NewEntry { site: site("west bay"), ..instead_of(2, trial_entry(9)) };
    let long = entry(9, Content::Note("x".repeat(5 << 20)));
    let cases: Vec<(NewEntry, &str)> = vec![
        (hand_speed(f64::NAN), "the speed is not a number: write it in figures"),
        (
            width(f64::INFINITY),
            "the bond width of heat 2, strip 3 is not a number: write it in figures",
        ),
        (nameless, "who records it is empty: write it down"),
        (no_reason, "the reason for the correction is empty: write it down"),
        (entry(9, Content::Withdrawn), "nothing is named that is to be withdrawn: say which entry"),
        (instead_of(99, trial_entry(9)), "entry 99 is not in the book: check the number"),
        (instead_of(0, trial_entry(9)), "entry 0 is not in the book: check the number"),
        (instead_of(u64::MAX, note(9)), "is not in the book: check the number"),
        (
            instead_of(1, trial_entry(9)),
            "entry 1 was corrected by entry 5 already: correct entry 5 instead",
        ),
        (instead_of(3, trial_entry(9)), "entry 3 is a run and cannot be corrected by a trial"),
        (elsewhere, "entry 2 belongs to another site"),
        (NewEntry { recorded_at: far, ..note(9) }, "expected a year from 0 to 9999"),
        (long, "expected at most 4194304: split it"),
    ];
    run(async {
        let book = filled(home.path(), 4).await;
        record(&book, &instead_of(1, trial_entry(60))).await.unwrap();
        for (new, expected) in &cases {
            let fault = record(&book, new).await.unwrap_err();
            assert!(matches!(fault, BookFault::Refused(_)), "{fault:?}");
            assert!(fault.to_string().contains(expected), "{fault}");
        }
        // One that is refused keeps out those that were to be written with it.
        let fault = book.append_all(&[note(70), instead_of(99, note(80))], None).await.unwrap_err();
        assert!(matches!(fault, BookFault::Refused(Refusal::UnknownEntry { .. })), "{fault}");
        assert_holds(&book, 5).await;
    });
}

#[test]
fn the_database_itself_refuses_changes() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 5).await;
        let mut raw = raw(home.path()).await;
        let zeros = "'0000000000000000000000000000000000000000000000000000000000000000'";
        let row = |sequence: &str| {
            format!(
                "({sequence}, 'note', 'k', 's', '2026-04-20T22:00:00.000000Z', 'x', NULL, NULL, \
                 '{{}}', {zeros}, printf('%064d', 7))"
            )
        };
        for statement in [
            "UPDATE entry SET site = 'other' WHERE sequence = 2".to_owned(),
            "DELETE FROM entry WHERE sequence = 5".to_owned(),
            "DELETE FROM entry".to_owned(),
            format!("INSERT INTO entry VALUES {}", row("7")),
            format!("INSERT INTO entry VALUES {}", row("6")),
            format!("INSERT INTO entry VALUES {}", row("NULL")),
            format!("INSERT OR REPLACE INTO entry VALUES {}", row("5")),
            format!("REPLACE INTO entry VALUES {}", row("1")),
        ] {
            let refused = raw.execute(sqlx::AssertSqlSafe(statement.clone())).await.unwrap_err();
            assert!(
                refused.to_string().contains("of the test-weld book"),
                "{statement}: {refused}"
            );
        }
        assert_holds(&book, 5).await;
    });
}

#[test]
fn a_clock_that_was_set_back_is_told_and_does_not_matter() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = filled(home.path(), 3).await;
        let early = start() - TimeDelta::days(400);
        record(&book, &NewEntry { recorded_at: early, ..note(9) }).await.unwrap();
        record(&book, &note(10)).await.unwrap();
        let verified = assert_holds(&book, 5).await;
        assert_eq!(verified.remarks, [Remark::ClockSetBack { entry: EntryId(4) }]);
        let ids: Vec<u64> =
            entries(&book, None).await.unwrap().iter().map(|entry| entry.id.0).collect();
        assert_eq!(ids, [1, 2, 3, 4, 5]);
    });
}

#[test]
fn sites_and_periods_are_told_apart() {
    let home = tempfile::tempdir().unwrap();
    run(async {
        let book = open(home.path()).await;
        for minutes in 0..6 {
            let name = if minutes % 2 == 0 { "east bay" } else { "west bay" };
            let new = NewEntry { site: site(name), ..trial_entry(minutes) };
            record(&book, &new).await.unwrap();
        }
        let west = entries(&book, Some("key of west bay")).await.unwrap();
        assert_eq!(west.iter().map(|entry| entry.id.0).collect::<Vec<_>>(), [2, 4, 6]);
        let at = |minutes| Some(start() + TimeDelta::minutes(minutes));
        let some = current_trials(&book, Some("key of east bay"), at(2), at(4)).await.unwrap();
        assert_eq!(some.iter().map(|thread| thread.current.id.0).collect::<Vec<_>>(), [3]);
        assert!(entries(&book, Some("key of north bay")).await.unwrap().is_empty());
    });
}

#[test]
fn several_at_once_take_turns_from_the_first_use_on() {
    let (writers, each) = (6, 10);
    let home = tempfile::tempdir().unwrap();
    let write = |writer: i64| {
        run(async {
            let book = open(home.path()).await;
            let mut ids = Vec::new();
            for minutes in 0..each {
                ids.push(record(&book, &note(100 * writer + minutes)).await.unwrap().id.0);
            }
            ids
        })
    };
    let mut ids: Vec<u64> = std::thread::scope(|scope| {
        let threads: Vec<_> =
            (0..writers).map(|writer| scope.spawn(move || write(writer))).collect();
        threads.into_iter().flat_map(|thread| thread.join().unwrap()).collect()
    });
    ids.sort_unstable();
    let expected = (writers * each).cast_unsigned();
    assert_eq!(ids, (1..=expected).collect::<Vec<u64>>());
    run(async { assert_holds(&open(home.path()).await, expected).await });
}
