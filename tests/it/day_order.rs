//! Which of several roofs to go to first, against orders made by hand, and in every output.

use chrono::{DateTime, Utc};
use fairseam::season::{
    DayAhead, DayRow, DaysAhead, HoldMinutes, SiteAhead, TestCauses, Word, Workday, day_orders,
};
use fairseam::units::Temperature;
use serde_json::json;

use crate::outlook::{json, two_sites};
use crate::outlook_tally::head;
use crate::proof::{Allowed, Proof};

fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// A day: first weldable minute (UTC), weldable minutes, tests; `near` for one whose times hold.
fn day(first: Option<&str>, weldable_minutes: u16, tests: u8, near: bool) -> DayAhead {
    let degrees = Temperature::from_celsius(10.0);
    DayAhead {
        work: Workday {
            tests: TestCauses { start: tests, ..TestCauses::default() },
            working_minutes: 465,
            weldable_minutes,
            held: HoldMinutes::default(),
            first_weldable: None,
            weldable_until: None,
            begins_wet: false,
            air_c: (10.0, 20.0),
            seam_m: 0.0,
            partly_known: false,
        },
        test_times: Vec::new(),
        likely: None,
        air: (degrees, degrees),
        sheet: None,
        first_weldable: first.map(utc),
        dry: None,
        word: Word::Weld,
        times_hold: near,
    }
}

fn roof(name: &str, days: Vec<(&str, Option<DayAhead>)>) -> SiteAhead {
    let head = head(name);
    let days = days.into_iter().map(|(at, ahead)| DayRow { date: at.parse().unwrap(), ahead });
    SiteAhead { head, ahead: DaysAhead { weather: None, days: days.collect() } }
}

#[test]
fn the_roof_that_can_be_welded_first_comes_first() {
    let near = |first, weldable, tests| Some(day(first, weldable, tests, true));
    let sites = [
        roof("wet", vec![("2027-04-21", near(None, 0, 0)), ("2027-04-22", None)]),
        roof("dewy", vec![("2027-04-21", near(Some("2027-04-21T12:10:00Z"), 400, 2))]),
        roof("short", vec![("2027-04-21", near(Some("2027-04-21T11:00:00Z"), 300, 2))]),
        roof(
            "changing",
            vec![
                ("2027-04-21", near(Some("2027-04-21T11:00:00Z"), 465, 5)),
                ("2027-04-22", near(Some("2027-04-22T11:00:00Z"), 465, 5)),
                ("2027-04-26", Some(day(Some("2027-04-26T11:00:00Z"), 465, 2, false))),
            ],
        ),
        roof(
            "calm",
            vec![
                ("2027-04-21", near(Some("2027-04-21T11:00:00Z"), 465, 3)),
                ("2027-04-26", Some(day(Some("2027-04-26T11:00:00Z"), 465, 2, false))),
            ],
        ),
    ];
    let orders: Vec<(String, Vec<&str>, Vec<&str>)> = day_orders(&sites)
        .iter()
        .map(|order| {
            let roofs = order.roofs.iter().map(|roof| roof.head.name.as_str()).collect();
            let unknown = order.unknown.iter().map(|head| head.name.as_str()).collect();
            (order.date.to_string(), roofs, unknown)
        })
        .collect();
    let mut proof = Proof::of(
        "outlook/which-roof-first",
        "Five roofs in order by first weldable minute, weldable time, tests; days too far ahead left out",
        "put in order by hand",
        "days",
        Allowed::Nothing,
    );
    let expected = [
        // 07:00 before 08:10 before never; of those at 07:00 the longer day, then the fewer tests.
        ("2027-04-21", vec!["calm", "changing", "short", "dewy", "wet"], vec![]),
        // One of two roofs has no forecast: it is said. April 26 is too far ahead for times.
        ("2027-04-22", vec!["changing"], vec!["wet"]),
    ];
    assert_eq!(orders.len(), expected.len(), "{orders:?}");
    for (found, (date, roofs, unknown)) in orders.iter().zip(expected) {
        proof.same(found, &(date.to_owned(), roofs, unknown), || date.to_owned());
    }
    proof.done();
    assert!(day_orders(&sites[..1]).is_empty(), "one roof has no order");
}

/// `two_sites`: both dry on Tuesday and Wednesday, one wet through all of Thursday.
#[test]
fn the_order_of_each_near_day_stands_in_text_and_json() {
    let outlook = json(&two_sites(&["--format", "json"]));
    let order = outlook["order"].as_array().unwrap();
    let named: Vec<(&str, Vec<&str>)> = order
        .iter()
        .map(|day| {
            let roofs = day["roofs"].as_array().unwrap().iter();
            (day["date"].as_str().unwrap(), roofs.map(|r| r["site"].as_str().unwrap()).collect())
        })
        .collect();
    // Day three from Monday is Thursday. On equal days the names decide.
    let (dry_first, both) = (vec!["Dry roof", "Wet roof"], ["2013-04-09", "2013-04-10"]);
    assert_eq!(
        named,
        [
            (both[0], dry_first.clone()),
            (both[1], dry_first.clone()),
            ("2013-04-11", dry_first.clone())
        ]
    );
    let thursday = &order[2]["roofs"];
    assert_eq!(thursday[0]["first_weldable"], "2013-04-11T07:00:00-04:00");
    assert_eq!(thursday[0]["first_test"], thursday[0]["first_weldable"]);
    assert_eq!(thursday[0]["weldable_hours"], 7.75);
    let wet = json!({
        "site": "Wet roof", "file": "wet.toml", "first_weldable": null, "weldable_hours": 0,
        "tests": 0, "first_test": null,
    });
    assert_eq!(thursday[1], wet);
    let text = two_sites(&[]).stdout;
    let (_, thursday) = text.split_once("WHICH ROOF FIRST, THU 04-11\n").unwrap();
    let rows: Vec<&str> = thursday.lines().take(2).collect();
    assert!(rows[0].starts_with("  1. Dry roof: weldable from 07:00, 7.8 h; tests: "), "{rows:?}");
    assert_eq!(rows[1], "  2. Wet roof: not weldable at all");
    assert_eq!(text.matches("WHICH ROOF FIRST").count(), 3);
    // What the order goes by, and what it cannot know.
    assert_eq!(text.matches("are yours to weigh").count(), 1);
}
