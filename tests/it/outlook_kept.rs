//! Records in folders, finished site-years that are kept between runs, and a stop in the middle.

use std::collections::BTreeMap;
use std::path::Path;

use crate::outlook::invented_hours;
use crate::support::{Outcome, example_site, run};

/// A folder with a site and a record of a few weeks in each of these years.
fn record_of(years: std::ops::RangeInclusive<i32>, weeks: i64) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("site.toml"), example_site(&[])).unwrap();
    std::fs::create_dir(folder.path().join("records")).unwrap();
    for year in years {
        let hours = invented_hours(&format!("{year}-04-01T00:00:00Z"), weeks * 7 * 24, |_| false);
        std::fs::write(folder.path().join(format!("records/{year}.csv")), hours).unwrap();
    }
    folder
}

fn look(folder: &Path) -> Outcome {
    let at = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    run(
        &["outlook", &at("site.toml"), "--years", &at("records"), "--format", "csv"],
        &[],
        &[("FAIRSEAM_HOME", &at("home"))],
    )
}

#[test]
fn a_site_with_a_folder_of_its_own_has_a_record_of_its_own() {
    let folder = record_of(2012..=2013, 1);
    std::fs::create_dir(folder.path().join("records/other")).unwrap();
    let hours = invented_hours("2007-04-01T00:00:00Z", 7 * 24, |_| false);
    std::fs::write(folder.path().join("records/other/any.csv"), hours).unwrap();
    let other = example_site(&[("name", "\"Other\"")]);
    std::fs::write(folder.path().join("other.toml"), other).unwrap();
    let path = folder.path().to_str().unwrap();
    let records = folder.path().join("records");
    let arguments = ["outlook", path, "--years", records.to_str().unwrap(), "--format", "json"];
    let outcome = run(&arguments, &[], &[]);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let outlook: serde_json::Value = serde_json::from_str(&outcome.stdout).unwrap();
    let years: BTreeMap<&str, Vec<&str>> = outlook["sites"]
        .as_array()
        .unwrap()
        .iter()
        .map(|site| {
            let years = site["record"]["years"].as_array().unwrap();
            let years = years.iter().map(|year| year["of"].as_str().unwrap()).collect();
            (site["site"].as_str().unwrap(), years)
        })
        .collect();
    assert_eq!(years["Other"], ["2007"]);
    assert_eq!(years["Cold-store re-roof, east bay"], ["2012", "2013"]);
}

#[test]
fn finished_site_years_are_kept_and_not_repeated() {
    let folder = record_of(2011..=2013, 1);
    let first = look(folder.path());
    assert_eq!(first.code, 0, "{}", first.shown());
    assert!(!first.stderr.contains("kept"), "{}", first.shown());
    let again = look(folder.path());
    assert!(again.stderr.contains("3 of 3 site-years were kept"), "{}", again.shown());
    assert_eq!(first.stdout, again.stdout);

    // A file that was cut short is worked out again.
    let kept = std::fs::read_dir(folder.path().join("home/cache/outlook")).unwrap();
    let kept: Vec<_> = kept.map(|entry| entry.unwrap().path()).collect();
    assert_eq!(kept.len(), 3);
    let whole = std::fs::read_to_string(&kept[0]).unwrap();
    std::fs::write(&kept[0], &whole[..whole.len() / 2]).unwrap();
    let mended = look(folder.path());
    assert!(mended.stderr.contains("2 of 3 site-years were kept"), "{}", mended.shown());
    assert_eq!(first.stdout, mended.stdout);

    // Other weather, and other rules, are other site-years; another budget is not.
    let hours = invented_hours("2012-04-01T00:00:00Z", 8 * 24, |_| false);
    std::fs::write(folder.path().join("records/2012.csv"), hours).unwrap();
    assert!(look(folder.path()).stderr.contains("2 of 3 site-years were kept"));
    let site = folder.path().join("site.toml");
    std::fs::write(&site, example_site(&[("rules.crew_size", "5")])).unwrap();
    assert!(look(folder.path()).stderr.contains("3 of 3 site-years were kept"));
    std::fs::write(&site, example_site(&[("rules.ambient_change", "12")])).unwrap();
    assert!(!look(folder.path()).stderr.contains("kept"));
}

/// Whole years in a build without optimization take seconds each: time enough to stop in.
#[cfg(unix)]
#[test]
fn a_stop_leaves_what_is_finished_and_the_next_run_goes_on_from_there() {
    use std::process::{Command, Stdio};
    let folder = record_of(2001..=2012, 12);
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let child = Command::new(env!("CARGO_BIN_EXE_fairseam"))
        .args(["outlook", &at("site.toml"), "--years", &at("records"), "--format", "csv"])
        .env_clear()
        .env("FAIRSEAM_HOME", at("home"))
        .env("FAIRSEAM_NOW", crate::support::NOW)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let kept = folder.path().join("home/cache/outlook");
    let count = || std::fs::read_dir(&kept).map_or(0, |folder| folder.count());
    for _ in 0..2400 {
        if count() > 0 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    assert!(count() > 0, "no site-year was finished within a minute");
    let told = Command::new("sh").arg("-c").arg(format!("kill -INT {}", child.id())).status();
    assert!(told.unwrap().success());
    let output = child.wait_with_output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{stderr}");
    assert!(stderr.contains("years finished; they are kept"), "{stderr}");
    assert!(output.stdout.is_empty());
    let finished = count();
    assert!(finished < 12);
    let next = look(folder.path());
    assert_eq!(next.code, 0, "{}", next.shown());
    assert!(next.stderr.contains(" of 12 site-years were kept"), "{}", next.shown());
    // 12 years of 260 to 262 workdays, and the head.
    let rows = next.stdout.lines().count();
    assert!((12 * 260 + 1..=12 * 262 + 1).contains(&rows), "{rows}");
}
