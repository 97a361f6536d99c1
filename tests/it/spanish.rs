//! A crew that reads Spanish: plan, page, calendar and verdict, by site file or command line, with no
//! English word left between.

use fairseam::plan::{
    Advice, Cause, DayPlan, HeatSchedule, Lack, Note, OpenFrom, Reason, RoofToOpen, Span, Verdict,
};
use fairseam::render::text::{Paint, plan_text};
use fairseam::render::{OFFICE, advice_words, words};
use fairseam::store::{DayKey, Previous, revise};
use fairseam::units::{Area, Length, RainDepth, Temperature, TemperatureDifference, WindSpeed};
use fairseam::words::Language;

use crate::calendar_checker;
use crate::calendar_plan::{now, plan, published, reminders, utc};
use crate::calendar_read_back::read_with_calcard;
use crate::proof::{Allowed, Proof};
use crate::record_crew::{Memory, WHO, heat_flags, record_into, site_of};
use crate::support::{example_site, fixture, run};
use crate::words::vocabulary::foreign;

/// What a plan of `calendar_plan` says that no language file can know.
const GIVEN: &[&str] = &[
    "Cold-store re-roof, east bay",
    "automatic 1 hand detail",
    "lunch",
    "sheet.width sheet.lap sheet.roll_length",
];

fn given(plan: &DayPlan) -> Vec<&str> {
    let weather = [plan.weather.source.as_str(), plan.weather.attribution.as_str()];
    GIVEN.iter().copied().chain(weather).collect()
}

fn spanish() -> DayPlan {
    plan().in_language(Language::Es)
}

fn assert_all_spanish(what: &str, text: &str, given: &[&str]) {
    let foreign = foreign(Language::Es, text, given);
    assert!(foreign.is_empty(), "{what}: {foreign:?} in\n{text}");
}

fn every_reason() -> Vec<Reason> {
    let wind = WindSpeed::from_miles_per_hour(25.0);
    let air = Temperature::from_fahrenheit(40.0);
    let depth = RainDepth::from_millimeters(2.5);
    vec![
        Reason::Rain { total: depth, over_hours: 1 },
        Reason::Snow { total: depth, over_hours: 6 },
        Reason::Thunder,
        Reason::WetSheet { depth, frost: false },
        Reason::WetSheet { depth, frost: true },
        Reason::WindStop { from: wind },
        Reason::DewNear { within: TemperatureDifference::from_fahrenheit(5.4) },
        Reason::Cold { below: air },
        Reason::Gust { from: wind },
        Reason::WindShield { from: wind },
        Reason::Heat { from: air },
        Reason::Dark,
    ]
}

fn every_advice() -> Vec<Advice> {
    let at = utc("2013-04-09T19:00:00Z");
    let (index, from) = (Temperature::from_fahrenheit(101.0), WindSpeed::from_miles_per_hour(40.0));
    let heat = |schedule| Advice::Heat { index, schedule, test_after_minutes: 10 };
    let cold = |wind_chill| Advice::Cold { below: index, wind_chill };
    let open = |area, rolls, lacks| {
        let seam = Length::from_meters(100.0);
        let from = vec![OpenFrom { start: at, seam, area, rolls }];
        Advice::Open(RoofToOpen { sealed_by: at, from, lacks })
    };
    let lacks = || vec![Lack::Width, Lack::Lap, Lack::RollLength];
    vec![
        Advice::Stale,
        Advice::Lightning { clear_minutes: 30 },
        Advice::StormWind { from },
        Advice::Seal { rain_from: at, sealed_by: at, after_shift: false },
        Advice::Seal { rain_from: at, sealed_by: at, after_shift: true },
        open(Some(Area::of(Length::from_meters(50.0), Length::from_meters(2.0))), Some(3), vec![]),
        open(Some(Area::of(Length::from_meters(50.0), Length::from_meters(2.0))), Some(1), vec![]),
        open(Some(Area::of(Length::from_meters(50.0), Length::from_meters(2.0))), None, lacks()),
        open(None, None, lacks()),
        Advice::Open(RoofToOpen { sealed_by: at, from: vec![], lacks: vec![] }),
        Advice::Open(RoofToOpen {
            sealed_by: at,
            from: vec![],
            lacks: vec![Lack::AutomaticWelder],
        }),
        Advice::Dusk { dark_from: at },
        Advice::Wet,
        Advice::Dew,
        Advice::Ice,
        heat(HeatSchedule::Usual),
        heat(HeatSchedule::Rest { work_minutes: 45, rest_minutes: 15 }),
        heat(HeatSchedule::Beyond),
        cold(None),
        cold(Some(index)),
        Advice::Shield,
        Advice::Gust,
        Advice::GeneratorShort { available_w: 4000.0, wanted_w: 5200.0 },
        Advice::GeneratorSmall { rated_w: 6000.0, wanted_w: 8000.0 },
        Advice::GeneratorShared,
        Advice::CordDrop { welder: "automatic 1".to_owned(), drop_pct: 4.2, watts_pct: 91.8 },
    ]
}

fn every_note() -> Vec<Note> {
    let at = utc("2013-04-09T19:00:00Z");
    let waits = |of_sheet| Note::ChangeWaits {
        due: at,
        of_sheet,
        change: TemperatureDifference::from_fahrenheit(10.0),
        break_name: "lunch".to_owned(),
        test_at: at,
    };
    let causes = [
        Cause::Start,
        Cause::AfterBreak { name: "lunch".to_owned(), minutes: 30 },
        Cause::AmbientChange,
        Cause::SheetChange,
        Cause::Elapsed { hours: 5.0 },
        Cause::AfterHold { opens_the_day: false, held_by: every_reason() },
    ];
    let mut notes = vec![
        Note::NotAWorkday,
        waits(false),
        waits(true),
        Note::HeldToTheEnd { from: at },
        Note::SpeedClamped { welder: "automatic 1".to_owned() },
        Note::RainUnknown,
        Note::FilmUnknown,
        Note::ShortRunUp { from: at },
        Note::ClockChange { gained_minutes: 60 },
        Note::ClockChange { gained_minutes: -60 },
    ];
    notes.extend(causes.map(|cause| Note::TooLate { due: at, cause }));
    notes
}

/// A plan with everything in it that a plan can say.
fn talkative() -> DayPlan {
    let mut plan = spanish();
    let (start, end) = (plan.shift.start, plan.shift.end);
    let span = |verdict, reasons| Span { start, end, verdict, reasons };
    plan.spans = vec![span(Verdict::Weld, vec![]), span(Verdict::Care, every_reason())];
    plan.spans.push(span(Verdict::Hold, every_reason()));
    plan.notes = every_note();
    plan.advice = every_advice();
    plan.weather.stale = true;
    plan.weather.missing = vec![fairseam::weather::Field::CloudCover];
    plan.weather.partly_missing = vec![fairseam::weather::Field::Gust];
    plan.weather.bridged = vec![start];
    plan
}

#[test]
fn no_english_word_is_left_in_a_plan_that_says_everything() {
    let plan = talkative();
    let given = given(&plan);
    assert_all_spanish("text", &plan_text(&plan, Paint::Plain), &given);
    let (revised, _) = published(&plan, &reminders());
    for event in &revised {
        assert_all_spanish("summary", &event.entry.summary, &given);
        assert_all_spanish("description", &event.entry.description, &given);
        assert_all_spanish("category", &event.entry.category, &given);
    }
    // On a day that is followed a hold has an entry of its own.
    let span = (plan.shift.start, plan.shift.end);
    let hold =
        fairseam::render::ics::hold_entry(&plan, "hold-1", span, &every_reason(), &reminders());
    for text in [&hold.summary, &hold.description, &hold.category] {
        assert_all_spanish("hold", text, &given);
    }
    assert!(hold.summary.starts_with("ALTO hasta las 15:30 · ") && hold.summary.ends_with(" bay"));
    let cause = |opens_the_day| Cause::AfterHold { opens_the_day, held_by: every_reason() };
    for cause in [cause(true), cause(false), Cause::Elapsed { hours: 5.0 }, Cause::SheetChange] {
        let mut point = plan.checkpoints[0].clone();
        point.cause = cause;
        point.last_time = Some(plan.shift.start);
        assert_all_spanish("cause", &words::because(&point, &plan), &given);
    }
}

/// The day of the demo, worked by hand in the README: every section, its head in capitals.
#[test]
fn the_text_page_is_the_same_page_in_spanish() {
    let plan = talkative();
    let text = plan_text(&plan, Paint::Plain);
    for head in ["DE UN VISTAZO", "CUÁNDO PROBAR, QUÉ AJUSTAR", "NOTAS", "CONSEJOS", "ADVERTENCIAS"]
    {
        assert!(text.lines().any(|line| line == head), "{head} is missing:\n{text}");
    }
    assert!(text.contains("Cold-store re-roof, east bay - martes, 9 de abril de 2013"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    // A line for a line: as many tests, advices and cautions as in English.
    let english = plan_text(&plan.in_language(OFFICE), Paint::Plain);
    let bullets = |text: &str| text.lines().filter(|line| line.starts_with("  - ")).count();
    assert_eq!(bullets(&text), bullets(&english));
}

/// What can hurt someone is said in every language; the dangers are those of the English cautions, one
/// by one (*common practice* for their Spanish names, see docs/spanish.md).
#[test]
fn the_cautions_name_what_hurts() {
    let cautions = advice_words::cautions(Language::Es).join(" ");
    for danger in [
        "incendios",
        "extintor",
        "humos",
        "monóxido de carbono",
        "GFCI",
        "protección contra caídas",
        "Truenos",
        "persona competente",
        "códigos locales",
        "fabricante",
    ] {
        assert!(cautions.contains(danger), "{danger} is missing: {cautions}");
    }
    assert!(cautions.contains("el pelado dice si aguanta"));
}

#[test]
fn a_spanish_calendar_is_read_back_and_says_its_language() {
    let plan = spanish();
    let (revised, text) = published(&plan, &reminders());
    let (name, events) = read_with_calcard(&text);
    assert_eq!(name, "Soldaduras de prueba: Cold-store re-roof, east bay");
    assert_eq!(events.len(), revised.len());
    let mut proof = Proof::of(
        "calendar/spanish",
        "Summary and description of a calendar in Spanish, each with its LANGUAGE",
        "read back by the crate calcard",
        "events",
        Allowed::Nothing,
    );
    for event in &events {
        let written = revised.iter().find(|one| one.entry.uid == event.uid).unwrap();
        let (read, entry) = ((&event.summary, &event.description), &written.entry);
        proof.same(&read, &(&entry.summary, &entry.description), || entry.uid.clone());
    }
    proof.done();
    assert!(events.iter().any(|event| event.summary.starts_with("Mañana: ")));
    assert!(events.iter().any(|event| event.summary.starts_with("Prueba · ")));
    // RFC5545, 3.2.10: LANGUAGE may stand on SUMMARY and DESCRIPTION, its value a tag of RFC 5646.
    for property in ["SUMMARY", "DESCRIPTION"] {
        let marked = format!("\r\n{property};LANGUAGE=es:");
        assert_eq!(text.matches(&marked).count(), events.len(), "{text}");
    }
    // Alarms stay as plain as they were: a parameter in them has silenced phones before.
    let alarms: usize = events.iter().map(|event| event.alarms.len()).sum();
    assert_eq!(text.matches("\r\nDESCRIPTION:").count(), alarms, "{text}");
    assert_eq!(calendar_checker::faults(&text), Vec::<String>::new());
}

/// A crew that changes its language gets changed entries, and is told in the new one what has gone.
#[test]
fn a_change_of_language_is_a_change_to_a_phone() {
    let english = plan();
    let key = DayKey::of(&english);
    let entries = |plan: &DayPlan| fairseam::render::ics::entries(plan, &reminders());
    let before = entries(&english);
    let (first, day) = revise(&Previous::Unpublished, &key, &before, Language::En, now());
    let mut plan = spanish();
    plan.checkpoints.pop();
    let later = now() + chrono::TimeDelta::hours(1);
    let after = entries(&plan);
    let (second, _) = revise(&Previous::Known(day), &key, &after, Language::Es, later);
    assert_eq!(first.len(), second.len());
    assert!(second.iter().all(|event| event.revision.sequence == 1));
    let gone = second.iter().find(|event| event.entry.summary.starts_with("CANCELADA: ")).unwrap();
    assert!(gone.entry.description.starts_with("Ya no está en el plan"));
}

/// The trials of `record_verdict`, each of which brings another finding.
const TRIALS: [&str; 16] = [
    "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1050 ggg, 1100 bbb",
    "700 ccc, 800 ccc, 900 ccc",
    "700 ccc, 1100 ccc",
    "900 bbb, 1000 bbb",
    "700 bbb, 800 bbb",
    "800 ccc, 900 bbb",
    "800 ccc, 850 bbb",
    "800 bbb, 900 ccc",
    "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1100 ggg",
    "700 ggg, 800 ggg, 900 ccc, 1000 bbb, 1100 ggg",
    "800 ggg, 900 ggg, 1000 ccc",
    "800 bbb, 900 ggg, 1000 ggg",
    "850 ccc, 900 ggg, 950 bbb",
    "700 ccm, 800 ggg, 900 gg, 1000 ggga, 1100 bbb",
    "800 gg, 900 aaa",
    "600 ccc, 800 ggg, 900 bbb, 700 ccc",
];

#[test]
fn a_verdict_is_spanish_whatever_was_found() {
    let site = site_of(&[("language", "\"es\"")]);
    for table in TRIALS {
        let heats = heat_flags(table);
        let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
        let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
        assert_all_spanish(table, told.shown(), &["automatic 1", "operator"]);
        let head = told.shown().lines().next().unwrap();
        assert!(head.starts_with("AJUSTE automatic 1: ") || head.starts_with("NO SUELDEN con "));
    }
    let told = |flags: &[&str]| {
        let flags = [&["--who", "operator", "--air", "60", "--heat", "800"], flags].concat();
        record_into(&mut Memory::of(&site), &site, None, &flags, "").shown().to_owned()
    };
    let hand = told(&["--strips", "1.5 f x3", "--welder", "hand 1", "--note", "operator"]);
    assert_all_spanish("by hand", &hand, &["hand operator"]);
    let robot = told(&["--strips", "2 f+h, 1 f+y, 1 f+c", "--welder", "operator", "--lot", "b"]);
    assert_all_spanish("unknown welder", &robot, &["operator b"]);
}

/// The hand-worked example of the trade (`record_verdict`): 800 bottom, 1050 top, set about 925.
#[test]
fn the_setting_is_the_same_in_both_languages() {
    let site = site_of(&[("language", "\"es\"")]);
    let heats = heat_flags(TRIALS[0]);
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
    let text = told.shown();
    assert_eq!(text.lines().next(), Some("AJUSTE automatic 1: 925 °F a 8 ft/min"));
    assert!(text.contains("800 a 1050 °F, 250 °F de ancho; los dos límites encontrados"), "{text}");
    // What programs read has the same words in every language; its sentences are the crew's.
    let flags = [&flags[..], &["--format", "json"]].concat();
    let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
    let json: serde_json::Value = serde_json::from_str(told.shown()).unwrap();
    assert_eq!(json["judged"]["setting"]["verdict"], "run-at");
    assert_eq!(json["judged"]["setting"]["text"], "AJUSTE automatic 1: 925 °F a 8 ft/min");
}

#[test]
fn the_language_comes_from_the_site_file_or_the_command_line() {
    let plan = |overrides: &[(&str, &str)], more: &[&str]| {
        let forecast = fixture("days/obs_2013-04-09_spring_swing31.json");
        let args = ["plan", "roof.toml", "--date", "2013-04-09", "--forecast", &forecast];
        let args = [&args[..], more].concat();
        run(&args, &[("roof.toml", &example_site(overrides))], &[])
    };
    let spanish = [("language", "\"es\"")];
    let starts = |outcome: crate::support::Outcome, head: &str| {
        assert_eq!(outcome.code, 0, "{}", outcome.shown());
        assert!(outcome.stdout.contains(head), "{head} is missing:\n{}", outcome.shown());
    };
    starts(plan(&[], &[]), "AT A GLANCE");
    starts(plan(&spanish, &[]), "DE UN VISTAZO");
    starts(plan(&[], &["--language", "es-MX"]), "DE UN VISTAZO");
    starts(plan(&spanish, &["--language", "en"]), "AT A GLANCE");
    let wrong = plan(&[], &["--language", "tlh"]);
    assert_eq!(wrong.code, 2, "{}", wrong.shown());
    assert!(wrong.stderr.contains("expected one of en, es"), "{}", wrong.shown());
    let wrong = plan(&[("language", "\"klingon\"")], &[]);
    assert_eq!(wrong.code, 1, "{}", wrong.shown());
    assert!(
        wrong.stderr.contains("language") && wrong.stderr.contains("\"es\""),
        "{}",
        wrong.shown()
    );
}

/// The table of docs/spanish.md: every Spanish word of the trade in it is one that the files use.
#[test]
fn the_words_of_the_trade_are_those_in_use() {
    let page = std::fs::read_to_string(crate::binary::root().join("docs/spanish.md")).unwrap();
    let rows: Vec<Vec<&str>> = page
        .lines()
        .filter(|line| line.starts_with("| ") && !line.starts_with("| English"))
        .map(|line| line.split('|').map(str::trim).collect())
        .collect();
    assert!(rows.len() > 30, "{} rows: does the search still work?", rows.len());
    for row in rows {
        assert!(matches!(row[3], "sure" | "ask"), "{row:?}");
        assert_eq!(foreign(Language::Es, row[2], &[]).into_iter().next(), None, "{row:?}");
    }
}
