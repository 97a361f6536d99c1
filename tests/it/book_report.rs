//! The book as the foreman and the office read it, from trials and a plan worked by hand.

mod day;

use chrono::TimeDelta;
use clap::Parser;
use fairseam::cli::book::flags::BookArguments;
use fairseam::cli::book::keeper::{BookKeeper, Imported};
use fairseam::cli::book::{Answer, BookData, answer, keep};
use fairseam::plan::{Checkpoint, DayPlan};
use fairseam::quality::{
    Correction, DayReport, EarlierForm, KeptPlan, KeptTrial, PlanAtHand, ReportInput, Standing,
    Status, day_report,
};
use fairseam::render::trial::Show;
use fairseam::render::words;
use fairseam::testweld::{JudgedTrial, Judging, Trial};
use fairseam::units::UnitSystem;
use fairseam::words::Language;

use crate::record_crew::{ZONE, plan, plan_of, site};
use crate::testweld_crew::{at, fahrenheit, trial};

/// 07:00 on the site's clock is 11:00 UTC.
const DAY: &str = "2027-04-21";
const AFTER_WORK: &str = "2027-04-21T20:00:00Z";
const GOOD: &str = "700 ccc, 800 ggg, 900 ggg, 1000 bbb";

fn kept(id: &str, when: &str, table: &str) -> KeptTrial {
    kept_of(id, trial(when, table))
}

fn kept_of(id: &str, trial: Trial) -> KeptTrial {
    let written_at = trial.when + TimeDelta::minutes(5);
    let judging = Judging::default_for(UnitSystem::Us);
    KeptTrial::new(id.to_owned(), written_at, trial, &site().welders, &judging)
}

#[derive(Parser)]
struct Line {
    #[command(flatten)]
    book: BookArguments,
}

fn arguments(flags: &[&str]) -> Result<BookArguments, String> {
    let line = Line::try_parse_from(["book", "roof.toml"].iter().chain(flags));
    line.map(|line| line.book).map_err(|error| error.to_string())
}

fn try_ask(
    flags: &[&str],
    trials: &[KeptTrial],
    plans: &[DayPlan],
    now: &str,
) -> anyhow::Result<Answer> {
    let site = site();
    let today = plans.first();
    let plans: Vec<PlanAtHand> = plans.iter().map(at_hand).collect();
    let plans = plans.as_slice();
    let arguments = arguments(flags).unwrap();
    let data =
        BookData { site: &site, zone: ZONE, now: at(now), trials, withdrawn: &[], plans, today };
    answer(&arguments.asked()?, arguments.format, &data)
}

fn ask(flags: &[&str], trials: &[KeptTrial], plans: &[DayPlan]) -> String {
    let shown = try_ask(flags, trials, plans, AFTER_WORK).unwrap().shown;
    if !flags.contains(&"--csv") && !flags.contains(&"json") {
        for line in shown.lines() {
            assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
            assert_eq!(line, line.trim_end(), "{flags:?}");
        }
    }
    shown
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Kept at midnight before the shift.
pub(crate) fn at_hand(plan: &DayPlan) -> PlanAtHand {
    let made_at = plan.date.and_hms_opt(4, 0, 0).unwrap().and_utc();
    let because = |point: &Checkpoint| words::because(point, plan);
    let plan = KeptPlan::of(plan, made_at, &because);
    PlanAtHand { plan, standing: Standing::AtShiftStart }
}

fn report(trials: &[KeptTrial], now: &str) -> DayReport {
    let site = site();
    let plan = at_hand(&plan(&site));
    day_report(&ReportInput {
        site: &site,
        time_zone: ZONE,
        date: DAY.parse().unwrap(),
        now: at(now),
        plan: Some(&plan),
        trials,
        withdrawn: &[],
    })
}

/// `done late:70 missed`: the checkpoints of 07:00, 09:45 and 12:30.
fn states(trials: &[KeptTrial], now: &str) -> String {
    let state = |status: Status| match status {
        Status::Late { by } | Status::Overdue { by } => {
            format!("{}:{}", status.name(), by.num_minutes())
        }
        _ => status.name().to_owned(),
    };
    let report = report(trials, now);
    report.checkpoints.iter().map(|point| state(point.status)).collect::<Vec<_>>().join(" ")
}

#[test]
fn the_list_and_one_trial_with_its_history() {
    let mut corrected = kept("2", "2027-04-21T14:40:00Z", GOOD);
    let old = trial("2027-04-21T14:40:00Z", "700 ccc, 800 ccc");
    let form = |mut trial: Trial, lot: &str| {
        trial.lot = Some(lot.to_owned());
        JudgedTrial::new(trial, site().welders.first(), &Judging::default_for(UnitSystem::Us))
    };
    corrected.correction =
        Some(Correction { by: "M.".to_owned(), why: "the good strips were left out".to_owned() });
    corrected.written_at = at("2027-04-21T18:00:00Z");
    corrected.earlier = vec![
        EarlierForm {
            written_at: at("2027-04-21T14:45:00Z"),
            judged: form(old.clone(), "B6"),
            checkpoint: None,
            correction: None,
        },
        EarlierForm {
            written_at: at("2027-04-21T16:00:00Z"),
            judged: form(old, "B7"),
            checkpoint: None,
            correction: Some(Correction { by: "K.".to_owned(), why: "lot misread".to_owned() }),
        },
    ];
    let trials = [kept("1", "2027-04-20T11:05:00Z", "700 ccc"), corrected];
    let list = ask(&[], &trials, &[]);
    let rows: Vec<&str> = list.lines().collect();
    assert!(rows[1].starts_with("2 ") && rows[2].starts_with("1 "), "newest first:\n{list}");
    assert!(
        flat(rows[1]).contains("2027-04-21 10:40 automatic 1 60 °F 850 °F at 8 ft/min"),
        "{list}"
    );
    assert!(
        flat(&list).contains("(corrected)")
            && flat(&list).contains("do not weld: no heat was good"),
        "{list}"
    );
    let whole = flat(&ask(&["--trial", "2"], &trials, &[]));
    for sentence in [
        "Trial 2 SET automatic 1: 850 °F at 8 ft/min",
        "2027-04-21 14:00 corrected by M.: the good strips were left out",
        "lot: B7, now none",
        "heats: 700 °F 3 x 0.25 in cold | 800 °F 3 x 0.25 in cold, now 700 °F",
        "2027-04-21 12:00 corrected by K.: lot misread",
        "lot: B6, now B7",
        "2027-04-21 10:45 written down",
        "As it was first written down: DO NOT WELD with automatic 1: no heat was good",
    ] {
        assert!(whole.contains(sentence), "`{sentence}` is missing:\n{whole}");
    }
    assert_eq!(whole.matches("certifies no seam").count(), 1);
    let fault = try_ask(&["--trial", "9"], &trials, &[], AFTER_WORK).unwrap_err().to_string();
    assert!(fault.contains("there is no trial `9`"), "{fault}");
    let fault = try_ask(&["--welder", "robot"], &trials, &[], AFTER_WORK).unwrap_err().to_string();
    assert!(fault.contains("expected one of the site's welders: automatic 1, hand 1"), "{fault}");
    assert!(ask(&["--welder", "hand 1"], &trials, &[]).contains("No test weld of this site"));
    let json: serde_json::Value =
        serde_json::from_str(&ask(&["--format", "json"], &trials, &[])).unwrap();
    assert_eq!(json["trials"][1]["earlier"][0]["judged"]["trial"]["lot"], "B6");
    assert_eq!(json["trials"][1]["corrected"]["by"], "M.");
}

#[test]
fn windows_over_time_are_drawn_to_scale() {
    let trials = [
        kept("1", "2027-04-20T11:05:00Z", "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1100 bbb"),
        kept("2", "2027-04-21T11:05:00Z", "700 ccc, 800 ccc, 900 gg"),
    ];
    let text = ask(&["--windows"], &trials, &[]);
    // 33 columns from 700 to 1100 °F: 8 columns for 100 °F.
    assert!(
        text.contains("  2027-04-20 07:05 |c       ========*========       b| 900 °F at 8 ft/min"),
        "{text}"
    );
    assert!(text.contains("  2027-04-21 07:05 |c       c       ?                | -"), "{text}");
    assert!(text.contains("700") && text.contains("1100 °F"), "{text}");
    let one = ask(&["--windows"], &[kept("1", "2027-04-20T11:05:00Z", "800 ggg")], &[]);
    assert!(one.contains("|*"), "{one}");
}

#[test]
fn what_was_learned_is_offered_only_once_it_is_earned() {
    let few = [kept("1", "2027-04-20T11:05:00Z", GOOD)];
    let text = flat(&ask(&["--learned"], &few, &[plan(&site())]));
    assert!(text.contains("AUTOMATIC 1 ON PVC 80 MIL"), "{text}");
    assert!(text.contains("0 trials with a closed window; no estimate before 6."), "{text}");
    assert!(!text.contains("Expect the middle"), "{text}");
    // A made-up crew whose middle falls by exactly 2 °F for each °F of air: 900 °F at 60 °F. One
    // trial after the other the air swings by 40 °F, so that carry-over is 80 °F off each time.
    let trials: Vec<KeptTrial> = (0..8_u32)
        .map(|day| {
            let air = if day % 2 == 0 { 40.0 } else { 80.0 };
            let middle = 900.0 - 2.0 * (air - 60.0);
            let table = format!(
                "{} ccc, {} ggg, {} ggg, {} bbb",
                middle - 150.0,
                middle - 100.0,
                middle + 100.0,
                middle + 150.0
            );
            let mut trial = trial(&format!("2027-04-{:02}T11:05:00Z", day + 1), &table);
            trial.ambient = fahrenheit(air);
            trial.thickness = site().sheet.thickness;
            kept_of(&day.to_string(), trial)
        })
        .collect();
    let text = flat(&ask(&["--learned"], &trials, &[plan(&site())]));
    assert!(text.contains("The estimate has earned to be offered: off by"), "{text}");
    assert!(text.contains("80 °F by carry-over"), "{text}");
    assert!(text.contains("Expect the middle near 900 °F, give or take"), "{text}");
    assert!(text.contains("found from the from the carried"), "{text}");
    // The second trial: found 860 °F, and carry-over says what the first had found, 940 °F.
    let row = text.find("2027-04-02 07:05 860 ").map(|at| &text[at..at + 40]).unwrap();
    assert!(row.trim_end_matches(|sign: char| !sign.is_ascii_digit()).contains(" 940"), "{row}");
}

#[test]
fn csv_has_a_row_for_each_strip_and_runs_no_formula() {
    let mut hostile = trial("2027-04-21T11:05:00Z", "700 c, 800 b");
    hostile.who = "=cmd|' /C calc'!A0".to_owned();
    hostile.note = Some("two\nlines, \"quoted\"".to_owned());
    hostile.heats[0].strips.clear();
    let trials = [kept_of("1", hostile), kept("2", "2027-04-25T11:05:00Z", GOOD)];
    let csv = ask(&["--csv", "2027-04-21..2027-04-22"], &trials, &[]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name: &str| head.iter().position(|known| known == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 2, "{csv}");
    assert_eq!(&rows[0][column("who")], "'=cmd|' /C calc'!A0");
    assert_eq!(&rows[0][column("note")], "two\nlines, \"quoted\"");
    assert_eq!((&rows[0][column("heat_degF")], &rows[0][column("width_in")]), ("700", ""));
    assert_eq!((&rows[1][column("heat_degF")], &rows[1][column("width_in")]), ("800", "2"));
    assert_eq!(&rows[1][column("signs")], "browning");
    assert_eq!(&rows[1][column("when")], "2027-04-21T07:05:00-04:00");
}

#[test]
fn a_month_for_the_office_adds_up() {
    let site = site();
    let plans = [plan_of(&site, "2027-04-20"), plan_of(&site, DAY)];
    let mut trials = day::a_day();
    trials.push(kept("4", "2027-04-02T11:05:00Z", GOOD));
    // April 20: one done, two missed. April 21: done, late, missed. April 2: no plan. Four trials
    // of 10 minutes.
    let text = flat(&ask(&["--month", "2027-04"], &trials, &plans));
    for row in [
        "Fri 2027-04-02 ? 0 0 0 1",
        "Tue 2027-04-20 3 1 0 2 1",
        "Wed 2027-04-21 3 2 1 1 2",
        "TOGETHER 6 3 1 3 4",
        "About 40 min spent on 4 trials, at 10 min each by the site's rule.",
        "1 day marked `?` without a plan at hand",
    ] {
        assert!(text.contains(row), "`{row}` is missing:\n{text}");
    }
    let json = ask(&["--month", "2027-04", "--format", "json"], &trials, &plans);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((&json["planned"], &json["minutes_spent"]), (&6.into(), &40.into()));
    assert!(ask(&["--month", "2027-05"], &trials, &plans).contains("No plan and no trial"));
}

/// A keeper that answers and remembers nothing.
struct Shelf;

impl BookKeeper for Shelf {
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>> {
        Ok(Vec::new())
    }

    fn verify(&self) -> anyhow::Result<usize> {
        anyhow::bail!("entry 3 does not fit the one before")
    }

    fn export(&self, _: &std::path::Path) -> anyhow::Result<usize> {
        Ok(7)
    }

    fn import(&mut self, _: &std::path::Path) -> anyhow::Result<Imported> {
        Ok(Imported { new: 2, known: 5 })
    }

    fn backup(&self, _: &std::path::Path) -> anyhow::Result<()> {
        Ok(())
    }
}

#[test]
fn the_keeper_is_asked_for_what_it_alone_can_do() {
    let said = |flags: &[&str]| keep(&arguments(flags).unwrap().asked().unwrap(), &mut Shelf);
    assert_eq!(said(&["--export", "a.jsonl"]).unwrap().unwrap(), "7 entries exported to a.jsonl");
    assert_eq!(
        said(&["--import", "a.jsonl"]).unwrap().unwrap(),
        "2 entries imported from a.jsonl, 5 already in the book"
    );
    assert_eq!(said(&["--backup", "b"]).unwrap().unwrap(), "backup written to b");
    assert!(said(&["--verify"]).unwrap_err().to_string().contains("entry 3"));
    assert_eq!(said(&["--windows"]).unwrap(), None);
}

#[test]
fn wrong_usage_says_what_was_expected() {
    for (flags, expected) in [
        (&["--windows", "--learned"][..], "cannot be used with"),
        (&["--report", "2027-02-30"], "YYYY-MM-DD"),
        (&["--csv", "2027-04-21"], "expected two dates"),
        (&["--csv", "2027-04-22..2027-04-21"], "the earlier first"),
        (&["--month", "2027-13"], "expected a month as YYYY-MM"),
        (&["--month", "April"], "expected a month"),
        (&["--html", "x.html"], "--report"),
        (&["--verify", "--welder", "x"], "cannot be used with"),
    ] {
        let said = arguments(flags).unwrap_err();
        assert!(said.contains(expected), "{flags:?} said {said}");
    }
    let said = arguments(&["--windows", "--format", "json"]).unwrap().asked().unwrap_err();
    assert!(said.to_string().contains("leave it out here"), "{said}");
}

#[test]
fn every_trial_can_be_shown_in_json() {
    let show = Show { language: Language::En, zone: ZONE, units: UnitSystem::Us };
    let mut broken = trial(AFTER_WORK, GOOD);
    assert!(show.trial(&broken, None).is_some());
    // A number that is none has no JSON; it is told, not written as zero.
    broken.ambient = fahrenheit(f64::NAN);
    assert!(show.trial(&broken, None).is_none());
}
