//! A whole year of real weather: the record itself, every day's plan, and what the seasons cost.

use std::collections::BTreeMap;
use std::ops::Bound;
use std::sync::LazyLock;

use chrono::{DateTime, Datelike, NaiveDate, Timelike, Utc};
use chrono_tz::America::New_York;
use serde_json::Value;

use crate::days::run_oracle;
use crate::proof::{Allowed, Proof};
use crate::support::{example_site, fixture, in_tests, run};

/// The oracle knows the two rules and the holds of rain and snow. A storm's own hold, which the
/// windiest days of that year would bring, is set out of reach.
const NO_STORM: &str = "150";

const DAYS_OF_2013: u32 = 365;

/// Text of the record: a header, then one line an hour.
fn record() -> String {
    std::fs::read_to_string(in_tests("fixtures/ewr2013.csv")).unwrap()
}

fn day_of_2013(ordinal: u32) -> NaiveDate {
    NaiveDate::from_yo_opt(2013, ordinal).unwrap()
}

/// Days of each month with a swing of at least `swing_f` whole °F over the hourly values that fall
/// in the shift, 07:00 to 15:00 local.
fn days_with_swing(swing_f: f64) -> [u32; 12] {
    let mut range: BTreeMap<NaiveDate, (f64, f64)> = BTreeMap::new();
    for row in csv::Reader::from_reader(record().as_bytes()).records() {
        let row = row.unwrap();
        let time = row[0].parse::<DateTime<Utc>>().unwrap().with_timezone(&New_York);
        // The station measures whole °F and reports tenths of °C, so 40 reads 39.92.
        let Ok(air) = row[1].parse::<f64>().map(f64::round) else { continue };
        if (7..=15).contains(&time.hour()) {
            let (low, high) = range.entry(time.date_naive()).or_insert((air, air));
            (*low, *high) = (low.min(air), high.max(air));
        }
    }
    assert_eq!(range.len(), 364, "the record ends on 30 December at 19:00");
    let mut days = [0; 12];
    for (date, (low, high)) in range {
        if high - low >= swing_f {
            days[date.month0() as usize] += 1;
        }
    }
    days
}

#[test]
fn the_record_is_the_one_whose_facts_are_known() {
    // Counted by others over the same file, before it came here.
    let from_15 = days_with_swing(15.0);
    assert_eq!(from_15, [5, 5, 8, 16, 13, 14, 9, 14, 20, 16, 8, 7]);
    assert_eq!(from_15.iter().sum::<u32>(), 135);
    let from_20 = days_with_swing(20.0);
    assert_eq!(from_20.iter().sum::<u32>(), 43);
    let (april, july, september, october) = (from_20[3], from_20[6], from_20[8], from_20[9]);
    assert_eq!((september, april, october, july), (8, 7, 6, 0));
}

/// Whether the shift has the example site's breaks or none.
#[derive(Debug, Clone, Copy)]
enum Breaks {
    Usual,
    None,
}

/// Time and cause of each of a day's checkpoints; `None` for a day whose hours are missing.
type Checkpoints = Option<Vec<(String /* HH:MM */, String /* cause */)>>;

/// By day, with the usual breaks and without any.
type Year = BTreeMap<NaiveDate, [Checkpoints; 2]>;

/// The whole year as the binary plans it, run once for all the tests here.
static PLANNED: LazyLock<Year> = LazyLock::new(|| {
    let both = |date| [Breaks::Usual, Breaks::None].map(|breaks| planned_checkpoints(date, breaks));
    (1..=DAYS_OF_2013).map(day_of_2013).map(|date| (date, both(date))).collect()
});

/// What the real binary plans for `date` from the three days of the record around it.
fn planned_checkpoints(date: NaiveDate, breaks: Breaks) -> Checkpoints {
    let site = match breaks {
        Breaks::Usual => example_site(&[("rules.wind_stop", NO_STORM)]),
        Breaks::None => example_site(&[("shift.breaks", "[]"), ("rules.wind_stop", NO_STORM)]),
    };
    let (forecast, day) = (slice_around(date), date.to_string());
    let outcome = run(
        &["plan", "site.toml", "--date", &day, "--forecast", "hours.csv", "--format", "json"],
        &[("site.toml", &site), ("hours.csv", &forecast)],
        &[],
    );
    if outcome.code == 1 {
        assert_eq!(outcome.stdout, "", "{date}: a failed plan has nothing to say");
        return None;
    }
    assert_eq!(outcome.code, 0, "{date}: {}", outcome.shown());
    let plan: Value = serde_json::from_str(&outcome.stdout)
        .unwrap_or_else(|error| panic!("{date}: not JSON ({error})\n{}", outcome.shown()));
    let moment = |checkpoint: &Value| {
        let time = checkpoint["time"].as_str().unwrap();
        (time[11..16].to_owned(), checkpoint["cause"].as_str().unwrap().to_owned())
    };
    Some(plan["checkpoints"].as_array().unwrap().iter().map(moment).collect())
}

/// The record's lines from the day before `date` to the day after, by UTC, under its header.
fn slice_around(date: NaiveDate) -> String {
    let (from, to) = (date.pred_opt().unwrap(), date.succ_opt().unwrap());
    let (from, to) = (from.to_string(), to.to_string());
    let text = record();
    let near =
        |line: &&str| line.starts_with("time_utc") || (&from[..]..=&to).contains(&&line[..10]);
    text.lines().filter(near).flat_map(|line| [line, "\n"]).collect()
}

/// The oracle's table.
fn expected_checkpoints() -> Year {
    let path = fixture("oracle/ewr2013_checkpoints.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let days = reader.records().map(|row| {
        let row = row.unwrap();
        (row[0].parse().unwrap(), [parse_checkpoints(&row[1]), parse_checkpoints(&row[2])])
    });
    days.collect()
}

fn parse_checkpoints(text: &str) -> Checkpoints {
    let pair = |word: &str| {
        let (time, cause) = word.split_once(' ').unwrap();
        (time.to_owned(), cause.to_owned())
    };
    match text {
        "missing" => None,
        "" => Some(Vec::new()),
        _ => Some(text.split("; ").map(pair).collect()),
    }
}

#[test]
fn the_plan_agrees_with_the_oracle_on_every_day_of_the_year() {
    let expected = expected_checkpoints();
    assert_eq!(expected.len(), DAYS_OF_2013 as usize);
    let mut wrong = Vec::new();
    let mut proof = Proof::of(
        "plan/year",
        "Test welds of every day of 2013 at Newark, with the usual breaks and without any",
        "a second program for the two rules in Python, tests/oracle/two_rules.py",
        "shifts",
        Allowed::Nothing,
    );
    for (date, expected) in &expected {
        for (breaks, n) in [(Breaks::Usual, 0), (Breaks::None, 1)] {
            let (got, expected) = (&PLANNED[date][n], &expected[n]);
            if got != expected {
                let difference = format!("planned {got:?}\n    not {expected:?}");
                wrong.push(format!("{date}, breaks {breaks:?}: {difference}"));
            } else {
                proof.same(got, expected, || date.to_string());
            }
        }
    }
    assert!(wrong.is_empty(), "{} days differ:\n{}", wrong.len(), wrong.join("\n"));
    proof.done();
}

#[test]
fn the_oracles_table_is_what_the_oracle_says() {
    let mut proof = Proof::of(
        "plan/year-oracle",
        "The kept table of the second program for the two rules",
        "the program itself, run again",
        "table",
        Allowed::Nothing,
    )
    .when_installed(1);
    let Some(said) = run_oracle(&["year".to_owned(), fixture("ewr2013.csv")]) else {
        return proof.done();
    };
    let kept =
        std::fs::read_to_string(in_tests("fixtures/oracle/ewr2013_checkpoints.csv")).unwrap();
    let again = || "run tests/oracle/two_rules.py again and keep what it prints".to_owned();
    proof.same(&(said == kept), &true, again);
    proof.done();
}

/// *Common practice*: spring and fall cost extra tests. It holds for the plan with the usual
/// breaks, whose tests take up most changes, and for a shift without any.
#[test]
fn spring_and_fall_cost_more_extra_tests_than_summer_and_winter() {
    let mut proof = Proof::of(
        "plan/seasons",
        "More days with extra tests in spring and fall than in summer and winter, Newark 2013",
        "*common practice*",
        "shifts",
        Allowed::Range("more"),
    );
    for (breaks, n) in [(Breaks::Usual, 0), (Breaks::None, 1)] {
        let (mut spring_and_fall, mut summer_and_winter) = (0, 0);
        for (date, planned) in &*PLANNED {
            let causes = planned[n].iter().flatten().map(|(_, cause)| cause);
            let changed = u32::from(causes.into_iter().any(|cause| cause == "ambient-change"));
            match date.month() {
                3..=5 | 9..=11 => spring_and_fall += changed,
                _ => summer_and_winter += changed,
            }
        }
        let more = (Bound::Excluded(f64::from(summer_and_winter)), Bound::Unbounded);
        proof.inside(f64::from(spring_and_fall), more, || format!("breaks {breaks:?}"));
    }
    proof.done();
}
