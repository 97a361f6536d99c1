//! The records of what was published.

use std::fs;
use std::path::PathBuf;

use fairseam::render::ics;
use fairseam::store::{
    DayKey, Previous, PublishedDay, PublishedStore, StoreFault, revise, write_atomically,
};
use fairseam::words::Language;

use super::calendar_plan::{now, plan, reminders};

fn day() -> PublishedDay {
    let entries = ics::entries(&plan(), &reminders());
    revise(&Previous::Unpublished, &DayKey::of(&plan()), &entries, Language::En, now()).1
}

/// A data folder with one published day in it, and the file of that day.
fn home() -> (tempfile::TempDir, PublishedStore, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let store = PublishedStore::new(home.path());
    store.lock().unwrap().save(&day()).unwrap();
    let name = format!("{}-2013-04-09.json", day().key.site);
    let file = home.path().join("published").join(name);
    (home, store, file)
}

#[test]
fn a_published_day_comes_back() {
    let (_home, store, file) = home();
    assert!(file.is_file(), "{}", file.display());
    let locked = store.lock().unwrap();
    assert_eq!(locked.load(&day().key).unwrap(), Previous::Known(day()));
    let other = DayKey { date: day().key.date.succ_opt().unwrap(), ..day().key };
    assert_eq!(locked.load(&other).unwrap(), Previous::Unpublished);
}

#[test]
fn a_damaged_record_is_named_and_never_believed() {
    let (_home, store, file) = home();
    let good = fs::read_to_string(&file).unwrap();
    let damages: &[(&str, String)] = &[
        ("empty", String::new()),
        ("cut short", good[..good.len() / 2].to_owned()),
        ("not JSON", "<html>".to_owned()),
        ("no version", "{}".to_owned()),
        ("another day", good.replacen("2013-04-09\"", "2013-04-10\"", 1)),
        ("unknown field", good.replacen("\"sequence\"", "\"x\": 1, \"sequence\"", 1)),
        ("negative SEQUENCE", good.replacen("\"sequence\": 0", "\"sequence\": -1", 1)),
        ("SEQUENCE too large", good.replacen("\"sequence\": 0", "\"sequence\": 2147483648", 1)),
        ("first SEQUENCE", good.replacen("first_sequence\": 0", "first_sequence\": 4294967295", 1)),
        ("no such year", good.replacen("\"start\": \"2013", "\"start\": \"+92013", 1)),
        ("ends early", good.replacen("\"end\": \"2013", "\"end\": \"2012", 1)),
        ("nested deeply", "[".repeat(100_000)),
        ("too large", format!("{good}{}", " ".repeat(5 << 20))),
    ];
    let locked = store.lock().unwrap();
    for (what, content) in damages {
        assert_ne!(*content, good, "{what}");
        fs::write(&file, content).unwrap();
        let fault = locked.load(&day().key).unwrap_err();
        assert!(matches!(fault, StoreFault::Damaged { .. }), "{what}: {fault}");
        let sentence = fault.to_string();
        assert!(sentence.contains(&file.display().to_string()), "{what}: {sentence}");
        assert!(sentence.ends_with("will count as changed"), "{what}: {sentence}");
    }
    locked.save(&day()).unwrap();
    assert_eq!(locked.load(&day().key).unwrap(), Previous::Known(day()), "saved over the damage");
}

#[test]
fn a_record_of_a_later_version_is_told_from_a_damaged_one() {
    let (_home, store, file) = home();
    fs::write(&file, r#"{"fairseam_published": 2, "days": []}"#).unwrap();
    let fault = store.lock().unwrap().load(&day().key).unwrap_err();
    assert!(matches!(fault, StoreFault::Later { version: 2, .. }), "{fault}");
}

#[test]
fn a_folder_that_cannot_be_made_is_named() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("published"), "a file in the way").unwrap();
    let fault = PublishedStore::new(home.path()).lock().unwrap_err();
    assert!(matches!(fault, StoreFault::Folder { .. }), "{fault}");
    assert!(fault.to_string().contains("published"), "{fault}");
}

#[test]
fn a_record_that_is_a_folder_is_kept_and_named() {
    let (_home, store, file) = home();
    fs::remove_file(&file).unwrap();
    fs::create_dir(&file).unwrap();
    let locked = store.lock().unwrap();
    let fault = locked.load(&day().key).unwrap_err();
    assert!(matches!(fault, StoreFault::Unreadable { .. }), "{fault}");
    let fault = locked.save(&day()).unwrap_err();
    assert_eq!(fault.to_string(), format!("could not write `{}`: it is a folder", file.display()));
}

#[test]
fn one_at_a_time() {
    let (_home, store, _) = home();
    let rounds = 20;
    // Two threads raise the same number; without the lock one would overwrite the other's.
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                for _ in 0..rounds {
                    let locked = store.lock().unwrap();
                    let Previous::Known(mut day) = locked.load(&day().key).unwrap() else {
                        panic!("the day is gone")
                    };
                    day.first_sequence += 1;
                    locked.save(&day).unwrap();
                }
            });
        }
    });
    let Previous::Known(day) = store.lock().unwrap().load(&day().key).unwrap() else {
        panic!("the day is gone")
    };
    assert_eq!(day.first_sequence, 2 * rounds);
}

#[test]
fn an_old_calendar_outlives_a_failed_write() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("day.ics");
    write_atomically(&file, b"old").unwrap();
    // A folder where the temporary file cannot be made: its own name is taken by a file.
    let fault = write_atomically(&file.join("inside.ics"), b"new").unwrap_err();
    assert!(fault.to_string().contains("inside.ics"), "{fault}");
    assert_eq!(fs::read(&file).unwrap(), b"old");
}
