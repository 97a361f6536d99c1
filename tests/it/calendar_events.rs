//! What the events of a day say and when they ring.

use chrono::{NaiveTime, TimeDelta};
use fairseam::plan::{Cause, Reason};
use fairseam::render::ics::{self, Entry, Status};
use fairseam::site::Reminders;
use fairseam::units::{RainDepth, Temperature, TravelSpeed, UnitSystem};
use fairseam::weather::Field;

use super::calendar_plan::{all_hold, bracket, full_range, plan, published, reminders, utc};
use crate::proof::{Allowed, Proof};

fn entry_of(entries: &[Entry], id: &str) -> Entry {
    entries.iter().find(|entry| entry.uid.ends_with(&format!("-09-{id}"))).unwrap().clone()
}

#[test]
fn one_event_a_checkpoint_and_one_for_the_evening_before() {
    let entries = ics::entries(&plan(), &reminders());
    let shown: Vec<_> = entries
        .iter()
        .map(|entry| (entry.uid.get(26..).unwrap(), entry.start, entry.end - entry.start))
        .collect();
    // By hand: New York is four hours behind UTC in April, so 18:00 is 22:00Z and 07:00 is 11:00Z.
    assert_eq!(
        shown,
        [
            ("2013-04-09-evening-before", utc("2013-04-08T22:00:00Z"), TimeDelta::minutes(15)),
            ("2013-04-09-start", utc("2013-04-09T11:00:00Z"), TimeDelta::minutes(10)),
            ("2013-04-09-change-1", utc("2013-04-09T12:41:00Z"), TimeDelta::minutes(10)),
            ("2013-04-09-after-lunch", utc("2013-04-09T16:30:00Z"), TimeDelta::minutes(10)),
        ]
    );
    for entry in &entries {
        assert_eq!(entry.status, Status::Confirmed);
        assert!(!entry.uid.contains("Cold"), "a UID names no site: {}", entry.uid);
    }
}

#[test]
fn the_summary_holds_what_the_hands_need_and_which_roof() {
    let mut day = plan();
    let named = Reminders { short_name: Some("roof B".to_owned()), ..reminders() };
    let mut summary = |settings| {
        day.checkpoints[0].settings = settings;
        ics::event_texts(&day, &day.checkpoints[0], &named).summary
    };
    let automatic = |number: u32| format!("automatic {number}");
    assert_eq!(
        summary(vec![full_range("automatic 1", Some(7.0))]),
        "Test weld · 7 ft/min 700–1100 by 100 °F · roof B"
    );
    assert_eq!(
        summary(vec![bracket("automatic 1", Some(7.0))]),
        "Test weld · 7 ft/min 825/925/1025 °F · roof B"
    );
    assert_eq!(
        summary((1..4).map(|n| full_range(&automatic(n), Some(7.0))).collect()),
        "Test weld · 7 ft/min 700–1100 by 100 °F · roof B · all 3 welders"
    );
    // The one with a speed is the automatic: it comes first and needs no name.
    assert_eq!(
        summary(vec![full_range("hand", None), full_range("automatic 1", Some(7.0))]),
        "Test weld · 7 ft/min 700–1100 by 100 °F · roof B · hand: 700–1100 by 100 °F"
    );
    assert_eq!(
        summary(vec![
            full_range("automatic 1", Some(7.0)),
            full_range("automatic 2", Some(7.0)),
            bracket("a name that no phone could ever show", Some(7.5)),
            full_range("hand", None),
        ]),
        "Test weld · automatic 1 +1: 7 ft/min 700–1100 by 100 °F · roof B · \
         a name that no phone co…: 7.5 ft/min 825/925/1025 °F · +1 more"
    );
    assert_eq!(summary(Vec::new()), "Test weld · roof B");
}

#[test]
fn the_step_is_told_where_there_is_one() {
    let mut day = plan();
    let mut heats = |heats: &[f64]| {
        let fahrenheit = heats.iter().map(|&heat| Temperature::from_fahrenheit(heat)).collect();
        day.checkpoints[0].settings[0].trial.heats = fahrenheit;
        let summary = ics::event_texts(&day, &day.checkpoints[0], &reminders()).summary;
        summary.split(" · ").nth(1).unwrap().to_owned()
    };
    // The machine's maximum ends a range, with a shorter step where it must.
    assert_eq!(heats(&[700.0, 800.0, 900.0, 1000.0, 1050.0]), "7 ft/min 700–1050 by 100 °F");
    assert_eq!(heats(&[700.0, 800.0, 900.0, 950.0, 1050.0]), "7 ft/min 700–1050 °F");
    assert_eq!(heats(&[700.0, 800.0, 900.0, 1050.0]), "7 ft/min 700–1050 °F");
    assert_eq!(heats(&[700.0, 800.0]), "7 ft/min 700/800 °F");
}

#[test]
fn a_long_name_of_a_roof_keeps_its_two_ends() {
    let mut day = plan();
    let mut roof = |name: &str| {
        name.clone_into(&mut day.site);
        let summary = ics::event_texts(&day, &day.checkpoints[0], &reminders()).summary;
        summary.split(" · ").last().unwrap().to_owned()
    };
    assert_eq!(roof("East bay"), "East bay");
    assert_eq!(roof("Cold-store re-roof, east bay"), "Cold-store…east bay");
    assert_eq!(roof("Prairie grain store, roof A"), "Prairie…roof A");
    assert_eq!(roof("Prairie  grain\tstore,\nroof B"), "Prairie…roof B");
    assert_eq!(roof("Rindfleischetikettierungshalle"), "Rindfleis…rungshalle");
    assert_eq!(roof(&"é".repeat(200)), format!("{}…{}", "é".repeat(9), "é".repeat(10)));
    // Forty characters are what a narrow lock screen shows of a title: the first machine's part.
    day.site = "Prairie grain store, roof B".to_owned();
    day.checkpoints[0].settings.push(full_range("detail gun", None));
    let summary = ics::event_texts(&day, &day.checkpoints[0], &reminders()).summary;
    assert!(summary.chars().take(40).collect::<String>().contains("7 ft/min 700–1100 by 100 °F"));
    assert!(
        summary.chars().take(56).collect::<String>().ends_with("· Prairie…roof B"),
        "{summary}"
    );
}

#[test]
fn a_hold_says_on_which_roof() {
    let day = plan();
    let reasons = [Reason::Thunder];
    let span = (day.shift.start, day.shift.end);
    let hold = ics::hold_entry(&day, "hold-1", span, &reasons, &reminders());
    assert_eq!(hold.summary, "HOLD until 15:30 · thunder: no welding · Cold-store…east bay");
}

#[test]
fn a_metric_site_reads_metric() {
    let mut day = plan();
    day.units = UnitSystem::Metric;
    let speed = TravelSpeed::from_meters_per_minute(2.1);
    day.checkpoints[0].settings[0].trial.speed_held = Some(speed);
    let texts = ics::event_texts(&day, &day.checkpoints[0], &reminders());
    // 700 °F is 371.1 °C and 1100 °F is 593.3 °C; 100 °F apart is 55.6 °C apart.
    assert_eq!(texts.summary, "Test weld · 2.1 m/min 371–593 by 56 °C · Cold-store…east bay");
    assert!(texts.description.starts_with("07:00, air 12 °C."), "{}", texts.description);
}

#[test]
fn the_description_holds_the_whole_test() {
    let mut day = plan();
    day.checkpoints[2].settings.push(bracket("hand", None));
    let text = ics::event_texts(&day, &day.checkpoints[2], &reminders()).description;
    for expected in [
        "12:30, air 78 °F. Why: after lunch (30 min).",
        "Take care: gusts of 25 mph or more.",
        "automatic 1: 10 ft/min, heats 700, 800, 900, 1000, 1100 °F",
        "no test weld of the last 7 days in the book",
        "hand: heats 825, 925, 1025 °F",
        "earlier center 925 °F",
        "across the seam",
        "Peel slowly",
        "fire watch",
        "fall protection",
        "Weather record of a public airport station.",
    ] {
        assert!(text.contains(expected), "{expected:?} is missing in:\n{text}");
    }
    let change = ics::event_texts(&day, &day.checkpoints[1], &reminders()).description;
    assert!(change.contains("air up 10.1 °F since the 07:00 test"), "{change}");
    assert!(!change.contains("Take care"), "{change}");
}

#[test]
fn an_old_forecast_is_named_first_and_by_its_hour() {
    let mut day = plan();
    day.weather.stale = true;
    for entry in ics::entries(&day, &reminders()) {
        let first = entry.description.lines().next().unwrap();
        assert!(first.starts_with("STALE FORECAST of Apr 8 17:12:"), "{first}");
    }
    for entry in ics::entries(&plan(), &reminders()) {
        assert!(!entry.description.contains("STALE"));
    }
}

#[test]
fn the_evening_before_holds_the_whole_of_tomorrow() {
    let mut day = plan();
    day.weather.missing = vec![Field::CloudCover];
    day.weather.partly_missing = vec![Field::Gust, Field::Rain];
    day.weather.bridged = vec![utc("2013-04-09T13:00:00Z")];
    let evening = entry_of(&ics::entries(&day, &reminders()), "evening-before");
    assert_eq!(
        evening.summary,
        "Tomorrow: 3 test welds from 07:00 · 7 h 45 min weldable · Cold-store re-roof, east bay"
    );
    assert_eq!(evening.alarms_before_minutes, [0]);
    for expected in [
        "Tuesday, April 9: 07:00 to 15:30 at Cold-store re-roof, east bay.",
        "Air 53 to 84 °F.",
        "Weldable 7 h 45 min, between 07:00 and 15:30.",
        "07:00  start of shift, air 53 °F",
        "08:41  air up 10.1 °F since the 07:00 test, air 63 °F",
        "12:30  after lunch (30 min), air 78 °F",
        "automatic 1: 8 ft/min, heats 700, 800, 900, 1000, 1100 °F",
        "12:00 to 15:30  care: gusts of 25 mph or more",
        "the rule asks for a speed that this welder does not run at",
        "Not in this forecast: cloud cover.",
        "Missing in some hours: gust, rain.",
        "bridged from the hours beside: 09:00.",
        "Gusts cool the lap",
        "Forecast issued Apr 8 16:00.",
    ] {
        assert!(evening.description.contains(expected), "{expected:?}:\n{}", evening.description);
    }
}

#[test]
fn a_day_of_holds_still_tells_the_foreman() {
    let entries = ics::entries(&all_hold(), &reminders());
    assert_eq!(entries.len(), 1);
    assert_eq!(entries[0].summary, "Tomorrow: no welding · Cold-store re-roof, east bay");
    for expected in ["No welding: the weather holds it", "None planned.", "07:00 to 15:30  hold"] {
        assert!(entries[0].description.contains(expected), "{}", entries[0].description);
    }
}

#[test]
fn no_evening_entry_where_the_site_wants_none() {
    let mut wanted = reminders();
    wanted.evening_before = None;
    let entries = ics::entries(&plan(), &wanted);
    assert_eq!(entries.len(), 3);
    assert!(ics::entries(&all_hold(), &wanted).is_empty());
}

#[test]
fn alarms_come_longest_first_and_once_each() {
    let mut wanted = reminders();
    wanted.before_minutes = vec![0, 15, 60, 15, 0];
    let (_, text) = published(&plan(), &wanted);
    let triggers: Vec<&str> =
        text.lines().filter(|line| line.starts_with("TRIGGER")).skip(1).take(3).collect();
    assert_eq!(triggers, ["TRIGGER:-PT60M", "TRIGGER:-PT15M", "TRIGGER:PT0S"]);
    wanted.before_minutes.clear();
    wanted.evening_before = None;
    assert!(!published(&plan(), &wanted).1.contains("VALARM"));
}

#[test]
fn the_evening_is_local_on_both_days_that_change_the_clock() {
    // IANA zone data: New York went to UTC-4 on 2013-03-10 and back to UTC-5 on 2013-11-03, both
    // at 02:00; 18:00 on those days is 22:00Z and 23:00Z, on the days before 23:00Z and 22:00Z.
    let mut proof = Proof::of(
        "calendar/evenings",
        "When the evening before rings around the days that change the clock, once at a time that there is not",
        "the rules of the zone, worked by hand",
        "evenings",
        Allowed::Nothing,
    );
    for (month, day, expected) in [
        (3, 10, "2013-03-09T23:00:00Z"),
        (3, 11, "2013-03-10T22:00:00Z"),
        (11, 3, "2013-11-02T22:00:00Z"),
        (11, 4, "2013-11-03T23:00:00Z"),
    ] {
        let mut day_plan = plan();
        day_plan.date = chrono::NaiveDate::from_ymd_opt(2013, month, day).unwrap();
        let rings = ics::entries(&day_plan, &reminders())[0].start;
        proof.same(&rings, &utc(expected), String::new);
    }
    let mut skipped = reminders();
    skipped.evening_before = NaiveTime::from_hms_opt(2, 30, 0);
    let mut day_plan = plan();
    day_plan.date = chrono::NaiveDate::from_ymd_opt(2013, 3, 11).unwrap();
    let rings = ics::entries(&day_plan, &skipped)[0].start;
    proof.same(&rings, &utc("2013-03-10T07:00:00Z"), || "a time that is skipped".to_owned());
    proof.done();
}

#[test]
fn a_test_of_no_length_still_takes_a_minute() {
    let mut day = plan();
    day.checkpoints[0].minutes = 0;
    let start = entry_of(&ics::entries(&day, &reminders()), "start");
    assert_eq!(start.end - start.start, TimeDelta::minutes(1));
}

#[test]
fn the_same_arguments_give_the_same_bytes() {
    assert_eq!(published(&plan(), &reminders()).1, published(&plan(), &reminders()).1);
}

#[test]
fn what_changes_at_every_run_is_in_no_text() {
    let mut later = plan();
    later.weather.fetched_at += TimeDelta::minutes(90);
    later.weather.age += TimeDelta::minutes(90);
    assert_eq!(ics::entries(&later, &reminders()), ics::entries(&plan(), &reminders()));
}

#[test]
fn everything_that_shows_or_rings_is_in_the_hash() {
    let entry = entry_of(&ics::entries(&plan(), &reminders()), "start");
    let changes: [fn(&mut Entry); 10] = [
        |entry| entry.uid.push('x'),
        |entry| entry.start -= TimeDelta::minutes(1),
        |entry| entry.end += TimeDelta::minutes(1),
        |entry| entry.summary.push('x'),
        |entry| entry.description.push('x'),
        |entry| entry.location.push('x'),
        |entry| entry.position = None,
        |entry| entry.category.push('x'),
        |entry| entry.alarms_before_minutes.push(5),
        |entry| entry.status = Status::Cancelled,
    ];
    for (number, change) in changes.iter().enumerate() {
        let mut changed = entry.clone();
        change(&mut changed);
        assert_ne!(changed.content_hash(), entry.content_hash(), "change {number}");
    }
    assert_eq!(entry.clone().content_hash(), entry.content_hash());
}

#[test]
fn a_hold_that_ends_is_named() {
    let mut day = plan();
    let total = RainDepth::from_inches(0.1);
    let held_by = vec![Reason::Rain { total, over_hours: 1 }];
    day.checkpoints[1].cause = Cause::AfterHold { opens_the_day: false, held_by };
    let text = ics::event_texts(&day, &day.checkpoints[1], &reminders()).description;
    assert!(text.starts_with("08:41, air 63 °F. Why: welding resumes after rain."), "{text}");
}
