//! The book as the foreman and the office read it, from trials and a plan worked by hand.

use chrono::TimeDelta;
use clap::Parser;
use fairseam::cli::book::flags::BookArguments;
use fairseam::cli::book::keeper::{BookKeeper, Imported};
use fairseam::cli::book::{Answer, BookData, answer, keep};
use fairseam::plan::{Checkpoint, DayPlan};
use fairseam::quality::{
    Correction, DayReport, EarlierForm, KeptPlan, KeptTrial, PlanAtHand, Ran, ReportInput,
    Standing, Status, day_report,
};
use fairseam::render::trial::Show;
use fairseam::render::words;
use fairseam::testweld::{JudgedTrial, Judging, Trial};
use fairseam::units::UnitSystem;
use fairseam::words::Language;

use crate::proof::{Allowed, Proof};
use crate::record_crew::{ZONE, plan, plan_of, site};
use crate::testweld_crew::{at, fahrenheit, feet_per_minute, trial};

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
fn checkpoints_are_held_against_trials() {
    // A test takes 10 minutes by the site's rule and 15 are allowed: in time until 07:25 (11:25Z),
    // 10:10 (14:10Z) and 12:55 (16:55Z). The shift ends at 15:30 (19:30Z).
    let made = |times: &[&str]| -> Vec<KeptTrial> {
        (1..)
            .zip(times)
            .map(|(id, time)| kept(&format!("{id}"), &format!("{DAY}T{time}:00Z"), GOOD))
            .collect()
    };
    for (times, expected) in [
        (&["11:05", "13:50", "16:35"][..], "done done done"),
        (&["10:30", "13:15", "16:00"], "done done done"),
        (&["10:29", "13:50", "16:35"], "missed done done"),
        (&["11:25", "14:10", "16:55"], "done done done"),
        (&["11:26", "14:11", "16:56"], "late:26 late:26 late:26"),
        (&["11:05", "16:35"], "done missed done"),
        (&["11:05", "13:50"], "done done missed"),
        (&["11:05", "11:15", "13:50", "16:35"], "done done done"),
        // Within reach of two checkpoints it counts for the earlier that is open.
        (&["13:20", "13:50", "16:35"], "late:140 done done"),
        (&["11:05", "19:31"], "done missed missed"),
        (&[], "missed missed missed"),
    ] {
        assert_eq!(states(&made(times), AFTER_WORK), expected, "{times:?}");
    }
    for (now, expected) in [
        ("2027-04-21T10:00:00Z", "not-due not-due not-due"),
        ("2027-04-21T11:25:00Z", "not-due not-due not-due"),
        ("2027-04-21T11:45:00Z", "overdue:45 not-due not-due"),
        ("2027-04-21T13:45:00Z", "missed not-due not-due"),
        ("2027-04-21T18:00:00Z", "missed missed overdue:90"),
        ("2027-04-21T19:30:00Z", "missed missed missed"),
    ] {
        assert_eq!(states(&[], now), expected, "{now}");
    }
}

#[test]
fn what_proves_nothing_keeps_no_checkpoint_and_a_failed_test_does() {
    let trials = [
        kept("1", "2027-04-21T11:05:00Z", "800 gg"),
        kept("2", "2027-04-21T13:50:00Z", "700 ccc, 800 ccc"),
        kept("3", "2027-04-21T16:35:00Z", "800 gg"),
        kept("4", "2027-04-21T17:10:00Z", GOOD),
    ];
    // The second was a test weld that ended in `do not weld`: made, and in time.
    assert_eq!(states(&trials, AFTER_WORK), "proved-nothing done late:40");
}

#[test]
fn a_welder_in_its_box_is_named_and_not_counted() {
    let mut trials = vec![kept("1", "2027-04-21T11:05:00Z", GOOD)];
    let with_hand = report(&trials, AFTER_WORK);
    assert_eq!(with_hand.checkpoints[0].status, Status::Done);
    let text = ask(&["--report", DAY], &trials, &[plan(&site())]);
    assert!(text.contains("hand 1: no test weld on this day"), "{text}");
    // Once it was tested that day, its other checkpoints are missed.
    let mut by_hand = trial("2027-04-21T16:35:00Z", GOOD);
    (by_hand.welder, by_hand.speed) = ("hand 1".to_owned(), None);
    by_hand.welder_kind = fairseam::site::Kind::Hand;
    trials.push(kept_of("2", by_hand));
    assert_eq!(states(&trials, AFTER_WORK), "missed missed missed");
}

fn a_day() -> Vec<KeptTrial> {
    let mut first = trial("2027-04-21T11:05:00Z", GOOD);
    first.sheet = Some(fahrenheit(75.0));
    first.ambient = fahrenheit(62.0);
    first.lot = Some("B7".to_owned());
    let mut first = kept_of("1", first);
    let (heat, speed) = (fahrenheit(850.0), Some(feet_per_minute(8.0)));
    first.ran.push(Ran { written_at: at("2027-04-21T11:30:00Z"), heat, speed });
    vec![
        first,
        kept("2", "2027-04-21T14:40:00Z", "700 ccc, 800 ccc"),
        kept("3", "2027-04-20T11:05:00Z", GOOD),
    ]
}

#[test]
fn the_daily_report_says_all_that_the_file_needs() {
    let text = flat(&ask(&["--report", DAY], &a_day(), &[plan(&site())]));
    for sentence in [
        "DAILY QUALITY REPORT: TEST WELDS",
        "Cold-store re-roof, east bay - Wednesday, April 21, 2027",
        "3 checkpoints: 1 done, 1 late, 1 missed; 2 trials.",
        "As forecast: air 60 °F to 60 °F over the shift.",
        "07:05 air 62 °F as written down, 60 °F by the plan's forecast; sheet 75 °F read",
        "07:00 done: start of shift",
        "automatic 1: done (trial 1)",
        "09:45 late, 55 min after it fell due: after morning break (15 min)",
        "automatic 1: late, 55 min after it fell due (trial 2)",
        "12:30 missed: after lunch (30 min)",
        "TRIAL 1, 07:05 SET automatic 1: 850 °F at 8 ft/min",
        "really run: 850 °F at 8 ft/min",
        "2027-04-21 07:05 by operator",
        "pvc 60 mil, lot B7",
        "3 x 1.5 in film tear",
        "DO NOT WELD with automatic 1: no heat was good",
        "It certifies no seam",
    ] {
        assert!(text.contains(sentence), "`{sentence}` is missing:\n{text}");
    }
    assert!(!text.contains("trial 3"), "another day's trial is in it");
    let text = flat(&ask(&["--report", DAY], &a_day(), &[]));
    assert!(text.contains("No plan of this day is at hand"), "{text}");
}

#[test]
fn the_report_as_json_says_the_same() {
    let text = ask(&["--report", DAY, "--format", "json"], &a_day(), &[plan(&site())]);
    let report: serde_json::Value = serde_json::from_str(&text).unwrap();
    let schema = schemars::schema_for!(fairseam::render::trial::wire_report::ReportJson);
    let validator = jsonschema::validator_for(&serde_json::to_value(schema).unwrap()).unwrap();
    let mut proof = Proof::of(
        "files/schema-report",
        "A day's report as JSON, sound by its own schema",
        "judged by the crate jsonschema",
        "document",
        Allowed::Nothing,
    );
    proof.same(&validator.is_valid(&report), &true, || "the report".to_owned());
    proof.done();
    assert_eq!(report["checkpoints"][0]["status"], "done");
    assert_eq!(report["checkpoints"][1]["status"], "late");
    assert_eq!(report["checkpoints"][1]["welders"][0]["late_minutes"], 55);
    assert_eq!(report["checkpoints"][1]["welders"][0]["trials"], serde_json::json!(["2"]));
    assert_eq!(report["checkpoints"][2]["status"], "missed");
    assert_eq!(report["checkpoints"][0]["due"], "2027-04-21T07:00:00-04:00");
    assert_eq!(report["trials"][0]["air_forecast"], 60);
    assert_eq!(report["trials"][0]["judged"]["trial"]["air"], 62);
    assert_eq!(report["trials"][0]["judged"]["setting"]["heat"], 850);
    assert_eq!(report["trials"][0]["ran"][0]["heat"], 850);
    assert_eq!(report["trials"].as_array().unwrap().len(), 2);
}

#[test]
fn the_page_for_the_printer_is_escaped_and_loads_nothing() {
    let hostile = "</style><script>alert(1)</script>\" onload='x' & \u{202e}\u{0}<img src=x>";
    let mut trial = trial("2027-04-21T11:05:00Z", GOOD);
    trial.who = hostile.to_owned();
    trial.note = Some(hostile.to_owned());
    trial.lot = Some(hostile.to_owned());
    let mut kept = kept_of(hostile, trial);
    kept.correction = Some(Correction { by: hostile.to_owned(), why: hostile.to_owned() });
    let answer = try_ask(&["--report", DAY], &[kept], &[plan(&site())], AFTER_WORK).unwrap();
    let page = answer.page.unwrap();
    assert!(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"), "{page}");
    for forbidden in
        ["<script", "<img", "onload='", "\u{202e}", "\u{0}", "http://", "https://", "src="]
    {
        let found = page.replace("src=x&gt;", "");
        assert!(!found.contains(forbidden), "{forbidden:?} is in the page");
    }
    assert_eq!(page.matches("</style>").count(), 1);
    assert!(page.contains("&lt;/style&gt;&lt;script&gt;alert(1)"));
    assert!(page.contains("default-src 'none'") || page.contains("default-src &#39;none&#39;"));
    // Every element that is opened is closed.
    for name in [
        "html", "head", "body", "section", "table", "thead", "tbody", "tr", "td", "th", "ul", "li",
        "p", "div",
    ] {
        let opened =
            page.matches(&format!("<{name}>")).count() + page.matches(&format!("<{name} ")).count();
        assert_eq!(opened, page.matches(&format!("</{name}>")).count(), "{name}");
    }
    for sentence in [
        "SET automatic 1: 850 °F at 8 ft/min",
        "It certifies no seam",
        "3 checkpoints: 1 done, 2 missed",
    ] {
        assert!(flat(&page).contains(sentence), "{sentence}");
    }
    assert!(!page.to_lowercase().contains("weld is good"));
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
    let mut trials = a_day();
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
