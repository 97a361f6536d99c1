//! The page and the JSON: their width, their links, their schema, and the command itself.

use std::path::PathBuf;

use fairseam::plan::{Explainer, Rule, plan_day};
use fairseam::render::explain::{See, json, schema, text};
use fairseam::render::text::Paint;
use serde_json::Value;

use super::{april_day, explain, forecast, input, site, utc, value};
use crate::proof::{Allowed, Proof};
use crate::support::{METRIC, Outcome, in_tests, run};

/// The repository.
fn root() -> PathBuf {
    in_tests("..")
}

fn assert_fits(page: &str) {
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
        assert!(!line.contains('\u{1b}'), "an escape code in {line:?}");
        assert_eq!(line, line.trim_end(), "white space at the end of {line:?}");
    }
}

#[test]
fn every_page_fits_80_columns_whatever_the_names_and_units() {
    let long = "\"a very long name of a break, a site or a welder, \\u001b[31m and 名前 in it\"";
    let hostile = [
        ("name", long),
        ("welders.name", long),
        ("shift.breaks", "[{ name = \"x\", start = \"09:30\", minutes = 15 }]"),
    ];
    let cord = [("power.cord_gauge_awg", ""), ("power.cord_mm2", "6")];
    let metric = [&METRIC[..], &cord].concat();
    let forecast = forecast(april_day());
    for overrides in [&[][..], &hostile, &metric[..]] {
        let site = site(overrides);
        let input = input(&site, &forecast, "2013-04-09");
        let plan = plan_day(&input).unwrap();
        let explainer = Explainer::new(&input, Some(&plan));
        for at in ["11:00", "12:30", "13:31", "16:10", "19:20", "20:40"] {
            let at = utc(&format!("2013-04-09T{at}:00Z"));
            let explanation = explainer.at(at).unwrap();
            assert_fits(&text(&explanation, Paint::Plain));
            let colored = text(&explanation, Paint::Color);
            assert!(colored.contains("\u{1b}[1mRULES\u{1b}[0m"), "{colored}");
        }
    }
}

#[test]
fn the_page_shows_each_number_with_its_unit_and_where_it_is_explained() {
    let page =
        text(&explain(&site(&[]), &forecast(april_day()), "2013-04-09T12:30:00Z"), Paint::Plain);
    for line in [
        "  Air                 52.7 °F       between 50.0 at 08:00 and 55.4 at 09:00 [1]",
        "  Convection          11.8 W/(m² K) low 7.1, high 17.7 [7]",
        "  cold                52.7 °F       care below 40.0 °F (cold_care): no [10]",
        "  Time since then     34 min        a test from 5 h (max_hours_between): no [11]",
        "  By the rule         7 ft/min      50 / 10 + 2 [13]",
        "  [1]  docs/method.md#where-the-forecast-is-thin",
        "  [13] docs/method.md#what-to-set",
    ] {
        assert!(page.lines().any(|shown| shown == line), "no line {line:?} in\n{page}");
    }
    // Each line of a number ends with its reference, on itself or on its continuation.
    let numbers = page.lines().filter(|line| {
        line.starts_with("  ") && line.chars().nth(2).is_some_and(char::is_alphabetic)
    });
    assert!(numbers.count() > 40);
}

#[test]
fn every_section_that_a_number_points_to_is_there() {
    for see in See::ALL {
        let (file, anchor) = see.place().split_once('#').unwrap();
        let document = std::fs::read_to_string(root().join(file)).unwrap();
        let headings = document.lines().filter_map(|line| {
            let title = line.trim_start_matches('#');
            (line.len() != title.len()).then(|| anchor_of(title.trim()))
        });
        assert!(headings.into_iter().any(|heading| heading == anchor), "{}", see.place());
    }
}

/// How the pages of a repository make an anchor of a heading: lower case, words and hyphens only.
fn anchor_of(title: &str) -> String {
    let kept = title.to_lowercase();
    let kept = kept.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect()
}

#[test]
fn every_limit_is_a_key_of_the_site_file() {
    let example = std::fs::read_to_string(root().join("config/example.toml")).unwrap();
    for key in Rule::ALL.into_iter().filter_map(Rule::key) {
        assert!(example.contains(&format!("{key} = ")), "config/example.toml has no `{key}`");
    }
}

#[test]
fn the_schema_in_docs_is_current_and_explanations_obey_it() {
    let path = root().join("docs/explain.schema.json");
    if std::env::var_os("FAIRSEAM_BLESS").is_some() {
        std::fs::write(&path, schema()).unwrap();
    }
    let found = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        found == schema(),
        "docs/explain.schema.json is stale: run `FAIRSEAM_BLESS=1 cargo test` and look at it"
    );
    let validator = jsonschema::validator_for(&serde_json::from_str(&schema()).unwrap()).unwrap();
    let (site, forecast) = (site(&[]), forecast(april_day()));
    let mut proof = Proof::of(
        "files/schema-explain",
        "Explanations as JSON, faults against their own schema",
        "judged by the crate jsonschema",
        "documents",
        Allowed::Nothing,
    );
    for at in ["11:00", "12:30", "13:31", "20:40"] {
        let shown = value(&explain(&site, &forecast, &format!("2013-04-09T{at}:00Z")));
        let faults: Vec<String> =
            validator.iter_errors(&shown).map(|fault| fault.to_string()).collect();
        proof.same(&faults, &Vec::<String>::new(), || at.to_owned());
    }
    proof.done();
    let mut broken = value(&explain(&site, &forecast, "2013-04-09T12:30:00Z"));
    broken["stage"] = "siesta".into();
    assert!(!validator.is_valid(&broken), "the schema lets an unknown stage pass");
}

#[test]
fn explaining_twice_gives_the_same_bytes() {
    let explain = || explain(&site(&[]), &forecast(april_day()), "2013-04-09T12:30:00Z");
    assert_eq!(json(&explain()), json(&explain()));
    assert_eq!(text(&explain(), Paint::Plain), text(&explain(), Paint::Plain));
}

/// Runs a command on the demo site on the evening before its day.
fn on_the_demo(command: &str, more: &[&str]) -> Outcome {
    let site = root().join("config/demo/site.toml");
    let arguments: Vec<&str> =
        [command, site.to_str().unwrap()].into_iter().chain(more.iter().copied()).collect();
    run(&arguments, &[], &[("FAIRSEAM_NOW", "2027-04-20T23:00:00Z")])
}

fn demo(more: &[&str]) -> Outcome {
    on_the_demo("explain", more)
}

#[test]
fn the_command_explains_a_minute_of_the_demo_as_text_and_json() {
    let run = demo(&["--at", "2027-04-21 08:40"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    assert_fits(&run.stdout);
    assert!(run.stdout.starts_with("Prairie grain store, roof B - Wednesday, April 21, 2027"));
    let run = demo(&["--at", "2027-04-21T08:40", "--format", "json"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let shown: Value = serde_json::from_str(&run.stdout).unwrap();
    assert_eq!(shown["time"], "2027-04-21T08:40:00-05:00");
    // The plan's own hour of 09:00 has the same numbers.
    let nine: Value =
        serde_json::from_str(&demo(&["--at", "2027-04-21 09:00", "--format", "json"]).stdout)
            .unwrap();
    let plan = on_the_demo("plan", &["--date", "2027-04-21", "--format", "json"]);
    let plan: Value = serde_json::from_str(&plan.stdout).unwrap();
    let hour = plan["hours"].as_array().unwrap().iter().find(|hour| hour["time"] == nine["time"]);
    let hour = hour.unwrap();
    assert_eq!(hour["verdict"], nine["verdict"]);
    for (in_plan, here) in [("air", "/weather/air/value"), ("sheet", "/sheet/temperature/nominal")]
    {
        let number = |value: &Value| value.as_f64().unwrap();
        let apart = number(&hour[in_plan]) - number(nine.pointer(here).unwrap());
        assert!(apart.abs() <= 0.055, "{in_plan}: {apart}");
    }
}

#[test]
fn what_cannot_be_explained_is_said_in_one_sentence() {
    let outside = demo(&["--at", "2027-05-21 08:40"]);
    assert_eq!(outside.code, 1);
    assert!(outside.stdout.is_empty());
    let first = outside.stderr.lines().next().unwrap();
    assert!(first.starts_with("error: the forecast says nothing of 2027-05-21 08:40"), "{first}");
    assert!(outside.stderr.contains("hint: choose a moment"), "{}", outside.stderr);
    for wrong in ["2027-04-21", "tomorrow", "2027-02-30 08:00", "2027-04-21 25:00"] {
        let run = demo(&["--at", wrong]);
        assert_eq!(run.code, 2, "{wrong}");
        assert!(run.stderr.contains("YYYY-MM-DD HH:MM"), "{wrong} said {}", run.stderr);
    }
    assert_eq!(demo(&[]).code, 2, "`--at` is needed");
    // 22 April is covered until 12:59 only: no plan, but the minute is explained.
    let run = demo(&["--at", "2027-04-22 10:15"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    assert!(run.stderr.contains("note: without the plan of that day"), "{}", run.stderr);
    assert!(run.stdout.contains("explained by itself"), "{}", run.stdout);
}
