//! One day held against its plan, and the daily report.

use fairseam::quality::{Correction, KeptTrial, Ran, Status};

use super::{AFTER_WORK, DAY, GOOD, ask, flat, kept, kept_of, report, states, try_ask};
use crate::proof::{Allowed, Proof};
use crate::record_crew::{plan, site};
use crate::testweld_crew::{at, fahrenheit, feet_per_minute, trial};
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

pub(super) fn a_day() -> Vec<KeptTrial> {
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
