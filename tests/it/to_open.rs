//! How much roof may be opened before rain, against arithmetic by hand.
//!
//! At 68 °F the rule of the trade gives 9 ft/min (`footage.rs`). Breaks from 09:30 to 09:45 and from
//! 12:00 to 12:30, tests of 10 minutes at 07:00, 09:45 and 12:30; sealed 45 minutes before rain. Rolls
//! of 10 by 80 ft with laps of 6 in; a square is 100 sq ft (*common practice*).

use fairseam::plan::{Advice, DayPlan, Lack, RoofToOpen};
use fairseam::render::advice_words;
use fairseam::render::json::{plan_json, plan_schema};
use fairseam::units::RainDepth;
use fairseam::weather::{Hour, HourSum};
use fairseam::words::Language;

use crate::proof::{Allowed, Proof};
use crate::sheet_support::{JUNE, clock, forecast, inches, mph, plan, site};
use crate::support::METRIC;

const WIDE: (&str, &str) = ("sheet.width", "10");
const LAP: (&str, &str) = ("sheet.lap", "6");
const LONG: (&str, &str) = ("sheet.roll_length", "80");

/// The June day with rain in the hour from `hour`, and `more` made of any hour.
fn rain_from(hour: i64, overrides: &[(&str, &str)], more: impl Fn(i64, &mut Hour)) -> DayPlan {
    let weather = forecast(JUNE, |at, row| {
        if at == hour {
            row.rain = inches(0.1);
        }
        more(at, row);
    });
    plan(&site(overrides), JUNE, &weather)
}

fn to_open(plan: &DayPlan) -> &RoofToOpen {
    let found = plan.advice.iter().find_map(|advice| match advice {
        Advice::Open(roof) => Some(roof),
        _ => None,
    });
    found.unwrap_or_else(|| panic!("{:?}", plan.advice))
}

/// Its stretches: clock and feet.
fn stretches(plan: &DayPlan) -> Vec<(String, f64)> {
    let roof = to_open(plan);
    roof.from.iter().map(|open| (clock(plan, open.start), open.seam.feet())).collect()
}

#[test]
fn seam_from_each_weldable_stretch_until_it_has_to_be_sealed() {
    let mut proof = Proof::of(
        "plan/seam-before-rain",
        "Feet of seam from the start of a weldable stretch until what is open must be sealed",
        "worked by hand; start speed *common practice*",
        "stretches",
        Allowed::absolute(1e-6, "ft"),
    );
    let quiet = |_: i64, _: &mut Hour| {};
    let storm = |hour: i64, row: &mut Hour| {
        if hour == 9 {
            row.gust = mph(45.0);
        }
    };
    let cases = [
        // Rain at 13:00, so sealed by 12:15: 07:10 to 09:30 and 09:55 to 12:00, 265 minutes.
        (rain_from(13, &[], quiet), "12:15", vec![("07:00", 2385.0)]),
        // Rain after work: the whole shift's 435 minutes.
        (rain_from(20, &[], quiet), "15:30", vec![("07:00", 3915.0)]),
        // A storm from 09:00 to 10:00, rain at 14:00, sealed by 13:15: 110 minutes before it; after
        // the test at 10:00 110 to lunch, and from 12:40 another 35.
        (rain_from(14, &[], storm), "13:15", vec![("07:00", 2295.0), ("10:00", 1305.0)]),
        // Rain at 08:00, sealed by 07:15: the five minutes after the first test.
        (rain_from(8, &[], quiet), "07:15", vec![("07:00", 45.0)]),
    ];
    for (plan, sealed_by, expected) in cases {
        assert_eq!(clock(&plan, to_open(&plan).sealed_by), sealed_by);
        let found = stretches(&plan);
        let starts = |all: &[(String, f64)]| -> Vec<String> {
            all.iter().map(|(start, _)| start.clone()).collect()
        };
        assert_eq!(starts(&found), expected.iter().map(|(at, _)| *at).collect::<Vec<_>>());
        for ((start, feet), (_, by_hand)) in found.iter().zip(&expected) {
            proof.near(*feet, *by_hand, || format!("sealed by {sealed_by}, from {start}"));
        }
        // Never more than the day's own seam.
        let total = plan.footage.as_ref().unwrap().total.feet();
        assert!(found.iter().all(|(_, feet)| *feet <= total + 1e-6), "{found:?}, {total}");
    }
    proof.done();
}

#[test]
fn roof_and_rolls_by_the_measures_of_the_roll() {
    let of = |overrides: &[(&str, &str)]| {
        let plan = rain_from(13, overrides, |_, _| {});
        let roof = to_open(&plan).clone();
        (roof.from[0].area.map(|area| area.square_feet()), roof.from[0].rolls, roof.lacks)
    };
    let mut proof = Proof::of(
        "plan/roof-before-rain",
        "Square feet of roof that 2385 ft of seam close, by side laps alone and with end laps",
        "worked by hand; one side lap and one end lap a roll *common practice*",
        "rolls",
        Allowed::absolute(1e-6, "sq ft"),
    );
    // Side laps alone: 2385 ft by 10 ft less half a foot.
    let (area, rolls, lacks) = of(&[WIDE, LAP]);
    proof.near(area.unwrap(), 2385.0 * 9.5, || "side laps".to_owned());
    assert_eq!((rolls, lacks), (None, vec![Lack::RollLength]));
    // A roll takes 80 ft along and 10 ft across and covers 79.5 by 9.5 ft: 26.5 rolls.
    let (area, rolls, lacks) = of(&[WIDE, LAP, LONG]);
    proof.near(area.unwrap(), 26.5 * 79.5 * 9.5, || "side and end laps".to_owned());
    assert_eq!((rolls, lacks), (Some(26), vec![]));
    proof.done();
    // 2385 ft are 23 rolls of 93.695… ft and not 24; 27 of 88.33 ft to the foot.
    assert_eq!(of(&[WIDE, LAP, ("sheet.roll_length", "78.3333333333333")]).1, Some(27));
    // Nothing is made up for a measure that is not given.
    assert_eq!(of(&[]), (None, None, vec![Lack::Width, Lack::Lap, Lack::RollLength]));
    assert_eq!(of(&[WIDE, LONG]), (None, None, vec![Lack::Lap]));
    assert_eq!(of(&[LAP]), (None, None, vec![Lack::Width, Lack::RollLength]));
}

fn said(plan: &DayPlan) -> String {
    let roof = Advice::Open(to_open(plan).clone());
    advice_words::advice(&roof, plan)
}

#[test]
fn the_crew_is_told_in_its_own_measure_and_rounded_down() {
    let whole = rain_from(13, &[WIDE, LAP, LONG], |_, _| {});
    let text = said(&whole);
    // 2385 ft, 20014 sq ft.
    assert!(text.contains("can be sealed by 12:15"), "{text}");
    assert!(
        text.contains(
            "2380 ft of seam from 07:00, 20010 sq ft (200 squares) of roof, 26 whole rolls"
        ),
        "{text}"
    );
    assert!(text.contains("hand welds come on top") && !text.contains("add"), "{text}");
    let spanish = said(&whole.in_language(Language::Es));
    assert!(
        spanish.contains(
            "2380 ft de costura desde las 07:00, 20010 sq ft (200 cuadros) de techo, 26 rollos \
             enteros"
        ),
        "{spanish}"
    );
    // What the site file would have to say.
    let bare = said(&rain_from(13, &[], |_, _| {}));
    assert!(bare.contains("2380 ft of seam from 07:00. Corners"), "{bare}");
    assert!(bare.contains("add `sheet.width`, `sheet.lap`, `sheet.roll_length`"), "{bare}");
    // Sealed by the very start of the shift.
    let none = rain_from(8, &[("rules.seal_minutes", "60")], |_, _| {});
    assert_eq!(to_open(&none).from, []);
    assert!(said(&none).contains("tested and welded by 07:00: open no roof before that rain"));
    let by_hand: &[(&str, &str)] =
        &[("welders.kind", "\"hand\""), ("welders.speed_min", ""), ("welders.speed_max", ""), WIDE];
    let by_hand = rain_from(13, by_hand, |_, _| {});
    assert_eq!(to_open(&by_hand).lacks, [Lack::AutomaticWelder]);
    assert!(said(&by_hand).contains("a hand welder has no travel speed"));
    // A dry day has nothing to seal before.
    let dry = plan(&site(&[]), JUNE, &forecast(JUNE, |_, _| {}));
    assert!(!dry.advice.iter().any(|advice| matches!(advice, Advice::Open(_))));
}

#[test]
fn a_metric_crew_reads_meters() {
    // 20 °C is 68 °F: 9 ft/min, which is 2.7432 m/min; 265 minutes of it are 726.948 m. Rolls of 2 by
    // 25 m with laps of 100 mm: 726.948 / 27 = 26.92 rolls of 24.9 by 1.9 m, 1273.8 m².
    let roll = [("sheet.width", "2"), ("sheet.lap", "100"), ("sheet.roll_length", "25")];
    let overrides = [&METRIC[..], &roll].concat();
    let weather = forecast(JUNE, |at, row| {
        if at == 13 {
            row.rain = Some(HourSum::of_one_hour(RainDepth::from_millimeters(2.0)));
        }
    });
    let plan = plan(&site(&overrides), JUNE, &weather);
    let text = said(&plan);
    assert!(text.contains("720 m of seam from 07:00, 1273 m² of roof, 26 whole rolls"), "{text}");
    let json: serde_json::Value = serde_json::from_str(&plan_json(&plan)).unwrap();
    assert_eq!(json["units"]["area"], "m2");
    let expected = serde_json::json!({
        "sealed_by": "2013-06-05T12:15:00-04:00",
        "from": [{"start": "2013-06-05T07:00:00-04:00", "seam": 726, "area": 1273, "rolls": 26}],
        "lacks": [],
    });
    assert_eq!(json["open_roof"], expected);
    let schema: serde_json::Value = serde_json::from_str(&plan_schema()).unwrap();
    assert!(jsonschema::validator_for(&schema).unwrap().is_valid(&json));
}
