//! A trial that was keyed in wrongly is withdrawn: by a new entry, told everywhere, counted nowhere.

use std::path::Path;

use fairseam::store::book::{Content, EntryKind, SqliteBook, entries};
use serde_json::Value;

use crate::binary::{Run, fairseam_at};
use crate::book_commands::{EVENING, MORNING, SITE, TRIAL, first_trial, run};
use crate::server_support::{ROOF, Served, on_runtime, trial, uuid};

const WITHDRAW: &[&str] =
    &["record", SITE, "--withdraw", "1", "--by", "M.", "--why", "keyed in twice"];

fn refused(home: &Path, arguments: &[&str], code: i32) -> Run {
    let run = fairseam_at(home, arguments, MORNING);
    assert_eq!(run.code, code, "{arguments:?}: {}", run.stderr);
    assert!(run.stdout.is_empty(), "{}", run.stdout);
    run
}

fn book(home: &Path, flags: &[&str]) -> String {
    run(home, &[&["book", SITE][..], flags].concat(), EVENING).stdout
}

fn json(home: &Path, flags: &[&str]) -> Value {
    let text = book(home, &[flags, &["--format", "json"]].concat());
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

#[test]
fn a_withdrawn_trial_starts_no_plan_and_is_told_everywhere() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    run(home, TRIAL, MORNING);
    assert_eq!(first_trial(home).0["kind"], "bracket");
    let withdrawn = run(home, WITHDRAW, MORNING);
    let notice = withdrawn.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(notice.contains("is withdrawn by M.: keyed in twice. It counts"), "{notice}");
    assert_eq!(
        withdrawn.stderr.trim(),
        "trial 1 withdrawn; it counts for nothing and stays readable"
    );
    // The plan, its carry-over and the windows know it no more.
    let plan = first_trial(home).0;
    assert_eq!(plan["kind"], "full-range");
    assert_eq!(plan["because"], "no test weld of the last 7 days in the book");
    assert!(!book(home, &["--windows"]).contains("900"), "{}", book(home, &["--windows"]));
    // The list, the trial itself, the report of its day, the month, the table.
    let flat = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let line = "trial 1, 2027-04-20 07:10, automatic 1: withdrawn by M. on 2027-04-20 08:00: keyed \
                in twice";
    for flags in [&[][..], &["--report", "2027-04-20"], &["--welder", "automatic 1"]] {
        let text = flat(book(home, flags));
        assert!(text.contains("WITHDRAWN, AND COUNTED FOR NOTHING"), "{flags:?}: {text}");
        assert!(text.contains(line), "{flags:?}: {text}");
    }
    let whole = flat(book(home, &["--trial", "1"]));
    assert!(whole.starts_with("WITHDRAWN, counts for nothing: withdrawn by M."), "{whole}");
    for said in ["900 °F at 6 ft/min", "2027-04-20 08:00 withdrawn by M.: keyed in twice"] {
        assert!(whole.contains(said), "{said}: {whole}");
    }
    let month = flat(book(home, &["--month", "2027-04"]));
    assert!(month.contains("1 trial withdrawn, and not counted."), "{month}");
    assert!(month.contains("About 0 min spent on 0 trials"), "{month}");
    let page = home.join("report.html");
    book(home, &["--report", "2027-04-20", "--html", page.to_str().unwrap()]);
    assert!(std::fs::read_to_string(page).unwrap().contains("keyed in twice"));
    // In the table of strips as well, with no verdict that somebody might count.
    let table = book(home, &["--csv", "2027-04-20..2027-04-20"]);
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name: &str| head.iter().position(|column| column == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 15);
    for row in &rows {
        assert_eq!(
            (&row[column("verdict")], &row[column("setting_degF")]),
            ("withdrawn", ""),
            "{row:?}"
        );
        assert_eq!(&row[column("withdrawn_why")], "keyed in twice");
    }
    for flags in [&[][..], &["--trial", "1"], &["--report", "2027-04-20"]] {
        let told = json(home, flags);
        assert_eq!(told["trials"], serde_json::json!([]), "{flags:?}");
        let one = &told["withdrawn"][0];
        assert_eq!((&one["trial"]["id"], &one["withdrawn"]["by"]), (&"1".into(), &"M.".into()));
    }
    assert_eq!(json(home, &["--month", "2027-04"])["withdrawn"], 1);
    // Nothing was changed or removed: a second entry, chained to the first.
    assert!(book(home, &["--verify"]).contains("the book is whole: 2 entries"));
}

#[test]
fn what_cannot_be_withdrawn_gets_one_sentence() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    run(home, TRIAL, MORNING);
    let asked = |id: &'static str| {
        ["record", SITE, "--withdraw", id, "--by", "M.", "--why", "keyed in twice"]
    };
    for id in ["9", "one", "", "-1", "1\u{1b}[2J"] {
        let arguments = asked(id).map(str::to_owned);
        let mut arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        // A number below zero looks like a flag unless it is tied to its own.
        let tied = format!("--withdraw={id}");
        arguments.splice(2..4, [tied.as_str()]);
        let said = refused(home, &arguments, 1).stderr;
        assert!(said.contains("there is no trial"), "{id}: {said}");
        assert!(said.contains("`fairseam book` lists them"), "{id}: {said}");
        assert_eq!(said.trim().lines().count(), 1, "{said}");
        assert!(!said.contains('\u{1b}'), "{said:?}");
    }
    let dry = run(home, &[&asked("1")[..], &["--dry-run"]].concat(), MORNING);
    assert!(dry.stderr.contains("dry run: nothing was written"), "{}", dry.stderr);
    for blank in [("--by", ""), ("--why", "  ")] {
        let mut arguments = asked("1");
        let at = arguments.iter().position(|one| *one == blank.0).unwrap();
        arguments[at + 1] = blank.1;
        let said = refused(home, &arguments, 1).stderr;
        assert!(said.contains(&format!("`{}` is empty: write it in words", blank.0)), "{said}");
    }
    assert!(book(home, &["--verify"]).contains("1 entry"), "something was written");
    run(home, &asked("1"), MORNING);
    let said = refused(home, &asked("1"), 1).stderr;
    assert_eq!(
        said.trim(),
        "error: trial 1 was withdrawn already, by M. on 2027-04-20 08:00: there is nothing to \
         withdraw"
    );
    // Who and why are asked for, and a withdrawal says nothing of the trial itself.
    for more in [&["--lot", "B7"][..], &["--correct", "1"], &["--json"], &["--heat", "900"]] {
        refused(home, &[&asked("1")[..], more].concat(), 2);
    }
    refused(home, &["record", SITE, "--withdraw", "1"], 2);
    refused(home, &["record", SITE, "--withdraw", "1", "--by", "M."], 2);
}

#[test]
fn a_withdrawn_trial_can_be_put_back_and_both_stay_readable() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    run(home, TRIAL, MORNING);
    run(home, WITHDRAW, MORNING);
    let back = ["record", SITE, "--correct", "1", "--by", "P.", "--why", "it was made after all"];
    let said = run(home, &back, MORNING).stderr;
    assert!(said.contains("trial 1 put back; that it was withdrawn stays readable"), "{said}");
    assert_eq!(first_trial(home).0["kind"], "bracket");
    let shown = book(home, &["--trial", "1"]);
    let places: Vec<usize> =
        ["it was made after all", "withdrawn by M.: keyed in twice", "written down"]
            .iter()
            .map(|said| shown.find(said).unwrap_or_else(|| panic!("{said}: {shown}")))
            .collect();
    assert!(places.is_sorted(), "newest first: {shown}");
    let told = json(home, &[]);
    assert_eq!(told["withdrawn"], serde_json::json!([]));
    assert_eq!(told["trials"][0]["withdrawals"][0]["why"], "keyed in twice");
    // And withdrawn once more.
    run(home, WITHDRAW, MORNING);
    assert_eq!(first_trial(home).0["kind"], "full-range");
    assert_eq!(
        json(home, &[])["withdrawn"][0]["trial"]["withdrawals"].as_array().unwrap().len(),
        2
    );
    assert!(book(home, &["--verify"]).contains("4 entries"));
}

#[test]
fn a_withdrawal_travels_and_no_import_undoes_it() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let here = here.path();
    run(here, TRIAL, MORNING);
    let (table, lines) = (here.join("book.csv"), here.join("book.jsonl"));
    let (table, lines) = (table.to_str().unwrap(), lines.to_str().unwrap());
    // A table of before the withdrawal is known already, and brings nothing back.
    book(here, &["--export", table]);
    run(here, WITHDRAW, MORNING);
    assert!(book(here, &["--import", table]).starts_with("0 entries imported"));
    assert_eq!(first_trial(here).0["kind"], "full-range");
    // The whole book carries it; another copy takes it in behind what it has.
    book(here, &["--export", lines]);
    let copy = there.path().join("copy");
    run(&copy, &["book", SITE, "--import", table], EVENING);
    assert_eq!(first_trial(&copy).0["kind"], "bracket");
    let whole = there.path().join("whole");
    run(&whole, &["book", SITE, "--import", lines], EVENING);
    assert_eq!(first_trial(&whole).0["kind"], "full-range");
    assert_eq!(json(&whole, &[])["withdrawn"][0]["withdrawn"]["why"], "keyed in twice");
    // A table carries trials as they stand, and this one stands no more.
    book(here, &["--export", table]);
    assert_eq!(std::fs::read_to_string(table).unwrap().lines().count(), 1, "heads alone");
}

#[test]
fn the_crew_reads_it_in_its_language_and_programs_read_json() {
    let home = tempfile::tempdir().unwrap();
    run(home.path(), TRIAL, MORNING);
    let dry = [WITHDRAW, &["--dry-run", "--format", "json"]].concat();
    let told: Value = serde_json::from_str(&run(home.path(), &dry, MORNING).stdout).unwrap();
    assert_eq!((&told["fairseam"], &told["written"]), (&1.into(), &false.into()));
    assert_eq!(told["withdrawn"]["withdrawn"]["why"], "keyed in twice");
    let spanish = run(home.path(), &[WITHDRAW, &["--language", "es"]].concat(), MORNING).stdout;
    let spanish = spanish.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(spanish.contains("queda retirada por M.: keyed in twice. No cuenta"), "{spanish}");
}

#[test]
fn a_phone_that_sends_again_what_was_withdrawn_hears_its_first_answer() {
    on_runtime(async {
        let served = Served::start().await;
        let (_, key) = served.key(fairseam::store::keys::Role::Crew, Some(ROOF)).await;
        let sent = trial(&uuid(3), "J.").to_string();
        let first = served.post_trial(&key, sent.clone()).await;
        let site = served.home.path().join(format!("{ROOF}.toml"));
        let site = site.to_str().unwrap();
        let withdraw = ["record", site, "--withdraw", "1", "--by", "M.", "--why", "keyed in twice"];
        let done = fairseam_at(served.home.path(), &withdraw, crate::server_support::MORNING);
        assert_eq!(done.code, 0, "{}", done.stderr);
        let again = served.post_trial(&key, sent).await;
        assert_eq!((again.status.as_u16(), &again.text), (200, &first.text));
        let book = SqliteBook::open(served.home.path()).await.unwrap();
        let entries = entries(&book, None).await.unwrap();
        assert_eq!(entries.len(), 2, "nothing was booked a second time");
        assert_eq!(
            (entries[1].kind(), &entries[1].content),
            (EntryKind::Correction, &Content::Withdrawn)
        );
        // The office reads it.
        let (_, office) = served.key(fairseam::store::keys::Role::Office, None).await;
        let page = served.get(&format!("/office/{ROOF}/book"), &office).await.text;
        assert!(page.contains("No trial has been written down yet."), "{page}");
        assert!(page.contains("withdrawn by M.") && page.contains("keyed in twice"), "{page}");
    });
}
