//! Flags, JSON and the trial: the same thing in three shapes; JSON that is wrong is told by its path.

use fairseam::cli::record::draft::Desk;
use fairseam::cli::record::json_form::parse_json;
use fairseam::cli::record::strip_syntax::write_strips;
use fairseam::render::trial::Show;
use fairseam::render::trial::wire::trial_schema;
use fairseam::site::{Kind, Polymer, Site};
use fairseam::testweld::{HeatTrial, Parted, Peeled, Sign, Strip, Trial};
use fairseam::units::{BondWidth, Temperature, Thickness, TravelSpeed, UnitSystem};
use fairseam::words::Language;
use proptest::prelude::*;

use crate::binary::root;
use crate::proof::{Allowed, Proof};
use crate::record_crew::{Memory, ZONE, now, record_into, site, site_of, usage_error};

const WHOLE: &str = r#"{
  "units": "us", "at": "2027-04-21T07:10", "who": "J.", "welder": "automatic 1", "kind": "automatic",
  "polymer": "tpo", "thickness": 60, "lot": "B7", "roll": "3", "air": 62, "sheet_temperature": 75.5,
  "weights": "all", "air_flow": "full", "speed": 8, "note": "wind from the west",
  "ran": {"heat": 850, "speed": 8},
  "heats": [
    {"heat": 700, "strips": [{"width": 0.25, "parted": "cold"}, {"width": 0, "parted": "cold"},
                             {"width": 0.25, "parted": "mixed", "signs": ["void"]}]},
    {"heat": 800, "strips": [{"width": 1.5, "parted": "film-tear", "peeled": "across"},
                             {"width": 1.5, "parted": "film-tear"}, {"width": 1.5, "parted": "film-tear"},
                             {"width": 1.5, "parted": "film-tear", "peeled": "along"}]},
    {"heat": 900, "strips": [{"width": 1.5, "parted": "film-tear"},
                             {"width": 1.5, "parted": "film-tear"}, {"width": 1.5, "parted": "film-tear"}]},
    {"heat": 1000, "strips": [{"width": 2, "parted": "film-tear", "signs": ["browning", "char"]}]}
  ]
}"#;

fn json(text: &str) -> crate::record_crew::Told {
    let site = site();
    record_into(&mut Memory::of(&site), &site, None, &["--json"], text)
}

#[test]
fn a_whole_trial_is_read_from_json() {
    let site = site();
    let mut book = Memory::of(&site);
    let told = record_into(&mut book, &site, None, &["--json", "--format", "json"], WHOLE);
    let shown: serde_json::Value = serde_json::from_str(told.shown()).unwrap();
    assert_eq!(shown["written"], true);
    let judged = &shown["judged"];
    assert_eq!(judged["setting"]["verdict"], "run-at");
    assert_eq!(judged["setting"]["heat"], 850);
    assert_eq!(judged["window"]["bottom"], 800);
    assert_eq!(judged["trial"]["at"], "2027-04-21T07:10:00-04:00");
    assert_eq!(judged["heats"][3]["verdict"], "burnt");
    let trial = &book.entries[0].trial;
    assert_eq!((trial.polymer, trial.lot.as_deref()), (Polymer::Tpo, Some("B7")));
    assert!((trial.sheet.unwrap().fahrenheit() - 75.5).abs() < 1e-9);
    assert_eq!(trial.heats[1].strips[3].peeled, Peeled::Along);
    assert!(book.entries[0].ran.is_some());
    // What is printed reads back as the same trial.
    let desk = Desk { site: &site, zone: ZONE, now: now() };
    let again = parse_json(&judged["trial"].to_string(), &desk).unwrap();
    assert_eq!(again.into_trial(&desk, str::to_owned).unwrap(), *trial);
}

#[test]
fn every_fault_of_a_json_trial_is_told_at_once_with_its_path() {
    let broken = r#"{"who": 7, "air": "68", "wether": 1, "speed": [8], "units": "imperial",
        "heats": [{"heat": 700, "strips": [{"width": "wide", "parted": "torn", "sign": []}]},
                  {"strips": {}, "heats": 1}, 3]}"#;
    let refusal = json(broken).refusal();
    for said in [
        "`who`: expected a text, found 7",
        "`air`: expected a number, found `68`",
        "`wether`: there is no such key; expected one of: units, at, who",
        "`speed`: expected a number, found a list",
        "`units`: expected one of `us`, `metric`, found `imperial`",
        "`heats[1].strips[1].width`: expected a number, found `wide`",
        "`heats[1].strips[1].parted`: expected one of `film-tear`, `cold`, `mixed`, found `torn`",
        "`heats[1].strips[1].sign`: there is no such key",
        "`heats[2].heat`: is missing",
        "`heats[2].strips`: expected a list, found an object",
        "`heats[2].heats`: there is no such key",
        "`heats[3]`: expected an object, found 3",
    ] {
        assert!(refusal.contains(said), "`{said}` is not in:\n{refusal}");
    }
    for (text, said) in [
        ("", "expected a trial, as docs/recording.md shows one; found nothing"),
        ("{", "EOF while parsing"),
        ("[]", "`JSON`: expected an object, found a list"),
        ("{}", "`heats`: is missing"),
        ("{\"who\": \"J.\", \"who\": \"K.\"}", "the key `who` stands twice"),
        ("{\"air\": NaN}", "expected value"),
        ("{\"air\": 1e999}", "number out of range"),
        ("{\"who\": \"J.\"} x", "trailing characters"),
        ("\u{feff}{}", "expected value"),
    ] {
        let refusal = json(text).refusal();
        assert!(refusal.contains(said), "{text} said {refusal}");
        assert!(refusal.contains("nothing was written"), "{refusal}");
    }
    let deep = "[".repeat(100_000);
    assert!(json(&deep).refusal().contains("recursion limit"));
    let many = format!("{{\"heats\": [{}0]}}", "0,".repeat(5000));
    assert!(json(&many).refusal().contains("expected at most 100 entries, found 5001"));
}

#[test]
fn json_and_flags_do_not_mix() {
    let said = usage_error(&["--json", "--who", "J."]);
    assert!(said.contains("cannot be used with"), "{said}");
}

#[test]
fn the_units_of_a_json_trial_win_over_the_site() {
    let text = r#"{"units": "metric", "who": "J.", "welder": "automatic 1", "air": 20, "speed": 2.4,
        "heats": [{"heat": 450, "strips": [{"width": 38, "parted": "film-tear"}]}]}"#;
    let site = site();
    let mut book = Memory::of(&site);
    record_into(&mut book, &site, None, &["--json"], text).result.unwrap();
    let trial = &book.entries[0].trial;
    assert!((trial.ambient.celsius() - 20.0).abs() < 1e-9);
    assert!((trial.heats[0].heat.celsius() - 450.0).abs() < 1e-9);
    assert!((trial.heats[0].strips[0].bond_width.millimeters() - 38.0).abs() < 1e-9);
    // Left out: the site's sheet, now.
    assert!((trial.thickness.millimeters() - 80.0 * 0.0254).abs() < 1e-9);
    assert_eq!(trial.when, now());
}

#[test]
fn the_schema_in_docs_is_current_and_decides_as_the_reader_does() {
    let path = root().join("docs/trial.schema.json");
    if std::env::var_os("FAIRSEAM_BLESS").is_some() {
        std::fs::write(&path, trial_schema()).unwrap();
    }
    let found = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(found == trial_schema(), "docs/trial.schema.json is stale: run with FAIRSEAM_BLESS=1");
    let schema: serde_json::Value = serde_json::from_str(&trial_schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let whole: serde_json::Value = serde_json::from_str(WHOLE).unwrap();
    let faults: Vec<String> =
        validator.iter_errors(&whole).map(|fault| fault.to_string()).collect();
    assert!(faults.is_empty(), "{faults:?}");
    type Break = fn(&mut serde_json::Value);
    let breaks: &[Break] = &[
        |trial| trial["heats"][0]["strips"][0]["parted"] = "torn".into(),
        |trial| trial["heats"][0]["strips"][0]["signs"] = serde_json::json!(["brown"]),
        |trial| trial["heats"][0]["strips"][0]["width"] = "wide".into(),
        |trial| trial["heats"][0]["colour"] = 1.into(),
        |trial| trial["wether"] = 1.into(),
        |trial| trial["air"] = serde_json::Value::Null,
        |trial| trial["who"] = 7.into(),
        |trial| trial["polymer"] = "rubber".into(),
        |trial| trial["ran"] = serde_json::json!({"speed": 8}),
    ];
    let site = site();
    let desk = Desk { site: &site, zone: ZONE, now: now() };
    assert!(parse_json(WHOLE, &desk).is_ok());
    let mut proof = Proof::of(
        "files/schema-trial",
        "Trials as JSON with one thing wrong, refused by the reader and by the schema alike",
        "judged by the crate jsonschema",
        "trials",
        Allowed::Nothing,
    );
    for (number, change) in breaks.iter().enumerate() {
        let mut broken = whole.clone();
        change(&mut broken);
        let passed = (validator.is_valid(&broken), parse_json(&broken.to_string(), &desk).is_ok());
        proof.same(&passed, &(false, false), || format!("break {number} by schema and by reader"));
    }
    proof.done();
}

fn any_strip() -> impl Strategy<Value = Strip> {
    let signs = prop::collection::btree_set(prop::sample::select(&Sign::ALL[..]), 0..4);
    let parted = prop::sample::select(&Parted::ALL[..]);
    let peeled = prop::sample::select(&Peeled::ALL[..]);
    (0..1000_u32, parted, signs, peeled).prop_map(|(hundredths, parted, signs, peeled)| Strip {
        bond_width: BondWidth::from_millimeters(f64::from(hundredths) / 10.0),
        parted,
        signs,
        peeled,
    })
}

fn any_heat() -> impl Strategy<Value = HeatTrial> {
    let strips = prop::collection::vec(any_strip(), 0..6);
    let speed = prop::option::of((1..300_u32).prop_map(|tenths| f64::from(tenths) / 10.0));
    (0..8000_u32, strips, speed).prop_map(|(tenths, strips, speed)| HeatTrial {
        speed: speed.map(TravelSpeed::from_feet_per_minute),
        ..HeatTrial::new(Temperature::from_celsius(f64::from(tenths) / 10.0), strips)
    })
}

fn words() -> impl Strategy<Value = Option<String>> {
    prop::option::of("[^\u{0}]{1,30}")
}

fn any_trial() -> impl Strategy<Value = Trial> {
    let texts = (words(), words(), words(), words(), words());
    let numbers = (-300..500_i32, prop::option::of(-300..900_i32), 1..99_u32, 0..100_000_i64);
    let heats = prop::collection::vec(any_heat(), 1..5);
    let polymer = prop::sample::select(&[Polymer::Pvc, Polymer::Tpo, Polymer::Kee][..]);
    (texts, numbers, heats, polymer, "[a-zA-Z🙂\"'<>;é]{1,20}").prop_map(
        |(
            (lot, roll, weights, air_flow, note),
            (air, sheet, thickness, ago),
            heats,
            polymer,
            who,
        )| {
            Trial {
                when: now() - chrono::TimeDelta::seconds(ago),
                who,
                welder: "automatic 1".to_owned(),
                welder_kind: Kind::Automatic,
                polymer,
                thickness: Thickness::from_millimeters(f64::from(thickness) / 10.0),
                lot,
                roll,
                ambient: Temperature::from_celsius(f64::from(air) / 10.0),
                sheet: sheet.map(|sheet| Temperature::from_celsius(f64::from(sheet) / 10.0)),
                weights,
                air_flow,
                speed: Some(TravelSpeed::from_meters_per_minute(2.4)),
                heats,
                note,
            }
        },
    )
}

/// The flags that write `trial` down.
fn flags(trial: &Trial, units: UnitSystem) -> Vec<String> {
    let number = |value: f64| format!("{:.6}", value);
    let mut flags = vec![
        format!("--at={}", trial.when.to_rfc3339()),
        format!("--who={}", trial.who),
        format!("--welder={}", trial.welder),
        format!("--polymer={}", trial.polymer.name()),
        format!("--thickness={}", number(trial.thickness.in_units(units))),
        format!("--air={}", number(trial.ambient.in_units(units))),
    ];
    let sheet = trial.sheet.map(|sheet| number(sheet.in_units(units)));
    let speed = trial.speed.map(|speed| number(speed.in_units(units)));
    for (flag, text) in [
        ("--sheet-temperature", &sheet),
        ("--speed", &speed),
        ("--lot", &trial.lot),
        ("--roll", &trial.roll),
        ("--weights", &trial.weights),
        ("--air-flow", &trial.air_flow),
        ("--note", &trial.note),
    ] {
        flags.extend(text.as_ref().map(|text| format!("{flag}={text}")));
    }
    for heat in &trial.heats {
        let own = heat.speed.map(|speed| format!(" at {}", number(speed.in_units(units))));
        let own = own.unwrap_or_default();
        flags.push(format!("--heat={}{own}", number(heat.heat.in_units(units))));
        flags.push(format!("--strips={}", write_strips(&heat.strips, units)));
    }
    flags
}

/// The same but for the sixth decimal of a number in the site's unit.
fn assert_same(one: &Trial, other: &Trial, site: &Site) {
    let show = Show { language: Language::En, zone: ZONE, units: site.units };
    let shown = |trial: &Trial| {
        let mut shown = show.trial(trial, None).unwrap();
        let round = |value: f64| (value * 1e4).round() / 1e4;
        let mut json = serde_json::to_value(&mut shown).unwrap();
        fn walk(value: &mut serde_json::Value, round: &impl Fn(f64) -> f64) {
            match value {
                serde_json::Value::Number(number) => {
                    *value = round(number.as_f64().unwrap()).into();
                }
                serde_json::Value::Array(list) => list.iter_mut().for_each(|one| walk(one, round)),
                serde_json::Value::Object(map) => map.values_mut().for_each(|one| walk(one, round)),
                _ => {}
            }
        }
        walk(&mut json, &round);
        json
    };
    assert_eq!(shown(one), shown(other));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_trial_survives_json_and_flags_in_both_systems_of_units(trial in any_trial()) {
        let metric = site_of(&[
            ("units", "\"metric\""), ("sheet.thickness", "1.5"), ("welders.heat_low", "370"),
            ("welders.heat_max", "600"), ("welders.heat_step", "50"), ("welders.speed_min", "1"),
            ("welders.speed_max", "5"), ("rules.ambient_change", "5.5"),
        ]);
        for site in [site(), metric] {
            let desk = Desk { site: &site, zone: ZONE, now: now() };
            let show = Show { language: Language::En, zone: ZONE, units: site.units };
            let json = serde_json::to_string(&show.trial(&trial, None).unwrap()).unwrap();
            let from_json = parse_json(&json, &desk).unwrap().into_trial(&desk, str::to_owned).unwrap();
            assert_same(&trial, &from_json, &site);
            // Once through JSON, every further round is the same to the last digit.
            let again = serde_json::to_string(&show.trial(&from_json, None).unwrap()).unwrap();
            prop_assert_eq!(&json, &again);
            let flags = flags(&trial, site.units);
            let flags: Vec<&str> = flags.iter().map(String::as_str).collect();
            let draft = crate::record_crew::arguments(&flags).draft(&desk).unwrap();
            assert_same(&trial, &draft.into_trial(&desk, str::to_owned).unwrap(), &site);
        }
    }
}
