//! The two rules on real days: the plan against tables worked by hand, and the tables against an
//! oracle in another language.
//!
//! Weather: hourly observations at Newark airport, 2013 (see `fixtures/README.md`). Rules: the
//! project's own, read as `oracle/README.md` says.

mod tables;

use std::process::Command;
use std::sync::LazyLock;

use serde_json::{Value, json};

use crate::proof::{Allowed, Proof};
use crate::support::{Outcome, example_site, fixture, in_tests, run, skip};
use tables::{APRIL_9, DAYS, DECEMBER_28, Day, SEPTEMBER_12, YEAR};

/// One line of a table.
struct Row {
    time: &'static str,
    id: &'static str,
    cause: &'static str,
    air_f: f64,
    start_speed: f64,
    working: &'static str,
}

impl Day {
    fn rows(&self) -> Vec<Row> {
        self.table.lines().filter(|line| !line.is_empty()).map(parse_row).collect()
    }

    fn site(&self) -> String {
        let breaks: Vec<String> = self
            .breaks
            .iter()
            .map(|(name, start, minutes)| {
                format!("{{ name = \"{name}\", start = \"{start}\", minutes = {minutes} }}")
            })
            .collect();
        example_site(&[
            ("time_zone", &format!("\"{}\"", self.zone)),
            ("shift.start", &format!("\"{}\"", self.shift.0)),
            ("shift.end", &format!("\"{}\"", self.shift.1)),
            ("shift.breaks", &format!("[{}]", breaks.join(", "))),
            ("rules.max_hours_between", &self.max_hours_between.to_string()),
        ])
    }
}

fn parse_row(line: &'static str) -> Row {
    let (result, working) = line.split_once('|').unwrap();
    let [time, id, cause, air, speed]: [&str; 5] =
        result.split_whitespace().collect::<Vec<_>>().try_into().unwrap();
    let (air_f, start_speed) = (air.parse().unwrap(), speed.parse().unwrap());
    Row { time, id, cause, air_f, start_speed, working: working.trim() }
}

fn run_plan(site: &str, date: &str, forecast: &str) -> Outcome {
    let forecast = fixture(forecast);
    let args = ["plan", "site.toml", "--date", date, "--forecast", &forecast, "--format", "json"];
    run(&args, &[("site.toml", site)], &[])
}

/// The plan's JSON, or a failure that shows what came instead.
fn plan(site: &str, date: &str, forecast: &str) -> Value {
    let outcome = run_plan(site, date, forecast);
    assert_eq!(outcome.code, 0, "{date}: {}", outcome.shown());
    serde_json::from_str(&outcome.stdout)
        .unwrap_or_else(|error| panic!("{date}: not JSON ({error})\n{}", outcome.shown()))
}

/// Whether two temperatures agree; the plan may show tenths, which are 0.05 off at most.
const TENTHS: Allowed = Allowed::Absolute(0.06, "°F");

#[test]
fn the_plan_agrees_with_every_day_worked_by_hand() {
    let mut days = Proof::of(
        "plan/days-by-hand",
        "Test welds of real days: which and when; rules of the project, weather of Newark 2013",
        "worked by hand with a pocket calculator, tests/it/days/tables.rs",
        "days",
        Allowed::Nothing,
    );
    let mut settings = Proof::of(
        "plan/days-by-hand-settings",
        "Cause, start speed and heats of each of those test welds",
        "worked by hand",
        "test welds",
        Allowed::Nothing,
    );
    let mut airs = Proof::of(
        "plan/days-by-hand-air",
        "Air at each of those test welds",
        "worked by hand; the plan shows tenths",
        "test welds",
        TENTHS,
    );
    for day in DAYS {
        let label = format!("{}: {}", day.date, day.shows);
        let plan = plan(&day.site(), day.date, day.forecast);
        let got = plan["checkpoints"].as_array().unwrap();
        let rows = day.rows();
        let moments: Vec<String> =
            got.iter().map(|c| format!("{} {}", c["time"], c["id"]).replace('"', "")).collect();
        let expected: Vec<String> =
            rows.iter().map(|row| format!("{} {}", row.time, row.id)).collect();
        days.same(&moments, &expected, || label.clone());
        for (checkpoint, row) in got.iter().zip(&rows) {
            let seen = || format!("{label}: {} ({}) gave {checkpoint:#}", row.id, row.working);
            airs.near(checkpoint["air"].as_f64().unwrap(), row.air_f, seen);
            let setting = &checkpoint["settings"][0];
            let got = json!({
                "cause": checkpoint["cause"],
                "start_speed": setting["start_speed"].as_f64(),
                "kind": setting["trial"]["kind"],
                "speed_held": setting["trial"]["speed_held"].as_f64(),
                "heats": setting["trial"]["heats"],
            });
            let expected = json!({
                "cause": row.cause,
                "start_speed": row.start_speed,
                "kind": "full-range",
                "speed_held": row.start_speed,
                "heats": [700, 800, 900, 1000, 1100],
            });
            settings.same(&got, &expected, seen);
        }
    }
    for proof in [days, settings, airs] {
        proof.done();
    }
}

#[test]
fn the_oracle_agrees_with_every_day_worked_by_hand() {
    let mut proof = Proof::of(
        "plan/oracle-by-hand",
        "The second program for the two rules itself, tests/oracle/two_rules.py",
        "worked by hand, tests/it/days/tables.rs",
        "days",
        Allowed::Nothing,
    )
    .when_installed(DAYS.len());
    for day in DAYS {
        let label = format!("{}: {}", day.date, day.shows);
        let Some(answer) = ask_oracle(day) else { return proof.done() };
        let answer: Vec<Vec<&str>> = answer.lines().map(|line| line.split(',').collect()).collect();
        let rows = day.rows();
        proof.same(&answer.len(), &rows.len(), || format!("{label}: the oracle says {answer:?}"));
        for (said, row) in answer.iter().zip(&rows) {
            assert_eq!(said[..3], [row.time, row.id, row.cause], "{label}: {}", row.working);
            let air: f64 = said[3].parse().unwrap();
            assert!((air - row.air_f).abs() < 0.0051, "{label}: {said:?}: {}", row.working);
            assert_eq!(said[4].parse(), Ok(row.start_speed), "{label}: {}", row.working);
        }
    }
    proof.done();
}

/// The oracle's lines for `day`; `None` where no Python with the zones is at hand.
fn ask_oracle(day: &Day) -> Option<String> {
    let mut args = vec![
        "day".to_owned(),
        fixture(day.forecast),
        day.date.to_owned(),
        format!("--zone={}", day.zone),
        format!("--shift={}-{}", day.shift.0, day.shift.1),
        format!("--max-hours={}", day.max_hours_between),
    ];
    args.extend(
        day.breaks.iter().map(|(name, start, min)| format!("--break={name}@{start}+{min}")),
    );
    if day.breaks.is_empty() {
        args.push("--no-breaks".to_owned());
    }
    run_oracle(&args)
}

/// Whether `python3` runs here and knows the zones.
static PYTHON_HAS_ZONES: LazyLock<bool> = LazyLock::new(|| {
    let zones = "import zoneinfo; zoneinfo.ZoneInfo('America/New_York')";
    let tried = Command::new("python3").args(["-c", zones]).output();
    tried.is_ok_and(|output| output.status.success())
});

/// Runs `tests/oracle/two_rules.py`; `None`, and a word about it, where Python is not at hand.
pub(crate) fn run_oracle(args: &[String]) -> Option<String> {
    if !*PYTHON_HAS_ZONES {
        skip("no python3 with time zones, so the oracle was not asked");
        return None;
    }
    let script = in_tests("oracle/two_rules.py");
    let output = Command::new("python3").arg("-B").arg(script).args(args).output().unwrap();
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    Some(String::from_utf8(output.stdout).unwrap())
}

#[test]
fn bridged_hours_are_reported() {
    let plan = plan(&example_site(&[]), "2013-07-02", YEAR);
    let bridged = plan["weather"]["bridged"].to_string();
    for hour in ["2013-07-02T08:00:00-04:00", "2013-07-02T10:00:00-04:00"] {
        assert!(bridged.contains(hour), "{hour} is not in weather.bridged: {bridged}");
    }
}

/// A shift, and words that the message about its missing hours must hold.
struct Gap {
    date: &'static str,
    shift: (&'static str, &'static str),
    names: &'static [&'static str],
}

/// Gaps of more than one hour in the record, in local time.
const GAPS: &[Gap] = &[
    // No rows for 07:00 and 08:00.
    Gap { date: "2013-10-23", shift: ("07:00", "15:30"), names: &["2013-10-23", "07:00", "08:00"] },
    // No rows from 21:00 to the first of the two 01:00 of the fall clock change.
    Gap { date: "2013-11-02", shift: ("22:00", "06:00"), names: &["2013-11-02", "22:00", "01:00"] },
    // The record ends with 19:00 of the day before, which the message has to say.
    Gap { date: "2013-12-31", shift: ("07:00", "15:30"), names: &["2013-12-31", "2013-12-30"] },
];

#[test]
fn a_longer_gap_is_named_and_nothing_is_invented() {
    for Gap { date, shift, names } in GAPS {
        let site = example_site(&[
            ("shift.start", &format!("\"{}\"", shift.0)),
            ("shift.end", &format!("\"{}\"", shift.1)),
            ("shift.breaks", "[]"),
        ]);
        let forecast = fixture(YEAR);
        let args = ["plan", "site.toml", "--date", date, "--forecast", &forecast];
        let more = ["--format", "json", "--ics", "day.ics"];
        let outcome = run(&[&args[..], &more].concat(), &[("site.toml", &site)], &[]);
        assert_eq!(outcome.code, 1, "{date}: {}", outcome.shown());
        assert_eq!(outcome.stdout, "", "{date}");
        assert!(!outcome.wrote("day.ics"), "{date}: a calendar was written all the same");
        for name in *names {
            assert!(outcome.stderr.contains(name), "{date} lacks {name}: {}", outcome.stderr);
        }
    }
}

/// Time, verdict and reasons (as one text) of each of the plan's hours.
fn verdicts(plan: &Value) -> Vec<(String, String, String)> {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    plan["hours"]
        .as_array()
        .unwrap()
        .iter()
        .map(|hour| (text(&hour["time"]), text(&hour["verdict"]), hour["reasons"].to_string()))
        .collect()
}

#[test]
fn an_hour_of_rain_is_a_hold() {
    let plan = plan(&example_site(&[]), "2013-09-12", SEPTEMBER_12);
    let hours = verdicts(&plan);
    assert_eq!(hours.len(), 9, "07:00 to 15:00: {hours:?}");
    let mut proof = Proof::of(
        "plan/rain-by-hand",
        "Weld or hold on a day with an hour of rain, hour by hour",
        "read off the observed weather by hand",
        "hours",
        Allowed::Nothing,
    );
    for (time, verdict, reasons) in hours {
        let expected = if time == "2013-09-12T13:00:00-04:00" { "hold" } else { "weld" };
        proof.same(&verdict, expected, || format!("{time}: {reasons}"));
        assert_eq!(
            reasons.to_lowercase().contains("rain"),
            expected == "hold",
            "{time}: {reasons}"
        );
    }
    proof.done();
    let spans: Vec<String> = plan["spans"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| format!("{} {} {}", s["start"], s["end"], s["verdict"]).replace('"', ""))
        .collect();
    let expected = [
        "2013-09-12T07:00:00-04:00 2013-09-12T13:00:00-04:00 weld",
        "2013-09-12T13:00:00-04:00 2013-09-12T14:00:00-04:00 hold",
        "2013-09-12T14:00:00-04:00 2013-09-12T15:30:00-04:00 weld",
    ];
    assert_eq!(spans, expected);
    // 8.5 h of shift, 0.75 h of breaks, 1 h of rain outside them.
    assert_eq!(plan["summary"]["weldable_hours"].as_f64(), Some(6.75));
}

#[test]
fn air_below_40_and_gusts_from_25_need_care() {
    let plan = plan(&example_site(&[]), "2013-12-28", DECEMBER_28);
    // Air: 30.0, 30.0, 35.1, 39.9, then 44.1 and more. Gusts, each of the hour before its stamp:
    // 24.2 at 13:00, then 26.5, 28.8 and 26.5 mph. Both limits are common practice.
    let expected = ["care", "care", "care", "care", "weld", "weld", "care", "care", "care"];
    let got = verdicts(&plan);
    let mut proof = Proof::of(
        "plan/care-by-hand",
        "Weld or care on a cold day with gusts, hour by hour",
        "read off the observed weather by hand; limits *common practice*",
        "hours",
        Allowed::Nothing,
    );
    for ((time, verdict, _), expected) in got.iter().zip(expected) {
        proof.same(verdict, expected, || time.clone());
    }
    assert_eq!(got.len(), expected.len());
    proof.done();
    for (n, (time, _, reasons)) in got.iter().enumerate() {
        assert_eq!(reasons.contains("40"), n < 4, "{time}: {reasons}");
        assert_eq!(reasons.to_lowercase().contains("gust"), n >= 6, "{time}: {reasons}");
    }
    let spans = plan["spans"].as_array().unwrap();
    assert_eq!(spans[0]["start"], "2013-12-28T07:00:00-05:00");
    assert_eq!(spans[0]["verdict"], "care");
    // Whether minute by minute (40.0 at 10:02) or by the hour, care for cold ends by 11:00.
    let end = spans[0]["end"].as_str().unwrap();
    assert!(("2013-12-28T10:02".."2013-12-28T11:01").contains(&end), "cold ends at {end}");
    assert_eq!(spans[1]["verdict"], "weld");
}

#[test]
fn the_day_at_a_glance_adds_up() {
    let plan = plan(&example_site(&[]), "2013-04-09", APRIL_9);
    let summary = &plan["summary"];
    // Lowest at 07:00, 53.1; highest from 15:00 on, 84.0; 84.0 - 53.1 = 30.9.
    let mut proof = Proof::of(
        "plan/day-at-a-glance",
        "Lowest and highest air of a shift, and its swing",
        "read off the observed weather by hand",
        "numbers",
        TENTHS,
    );
    for (key, expected) in [("air_min", 53.1), ("air_max", 84.0), ("air_swing", 30.9)] {
        proof.near(summary[key].as_f64().unwrap(), expected, || format!("{key}: {summary}"));
    }
    proof.done();
    // 07:00 to 15:30 is 8.5 h, less breaks of 15 and 30 minutes.
    assert_eq!(summary["weldable_hours"].as_f64(), Some(7.75));
    assert_eq!(summary["checkpoints"], 4);
}
