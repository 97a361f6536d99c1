//! Runs that go wrong: one clear sentence, exit 1, and nothing written or overwritten.

use std::fs;
use std::path::Path;

use crate::binary::{Run, fairseam, fairseam_at, root};
use crate::support;

const NOW: &str = "2027-04-20T23:00:00Z";
const DAY: [&str; 2] = ["--date", "2027-04-21"];

/// A folder with the demo's two files.
fn demo_folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for name in ["site.toml", "forecast.json"] {
        fs::copy(root().join("config/demo").join(name), folder.path().join(name)).unwrap();
    }
    folder
}

fn plan(home: &Path, site: &Path, more: &[&str]) -> Run {
    let mut arguments = vec!["plan", site.to_str().unwrap()];
    arguments.extend(DAY);
    arguments.extend(more);
    fairseam_at(home, &arguments, NOW)
}

fn assert_refused(run: &Run, sentence: &str) {
    assert_eq!(run.code, 1, "{}", run.stderr);
    assert!(run.stderr.contains(sentence), "{}", run.stderr);
    assert!(run.stdout.is_empty(), "{}", run.stdout);
}

#[test]
fn a_calendar_is_never_written_over_what_the_plan_is_made_from() {
    let folder = demo_folder();
    let site = folder.path().join("site.toml");
    for (name, sentence) in
        [("site.toml", "names the site file"), ("forecast.json", "names the forecast file")]
    {
        let path = folder.path().join(name);
        let before = fs::read(&path).unwrap();
        let run = plan(folder.path(), &site, &["--ics", path.to_str().unwrap()]);
        assert_refused(&run, sentence);
        assert_eq!(fs::read(&path).unwrap(), before);
    }
}

#[test]
fn a_calendar_that_cannot_be_written_leaves_no_record_of_itself() {
    let folder = demo_folder();
    let site = folder.path().join("site.toml");
    let ics = folder.path().join("none").join("day.ics");
    let run = plan(folder.path(), &site, &["--ics", ics.to_str().unwrap()]);
    assert_refused(&run, "there is no folder");
    assert!(!run.stderr.contains(".fairseam-"), "{}", run.stderr);
    let records = fs::read_dir(folder.path().join("published")).unwrap();
    let records: Vec<_> = records.map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(records, [".lock"], "a revision that nobody has");
}

#[test]
fn a_sheet_that_nobody_measured_is_refused() {
    let folder = demo_folder();
    let site = folder.path().join("site.toml");
    for typed in ["nan", "inf", "1e308", "-500"] {
        let more = ["--center", "925", "--center-speed", "8", "--center-sheet", typed];
        assert_refused(&plan(folder.path(), &site, &more), "`--center-sheet` is ");
    }
    let far = plan(folder.path(), &site, &["--center", "1e308", "--center-speed", "8"]);
    assert_refused(&far, "`--center` is 1e308 °F");
}

#[test]
fn what_steers_a_terminal_does_not_come_back_from_an_argument() {
    let run = fairseam(&["plan", "config/demo/site.toml"], "\u{1b}[31m");
    assert_refused(&run, "`FAIRSEAM_NOW` is `\u{fffd}[31m`");
}

#[cfg(unix)]
#[test]
fn a_site_file_without_an_end_and_a_clock_that_is_no_text_are_refused() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let run = fairseam(&["plan", "/dev/zero"], NOW);
    assert_refused(&run, "the site file `/dev/zero` is too long");
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_fairseam"))
        .args(["plan", "config/demo/site.toml"])
        .current_dir(root())
        .env("FAIRSEAM_NOW", OsStr::from_bytes(b"\xff"))
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("`FAIRSEAM_NOW` is "));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_stdout_is_named() {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_fairseam"))
        .args(["plan", "config/demo/site.toml", DAY[0], DAY[1]])
        .current_dir(root())
        .env("FAIRSEAM_NOW", NOW)
        .stdout(fs::File::options().write(true).open("/dev/full").unwrap())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("the result cannot be written to stdout"), "{said}");
}

#[test]
fn a_metric_site_reads_no_foreign_unit() {
    let forecast = root().join("config/demo/forecast.json");
    let site = "name = \"\u{202e}Lager\"\nlatitude_deg = 38.84\nlongitude_deg = -97.61\n\
                time_zone = \"America/Chicago\"\nunits = \"metric\"\n\
                [shift]\nstart = \"07:00\"\nend = \"15:30\"\n\
                [sheet]\npolymer = \"tpo\"\nthickness = 1.5\n\
                [[welders]]\nname = \"automatic\"\nkind = \"automatic\"\n";
    let arguments = ["plan", "site.toml", DAY[0], DAY[1], "--forecast", forecast.to_str().unwrap()];
    let run = support::run(&arguments, &[("site.toml", site)], &[("FAIRSEAM_NOW", NOW)]);
    assert_eq!(run.code, 0, "{}", run.shown());
    for foreign in ["°F", " in wide", "ft/min", " mph", " ft ", "\u{202e}"] {
        assert!(!run.stdout.contains(foreign), "{foreign:?} in\n{}", run.stdout);
    }
    assert!(run.stdout.contains("25 mm wide") && run.stdout.contains("at least 3 °C above"));
}
