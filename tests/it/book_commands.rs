//! `record`, `book` and `plan` on one data folder, as a crew and its office use them.

use std::path::Path;

use serde_json::Value;

use crate::binary::{Run, fairseam_at, root};

pub(crate) const MORNING: &str = "2027-04-20T13:00:00Z";
pub(crate) const EVENING: &str = "2027-04-20T23:00:00Z";
pub(crate) const SITE: &str = "config/demo/site.toml";

/// Five heats at 6 ft/min: cold, good, good, good, burnt. The window is 800 to 1000 °F and the
/// middle 900 °F: *common practice*.
pub(crate) const TRIAL: &[&str] = &[
    "record",
    SITE,
    "--welder",
    "automatic 1",
    "--who",
    "M.",
    "--air",
    "44",
    "--speed",
    "6",
    "--at",
    "07:10",
    "--heat",
    "700",
    "--strips",
    "0.2 cold x3",
    "--heat",
    "800",
    "--strips",
    "1.5 film-tear x3",
    "--heat",
    "900",
    "--strips",
    "1.6 film-tear x3",
    "--heat",
    "1000",
    "--strips",
    "1.6 film-tear x3",
    "--heat",
    "1100",
    "--strips",
    "2 film-tear+browning x3",
];

pub(crate) fn run(home: &Path, arguments: &[&str], now: &str) -> Run {
    let run = fairseam_at(home, arguments, now);
    assert_eq!(run.code, 0, "{arguments:?}: {}", run.stderr);
    run
}

pub(crate) fn first_trial(home: &Path) -> (Value, String) {
    let plan = ["plan", SITE, "--date", "2027-04-21", "--format", "json"];
    let run = run(home, &plan, EVENING);
    let plan: Value = serde_json::from_str(&run.stdout).unwrap();
    (plan["checkpoints"][0]["settings"][0]["trial"].clone(), run.stderr)
}

#[test]
fn what_was_recorded_today_is_where_tomorrow_starts() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(first_trial(home.path()).0["kind"], "full-range");
    let recorded = run(home.path(), TRIAL, MORNING);
    assert!(
        recorded.stdout.starts_with("SET automatic 1: 900 °F at 6 ft/min\n"),
        "{}",
        recorded.stdout
    );
    let (trial, _) = first_trial(home.path());
    assert_eq!(trial["kind"], "bracket");
    assert_eq!(trial["heats"], serde_json::json!([800, 900, 1000]));
    // 48 °F asks for 7 ft/min; the record's 6 is within one of it.
    assert_eq!(trial["speed_held"], 6);
    assert_eq!(trial["from"]["day"], "2027-04-20");
}

#[test]
fn a_dry_run_and_a_refused_trial_leave_no_book() {
    let home = tempfile::tempdir().unwrap();
    let dry: Vec<&str> = TRIAL.iter().chain(&["--dry-run"]).copied().collect();
    run(home.path(), &dry, MORNING);
    // At six in the morning the trial of ten past seven has not been made.
    let early = fairseam_at(home.path(), TRIAL, "2027-04-20T11:00:00Z");
    assert_eq!(early.code, 1, "a trial in the future was taken in");
    assert!(early.stdout.is_empty());
    assert_eq!(first_trial(home.path()).0["kind"], "full-range");
}

#[test]
fn a_correction_counts_and_what_was_said_before_stays_readable() {
    let home = tempfile::tempdir().unwrap();
    run(home.path(), TRIAL, MORNING);
    let lot =
        ["record", SITE, "--correct", "1", "--by", "P.", "--why", "lot misread", "--lot", "B7"];
    run(home.path(), &lot, MORNING);
    let again =
        ["record", SITE, "--correct", "1", "--by", "P.", "--why", "and again", "--lot", "B8"];
    run(home.path(), &again, MORNING);
    let shown = run(home.path(), &["book", SITE, "--trial", "1"], MORNING).stdout;
    for expected in ["B8", "lot misread", "and again", "900 °F at 6 ft/min"] {
        assert!(shown.contains(expected), "{expected} is not in {shown}");
    }
    let unknown = ["record", SITE, "--correct", "9", "--by", "P.", "--why", "x", "--lot", "B"];
    assert_eq!(fairseam_at(home.path(), &unknown, MORNING).code, 1);
}

#[test]
fn the_book_travels_whole_and_is_checked() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    run(here.path(), TRIAL, MORNING);
    for name in ["book.jsonl", "book.csv"] {
        let file = here.path().join(name);
        let file = file.to_str().unwrap();
        run(here.path(), &["book", SITE, "--export", file], MORNING);
        let home = there.path().join(name);
        run(&home, &["book", SITE, "--import", file], EVENING);
        assert_eq!(first_trial(&home).0["kind"], "bracket", "{name}");
        let verified = run(&home, &["book", SITE, "--verify"], EVENING).stdout;
        assert!(verified.contains("the book is whole: 1 entry"), "{verified}");
    }
    let copy = there.path().join("copy.sqlite3");
    run(here.path(), &["book", SITE, "--backup", copy.to_str().unwrap()], EVENING);
    assert!(copy.exists());
}

#[test]
fn a_plan_goes_on_without_a_book_that_cannot_be_read_and_says_so() {
    let home = tempfile::tempdir().unwrap();
    run(home.path(), TRIAL, MORNING);
    let book = home.path().join("book.sqlite3");
    std::fs::write(&book, "no database at all").unwrap();
    // What SQLite has not yet moved into its file would mend it.
    for end in ["-wal", "-shm"] {
        let _ = std::fs::remove_file(home.path().join(format!("book.sqlite3{end}")));
    }
    let (trial, said) = first_trial(home.path());
    assert_eq!(trial["kind"], "full-range");
    assert_eq!(trial["because"], "the test-weld book could not be read");
    assert!(said.contains("the test-weld book could not be read"), "{said}");
    assert_eq!(std::fs::read_to_string(&book).unwrap(), "no database at all");
    assert_eq!(fairseam_at(home.path(), TRIAL, MORNING).code, 1);
}

#[test]
fn the_daily_report_and_the_month_are_written() {
    let home = tempfile::tempdir().unwrap();
    run(home.path(), TRIAL, MORNING);
    let page = home.path().join("report.html");
    let report = ["book", SITE, "--report", "2027-04-20", "--html", page.to_str().unwrap()];
    let shown = run(home.path(), &report, EVENING).stdout;
    assert!(shown.contains("900 °F"), "{shown}");
    let page = std::fs::read_to_string(page).unwrap();
    assert!(page.starts_with("<!doctype html>") || page.starts_with("<!DOCTYPE html>"));
    run(home.path(), &["book", SITE, "--month", "2027-04"], EVENING);
    assert!(root().join(SITE).exists());
}

#[test]
fn a_setting_really_run_stays_with_its_trial_whatever_is_corrected() {
    let home = tempfile::tempdir().unwrap();
    let ran = |setting| TRIAL.iter().copied().chain(["--run-setting", setting]).collect::<Vec<_>>();
    // Two trials of one minute, each with its own setting.
    run(home.path(), &ran("890 at 6"), MORNING);
    run(home.path(), &ran("910 at 6"), MORNING);
    let correct = ["record", SITE, "--by", "P.", "--why", "clock misread", "--correct"];
    run(home.path(), &[&correct[..], &["1", "--at", "07:20"]].concat(), MORNING);
    let settings = |id: &str| {
        let book = ["book", SITE, "--format", "json", "--trial", id];
        let shown = run(home.path(), &book, MORNING).stdout;
        let shown: Value = serde_json::from_str(&shown).unwrap();
        let ran = shown["trials"][0]["ran"].as_array().unwrap();
        ran.iter().map(|ran| ran["heat"].as_f64().unwrap()).collect::<Vec<_>>()
    };
    // A trial and its setting are two entries, so that the second trial is number 3.
    assert_eq!((settings("1"), settings("3")), (vec![890.0], vec![910.0]));
    run(home.path(), &[&correct[..], &["1", "--run-setting", "900 at 6"]].concat(), MORNING);
    assert_eq!((settings("1"), settings("3")), (vec![890.0, 900.0], vec![910.0]));
}

#[test]
fn a_setting_that_no_machine_has_is_refused_and_one_beyond_this_machine_is_said() {
    let home = tempfile::tempdir().unwrap();
    let ran = |setting| TRIAL.iter().copied().chain(["--run-setting", setting]).collect::<Vec<_>>();
    let refused = fairseam_at(home.path(), &ran("9999 at 6"), MORNING);
    assert_eq!(refused.code, 1);
    assert!(refused.stderr.contains("the setting really run is refused; nothing was written"));
    let said = run(home.path(), &ran("1500 at 6"), MORNING).stderr;
    assert!(
        said.contains(
            "the setting really run is 1500 °F, but the site file gives automatic 1 700 \
                       to 1150 °F"
        ),
        "{said}"
    );
}

#[test]
fn a_dry_run_beside_a_book_that_cannot_be_read_says_so() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("book.sqlite3"), "no database at all").unwrap();
    let dry: Vec<&str> = TRIAL.iter().chain(&["--dry-run"]).copied().collect();
    let said = run(home.path(), &dry, MORNING).stderr;
    assert!(said.contains("note: the test-weld book could not be read: "), "{said}");
}
