//! The questions, scripted: a whole trial, the way back, mistakes, and stopping.

use crate::record_crew::{Memory, Told, plan, record_into, site};

fn ask(book: &mut Memory, answers: &[&str]) -> Told {
    let site = site();
    let input: String = answers.iter().map(|answer| format!("{answer}\n")).collect();
    record_into(book, &site, Some(&plan(&site)), &[], &input)
}

fn asked(answers: &[&str]) -> (Memory, Told) {
    let mut book = Memory::of(&site());
    let told = ask(&mut book, answers);
    (book, told)
}

const STRIPS: [&str; 5] =
    ["1/4 cold x3", "1.5 f x3", "1.5 f, 1 1/2 f, 1.6 f", "1.5 f x3", "2 f+b x3"];

#[test]
fn a_trial_is_written_from_the_answers_and_what_the_plan_offers() {
    // Checkpoint, welder, when, who, air, sheet, lot, roll, weights, air flow, speed, heats.
    let head = ["", "", "", "J.", "62", "70", "B7", "", "all", "full", "", ""];
    let (book, told) = asked(&[&head[..], &STRIPS, &["", "", "yes"]].concat());
    assert!(told.shown().starts_with("SET automatic 1: 900 °F at 8 ft/min\n"), "{}", told.shown());
    let trial = &book.entries[0].trial;
    assert_eq!((trial.welder.as_str(), trial.who.as_str()), ("automatic 1", "J."));
    assert_eq!(trial.when.to_rfc3339(), "2027-04-21T12:20:00+00:00");
    // 60 °F asks for 60/10 + 2 = 8 ft/min; no record asks for the full range of 700 to 1100 °F.
    assert!((trial.speed.unwrap().feet_per_minute() - 8.0).abs() < 1e-9);
    let heats: Vec<f64> = trial.heats.iter().map(|heat| heat.heat.fahrenheit().round()).collect();
    assert_eq!(heats, [700.0, 800.0, 900.0, 1000.0, 1100.0]);
    assert_eq!((trial.lot.as_deref(), trial.roll.as_deref()), (Some("B7"), None));
    assert!((trial.ambient.fahrenheit() - 62.0).abs() < 1e-9);
    // The air was read, so the pair teaches how far the forecast is off.
    let forecast = book.entries[0].forecast.unwrap();
    assert!((forecast.air.fahrenheit() - 60.0).abs() < 1e-9);
    for prompt in [
        "Checkpoint (1 07:00 start, 2 09:45 after-morning-break, 3 12:30 after-lunch) [07:00]: ",
        "Welder (1 automatic 1, 2 hand 1) [automatic 1]: ",
        "When [2027-04-21 08:20]: ",
        "in brackets the forecast [60 °F]: ",
        "Speed held, ft/min [8 ft/min]: ",
        "Heats tried, °F [700, 800, 900, 1000, 1100]: ",
        "Strips at 1100 °F: ",
        "SET automatic 1: 900 °F at 8 ft/min",
        "Write it down (yes or no) [yes]: ",
    ] {
        assert!(told.talk.contains(prompt), "`{prompt}` is not asked:\n{}", told.talk);
    }
}

#[test]
fn air_taken_over_from_the_forecast_teaches_nothing() {
    let head = ["", "", "", "J.", "", "", "", "", "", "", "", "800"];
    let (book, _) = asked(&[&head[..], &["1.5 f x3", "", "", ""]].concat());
    assert!((book.entries[0].trial.ambient.fahrenheit() - 60.0).abs() < 1e-9);
    assert_eq!(book.entries[0].forecast, None);
}

#[test]
fn b_goes_back_and_answers_stay() {
    // At the strips of 900 °F back to the speed: 8 becomes 9; heats and strips are kept by Enter.
    let head = ["", "", "", "J.", "62.4", "", "", "", "", "", "8", "800, 900"];
    let back = ["1.5 f x3", "b", "b", "b", "9", "", "", "1/4 cold x3", "", "", "b", "b", "b"];
    let again = ["1.5 f x2, 1.25 f", "", "", "yes"];
    let (book, told) = asked(&[&head[..], &back, &again].concat());
    let trial = &book.entries[0].trial;
    assert!((trial.speed.unwrap().feet_per_minute() - 9.0).abs() < 1e-9, "{}", told.talk);
    assert!((trial.ambient.fahrenheit() - 62.4).abs() < 1e-9);
    assert_eq!(trial.heats[0].strips.len(), 3);
    assert!((trial.heats[1].strips[2].bond_width.inches() - 1.25).abs() < 1e-9);
    assert!(told.talk.contains("Strips at 800 °F [1.5 film-tear, 1.5 film-tear, 1.5 film-tear]: "));
    let (book, told) = asked(&["b"]);
    assert!(told.talk.contains("this is the first question") && book.entries.is_empty());
}

#[test]
fn another_welder_has_its_own_questions() {
    // A hand welder has no speed: it is not asked for.
    let head = ["", "hand 1", "", "J.", "62", "", "", "", "", "", "700 800"];
    let (book, told) = asked(&[&head[..], &["1/4 c x3", "1.5 f x3", "", "", "yes"]].concat());
    assert!(!told.talk.contains("Speed held"), "{}", told.talk);
    assert_eq!(book.entries[0].trial.speed, None);
    assert!(told.shown().starts_with("SET hand 1: 800 °F\n"), "{}", told.shown());
}

#[test]
fn mistakes_are_asked_again_and_never_fatal() {
    let (book, told) = asked(&[
        "4", "start", "robot", "2",
        "1", // that is: no such checkpoint; by id; no such welder; two; …
    ]);
    assert!(book.entries.is_empty());
    assert!(told.talk.matches("expected one of the list").count() >= 2, "{}", told.talk);

    let answers = [
        "",
        "",
        "2027-05-01 08:00",
        "noon",
        "07:10",
        "",
        "J.",
        "hot",
        "900",
        "62",
        "",
        "",
        "",
        "",
        "",
        "fast",
        "500",
        "8",
        "x",
        "800",
        "torn",
        "1.5",
        "99 f",
        "1.5 f x3",
        "",
        "",
        "perhaps",
        "yes",
    ];
    let (book, told) = asked(&answers);
    for said in [
        "after now",
        "expected a time as `YYYY-MM-DD HH:MM`",
        "this needs an answer",
        "expected a temperature in °F",
        "the air is 900 °F (482 °C), expected",
        "expected a speed in ft/min",
        "the speed is 500.0 ft/min",
        "expected the width first",
        "expected how it parted",
        "the bond width of heat 1, strip 1 is 99.00 in",
        "expected `yes` or `no`",
    ] {
        assert!(told.talk.contains(said), "`{said}` is not said:\n{}", told.talk);
    }
    assert_eq!(book.entries.len(), 1, "{}", told.talk);
    assert_eq!(book.entries[0].trial.when.to_rfc3339(), "2027-04-21T11:10:00+00:00");
}

#[test]
fn help_is_there_at_every_question() {
    let head =
        ["?", "", "?", "", "?", "", "?", "J.", "?", "62", "?", "", "?", "", "?", "", "?", ""];
    let rest = ["?", "", "?", "", "?", "800", "?", "1.5 f x3", "?", "", "?", "", "?", "yes"];
    let (book, told) = asked(&[&head[..], &rest].concat());
    assert_eq!(book.entries.len(), 1, "{}", told.talk);
    for help in [
        "Which test weld of today's plan",
        "Read it in the shade",
        "The beginning of a word will do",
    ] {
        let flat = told.talk.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(help), "{help}:\n{}", told.talk);
    }
}

#[test]
fn stopping_at_any_question_writes_nothing() {
    let head = ["", "", "", "J.", "62", "70", "B7", "", "all", "full", "", ""];
    let whole = [&head[..], &STRIPS, &["", "", "yes"]].concat();
    for answered in 0..whole.len() {
        let (book, told) = asked(&whole[..answered]);
        assert!(book.entries.is_empty(), "written after {answered} answers");
        assert!(told.refusal().contains("nothing was written"), "{}", told.refusal());
        assert!(told.talk.contains("Stopped; nothing was written."), "{}", told.talk);
    }
    let (book, _) = asked(&[&whole[..whole.len() - 1], &["no"]].concat());
    assert!(book.entries.is_empty());
    // A last line that was never ended is not an answer.
    let site = site();
    let mut book = Memory::of(&site);
    let mut input: String =
        whole[..whole.len() - 1].iter().map(|line| format!("{line}\n")).collect();
    input.push_str("yes");
    record_into(&mut book, &site, Some(&plan(&site)), &[], &input);
    assert!(book.entries.is_empty());
}

#[test]
fn without_a_plan_the_questions_are_the_same_but_offer_less() {
    let site = site();
    let mut book = Memory::of(&site);
    let answers = "\n\nJ.\n62\n\n\n\n\n\n8\n800\n1.5 f x3\n\n\nyes\n";
    let told = record_into(&mut book, &site, None, &[], answers);
    assert_eq!(book.entries.len(), 1, "{}", told.talk);
    assert!(!told.talk.contains("Checkpoint"));
    // The next one is offered who and what the last one said.
    let told = record_into(&mut book, &site, None, &[], "\n\n\n62\n");
    assert!(told.talk.contains("Who made it [J.]: "), "{}", told.talk);
}

#[test]
fn hostile_answers_end_in_words() {
    let hostile = [
        "\u{0}",
        "'; DROP TABLE trials;--",
        "🙂",
        "\u{202e}7",
        "NaN",
        "1e308",
        "-",
        "--",
        "x".repeat(40_000).as_str(),
    ]
    .map(str::to_owned);
    for answer in &hostile {
        let (book, told) = asked(&[answer.as_str(); 40]);
        assert!(book.entries.is_empty());
        assert!(!told.talk.contains('\u{202e}'), "{answer:?}");
    }
}
