//! What moving a job by a month would save, against years worked by hand with the calendar.

use chrono::{Datelike, NaiveDate};
use fairseam::season::{HoldMinutes, Job, JobMoves, SeasonDay, TestCauses, Workday, job_moves};
use fairseam::site::{Rules, Site, load};
use fairseam::units::Length;

use crate::outlook::{invented_hours, json};
use crate::proof::{Allowed, Proof};
use crate::support::{example_site, run};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn site() -> Site {
    let rules = [("rules.crew_size", "4"), ("rules.crew_cost_per_hour", "55")];
    load(&example_site(&rules), "site.toml").unwrap().site
}

/// Every workday from 2012 to April 2015. In March a day lays 50 m, takes 2 tests and has 365 minutes to
/// weld in; else it lays 100 m and has 465: in April with 4 tests (in 2012 with 3), in other months
/// with 1. May 5, 2014 is without weather.
fn record() -> Vec<SeasonDay> {
    let all = date("2012-01-01").iter_days().take_while(|day| *day <= date("2015-04-30"));
    let workdays = all.filter(|day| day.weekday().num_days_from_monday() < 5);
    workdays
        .map(|day| {
            let (tests, seam_m, weldable_minutes) = match (day.month(), day.year()) {
                (3, _) => (2, 50.0, 365),
                (4, 2012) => (3, 100.0, 465),
                (4, _) => (4, 100.0, 465),
                _ => (1, 100.0, 465),
            };
            let workday = Workday {
                tests: TestCauses { start: tests, ..TestCauses::default() },
                working_minutes: 465,
                weldable_minutes,
                held: HoldMinutes::default(),
                first_weldable: Some(0),
                weldable_until: Some(510),
                begins_wet: false,
                air_c: (10.0, 20.0),
                seam_m,
                partly_known: false,
            };
            SeasonDay { date: day, workday: (day != date("2014-05-05")).then_some(workday) }
        })
        .collect()
}

fn moves(rules: &Rules, start: &str, finish: &str, meters: Option<f64>) -> JobMoves {
    let footage = meters.map(Length::from_meters);
    let job = Job { start: date(start), finish: date(finish), footage };
    job_moves(rules, &site().shift.workdays, &record(), job)
}

/// A year that counts both ways: saved tests, workdays, minutes to weld in gained.
type Saved = (i32, i64, i64, i64);

fn saved(moves: &JobMoves) -> [Vec<Saved>; 2] {
    moves.moved.each_ref().map(|moved| {
        let years = moved.saved.iter();
        years.map(|year| (year.year, year.tests, year.workdays, year.weldable_gained)).collect()
    })
}

#[test]
fn each_year_is_held_against_itself() {
    let rules = site().rules;
    let mut proof = Proof::of(
        "outlook/job-moved",
        "Tests, workdays and weldable minutes that a job moved by a month saves, year by year",
        "worked by hand with the calendar",
        "moves",
        Allowed::Nothing,
    );
    // 1000 m from April 1 are 10 workdays: 40 tests, in 2012 30. From March 1 they are 20 workdays of
    // 50 m, 40 tests, the last of them before April in every year; 7300 minutes against 4650. From
    // May 1 they are 10 workdays with 10 tests; 2014 lacks a day of them, and the record ends before
    // May 2015.
    let by_seam = moves(&rules, "2027-04-01", "2027-05-15", Some(1000.0));
    let earlier = [(2012, -10), (2013, 0), (2014, 0), (2015, 0)];
    let earlier = earlier.map(|(year, tests)| (year, tests, -10, 2650)).to_vec();
    let later = vec![(2012, 20, 0, 0), (2013, 30, 0, 0)];
    proof.same(&saved(&by_seam), &[earlier, later], || "by seam".to_owned());
    let planned: Vec<_> = by_seam.planned.iter().map(|y| (y.year, y.first, y.last)).collect();
    assert_eq!(planned[1], (2013, date("2013-04-01"), date("2013-04-12")));
    assert_eq!(by_seam.moved[0].years[1].last, date("2013-03-28"));
    // The same without a length of seam: April 1 to 12 has 8, 9 and 10 workdays (2011 aside: 2012 has 9,
    // 2013 10, 2014 9, 2015 8), and as many are taken from March 1, with 2 tests each.
    let by_days = moves(&rules, "2027-04-01", "2027-04-12", None);
    let earlier =
        vec![(2012, 9, 0, -900), (2013, 20, 0, -1000), (2014, 18, 0, -900), (2015, 16, 0, -800)];
    let later = vec![(2012, 18, 0, 0), (2013, 30, 0, 0)];
    proof.same(&saved(&by_days), &[earlier, later], || "by workdays".to_owned());
    proof.done();
    // The middle of two is the first of them; 20 tests of 10 minutes, 4 people at 55 an hour.
    let tests = by_seam.moved[1].spread(|year| year.tests).unwrap();
    assert_eq!((tests.p10, tests.p50, tests.p90), (20, 20, 30));
    assert_eq!(by_seam.minutes(20), 200);
    assert!((by_seam.cost(200).unwrap() - 200.0 / 60.0 * 4.0 * 55.0).abs() < 1e-9);
    assert!((by_seam.cost(-60).unwrap() + 220.0).abs() < 1e-9);
    assert_eq!(
        moves(&Rules { crew_size: None, ..rules }, "2027-04-01", "2027-04-12", None).cost(60),
        None
    );
}

#[test]
fn a_move_crosses_new_year_and_ends_of_months() {
    let rules = site().rules;
    // From December 10 of the year before: 2011 is not on record.
    let over = moves(&rules, "2027-01-10", "2027-02-01", Some(300.0));
    let years = |of: &[fairseam::season::JobYear]| of.iter().map(|y| y.year).collect::<Vec<_>>();
    assert_eq!(years(&over.planned), [2012, 2013, 2014, 2015]);
    assert_eq!(years(&over.moved[0].years), [2013, 2014, 2015]);
    assert_eq!(over.moved[0].start, date("2026-12-10"));
    // 2013: Thu 10, Fri 11, Mon 14 of January; Mon 10 to Wed 12 of December 2012.
    assert_eq!(over.moved[0].years[0].first, date("2012-12-10"));
    assert_eq!(over.moved[0].years[0].last, date("2012-12-12"));
    // The last day of a shorter month; in 2012 February has 29.
    let clamped = moves(&rules, "2027-03-31", "2027-04-10", Some(100.0));
    assert_eq!(
        clamped.moved.each_ref().map(|one| one.start),
        [date("2027-02-28"), date("2027-04-30")]
    );
    assert_eq!(clamped.moved[0].years[0].first, date("2012-02-29"));
    // A roof of hand welders lays no seam: nothing comes to an end.
    let never = moves(&rules, "2027-04-01", "2027-04-12", Some(1e9));
    assert!(never.planned.is_empty() && never.moved.iter().all(|one| one.saved.is_empty()));
    // Days on which the job was worked on: as planned, and a month earlier.
    let by_seam = moves(&rules, "2027-04-01", "2027-05-15", Some(1000.0));
    assert_eq!(by_seam.is_worked(date("2013-04-12")), [false, true, false]);
    assert_eq!(by_seam.is_worked(date("2013-03-28")), [true, false, false]);
    assert_eq!(by_seam.is_worked(date("2013-04-15")), [false; 3]);
}

/// Half a year without rain: every day lays the same, and nothing is saved but what the air asks for.
#[test]
fn the_command_says_what_a_move_saves_in_every_output() {
    let hours = invented_hours("2012-12-01T00:00:00Z", 200 * 24, |_| false);
    let site = |more: &[(&str, &str)]| example_site(more);
    let asked = |toml: &str, more: &[&str]| {
        let mut arguments = vec!["outlook", "site.toml", "--years", "hours.csv"];
        arguments.extend(["--start", "2027-03-01", "--finish", "2027-03-31"]);
        arguments.extend(more);
        run(&arguments, &[("site.toml", toml), ("hours.csv", &hours)], &[])
    };
    let priced = site(&[("rules.crew_size", "4"), ("rules.crew_cost_per_hour", "55")]);
    let outlook = json(&asked(&priced, &["--footage", "20000", "--format", "json"]));
    let moves = &outlook["sites"][0]["record"]["moves"];
    assert_eq!((&moves["footage"], &moves["start"]), (&20000.into(), &"2027-03-01".into()));
    assert_eq!(moves["planned"]["years_counted"], 1);
    let (earlier, later) = (&moves["moved"][0], &moves["moved"][1]);
    assert_eq!((&earlier["months"], &earlier["start"]), (&(-1).into(), &"2027-02-01".into()));
    assert_eq!((&later["months"], &later["start"]), (&1.into(), &"2027-04-01".into()));
    for moved in [earlier, later] {
        assert_eq!(moved["years_compared"], 1);
        let one = |what: &serde_json::Value| what["p50"].as_f64().unwrap();
        // Planned less moved, by the two numbers beside it; 10 minutes a test, 220 an hour.
        let tests = one(&moves["planned"]["tests"]) - one(&moved["takes"]["tests"]);
        assert_eq!(one(&moved["saved"]["tests"]), tests);
        assert_eq!(one(&moved["saved"]["minutes"]), 10.0 * tests);
        assert!((one(&moved["saved"]["cost"]) - tests / 6.0 * 220.0).abs() < 0.01);
    }
    let text = asked(&priced, &["--footage", "20000"]).stdout;
    for said in ["MOVING THE JOB BY A MONTH", "A month earlier, from 2027-02-01: ", "A month later"]
    {
        assert!(text.contains(said), "{said} in\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    // Neither seam nor price: the job is its workdays, and it is said what would tell more.
    let bare = asked(&site(&[]), &[]);
    assert_eq!(bare.code, 0, "{}", bare.shown());
    for said in ["`--footage`", "`crew_size`"] {
        assert!(bare.stdout.contains(said), "{said} in\n{}", bare.stdout);
    }
    let bare = json(&asked(&site(&[]), &["--format", "json"]));
    let record = &bare["sites"][0]["record"];
    assert_eq!((&record["finish"], &record["moves"]["footage"]), (&().into(), &().into()));
    assert_eq!(record["moves"]["moved"][0]["saved"]["cost"], serde_json::Value::Null);
    // A column of the CSV, where a job is asked about. March has 21 workdays in 2013; February 1 and April
    // 1 of that year begin as many.
    let rows = asked(&site(&[]), &["--format", "csv"]).stdout;
    let mut reader = csv::Reader::from_reader(rows.as_bytes());
    let job = reader.headers().unwrap().iter().position(|column| column == "job").unwrap();
    let of: Vec<String> = reader.records().map(|row| row.unwrap()[job].to_owned()).collect();
    for placed in ["earlier", "planned", "later"] {
        let count = of.iter().filter(|cell| cell.split(' ').any(|one| one == placed)).count();
        assert_eq!(count, 21, "{placed}");
    }
}
