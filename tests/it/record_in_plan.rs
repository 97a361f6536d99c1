//! What the test-weld book says beside a plan, in every output: on the real commands.

use std::fmt::Write as _;
use std::path::Path;

use chrono::{DateTime, Duration, Utc};
use serde_json::Value;

use crate::binary::{Run, fairseam_at};
use crate::proof::{Allowed, Proof};

const SITE: &str = "config/demo/site.toml";
const EVENING: &str = "2027-04-20T23:00:00Z";
/// The first test of the demo's day: at 07:50, when the sheet is dry.
const FIRST: &str = "after-hold-1";

fn run(home: &Path, arguments: &[&str], now: &str) -> Run {
    let run = fairseam_at(home, arguments, now);
    assert_eq!(run.code, 0, "{arguments:?}: {}", run.stderr);
    run
}

fn plan(home: &Path, now: &str) -> Value {
    let plan = ["plan", SITE, "--date", "2027-04-21", "--format", "json"];
    serde_json::from_str(&run(home, &plan, now).stdout).unwrap()
}

fn text(home: &Path, now: &str) -> String {
    let text = run(home, &["plan", SITE, "--date", "2027-04-21"], now).stdout;
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    one_line(&text)
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The setting of the automatic welder at a test.
fn setting<'a>(plan: &'a Value, id: &str) -> &'a Value {
    let points = plan["checkpoints"].as_array().unwrap();
    let point = points.iter().find(|point| point["id"] == id);
    &point.unwrap_or_else(|| panic!("no {id} in {points:?}"))["settings"][0]
}

/// Records heats and strips on the automatic welder: a letter a strip, `g` good, `c` cold.
fn record(home: &Path, at: &str, speed: &str, heats: &[(&str, &str)], now: &str) {
    let mut arguments = vec!["record", SITE, "--welder", "automatic 1", "--who", "M.", "--air"];
    arguments.extend(["48", "--speed", speed, "--at", at]);
    let strips: Vec<String> = heats
        .iter()
        .map(|(_, strips)| {
            let kind = match strips.chars().next() {
                Some('g') => "1.5 film-tear",
                Some('b') => "2 film-tear+browning",
                _ => "0.2 cold",
            };
            format!("{kind} x{}", strips.len())
        })
        .collect();
    for ((heat, _), strips) in heats.iter().zip(&strips) {
        arguments.extend(["--heat", heat, "--strips", strips]);
    }
    run(home, &arguments, now);
}

const GOOD: &[(&str, &str)] =
    &[("700", "ccc"), ("800", "ggg"), ("900", "ggg"), ("1000", "ggg"), ("1100", "bbb")];

#[test]
fn newer_trials_that_are_not_used_are_named_with_their_reasons() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    record(home, "2027-04-19 07:10", "7", GOOD, EVENING);
    record(home, "2027-04-20 07:05", "7", &[("800", "ccc"), ("900", "ccc")], EVENING);
    record(home, "2027-04-20 13:00", "7", &[("800", "gg"), ("900", "gg")], EVENING);
    let of_plan = plan(home, EVENING);
    let setting = setting(&of_plan, FIRST);
    assert_eq!(setting["trial"]["from"]["day"], "2027-04-19");
    let passed_over = setting["passed_over"].as_array().unwrap();
    let told: Vec<(&str, &str)> = passed_over
        .iter()
        .map(|one| (one["when"].as_str().unwrap(), one["reason"].as_str().unwrap()))
        .collect();
    assert_eq!(
        told,
        [
            ("2027-04-20T13:00:00-05:00", "not-conclusive"),
            ("2027-04-20T07:05:00-05:00", "do-not-weld"),
        ]
    );
    let said = "passed over: Apr 20 13:00, it proved nothing; Apr 20 07:05, it found no setting: \
                no heat was good";
    let shown = text(home, EVENING);
    assert_eq!(shown.matches(said).count(), 1, "said once, not at every test: {shown}");
    let (page, calendar) = written(home);
    assert!(page.contains(said), "{page}");
    assert!(calendar.contains(said), "{calendar}");
    let explain = ["explain", SITE, "--at", "2027-04-21 07:50"];
    let explained = one_line(&run(home, &explain, EVENING).stdout);
    for part in ["Apr 20 13:00 automatic 1: it proved nothing", "bracket: earlier center 900"] {
        assert!(explained.contains(part), "no `{part}` in {explained}");
    }
}

#[test]
fn a_full_range_names_the_newest_as_its_reason_and_the_others_as_passed_over() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    record(home, "2027-04-05 07:10", "7", GOOD, EVENING);
    record(home, "2027-04-06 07:10", "7", GOOD, EVENING);
    record(home, "2027-04-20 07:05", "7", &[("800", "gg")], EVENING);
    let plan = plan(home, EVENING);
    let setting = setting(&plan, FIRST);
    assert_eq!(setting["trial"]["kind"], "full-range");
    let because = setting["trial"]["because"].as_str().unwrap();
    assert_eq!(because, "the last test weld in the book, of Apr 20, proved nothing");
    // What lies behind the first that is too old changes nothing.
    assert_eq!(setting["passed_over"].as_array().unwrap().len(), 2);
    assert_eq!(setting["passed_over"][1]["text"], "it is 15 days old");
    let shown = text(home, EVENING);
    assert!(shown.contains("(passed over: Apr 6 07:10, it is 15 days old)"), "{shown}");
}

#[test]
fn a_speed_that_is_not_the_records_is_said() {
    let near = tempfile::tempdir().unwrap();
    record(near.path(), "2027-04-20 07:10", "6", GOOD, EVENING);
    let of_plan = plan(near.path(), EVENING);
    // 48 °F: 5 + 2 = 7 ft/min by the rule, one from the record's, so the record's is held.
    let start = setting(&of_plan, FIRST);
    assert_eq!((&start["start_speed"], &start["trial"]["speed_held"]), (&7.into(), &6.into()));
    let said = "the air asks for 7 ft/min, near enough to hold the record's speed";
    assert!(start["trial"]["because"].as_str().unwrap().ends_with(said), "{start}");
    assert!(text(near.path(), EVENING).contains(said));
    let far = tempfile::tempdir().unwrap();
    record(far.path(), "2027-04-20 07:10", "4", GOOD, EVENING);
    let of_plan = plan(far.path(), EVENING);
    let start = setting(&of_plan, FIRST);
    assert_eq!(start["trial"]["speed_held"], 7);
    assert_eq!(start["trial"]["from"]["middle_moved"], true);
    let said = "the air asks for 7 ft/min, so the middle will have moved";
    assert!(start["trial"]["because"].as_str().unwrap().ends_with(said), "{start}");
}

#[test]
fn a_test_later_in_the_day_starts_from_that_days_own_latest_window() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    record(home, "2027-04-20 07:10", "7", GOOD, EVENING);
    // Half past ten on the day itself: the morning's windows are in the book.
    let now = "2027-04-21T15:30:00Z";
    let hotter =
        &[("800", "ccc"), ("900", "ggg"), ("1000", "ggg"), ("1100", "ggg"), ("1150", "bbb")];
    record(home, "2027-04-21 07:55", "7", GOOD, now);
    record(home, "2027-04-21 10:20", "8", hotter, now);
    let plan = plan(home, now);
    let from = |id| {
        let from = &setting(&plan, id)["trial"]["from"];
        (from["day"].as_str().unwrap().to_owned(), from["center"].as_f64().unwrap())
    };
    assert_eq!(from(FIRST), ("2027-04-20".to_owned(), 900.0));
    assert_eq!(from("after-lunch"), ("2027-04-21".to_owned(), 1000.0));
}

/// The middle of this crew's windows, °F: the ratios are those of the model, the rest is its own.
fn truth(sheet: f64, speed: f64) -> f64 {
    960.0 - 1.65 * (sheet - 80.0) + 26.0 * (speed - 10.0)
}

/// Twelve mornings as a table: windows 200 °F wide, seen in steps of 50 °F; a roof 3 °F warmer than
/// forecast 15 hours before.
fn twelve_mornings() -> String {
    let celsius = |fahrenheit: f64| (fahrenheit - 32.0) / 1.8;
    let mut table = "entry,when,who,welder,welder_kind,polymer,thickness_mm,ambient_c,sheet_c,\
                     forecast_ambient_c,forecast_issued_at,speed_ft_per_min,heat,heat_c,\
                     bond_width_mm,parted,signs\n"
        .to_owned();
    for index in 0..12_u32 {
        let sheet = 60.0 + 3.0 * f64::from(index * 5 % 12);
        let speed = if index % 2 == 0 { 7.0 } else { 12.0 };
        let when = "2027-04-08T12:10:00Z".parse::<DateTime<Utc>>().unwrap();
        let when = when + Duration::days(i64::from(index));
        let issued = when - Duration::hours(15);
        let (entry, air) = (index + 1, celsius(sheet - 10.0));
        let forecast = air - 3.0 / 1.8 + if index % 2 == 0 { 0.2 } else { -0.2 };
        for heat in 0..10_u32 {
            let fahrenheit = 700.0 + 50.0 * f64::from(heat);
            let (width, parted, signs) = match fahrenheit - truth(sheet, speed) {
                below if below < -100.0 => (5, "cold", ""),
                above if above > 100.0 => (40, "film-tear", "browning"),
                _ => (40, "film-tear", ""),
            };
            for _ in 0..3 {
                writeln!(
                    table,
                    "{entry},{},M.,automatic 1,automatic,tpo,1.524,{air},{},{forecast},{},{speed},\
                     {},{},{width},{parted},{signs}",
                    when.to_rfc3339(),
                    celsius(sheet),
                    issued.to_rfc3339(),
                    heat + 1,
                    celsius(fahrenheit)
                )
                .unwrap();
            }
        }
    }
    table
}

fn with_twelve_mornings(home: &Path) {
    let table = home.join("mornings.csv");
    std::fs::create_dir_all(home).unwrap();
    std::fs::write(&table, twelve_mornings()).unwrap();
    // Importing needs a book to import into.
    record(home, "2027-04-01 07:10", "7", &[("800", "gg")], EVENING);
    run(home, &["book", SITE, "--import", table.to_str().unwrap()], EVENING);
}

/// The page and the calendar, each as one line of words.
fn written(home: &Path) -> (String, String) {
    let (page, calendar) = (home.join("day.html"), home.join("day.ics"));
    let mut arguments = vec!["plan", SITE, "--date", "2027-04-21"];
    arguments.extend(["--html", page.to_str().unwrap(), "--ics", calendar.to_str().unwrap()]);
    run(home, &arguments, EVENING);
    let page = std::fs::read_to_string(page).unwrap();
    let unfolded = std::fs::read_to_string(calendar).unwrap().replace("\r\n ", "");
    (page.replace("&#39;", "'"), unfolded.replace("\\,", ",").replace("\\;", ";"))
}

#[test]
fn what_was_learned_stands_beside_the_bracket_in_every_output() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    with_twelve_mornings(home);
    let of_plan = plan(home, EVENING);
    let mut said = String::new();
    for point in of_plan["checkpoints"].as_array().unwrap() {
        let setting = &point["settings"][0];
        // The bracket is the last center's, whatever was learned.
        assert_eq!(setting["trial"]["kind"], "bracket");
        assert_eq!(setting["trial"]["from"]["day"], "2027-04-19");
        let learned = &setting["learned"];
        let number =
            |key: &str| learned[key].as_f64().unwrap_or_else(|| panic!("{key}: {setting}"));
        assert_eq!(learned["basis"], "sheet");
        assert_eq!(learned["temperature"], point["sheet"]);
        assert_eq!(learned["speed"], setting["trial"]["speed_held"]);
        let expected = truth(number("temperature"), number("speed"));
        let off = (number("middle") - expected).abs();
        assert!(off < number("band"), "{off} off: {learned}");
        assert!(number("band") < 80.0, "{learned}");
        assert!(number("mean_error") < 0.9 * number("mean_error_carried_over"), "{learned}");
        said = learned["text"].as_str().unwrap().to_owned();
        assert!(said.contains("trials at this welder expect the middle near"), "{said}");
        assert_eq!(point["settings"][1]["learned"], Value::Null, "the hand welder has no record");
    }
    let (page, calendar) = written(home);
    for (name, shown) in [("text", text(home, EVENING)), ("page", page), ("calendar", calendar)] {
        assert!(shown.contains(&said), "no `{said}` in the {name}: {shown}");
    }
    let explain = ["explain", SITE, "--at", "2027-04-21 07:50", "--format", "json"];
    let explained: Value = serde_json::from_str(&run(home, &explain, EVENING).stdout).unwrap();
    assert_eq!(explained["test_here"]["settings"], of_plan["checkpoints"][0]["settings"]);
    // A center given by hand comes before the book's window, not before what the book has learned.
    let by_hand = ["plan", SITE, "--date", "2027-04-21", "--format", "json", "--center", "950"];
    let by_hand: Vec<&str> = by_hand.into_iter().chain(["--center-speed", "7"]).collect();
    let by_hand: Value = serde_json::from_str(&run(home, &by_hand, EVENING).stdout).unwrap();
    let setting = setting(&by_hand, FIRST);
    assert_eq!(setting["trial"]["from"]["day"], Value::Null);
    assert!(setting["learned"]["middle"].is_number(), "{setting}");
}

#[test]
fn the_readings_of_the_book_say_how_far_the_forecast_is_off() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    let before = plan(home, EVENING);
    assert_eq!(before["weather"]["known_error"], Value::Null);
    with_twelve_mornings(home);
    let after = plan(home, EVENING);
    let known = &after["weather"]["known_error"];
    assert_eq!((&known["readings"], &known["days"]), (&12.into(), &12.into()));
    assert_eq!((&known["lead_from_hours"], &known["lead_to_hours"]), (&12.into(), &24.into()));
    // By hand: 3 °F low as found, 12 days of 16 with the default's four.
    let mut proof = Proof::of(
        "learn/site-error-shown",
        "How far the forecast is off by the book's readings, found and expected, as a plan shows it",
        "worked by hand",
        "numbers",
        Allowed::absolute(0.051, "°F"),
    );
    proof.near(known["found_bias"].as_f64().unwrap(), 3.0, || "found".to_owned());
    proof.near(known["bias"].as_f64().unwrap(), 2.25, || "expected".to_owned());
    proof.done();
    assert_eq!(known["in_likelihoods"], true);
    let times = |plan: &Value| -> Vec<Value> {
        let points = plan["checkpoints"].as_array().unwrap();
        points.iter().map(|point| point["time"].clone()).collect()
    };
    assert_eq!(times(&before), times(&after), "the bias moves no test");
    assert_eq!(before["summary"]["air_max"], after["summary"]["air_max"]);
    let said = known["text"].as_str().unwrap();
    let start = "The book's 12 readings on 12 days put a forecast of 12 to 24 h ahead 2.3 °F low";
    assert!(said.starts_with(start), "{said}");
    let shown = text(home, EVENING);
    let (page, calendar) = written(home);
    for shown in [&shown, &page, &calendar] {
        assert!(shown.contains(said), "no `{said}` in {shown}");
    }
    let explain = ["explain", SITE, "--at", "2027-04-21 10:00"];
    let explained = one_line(&run(home, &explain, EVENING).stdout);
    assert!(explained.contains("Roof less forecast +2.3 °F +3.0 °F as found"), "{explained}");
}
