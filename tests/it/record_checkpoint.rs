//! Which checkpoint a trial was made for: asked, typed, read, guessed by its time; and what it counts.

use chrono::TimeDelta;
use fairseam::quality::{KeptTrial, ReportInput, Status, day_report};
use fairseam::site::Site;

use crate::binary::fairseam_at;
use crate::book_report::at_hand;
use crate::record_crew::{Memory, Told, WHO, ZONE, heat_flags, plan, record_into, site};
use crate::testweld_crew::{at, trial};

const GOOD: &str = "700 ccc, 800 ggg, 900 ggg, 1000 bbb";
/// Tests at 07:00, 09:45 and 12:30 on the site's clock; the clock of the tests stands at 08:20.
const DAY: &str = "2027-04-21";

fn flagged(book: &mut Memory, site: &Site, more: &[&str]) -> Told {
    let heats = heat_flags(GOOD);
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    record_into(book, site, Some(&plan(site)), &[&flags[..], more].concat(), "")
}

fn made_for(more: &[&str]) -> (Option<String>, String) {
    let site = site();
    let mut book = Memory::of(&site);
    let told = flagged(&mut book, &site, more);
    (book.entries[0].checkpoint.clone(), told.told().to_owned())
}

#[test]
fn a_flag_names_it_and_else_the_time_does_where_it_fits_one_only() {
    for (more, expected) in [
        (&["--checkpoint", "after-lunch"][..], Some("after-lunch")),
        (&["--at", "07:10"], Some("start")),
        (&["--at", "08:20"], Some("start")),
        // Half an hour and more before the start it is nobody's.
        (&["--at", "06:20"], None),
        (&["--at", "2027-04-20 08:00"], None),
    ] {
        assert_eq!(made_for(more).0.as_deref(), expected, "{more:?}");
    }
}

#[test]
fn one_that_the_plan_does_not_have_is_kept_and_said() {
    let (id, told) = made_for(&["--checkpoint", "change-7"]);
    assert_eq!(id.as_deref(), Some("change-7"));
    assert!(
        told.contains(
            "the plan at hand has no checkpoint `change-7` (it has start, \
                       after-morning-break, after-lunch), so the trial counts by its time"
        ),
        "{told}"
    );
    // Of another day the plan says nothing.
    let (_, told) = made_for(&["--checkpoint", "change-7", "--at", "2027-04-20 08:00"]);
    assert!(!told.contains("change-7"), "{told}");
}

#[test]
fn what_is_no_id_is_refused() {
    let site = site();
    let long = "x".repeat(221);
    for id in ["", "  ", &long] {
        let told = flagged(&mut Memory::of(&site), &site, &["--checkpoint", id]);
        let said = told.refusal();
        assert!(said.contains("`--checkpoint`: expected the id of a checkpoint"), "{said}");
    }
    let json = r#"{"who": "J.", "welder": "automatic 1", "air": 60, "checkpoint": 7, "heats": []}"#;
    let said = record_into(&mut Memory::of(&site), &site, None, &["--json"], json).refusal();
    assert!(said.contains("`checkpoint`: expected a text, found 7"), "{said}");
}

#[test]
fn the_questions_write_down_what_was_answered() {
    let site = site();
    let rest = ["", "J.", "62", "", "", "", "", "", "", "800", "1.5 f x3", "", "", "yes"];
    for (answer, expected) in
        [("", "start"), ("3", "after-lunch"), ("09:45", "after-morning-break")]
    {
        let mut book = Memory::of(&site);
        let answers = [&[answer, ""], &rest[..]].concat();
        let input: String = answers.iter().map(|answer| format!("{answer}\n")).collect();
        let told = record_into(&mut book, &site, Some(&plan(&site)), &[], &input);
        assert_eq!(book.entries[0].checkpoint.as_deref(), Some(expected), "{}", told.talk);
        assert!(told.shown().contains(&format!("checkpoint {expected}")), "{}", told.shown());
    }
}

#[test]
fn it_goes_round_in_json_and_a_correction_leaves_it_as_it_was() {
    let site = site();
    let mut book = Memory::of(&site);
    let shown = flagged(&mut book, &site, &["--checkpoint", "after-lunch", "--format", "json"]);
    let shown: serde_json::Value = serde_json::from_str(shown.shown()).unwrap();
    let again = shown["judged"]["trial"].to_string();
    assert_eq!(shown["judged"]["trial"]["checkpoint"], "after-lunch");
    record_into(&mut book, &site, None, &["--json"], &again).result.unwrap();
    assert_eq!(book.entries[1].checkpoint.as_deref(), Some("after-lunch"));
    let correct = ["--correct", "1", "--by", "M.", "--why", "x"];
    record_into(&mut book, &site, None, &[&correct[..], &["--lot", "B7"]].concat(), "")
        .result
        .unwrap();
    assert_eq!(book.entries[2].checkpoint.as_deref(), Some("after-lunch"));
    let other = [&correct[..], &["--checkpoint", "start"]].concat();
    record_into(&mut book, &site, None, &other, "").result.unwrap();
    assert_eq!(book.entries[3].checkpoint.as_deref(), Some("start"));
    let text = fairseam::render::trial::trial_text(&book.kept[0], ZONE, site.units);
    assert!(text.contains("checkpoint: after-lunch, now start"), "{text}");
}

fn states(trials: &[(&str, Option<&str>)]) -> String {
    let site = site();
    let judging = fairseam::testweld::Judging::default_for(site.units);
    let trials: Vec<KeptTrial> = (1..)
        .zip(trials)
        .map(|(id, (time, made_for))| {
            let trial = trial(&format!("{DAY}T{time}:00Z"), GOOD);
            let written = trial.when + TimeDelta::minutes(1);
            let mut kept = KeptTrial::new(format!("{id}"), written, trial, &site.welders, &judging);
            kept.checkpoint = made_for.map(str::to_owned);
            kept
        })
        .collect();
    let plan = at_hand(&plan(&site));
    let report = day_report(&ReportInput {
        site: &site,
        time_zone: ZONE,
        date: DAY.parse().unwrap(),
        now: at("2027-04-21T20:00:00Z"),
        plan: Some(&plan),
        trials: &trials,
        withdrawn: &[],
    });
    let points = report.checkpoints.iter().map(|point| match point.status {
        Status::Late { by } => format!("late:{}", by.num_minutes()),
        status => status.name().to_owned(),
    });
    points.collect::<Vec<_>>().join(" ")
}

#[test]
fn a_checkpoint_that_is_named_wins_over_the_time() {
    // Due at 11:00, 13:45 and 16:30 UTC; in time until 25 minutes after.
    for (trials, expected) in [
        // By its time the first counts for the start, which is still open.
        (&[("13:20", None)][..], "late:140 missed missed"),
        (&[("13:20", Some("after-morning-break"))], "missed done missed"),
        (&[("13:20", Some("start"))], "late:140 missed missed"),
        // Late beyond the next checkpoint.
        (&[("14:40", Some("start"))], "late:220 missed missed"),
        // Named and by time together: nobody's place is taken.
        (&[("13:20", Some("after-morning-break")), ("13:40", None)], "late:160 done missed"),
        // The end of a break cannot have been tested long before it: the time decides.
        (&[("11:05", Some("after-lunch"))], "done missed missed"),
        // An id of another plan: the time decides.
        (&[("11:05", Some("change-9"))], "done missed missed"),
    ] {
        assert_eq!(states(trials), expected, "{trials:?}");
    }
}

#[test]
fn what_the_weather_sets_may_come_earlier_than_forecast() {
    let site = site();
    let mut plan = at_hand(&plan(&site));
    plan.plan.checkpoints[1].cause = "ambient-change".to_owned();
    plan.plan.checkpoints[1].id = "change-1".to_owned();
    let judging = fairseam::testweld::Judging::default_for(site.units);
    let early = trial(&format!("{DAY}T12:40:00Z"), GOOD);
    let mut kept = KeptTrial::new("1".to_owned(), early.when, early, &site.welders, &judging);
    kept.checkpoint = Some("change-1".to_owned());
    let report = day_report(&ReportInput {
        site: &site,
        time_zone: ZONE,
        date: DAY.parse().unwrap(),
        now: at("2027-04-21T20:00:00Z"),
        plan: Some(&plan),
        trials: &[kept],
        withdrawn: &[],
    });
    assert_eq!(report.checkpoints[1].status, Status::Done);
    assert_eq!(report.checkpoints[0].status, Status::Missed);
}

#[test]
fn the_book_shows_it_everywhere() {
    const SITE: &str = "config/demo/site.toml";
    let home = tempfile::tempdir().unwrap();
    let now = "2027-04-21T21:00:00Z";
    let run = |flags: &[&str]| {
        let run = fairseam_at(home.path(), flags, now);
        assert_eq!(run.code, 0, "{flags:?}: {}", run.stderr);
        run.stdout
    };
    let who = ["record", SITE, "--welder", "automatic 1", "--who", "M.", "--air", "44"];
    let what = ["--speed", "6", "--at", "12:35", "--heat", "800", "--strips", "1.5 f x3"];
    run(&[&who[..], &what, &["--checkpoint", "after-lunch"]].concat());
    let book = |flags: &[&str]| run(&[&["book", SITE], flags].concat());
    assert!(book(&[]).contains("for"), "{}", book(&[]));
    for flags in [
        &[][..],
        &["--format", "json"],
        &["--trial", "1"],
        &["--report", DAY],
        &["--report", DAY, "--format", "json"],
        &["--csv", "2027-04-21..2027-04-21"],
    ] {
        assert!(book(flags).contains("after-lunch"), "{flags:?}: {}", book(flags));
    }
    let report: serde_json::Value =
        serde_json::from_str(&book(&["--report", DAY, "--format", "json"])).unwrap();
    assert_eq!(report["checkpoints"][2]["id"], "after-lunch");
    assert_eq!(report["checkpoints"][2]["status"], "done");
}
