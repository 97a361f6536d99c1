//! What the command shows, against figures that are worked out by hand or printed elsewhere.

use serde_json::Value;

use super::{DEMO, HAND_WELDER, cord_page, json, near, welder};
use crate::proof::{Allowed, Proof};
use crate::support::example_site;
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
