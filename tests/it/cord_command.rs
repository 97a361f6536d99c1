//! `fairseam cord`: sites that say too little, what-ifs, the page, the schema, the plan's advice.

mod by_hand;

use fairseam::plan::power::{PowerReport, Unchecked, power_check};
use fairseam::site;
use fairseam::units::Temperature;
use serde_json::Value;

use crate::plan_output::assert_current;
use crate::proof::{Allowed, Proof};
use crate::support::{Outcome, example_site, run};

const DEMO: &str = include_str!("../../config/demo/site.toml");
const DEMO_FORECAST: &str = include_str!("../../config/demo/forecast.json");

fn cord(text: &str, options: &[&str]) -> Outcome {
    let arguments: Vec<&str> = ["cord", "site.toml"].iter().chain(options).copied().collect();
    run(&arguments, &[("site.toml", text)], &[])
}

fn json(text: &str, options: &[&str]) -> Value {
    let options: Vec<&str> = options.iter().chain(&["--format", "json"]).copied().collect();
    let outcome = cord(text, &options);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    serde_json::from_str(&outcome.stdout).unwrap()
}

/// What was refused, in one line.
fn refusal(text: &str, options: &[&str]) -> String {
    let outcome = cord(text, options);
    assert_eq!(outcome.code, 1, "{}", outcome.shown());
    assert!(outcome.stdout.is_empty(), "{}", outcome.shown());
    assert_eq!(outcome.stderr.trim_end().lines().count(), 1, "{}", outcome.shown());
    outcome.stderr
}

fn report(text: &str, air_f: f64) -> PowerReport {
    let loaded = site::load(text, "site.toml").unwrap();
    power_check(&loaded.site, Some(Temperature::from_fahrenheit(air_f)))
}

fn near(got: &Value, expected: f64, allowed: f64, what: &str) {
    let got = got.as_f64().unwrap_or_else(|| panic!("{what}: no number in {got}"));
    assert!((got - expected).abs() <= allowed, "{what}: {got}, not {expected}");
}

fn welder(watts: &str, volts: &str, gauge: &str) -> String {
    example_site(&[
        ("welders.rated_watts", watts),
        ("welders.rated_volts", volts),
        ("power.cord_gauge_awg", gauge),
    ])
}

fn cord_page(text: &str, options: &[&str]) -> String {
    let outcome = cord(text, options);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    outcome.stdout
}

const HAND_WELDER: &str = "
[[welders]]
name = \"hand 1\"
kind = \"hand\"
rated_watts = 1600
rated_volts = 120
";

#[test]
fn what_the_site_file_lacks_is_named_and_never_made_up() {
    // No [power], no plate: everything is named, once.
    let bare = example_site(&[("welders.rated_watts", ""), ("welders.rated_volts", "")]);
    let bare = bare
        .lines()
        .filter(|line| {
            !["[power]", "generator_watts", "dedicated", "cord_"]
                .iter()
                .any(|start| line.starts_with(start))
        })
        .collect::<Vec<_>>()
        .join("\n");
    let said = refusal(&bare, &[]);
    for key in
        ["generator_watts", "cord_gauge_awg", "cord_length", "rated_watts", "rated_volts", "ft"]
    {
        assert_eq!(said.matches(key).count(), 1, "`{key}` in {said}");
    }
    // A cord is no use without a plate, and a plate none without a cord.
    let options = ["--gauge", "10", "--length", "100"];
    let said = refusal(&bare, &options);
    assert!(said.contains("rated_watts") && !said.contains("cord_length"), "{said}");

    // (key left out, what the page says)
    for (key, says) in [
        ("power.generator_watts", "generator: add `generator_watts`"),
        ("power.cord_gauge_awg", "automatic 1: add `cord_gauge_awg` to `[power]`"),
        ("power.cord_length", "automatic 1: add `cord_length` (one way, ft) to `[power]`"),
        ("welders.rated_volts", "automatic 1: add `rated_volts` from the machine's plate"),
        ("welders.rated_watts", "its margin is not either"),
        ("power.dedicated", "does not say (`dedicated`)"),
        ("elevation", "the most there can be: add `elevation`"),
    ] {
        let page = cord_page(&example_site(&[(key, "")]), &[]);
        let joined = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains(says), "without `{key}`, no `{says}` in {page}");
        assert!(!page.contains("NaN") && !page.contains("inf"), "{page}");
    }
    let page = cord_page(&example_site(&[]), &[]);
    assert!(!page.contains("NOT CHECKED"), "{page}");
}

#[test]
fn a_welder_without_a_plate_makes_the_shared_load_a_least() {
    let text = example_site(&[("power.dedicated", "false")])
        + &HAND_WELDER.replace("rated_watts = 1600\n", "");
    let shown = json(&text, &[]);
    let load = &shown["generator"]["load"];
    assert_eq!(load["unrated"], serde_json::json!(["hand 1"]));
    assert_eq!(load["total"], 5200);
    let page = cord_page(&text, &[]);
    assert!(page.contains("at least 43 %"), "{page}");
    assert!(page.contains("W at most"), "{page}");
}

#[test]
fn what_is_beyond_the_tables_is_said_and_not_guessed() {
    for (overrides, about) in [
        (vec![("power.cord_gauge_awg", "20")], "20 AWG, 100 ft is beyond the tables"),
        (
            vec![("power.cord_gauge_awg", ""), ("power.cord_mm2", "25")],
            "25 mm², 100 ft is beyond the tables",
        ),
        (vec![("elevation", "15000")], "generator: elevation or air is beyond"),
    ] {
        let page = cord_page(&example_site(&overrides), &[]);
        assert!(page.contains(about), "no `{about}` in {page}");
    }
    // With nothing else left to check it is the error.
    let text = example_site(&[("power.cord_gauge_awg", "20"), ("power.generator_watts", "")]);
    let said = refusal(&text, &[]);
    assert!(said.contains("20 AWG") && said.contains("generator_watts"), "{said}");
    // The library takes any air without falling over.
    let hot = report(&example_site(&[]), 150.0);
    assert_eq!(hot.generator, Err(Unchecked::DeratingOutside));
}

#[test]
fn bad_options_are_refused_in_one_sentence() {
    let text = example_site(&[]);
    for (options, says) in [
        (["--air", "150"], "`--air` is 150 °F; expected an air temperature from -40 to 140 °F"),
        (["--air", "nan"], "`--air` is NaN °F"),
        (["--length", "0"], "`--length` is 0 ft; expected a length, one way, from 1 to 3000 ft"),
        (["--length", "-5"], "`--length` is -5 ft"),
        (["--length", "inf"], "`--length` is inf ft"),
        (["--gauge", "19"], "`--gauge` is 19 AWG; expected a gauge from 18 (thin) to 0 (thick)"),
        (["--mm2", "0.75"], "`--mm2` is 0.75 mm²; expected a cross-section from 1.5 to 16 mm²"),
        (["--mm2", "nan"], "`--mm2` is NaN mm²"),
    ] {
        let said = refusal(&text, &options);
        assert!(said.contains(says), "{options:?} said {said}");
    }
    for options in [
        vec!["--gauge", "8", "--mm2", "6"],
        vec!["--gauge", "ten"],
        vec!["--format", "xml"],
        vec!["--length"],
    ] {
        let outcome = cord(&text, &options);
        assert_eq!(outcome.code, 2, "{options:?}: {}", outcome.shown());
    }
    let outcome = run(&["cord", "nowhere.toml"], &[], &[]);
    assert_eq!(outcome.code, 1);
    assert!(outcome.stderr.contains("`nowhere.toml` cannot be read"), "{}", outcome.stderr);
}

#[test]
fn a_what_if_is_the_same_as_a_site_file_that_says_so() {
    let options = ["--gauge", "8", "--length", "150"];
    let asked = json(&example_site(&[]), &options);
    let written =
        json(&example_site(&[("power.cord_gauge_awg", "8"), ("power.cord_length", "150")]), &[]);
    assert_eq!(asked["cords"], written["cords"]);
    assert_eq!(asked["what_if"]["size"]["awg"], 8);
    assert_eq!(asked["what_if"]["length"], 150);
    assert_eq!(written["what_if"], Value::Null);
    let page = cord_page(&example_site(&[]), &options);
    assert!(page.contains("What if: 8 AWG, 150 ft in place of the site file's cord."), "{page}");
    // Square millimeters take the place of a gauge.
    let metric = json(&example_site(&[]), &["--mm2", "4"]);
    assert_eq!(metric["cords"][0]["now"]["size"], serde_json::json!({"awg": null, "mm2": 4}));
}

#[test]
fn other_cords_are_better_and_the_last_heavier_one_is_good_enough() {
    for (gauge, feet) in [("18", "60"), ("14", "200"), ("10", "300"), ("11", "80"), ("2", "90")] {
        let shown = json(&welder("5200", "230", gauge), &["--length", feet]);
        let cord = &shown["cords"][0];
        let now = cord["now"]["drop_percent"].as_f64().unwrap();
        let others = cord["others"].as_array().unwrap();
        assert!(others.len() >= 4, "{gauge} AWG: {others:?}");
        for other in others {
            assert!(other["drop_percent"].as_f64().unwrap() < now, "{gauge} AWG: {other}");
        }
        let mut heavier =
            others.iter().filter(|other| other["size"]["awg"] != cord["now"]["size"]["awg"]);
        let heaviest = heavier.next_back().unwrap();
        assert!(heaviest["drop_percent"].as_f64().unwrap() <= 3.0, "{gauge} AWG: {heaviest}");
    }
    // Nothing is heavier than the heaviest or shorter than the shortest.
    let shown = json(&welder("5200", "230", "0"), &["--length", "25"]);
    assert_eq!(shown["cords"][0]["others"], serde_json::json!([]));
}

#[test]
fn the_longest_cord_is_just_within_three_percent() {
    for gauge in ["16", "12", "10", "6"] {
        let text = welder("5200", "230", gauge);
        let longest = json(&text, &[])["cords"][0]["now"]["longest"].as_f64().unwrap();
        let verdict = |feet: f64| {
            json(&text, &["--length", &feet.to_string()])["cords"][0]["now"]["verdict"].clone()
        };
        assert_eq!(verdict(longest), "within", "{gauge} AWG, {longest} ft");
        assert_eq!(verdict(longest + 0.2), "over-branch", "{gauge} AWG, {longest} ft");
        // Over 5 % is over 0.05 / 0.95 of the load's resistance, 1.702 times as long.
        assert_eq!(verdict(1.70 * longest), "over-branch", "{gauge} AWG");
        assert_eq!(verdict(1.72 * longest), "over-total", "{gauge} AWG");
    }
}

#[test]
fn the_page_fits_80_columns_and_needs_no_color() {
    let long = format!("\"{}\\u001b[31mred\"", "a very long name ".repeat(10));
    let sites = [
        DEMO.to_owned(),
        example_site(&[("name", &long), ("welders.name", &long), ("power.dedicated", "false")])
            + HAND_WELDER,
        example_site(&[("power.generator_watts", "1000000"), ("welders.rated_watts", "50000")]),
        example_site(&[("welders.rated_volts", "1000"), ("welders.rated_watts", "100")]),
        example_site(&[("welders.rated_volts", "50"), ("power.cord_gauge_awg", "18")]),
        example_site(&[("power.cord_length", "2999.9"), ("elevation", "")]),
    ];
    for text in &sites {
        let page = cord_page(text, &[]);
        for line in page.lines() {
            assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
            assert!(!line.contains('\u{1b}'), "an escape code in {line:?}");
            assert_eq!(line, line.trim_end(), "white space at the end of {line:?}");
        }
        for word in ["carbon monoxide", "GFCI", "fuel it hot", "electrician", "Local codes"] {
            assert!(page.contains(word), "no `{word}` in {page}");
        }
    }
}

#[test]
fn the_schema_in_docs_is_current_and_the_report_obeys_it() {
    let schema = fairseam::render::cord::cord_schema();
    assert_current("docs/cord.schema.json", &schema);
    let schema: Value = serde_json::from_str(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut proof = Proof::of(
        "files/schema-cord",
        "A report on cords as JSON, faults against its own schema",
        "judged by the crate jsonschema",
        "documents",
        Allowed::Nothing,
    );
    let without_generator = example_site(&[("power.generator_watts", "")]);
    for (text, options) in
        [(DEMO, vec![]), (&without_generator, vec!["--gauge", "8"]), (DEMO, vec!["--mm2", "2.5"])]
    {
        let shown = json(text, &options);
        let faults: Vec<String> =
            validator.iter_errors(&shown).map(|fault| fault.to_string()).collect();
        proof.same(&faults, &Vec::<String>::new(), || format!("{options:?}"));
        let mut broken = shown;
        broken["cords"][0]["now"]["verdict"] = "fine".into();
        assert!(!validator.is_valid(&broken), "the schema lets an unknown verdict pass");
    }
    proof.done();
}

/// Advice on power in the demo's plan, with changes to its site file.
fn power_advice(changes: &[(&str, &str)]) -> Vec<String> {
    let mut text = DEMO.to_owned();
    for (old, new) in changes {
        assert!(text.contains(old), "no `{old}` in the demo");
        text = text.replacen(old, new, 1);
    }
    let arguments = ["plan", "site.toml", "--date", "2027-04-21", "--format", "json"];
    let outcome = run(
        &arguments,
        &[("site.toml", &text), ("forecast.json", DEMO_FORECAST)],
        &[("FAIRSEAM_NOW", "2027-04-20T23:00:00Z")],
    );
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    let plan: Value = serde_json::from_str(&outcome.stdout).unwrap();
    let advice = plan["advice"].as_array().unwrap().iter();
    advice
        .filter(|advice| advice["topic"] == "power")
        .map(|advice| advice["text"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn the_plans_advice_says_what_the_command_says() {
    assert_eq!(power_advice(&[]), Vec::<String>::new());
    // 200 ft of 10 AWG: 0.496 / 10.669 = 4.6 %, 0.9535² = 91 % of the watts.
    let long = ("cord_length = 100", "cord_length = 200");
    let said = power_advice(&[long]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("Cord of automatic 1: 4.6 % of the voltage"), "{said:?}");
    assert!(said[0].contains("91 % of the watts"), "{said:?}");
    let shown = json(&DEMO.replacen(long.0, long.1, 1), &[]);
    near(&shown["cords"][0]["now"]["drop_percent"], 4.65, 0.03, "the command");

    // 5300 W at 1227 ft leave 5072 W, less than the welder's 5200 W.
    let said = power_advice(&[("generator_watts = 12000", "generator_watts = 5300")]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("takes 5200 W"), "{said:?}");
    // 9000 W carry it and are still below the trade's 10,000 W; 10,000 W at any height are not.
    let said = power_advice(&[("generator_watts = 12000", "generator_watts = 9000")]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("rated 9000 W") && said[0].contains("10000 W"), "{said:?}");
    let said = power_advice(&[("generator_watts = 12000", "generator_watts = 10000")]);
    assert_eq!(said, Vec::<String>::new());
    let said = power_advice(&[("dedicated = true", "dedicated = false")]);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("generator to itself"), "{said:?}");
}
