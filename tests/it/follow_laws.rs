//! What must hold of every followed day, whatever the weather does: what is done never moves, a
//! wobble never rings, good news is never told at once.

use std::cell::Cell;

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::America::New_York;
use fairseam::follow::{Change, Followed, Look, Point, look};
use fairseam::plan::{
    Cause, Checkpoint, PlanInput, Progress, Settled, TestMade, plan_day, plan_rest_of_day,
};
use fairseam::quality::KeptTrial;
use fairseam::site::Site;
use fairseam::testweld::NoRecords;
use fairseam::units::Temperature;
use fairseam::weather::{Forecast, Hour, Provenance};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};

use crate::book_store_sample::utc;
use crate::follow_world::{forecast, site, tested};
use crate::support::example_site;

const DATE: &str = "2013-04-09";
const APRIL_9: &str = "days/obs_2013-04-09_spring_swing31.json";

fn fahrenheit(degrees: f64) -> Temperature {
    Temperature::from_fahrenheit(degrees)
}

/// Air by local hour from midnight of 9 April, °F; nothing else is known.
fn of_air(issued: DateTime<Utc>, air_f: &[f64]) -> Forecast {
    let midnight = utc("2013-04-09T04:00:00Z");
    let hours = (0_i64..).zip(air_f).map(|(n, air)| Hour {
        air: Some(fahrenheit(*air)),
        ..Hour::unknown(midnight + TimeDelta::hours(n))
    });
    let provenance = Provenance {
        source: "file".to_owned(),
        issued_at: Some(issued),
        fetched_at: issued,
        stale: false,
        attribution: String::new(),
        time_zone: None,
    };
    Forecast::from_hours(provenance, hours.collect()).unwrap()
}

fn input<'a>(
    site: &'a Site,
    forecast: &'a Forecast,
    now: DateTime<Utc>,
    earlier: &'a NoRecords,
) -> PlanInput<'a> {
    let date = DATE.parse().unwrap();
    PlanInput { site, time_zone: New_York, date, now, forecast, earlier }
}

const NO_RECORDS: NoRecords = NoRecords { carry_days: 7 };

/// Local times and ids of what `progress` leaves of 9 April 2013 at `now`.
fn rest(now: &str, progress: &Progress) -> Vec<String> {
    let site = site(&example_site(&[]));
    let (_, recorded) = forecast(APRIL_9, "2013-04-08T20:30:00Z", |_, _| ());
    let recorded = recorded.unwrap();
    let plan = plan_rest_of_day(&input(&site, &recorded, utc(now), &NO_RECORDS), progress).unwrap();
    let shown = |point: &Checkpoint| {
        let clock = point.time.with_timezone(&New_York).format("%H:%M");
        format!("{clock} {} {:.2}", point.id, point.air.fahrenheit())
    };
    plan.checkpoints.iter().map(shown).collect()
}

fn start(tested: Option<(&str, f64)>) -> Settled {
    Settled {
        id: "start".to_owned(),
        time: utc("2013-04-09T11:00:00Z"),
        cause: Cause::Start,
        air: fahrenheit(53.1),
        tested: tested.map(|(when, air)| TestMade { when: utc(when), air: fahrenheit(air) }),
    }
}

/// Air: 07 53.1 · 08 57.0 · 09 66.0 · 10 73.9 · 11 77.0 · 12 80.1 · 13 82.0 (`days/tables.rs`).
#[test]
fn the_rest_of_a_day_is_counted_from_what_the_crew_read() {
    let as_planned = [
        "07:00 start 53.10",
        "08:41 change-1 63.15",
        "09:45 after-morning-break 71.93",
        "12:30 after-lunch 81.05",
    ];
    assert_eq!(rest("2013-04-08T20:30:00Z", &Progress::default()), as_planned);
    // Due and not tested yet: the forecast's own 53.1 stands in.
    let due = Progress { settled: vec![start(None)], tests: Vec::new() };
    assert_eq!(rest("2013-04-09T11:01:00Z", &due), as_planned);
    // 55.0 was read: 65.0 is reached at 57.0 + 9.0*54/60 = 65.1.
    let read = |air| Progress {
        settled: vec![start(Some(("2013-04-09T11:04:00Z", air)))],
        tests: Vec::new(),
    };
    let mut later = as_planned.map(str::to_owned);
    later[1] = "08:54 change-1 65.10".to_owned();
    assert_eq!(rest("2013-04-09T11:10:00Z", &read(55.0)), later);
    // 08:54 lies over the published 08:41 by now: what is due by 09:00 is due at 09:00.
    later[1] = "09:00 change-1 66.00".to_owned();
    assert_eq!(rest("2013-04-09T13:00:00Z", &read(55.0)), later);
    // 64.0 was read where the forecast has 53.36: 10 and more apart. Counted from 53.36 (07:04):
    // 63.36 is reached at 57.0 + 9.0*43/60 = 63.45.
    later[1] = "08:43 change-1 63.45".to_owned();
    assert_eq!(rest("2013-04-09T11:10:00Z", &read(64.0)), later);
}

#[test]
fn a_test_made_ahead_of_its_time_leaves_its_checkpoint_where_it_is() {
    // The morning break ends at 09:45; tested at 09:25 in 70.0: 80.0 is reached at 77.0 +
    // 3.1*59/60 = 80.05, which is 11:59: within 20 minutes of lunch, so it waits.
    let early = Settled {
        id: "after-morning-break".to_owned(),
        time: utc("2013-04-09T13:45:00Z"),
        cause: Cause::AfterBreak { name: "morning break".to_owned(), minutes: 15 },
        air: fahrenheit(71.93),
        tested: Some(TestMade { when: utc("2013-04-09T13:25:00Z"), air: fahrenheit(70.0) }),
    };
    let progress = Progress { settled: vec![start(None), early], tests: Vec::new() };
    assert_eq!(
        rest("2013-04-09T13:30:00Z", &progress),
        ["07:00 start 53.10", "09:45 after-morning-break 71.93", "12:30 after-lunch 81.05"]
    );
}

/// What a look may never touch.
fn fixed(point: &Point) -> (String, DateTime<Utc>, f64, DateTime<Utc>, String) {
    let entry = &point.entry;
    (point.id.clone(), point.time, point.air.celsius(), entry.start, entry.summary.clone())
}

#[derive(Debug, Clone)]
struct Story {
    /// Minutes from one look to the next, what the air is added to each hour, and whether a trial was
    /// made since with how much off the forecast.
    looks: Vec<(i64, Vec<f64>, Option<f64>)>,
}

fn stories() -> impl Strategy<Value = Story> {
    let swing = proptest::collection::vec(-14.0..14.0_f64, 24);
    let one = (5_i64..150, swing, proptest::option::weighted(0.5, -12.0..12.0_f64));
    proptest::collection::vec(one, 3..9).prop_map(|looks| Story { looks })
}

const AIR_F: [f64; 24] = [
    53.1, 52.0, 52.0, 52.0, 51.1, 53.1, 53.1, 53.1, 57.0, 66.0, 73.9, 77.0, 80.1, 82.0, 82.9, 84.0,
    84.0, 84.0, 82.9, 81.0, 79.0, 77.0, 73.0, 71.1,
];

fn run(cases: u32, check: impl Fn(Story) -> Result<(), TestCaseError>) {
    let config = ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 20,
        ..ProptestConfig::default()
    };
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    TestRunner::new_with_rng(config, rng).run(&stories(), check).unwrap();
}

#[test]
fn what_is_done_never_moves() {
    let site = site(&example_site(&[]));
    let (settled_seen, tested_seen, changes_seen) = (Cell::new(0), Cell::new(0), Cell::new(0));
    run(12, |story| {
        let mut now = utc("2013-04-09T10:30:00Z");
        let mut followed = Followed::new(site.key(), DATE.parse().unwrap());
        let mut trials: Vec<KeptTrial> = Vec::new();
        for (minutes, swing, trial) in story.looks {
            let air: Vec<f64> = AIR_F.iter().zip(&swing).map(|(air, off)| air + off).collect();
            let forecast = of_air(now, &air);
            if let (Some(off), Some(air)) = (trial, forecast.air_at(now)) {
                let at = now.to_rfc3339();
                trials.push(tested(&site, &at, air.fahrenheit() + off, &at));
            }
            let asked = Look {
                input: input(&site, &forecast, now, &NO_RECORDS),
                trials: &trials,
                withdrawn: &[],
            };
            let looked = look(&followed, &asked).map_err(|e| TestCaseError::fail(e.to_string()))?;
            let before = followed.published.iter().flat_map(|published| &published.points);
            let after = looked.next.published.clone().unwrap();
            for point in before.filter(|point| point.tested.is_some() || point.time <= now) {
                settled_seen.set(settled_seen.get() + 1);
                tested_seen.set(tested_seen.get() + u32::from(point.tested.is_some()));
                let same = after.points.iter().find(|other| other.id == point.id);
                prop_assert_eq!(same.map(fixed), Some(fixed(point)), "at {}", now);
            }
            for pair in after.points.windows(2) {
                prop_assert!(pair[0].time <= pair[1].time && pair[0].id != pair[1].id);
            }
            for change in &looked.changes {
                changes_seen.set(changes_seen.get() + 1);
                if let Change::Moved { from, to, .. } = change {
                    prop_assert!((*to - *from).num_minutes().abs() >= 15);
                    prop_assert!(*to > now, "moved into the past");
                }
                if let Change::New { at, .. } = change {
                    prop_assert!(*at > now, "new in the past: no phone would ring");
                }
            }
            // The same look again says nothing more.
            let asked = Look {
                input: input(&site, &forecast, now, &NO_RECORDS),
                trials: &trials,
                withdrawn: &[],
            };
            let again =
                look(&looked.next, &asked).map_err(|e| TestCaseError::fail(e.to_string()))?;
            prop_assert_eq!(&again.changes, &Vec::new(), "at {} a second time", now);
            followed = looked.next;
            now += TimeDelta::minutes(minutes);
            if now >= utc("2013-04-09T19:20:00Z") {
                break;
            }
        }
        Ok(())
    });
    let seen = (settled_seen.get(), tested_seen.get(), changes_seen.get());
    assert!(seen.0 > 50 && seen.1 > 10 && seen.2 > 40, "hardly anything happened: {seen:?}");
}

/// Up to 0.35 °F up or down on hours that differ by four and more: less than fifteen minutes' worth.
#[test]
fn a_wobble_rings_no_phone() {
    let site = site(&example_site(&[]));
    let wobbles = Cell::new(0);
    run(12, |story| {
        let mut followed = Followed::new(site.key(), DATE.parse().unwrap());
        let mut now = utc("2013-04-08T22:00:00Z");
        for (number, (minutes, swing, _)) in story.looks.iter().enumerate() {
            let small = |(air, off): (&f64, &f64)| air + off / 40.0;
            let air: Vec<f64> = match number {
                0 => AIR_F.to_vec(),
                _ => AIR_F.iter().zip(swing).map(small).collect(),
            };
            let forecast = of_air(now, &air);
            let asked = Look {
                input: input(&site, &forecast, now, &NO_RECORDS),
                trials: &[],
                withdrawn: &[],
            };
            let looked = look(&followed, &asked).map_err(|e| TestCaseError::fail(e.to_string()))?;
            if number > 0 {
                prop_assert_eq!(&looked.changes, &Vec::new());
                wobbles.set(wobbles.get() + looked.waiting.len());
            }
            followed = looked.next;
            now += TimeDelta::minutes(*minutes);
        }
        Ok(())
    });
    assert!(wobbles.get() > 20, "hardly anything wobbled: {}", wobbles.get());
}

/// The plan that pages show has exactly the published checkpoints.
#[test]
fn the_published_plan_is_the_published_one() {
    let site = site(&example_site(&[]));
    let (at, later) = (utc("2013-04-08T22:00:00Z"), utc("2013-04-09T09:00:00Z"));
    let first = of_air(at, &AIR_F);
    let asked = Look { input: input(&site, &first, at, &NO_RECORDS), trials: &[], withdrawn: &[] };
    let followed = look(&Followed::new(site.key(), DATE.parse().unwrap()), &asked).unwrap().next;
    let published = followed.published.unwrap();
    // Shown in the light of a forecast that would have moved them all.
    let warmer: Vec<f64> = AIR_F.iter().map(|air| air * 1.1).collect();
    let warmer = of_air(later, &warmer);
    let shown = input(&site, &warmer, later, &NO_RECORDS);
    let plan = fairseam::follow::published_plan(&shown, &published).unwrap();
    let of_plan: Vec<_> = plan.checkpoints.iter().map(|p| (p.id.clone(), p.time)).collect();
    let of_record: Vec<_> = published.points.iter().map(|p| (p.id.clone(), p.time)).collect();
    assert_eq!(of_plan, of_record);
    assert_ne!(plan_day(&shown).unwrap().checkpoints.len(), 0);
}

/// A service that leaves out the hours that are over.
#[test]
fn hours_that_are_over_are_remembered() {
    let (at, later) = (utc("2013-04-08T22:00:00Z"), utc("2013-04-09T14:20:00Z"));
    let first = of_air(at, &AIR_F);
    let full = of_air(later, &AIR_F.map(|air| air + 1.0));
    let tail = full.hours().iter().filter(|hour| hour.time >= utc("2013-04-09T14:00:00Z"));
    let newer = Forecast::from_hours(full.provenance.clone(), tail.copied().collect()).unwrap();
    let joined = newer.with_past_of(&first, later);
    let air = |at: &str| joined.air_at(utc(at)).unwrap().fahrenheit();
    assert!((air("2013-04-09T12:00:00Z") - 57.0).abs() < 1e-9, "remembered");
    assert!((air("2013-04-09T14:00:00Z") - 74.9).abs() < 1e-9, "its own");
    assert_eq!(joined.provenance, newer.provenance);
    // What is still to come is not filled from an old forecast.
    let gap = full.hours().iter().filter(|hour| hour.time >= utc("2013-04-09T17:00:00Z"));
    let gap = Forecast::from_hours(full.provenance.clone(), gap.copied().collect()).unwrap();
    let joined = gap.with_past_of(&first, later);
    assert_eq!(joined.air_at(utc("2013-04-09T15:30:00Z")), None);
}
