//! `fairseam cord`: worked examples, hand arithmetic, sites that say too little, the plan's advice.

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

#[test]
fn drops_match_the_codes_worked_examples() {
    // 2 · 0.1 kft · Ω/kft · A with NEC chapter 9, table 8, stranded: 10 AWG 1.24, 12 AWG 1.98.
    // (W, V, AWG, drop in V, in %, by hand)
    let mut proof = Proof::of(
        "power/command-drops",
        "Drops that the command shows, in V and %",
        "worked by hand with NEC2023, table 8",
        "numbers",
        Allowed::Relative(0.008),
    );
    for (watts, volts, gauge, drop, percent) in [
        ("4600", "230", "10", 4.96, 2.16), // 20 A
        ("7200", "240", "10", 7.44, 3.10), // 30 A
        ("1800", "120", "12", 5.94, 4.95), // 15 A
    ] {
        let shown = json(&welder(watts, volts, gauge), &[]);
        let cord = &shown["cords"][0];
        let what = format!("{watts} W at {volts} V on {gauge} AWG");
        // Within 0.8 % of the code's table, as the copper is.
        for (shown, expected) in [("textbook_drop", drop), ("textbook_drop_percent", percent)] {
            proof.near(cord[shown].as_f64().unwrap(), expected, || format!("{what}: {shown}"));
        }
        assert!(cord["now"]["drop"].as_f64() < cord["textbook_drop"].as_f64(), "{what}");
    }
    proof.done();
}

#[test]
fn a_resistance_at_the_end_of_a_cord_takes_what_is_worked_out_by_hand() {
    // 120 V, 15 A: 8 Ω. 100 ft of 12 AWG: 0.396 Ω. 0.396 / 8.396 = 4.7 %; 0.953² = 90.8 %.
    let shown = json(&welder("1800", "120", "12"), &["--air", "77"]);
    let cord = &shown["cords"][0];
    let mut proof = Proof::of(
        "power/command-heat",
        "What a welder of 15 A loses on 100 ft of 12 AWG: volts, power, heat",
        "worked by hand as two resistances in series, NEC2023, table 8",
        "numbers",
        Allowed::Each("the digits worked by hand"),
    );
    let mut near = |got: &Value, expected, allowed, what: &str| {
        proof.within(got.as_f64().unwrap(), expected, allowed, || what.to_owned());
    };
    near(&cord["now"]["drop_percent"], 4.7, 0.06, "drop");
    near(&cord["now"]["power_percent"], 90.8, 0.1, "power");
    assert_eq!(cord["now"]["verdict"], "over-branch");
    // 1100 °F over 77 °F of air: 1023 °F. 4.7 % of it is 48 °F, 1 − 0.953² of it 94 °F.
    near(&cord["rise"], 1023.0, 0.05, "rise");
    near(&cord["lost_heat"]["low"], 48.2, 0.6, "least");
    near(&cord["lost_heat"]["high"], 94.2, 1.0, "most");
    proof.done();
}

#[test]
fn the_demo_matches_hand_arithmetic() {
    let mut proof = Proof::of(
        "power/command-demo",
        "Cord and generator of the demo, as the command shows them",
        "worked by hand with NEC2023, table 8",
        "numbers",
        Allowed::Each("the digits worked by hand"),
    );
    let mut near = |got: &Value, expected, allowed, what: &str| {
        proof.within(got.as_f64().unwrap(), expected, allowed, || what.to_owned());
    };
    let shown = json(DEMO, &[]);
    let cord = &shown["cords"][0];
    // 230² / 5200 = 10.173 Ω; 0.2 kft · 1.24 = 0.248 Ω; 230 / 10.421 = 22.07 A; 5.47 V, 2.38 %.
    near(&cord["current"], 22.07, 0.01, "amps");
    near(&cord["loop_resistance"], 0.248, 0.0005, "loop");
    near(&cord["now"]["drop"], 5.47, 0.02, "drop");
    near(&cord["now"]["drop_percent"], 2.38, 0.01, "drop");
    near(&cord["voltage"], 224.53, 0.02, "volts");
    near(&cord["now"]["power"], 4955.0, 2.0, "watts");
    assert_eq!(cord["now"]["verdict"], "within");
    // 10.173 · 0.03 / 0.97 = 0.3146 Ω, over 2 · 1.24 per kft: 126.9 ft.
    near(&cord["now"]["longest"], 126.9, 0.3, "longest");
    // 1150 − 77 = 1073 °F; 2.38 % and 1 − 0.9762² = 4.70 % of it.
    near(&cord["lost_heat"]["low"], 25.5, 0.2, "least");
    near(&cord["lost_heat"]["high"], 50.5, 0.4, "most");
    // 12000 W less 3.5 % · 1.227: 11484.7 W; 5200 W are 45.3 % of it.
    let generator = &shown["generator"];
    near(&generator["left"], 11485.0, 1.0, "left");
    near(&generator["load"]["margin"], 6285.0, 1.0, "margin");
    near(&generator["load"]["percent"], 45.3, 0.05, "load");
    assert_eq!(generator["verdict"], "carries");
    // 8 AWG 0.778 Ω/kft: 0.1556 / 10.329 = 1.51 %. 50 ft: 0.124 / 10.297 = 1.20 %.
    let others: Vec<(Option<u64>, Option<f64>)> = cord["others"]
        .as_array()
        .unwrap()
        .iter()
        .map(|other| (other["size"]["awg"].as_u64(), other["length"].as_f64()))
        .collect();
    let expected = [(8, 100.0), (6, 100.0), (10, 75.0), (10, 50.0)];
    assert_eq!(others, expected.map(|(gauge, feet)| (Some(gauge), Some(feet))));
    near(&cord["others"][0]["drop_percent"], 1.51, 0.02, "8 AWG");
    near(&cord["others"][3]["drop_percent"], 1.20, 0.01, "50 ft");
    proof.done();
    // The hand welder has no plate in the file.
    assert_eq!(shown["not_checked"][0]["about"], "detail gun");
}

#[test]
fn a_metric_site_reads_meters_square_millimeters_and_celsius() {
    let text = example_site(&[
        ("units", "\"metric\""),
        ("elevation", "1500"),
        ("sheet.thickness", "2"),
        ("welders.heat_low", "370"),
        ("welders.heat_max", "600"),
        ("welders.heat_step", "50"),
        ("welders.speed_min", "1"),
        ("welders.speed_max", "5"),
        ("welders.rated_watts", "3680"),
        ("rules.ambient_change", "5.5"),
        ("power.cord_gauge_awg", ""),
        ("power.cord_mm2", "6"),
        ("power.cord_length", "30"),
    ]);
    let shown = json(&text, &["--air", "35"]);
    let cord = &shown["cords"][0];
    // IEC 60228 class 5: 3.30 Ω/km at 20 °C, · 1.21615 at 75 °C = 4.013; · 0.06 km = 0.2408 Ω.
    // 230² / 3680 = 14.375 Ω: 0.2408 / 14.616 = 1.648 %.
    near(&cord["now"]["drop_percent"], 1.648, 0.006, "drop");
    // 14.375 · 0.03 / 0.97 / (2 · 4.013) = 0.0554 km.
    near(&cord["now"]["longest"], 55.39, 0.1, "longest");
    near(&cord["rise"], 565.0, 0.05, "rise");
    // 1500 m = 4921 ft: 1 − 0.1722; 35 °C = 95 °F: 1 − 0.018. 12000 W · 0.8129 = 9755 W.
    near(&shown["generator"]["left"], 9755.0, 2.0, "left");
    let page = cord_page(&text, &["--air", "35"]);
    for word in ["6 mm², 30 m", "10 mm², 30 m", "6 mm², 25 m", "1500 m", "35 °C", "55 m"] {
        assert!(page.contains(word), "no `{word}` in {page}");
    }
    assert!(!page.contains(" ft") && !page.contains("°F"), "{page}");
}

fn cord_page(text: &str, options: &[&str]) -> String {
    let outcome = cord(text, options);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    outcome.stdout
}

#[test]
fn height_heat_and_company_take_from_the_generator_what_the_rule_says() {
    // Common practice: 3.5 % for each 1000 ft, 1 % for each 10 °F above 77 °F, multiplied.
    // (rating, ft, °F, dedicated, W left by hand, load, verdict)
    let mut proof = Proof::of(
        "power/command-generator",
        "Power left, load and margin of generators, as the command shows them",
        "*common practice*, worked by hand",
        "numbers",
        Allowed::absolute(0.5, "W"),
    );
    for (rated, feet, air, dedicated, left, load, verdict) in [
        ("12000", "0", "77", "true", 12000.0, 5200.0, "carries"),
        ("12000", "5000", "77", "true", 9900.0, 5200.0, "carries"), // 0.825
        ("12000", "5000", "97", "true", 9702.0, 5200.0, "carries"), // · 0.98
        ("6000", "5000", "97", "true", 4851.0, 5200.0, "short"),
        ("6000", "0", "20", "true", 6000.0, 5200.0, "carries"), // cold raises nothing
        ("6000", "0", "77", "false", 6000.0, 6800.0, "short"),
    ] {
        let text = example_site(&[
            ("power.generator_watts", rated),
            ("power.dedicated", dedicated),
            ("elevation", feet),
        ]) + HAND_WELDER;
        let shown = json(&text, &["--air", air]);
        let generator = &shown["generator"];
        let what = format!("{rated} W at {feet} ft, {air} °F, dedicated {dedicated}");
        let of_load = &generator["load"];
        for (got, expected) in [
            (&generator["left"], left),
            (&of_load["total"], load),
            (&of_load["margin"], left - load),
        ] {
            proof.near(got.as_f64().unwrap(), expected, || what.clone());
        }
        assert_eq!(generator["verdict"], verdict, "{what}");
        assert_eq!(generator["small"], rated == "6000", "{what}");
    }
    proof.done();
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
