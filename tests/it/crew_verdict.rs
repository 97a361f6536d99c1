//! The verdict that a phone works out without signal against the one of the core, over trials of
//! every kind: the two are written in two languages and have to agree on all of them.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::{Command, Stdio};

use chrono_tz::UTC;
use fairseam::render::crew::{JudgingRules, WelderRange};
use fairseam::render::trial::Show;
use fairseam::site::{Kind, Polymer, Welder};
use fairseam::testweld::{HeatTrial, JudgedTrial, Judging, Parted, Peeled, Sign, Strip, Trial};
use fairseam::units::{
    BondWidth, Temperature, TemperatureDifference, Thickness, TravelSpeed, UnitSystem,
};
use fairseam::words::Language;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::{Value, json};

use super::support::skip;
use crate::proof::{Allowed, Proof};

const TRIALS: usize = 6000;
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/server/assets/crew-verdict.js");
const JUDGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/browser/judge.mjs");

#[test]
fn the_phone_and_the_core_agree_on_every_trial() {
    let mut proof = Proof::of(
        "inner/phone-verdict",
        "Verdict, window, setting, doubts and findings of the crew's page without signal, in JavaScript",
        "those of the core, over invented trials",
        "trials",
        Allowed::Nothing,
    )
    .when_installed(TRIALS);
    let made = trials();
    let Some(on_the_phone) = judged_by_the_script(&made) else { return proof.done() };
    assert_eq!(on_the_phone.len(), made.len(), "one verdict a trial");
    let mut met: BTreeMap<String, usize> = BTreeMap::new();
    for (case, phone) in made.iter().zip(&on_the_phone) {
        let core = case.by_the_core();
        same(&core, phone, case);
        proof.same(&core["setting"]["verdict"], &phone["setting"]["verdict"], || {
            format!("{case:?}")
        });
        for name in names(&core) {
            *met.entry(name).or_default() += 1;
        }
    }
    // The generator has to reach every odd case, or it proves little.
    for name in VERDICTS.iter().chain(&FINDINGS) {
        let times = met.get(*name).copied().unwrap_or_default();
        assert!(times >= 10, "`{name}` came up {times} times of {TRIALS}: {met:?}");
    }
    proof.done();
}

/// What can be found in a trial beside its verdict; docs/test-welds.md has the same cases in its
/// table.
pub(crate) const FINDINGS: [&str; 17] = [
    "hole-in-the-middle",
    "cold-above-good",
    "burnt-below-good",
    "burnt-below-cold",
    "all-cold",
    "all-cold-to-maximum",
    "all-burnt",
    "all-burnt-to-lowest",
    "cold-then-burnt",
    "single-good-heat",
    "narrower-than-step",
    "top-not-found",
    "top-at-maximum",
    "bottom-not-found",
    "bottom-at-lowest",
    "outside-machine",
    "repeat",
];

/// The verdicts on trials and heats, and why a setting cannot be told.
const VERDICTS: &[&str] = &[
    "run-at",
    "nothing-good",
    "contradiction",
    "not-conclusive",
    "good",
    "cold",
    "burnt",
    "speed-missing",
    "speed-outside-machine",
];

/// A trial, the machine it was made on, and who reads it.
#[derive(Debug, Clone)]
struct Case {
    units: UnitSystem,
    welder: Welder,
    /// In the crew's units, as a phone sends it.
    sent: Value,
    trial: Trial,
}

impl Case {
    fn judging(&self) -> Judging {
        Judging::default_for(self.units)
    }

    fn by_the_core(&self) -> Value {
        let judged = JudgedTrial::new(self.trial.clone(), Some(&self.welder), &self.judging());
        let show = Show { language: Language::En, zone: UTC, units: self.units };
        serde_json::to_value(show.judged(&judged, None).unwrap()).unwrap()
    }

    fn line(&self) -> Value {
        json!({
            "trial": self.sent,
            "welder": WelderRange::of(&self.welder),
            "rules": JudgingRules::of(&self.judging(), self.units),
        })
    }
}

/// The two have their shapes; what they say has to be the same.
fn same(core: &Value, phone: &Value, case: &Case) {
    let close = |what: &str, one: &Value, other: &Value| match (one.as_f64(), other.as_f64()) {
        // The core's JSON is rounded to a tenth.
        (Some(one), Some(other)) => {
            assert!((one - other).abs() < 0.051, "{what}: core {one}, phone {other}, {case:?}");
        }
        _ => assert!(one.is_null() && other.is_null(), "{what}: {one} {other} {case:?}"),
    };
    for key in ["verdict", "why"] {
        assert_eq!(core["setting"][key], phone["setting"][key], "{key}: {case:?}");
    }
    for key in ["heat", "speed"] {
        close(key, &core["setting"][key], &phone["setting"][key]);
    }
    assert_eq!(core["window"].is_null(), phone["window"].is_null(), "{case:?}");
    if !core["window"].is_null() {
        for key in ["bottom", "top", "center"] {
            close(key, &core["window"][key], &phone["window"][key]);
        }
        for key in ["bottom_found", "top_found"] {
            assert_eq!(core["window"][key], phone["window"][key], "{key}: {case:?}");
        }
    }
    assert_eq!(listed(&core["doubts"]), words(&phone["doubts"]), "{case:?}");
    assert_eq!(listed(&core["findings"]), listed(&phone["findings"]), "{case:?}");
    for (core, phone) in core["findings"].as_array().unwrap().iter().zip(array(&phone["findings"]))
    {
        all_close(&core["heats"], &phone["heats"], &close);
    }
    assert_eq!(array(&core["heats"]).len(), array(&phone["heats"]).len(), "{case:?}");
    for (core, phone) in array(&core["heats"]).iter().zip(array(&phone["heats"])) {
        close("heat", &core["heat"], &phone["heat"]);
        for key in ["verdict", "strips_across", "strips_along"] {
            assert_eq!(core[key], phone[key], "{key}: {case:?}");
        }
    }
}

fn all_close(one: &Value, other: &Value, close: &dyn Fn(&str, &Value, &Value)) {
    assert_eq!(array(one).len(), array(other).len(), "{one} {other}");
    for (one, other) in array(one).iter().zip(array(other)) {
        close("heat to try", one, other);
    }
}

fn array(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap()
}

fn listed(odd: &Value) -> Vec<String> {
    array(odd).iter().map(|one| one["name"].as_str().unwrap().to_owned()).collect()
}

fn words(value: &Value) -> Vec<String> {
    array(value).iter().map(|one| one.as_str().unwrap().to_owned()).collect()
}

/// Everything a verdict names.
fn names(core: &Value) -> Vec<String> {
    let mut names = vec![core["setting"]["verdict"].as_str().unwrap().to_owned()];
    names.extend(core["setting"]["why"].as_str().map(str::to_owned));
    names.extend(listed(&core["doubts"]));
    names.extend(listed(&core["findings"]));
    names.extend(
        array(&core["heats"]).iter().map(|heat| heat["verdict"].as_str().unwrap().to_owned()),
    );
    names
}

/// `None` where there is no Node.js.
fn judged_by_the_script(made: &[Case]) -> Option<Vec<Value>> {
    let child = Command::new("node")
        .args([JUDGE, SCRIPT])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let Ok(mut child) = child else {
        skip("Node.js is not installed: the phone's verdict is not checked");
        return None;
    };
    let lines: String = made.iter().map(|case| format!("{}\n", case.line())).collect();
    let mut stdin = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || stdin.write_all(lines.as_bytes()).unwrap());
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    assert!(output.status.success(), "node failed");
    let text = String::from_utf8(output.stdout).unwrap();
    Some(text.lines().map(|line| serde_json::from_str(line).unwrap()).collect())
}

fn trials() -> Vec<Case> {
    let mut runner = TestRunner::new_with_rng(
        Config::default(),
        TestRng::deterministic_rng(RngAlgorithm::ChaCha),
    );
    let strategy = case();
    (0..TRIALS).map(|_| strategy.new_tree(&mut runner).unwrap().current()).collect()
}

fn case() -> impl Strategy<Value = Case> {
    let units = prop_oneof![Just(UnitSystem::Us), Just(UnitSystem::Metric)];
    (units, any::<bool>(), 0_usize..4, tried(), prop_oneof![4 => Just(Speed::Held), 1 => Just(Speed::Missing), 1 => Just(Speed::TooFast), 1 => Just(Speed::Last)])
        .prop_map(|(units, hand, size, tried, speed)| build(units, hand, size, &tried, speed))
}

#[derive(Debug, Clone, Copy)]
enum Speed {
    Held,
    Missing,
    TooFast,
    /// The machine's slowest, from which it goes no slower.
    Last,
}

/// A heat, as a place on a grid around the machine's range, and its strips.
type Tried = (i32, Vec<DrawnStrip>);

#[derive(Debug, Clone)]
struct DrawnStrip {
    /// In eighths of an inch or in millimeters times three.
    width: u32,
    parted: Parted,
    signs: Vec<Sign>,
    along: bool,
}

fn tried() -> impl Strategy<Value = Vec<Tried>> {
    // Most trials are what heat does to a sheet: cold, then good, then burnt; the rest is anything.
    let likely = (0_usize..7, 0_usize..7, 1_usize..7, 0_i32..5, 1_i32..3).prop_map(|drawn| {
        // Whole steps of the machine, or half ones.
        let (cold, good, burnt, low, apart) = drawn;
        let count = i32::try_from((cold + good + burnt) % 7 + 1).unwrap();
        (0..count)
            .map(|step| {
                let place = usize::try_from(step).unwrap();
                let of = |width, parted, signs: &[Sign]| {
                    let strip = DrawnStrip { width, parted, signs: signs.to_vec(), along: false };
                    vec![strip; 3]
                };
                let strips = if place < cold {
                    of(2, Parted::Cold, &[])
                } else if place < cold + good {
                    of(12, Parted::FilmTear, &[])
                } else {
                    of(16, Parted::FilmTear, &[Sign::Browning])
                };
                (low + apart * step, strips)
            })
            .collect()
    });
    let anything =
        prop::collection::vec((-2_i32..14, prop::collection::vec(drawn_strip(), 0..5)), 1..7);
    prop_oneof![
        3 => likely.clone(),
        1 => likely.clone().prop_map(one_out_of_line),
        1 => likely.prop_map(upside_down),
        2 => anything,
    ]
}

/// The heat in the middle of a likely trial fails, whatever it was.
fn one_out_of_line(mut tried: Vec<Tried>) -> Vec<Tried> {
    let middle = tried.len() / 2;
    tried[middle].1.iter_mut().for_each(|strip| strip.parted = Parted::Mixed);
    tried
}

/// Burnt below and cold above, which heat alone does to no sheet.
fn upside_down(mut tried: Vec<Tried>) -> Vec<Tried> {
    let mut places: Vec<i32> = tried.iter().map(|(place, _)| *place).collect();
    places.reverse();
    tried.iter_mut().zip(places).for_each(|((place, _), other)| *place = other);
    tried
}

fn drawn_strip() -> impl Strategy<Value = DrawnStrip> {
    let parted = prop_oneof![
        6 => Just(Parted::FilmTear),
        1 => Just(Parted::Cold),
        1 => Just(Parted::Mixed)
    ];
    let signs = prop_oneof![
        8 => Just(Vec::new()),
        2 => prop::sample::subsequence(Sign::ALL.to_vec(), 1..3)
    ];
    (0_u32..20, parted, signs, prop::bool::weighted(0.15))
        .prop_map(|(width, parted, signs, along)| DrawnStrip { width, parted, signs, along })
}

/// The first heat, half a step of the grid, the steps up to the maximum.
const MACHINES_US: [(f64, f64, f64); 4] =
    [(700.0, 1100.0, 100.0), (700.0, 1150.0, 100.0), (650.0, 1000.0, 50.0), (605.0, 1145.0, 75.0)];
const MACHINES_METRIC: [(f64, f64, f64); 4] =
    [(370.0, 620.0, 50.0), (350.0, 600.0, 50.0), (380.0, 560.0, 25.0), (352.0, 637.0, 35.0)];

fn build(units: UnitSystem, hand: bool, size: usize, tried: &[Tried], speed: Speed) -> Case {
    let (low, max, step) = match units {
        UnitSystem::Us => MACHINES_US[size],
        UnitSystem::Metric => MACHINES_METRIC[size],
    };
    let (slowest, fastest, held) = match units {
        UnitSystem::Us => (3.0, 18.0, 8.5),
        UnitSystem::Metric => (0.9, 5.5, 2.4),
    };
    let speed = match speed {
        _ if hand => None,
        Speed::Held => Some(held),
        Speed::Missing => None,
        Speed::TooFast => Some(fastest + 0.5),
        Speed::Last => Some(slowest),
    };
    let of_speed = |speed| TravelSpeed::from_units(speed, units);
    let kind = if hand { Kind::Hand } else { Kind::Automatic };
    let welder = Welder {
        name: "welder".to_owned(),
        kind,
        heat_low: Temperature::from_units(low, units),
        heat_max: Temperature::from_units(max, units),
        heat_step: TemperatureDifference::from_units(step, units),
        speed: (!hand).then(|| (of_speed(slowest), of_speed(fastest))),
        rated_watts: None,
        rated_volts: None,
    };
    let width = |strip: &DrawnStrip| match units {
        UnitSystem::Us => f64::from(strip.width) / 8.0,
        UnitSystem::Metric => f64::from(strip.width) * 3.125,
    };
    let heat = |place: i32| (low + f64::from(place) * step / 2.0).min(max + step);
    let sent_strip = |strip: &DrawnStrip| {
        json!({
            "width": width(strip),
            "parted": strip.parted.name(),
            "signs": strip.signs.iter().map(|sign| sign.name()).collect::<Vec<_>>(),
            "peeled": if strip.along { "along" } else { "across" },
        })
    };
    let sent_heats: Vec<Value> = tried
        .iter()
        .map(|(place, strips)| {
            json!({ "heat": heat(*place), "strips": strips.iter().map(sent_strip).collect::<Vec<_>>() })
        })
        .collect();
    let heats = tried.iter().map(|(place, strips)| {
        let strips = strips.iter().map(|strip| Strip {
            bond_width: BondWidth::from_units(width(strip), units),
            parted: strip.parted,
            signs: strip.signs.iter().copied().collect(),
            peeled: if strip.along { Peeled::Along } else { Peeled::Across },
        });
        HeatTrial::new(Temperature::from_units(heat(*place), units), strips.collect())
    });
    let trial = Trial {
        when: "2013-04-09T11:00:00Z".parse().unwrap(),
        who: "operator".to_owned(),
        welder: "welder".to_owned(),
        welder_kind: kind,
        polymer: Polymer::Pvc,
        thickness: Thickness::from_mils(80.0),
        lot: None,
        roll: None,
        ambient: Temperature::from_celsius(15.0),
        sheet: None,
        weights: None,
        air_flow: None,
        speed: speed.map(of_speed),
        heats: heats.collect(),
        note: None,
    };
    Case { units, welder, sent: json!({ "speed": speed, "heats": sent_heats }), trial }
}
