//! The demo as the user sees it, the JSON against its schema, and files that describe the project.

use std::path::PathBuf;

use crate::proof::{Allowed, Proof};
use crate::support::{Outcome, run};

const THE_DAY: &[&str] = &["--date", "2027-04-21"];

/// The repository.
fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Runs a command on the demo site on the evening before its day.
fn on_the_demo(command: &str, more: &[&str]) -> Outcome {
    let site = root().join("config/demo/site.toml");
    let arguments: Vec<&str> =
        [command, site.to_str().unwrap()].into_iter().chain(more.iter().copied()).collect();
    run(&arguments, &[], &[("FAIRSEAM_NOW", "2027-04-20T23:00:00Z")])
}

fn demo(more: &[&str]) -> Outcome {
    let arguments: Vec<&str> = THE_DAY.iter().chain(more).copied().collect();
    let outcome = on_the_demo("plan", &arguments);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    outcome
}

/// Compares a file of the repository with what it should hold; `FAIRSEAM_BLESS=1` rewrites it.
pub(crate) fn assert_current(file: &str, expected: &str) {
    let path = root().join(file);
    if std::env::var_os("FAIRSEAM_BLESS").is_some() {
        std::fs::write(&path, expected).unwrap();
    }
    let found = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(found == expected, "{file} is stale: run `FAIRSEAM_BLESS=1 cargo test` and look at it");
}

#[test]
fn the_demo_fits_a_page_of_80_columns_and_needs_no_color() {
    let text = demo(&[]).stdout;
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
        assert!(!line.contains('\u{1b}'), "an escape code in {line:?}");
        assert_eq!(line, line.trim_end(), "white space at the end of {line:?}");
    }
}

#[test]
fn the_readme_shows_what_the_demo_prints() {
    let text = demo(&[]).stdout;
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let (before, rest) = readme.split_once("<!-- demo -->\n```text\n").unwrap();
    let (_, after) = rest.split_once("```\n<!-- /demo -->").unwrap();
    let current = format!("{before}<!-- demo -->\n```text\n{text}```\n<!-- /demo -->{after}");
    assert_current("README.md", &current);
}

#[test]
fn the_schema_in_docs_is_current_and_the_plan_obeys_it() {
    assert_current("docs/plan.schema.json", &fairseam::render::json::plan_schema());
    let schema: serde_json::Value =
        serde_json::from_str(&fairseam::render::json::plan_schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let plan: serde_json::Value =
        serde_json::from_str(&demo(&["--format", "json"]).stdout).unwrap();
    let faults: Vec<String> = validator.iter_errors(&plan).map(|fault| fault.to_string()).collect();
    let mut proof = Proof::of(
        "files/schema-plan",
        "A plan as JSON, faults against its own schema",
        "judged by the crate jsonschema",
        "document",
        Allowed::Nothing,
    );
    proof.same(&faults, &Vec::<String>::new(), || "the demo".to_owned());
    proof.done();
    let mut broken = plan;
    broken["checkpoints"][0]["cause"] = "whim".into();
    assert!(!validator.is_valid(&broken), "the schema lets an unknown cause pass");
}

#[test]
fn planning_twice_gives_the_same_bytes() {
    for format in ["text", "json"] {
        assert_eq!(demo(&["--format", format]).stdout, demo(&["--format", format]).stdout);
    }
}

#[test]
fn a_center_given_by_hand_makes_a_bracket_for_the_automatic_welder() {
    let center = ["--center", "925", "--center-speed", "6", "--format", "json"];
    let plan: serde_json::Value = serde_json::from_str(&demo(&center).stdout).unwrap();
    let settings = &plan["checkpoints"][0]["settings"];
    assert_eq!(settings[0]["trial"]["kind"], "bracket");
    assert_eq!(settings[0]["trial"]["heats"], serde_json::json!([825, 925, 1025]));
    // 48 °F at the first test asks for 7 ft/min; 6 is near enough for the record's own to hold.
    assert_eq!(settings[0]["start_speed"], 7);
    assert_eq!(settings[0]["trial"]["speed_held"], 6);
    assert_eq!(settings[1]["trial"]["kind"], "full-range");
    assert_eq!(settings[1]["trial"]["speed_held"], serde_json::Value::Null);
}

#[test]
fn a_center_that_fits_no_machine_is_refused_in_one_sentence() {
    let cases: &[(&[&str], &str)] = &[
        (&["--center", "1300", "--center-speed", "8"], "`--center` is 1300 °F"),
        (&["--center", "nan", "--center-speed", "8"], "`--center` is NaN °F"),
        (&["--center", "925", "--center-speed", "80"], "`--center-speed` is 80 ft/min"),
        (&["--center", "925"], "`--center` needs `--center-speed`"),
        (&["--center", "925", "--center-speed", "8", "--center-welder", "robot"], "`robot`"),
    ];
    for (more, expected) in cases {
        let arguments: Vec<&str> = THE_DAY.iter().chain(*more).copied().collect();
        let run = on_the_demo("plan", &arguments);
        assert_eq!(run.code, 1, "{more:?}");
        assert!(run.stderr.contains(expected), "{more:?} said {}", run.stderr);
        assert!(run.stdout.is_empty(), "{more:?} printed {}", run.stdout);
    }
}

#[test]
fn wrong_usage_exits_with_2_and_says_what_was_expected() {
    for (arguments, expected) in [
        (vec!["plan"], "<SITE>"),
        (vec!["plan", "site.toml", "--date", "2027-02-30"], "YYYY-MM-DD"),
        (vec!["plan", "site.toml", "--format", "xml"], "text, json"),
        (vec!["plam"], "plan"),
    ] {
        let run = run(&arguments, &[], &[]);
        assert_eq!(run.code, 2, "{arguments:?}");
        assert!(run.stderr.contains(expected), "{arguments:?} said {}", run.stderr);
    }
}

#[test]
fn a_day_that_the_forecast_does_not_cover_names_its_hours() {
    let run = on_the_demo("plan", &["--date", "2027-04-23"]);
    assert_eq!(run.code, 1);
    assert!(run.stderr.contains("no air temperature at 07:00 to 16:00"), "{}", run.stderr);
    assert!(run.stderr.contains("it has hours from 2027-04-20"), "{}", run.stderr);
}

#[test]
fn the_calendar_file_is_not_touched_when_the_plan_fails() {
    let folder = tempfile::tempdir().unwrap();
    let ics = folder.path().join("day.ics");
    std::fs::write(&ics, "old").unwrap();
    let name = ics.to_str().unwrap();
    let run = on_the_demo("plan", &["--date", "2027-05-23", "--ics", name]);
    assert_eq!(run.code, 1);
    assert_eq!(std::fs::read_to_string(&ics).unwrap(), "old");
}

#[test]
fn every_top_level_promise_of_the_project_is_there() {
    for file in
        ["LICENSE-MIT", "LICENSE-APACHE", "config/example.toml", "docs/method.md", ".ci/run"]
    {
        assert!(root().join(file).exists(), "{file}");
    }
}
