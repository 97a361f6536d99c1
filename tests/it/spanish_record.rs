//! A crew that reads Spanish writes a trial down: questions, mistakes, refusals, and a day without a
//! plan, with no English word left between but those that are typed.

use axum::body::Body;
use axum::http::{StatusCode, header};
use chrono::{NaiveDate, TimeDelta};
use fairseam::plan::PlanError;
use fairseam::site::Kind;
use fairseam::store::keys::Role;
use fairseam::testweld::{HeatTrial, LONGEST_TEXT, MOST_HEATS, Refusal, Trial, accept};
use fairseam::units::{BondWidth, Temperature, Thickness};
use fairseam::words::Language;

use crate::calendar_plan::utc;
use crate::record_crew::{Memory, Told, now, plan, record_into, site_of};
use crate::server_support::{ROOF, Served, on_runtime, request, trial as sent_trial, uuid};
use crate::testweld_crew::{automatic, fahrenheit, feet_per_minute, strip_of, trial};
use crate::words::vocabulary::foreign;

/// Names of the site and what the answers below say.
const GIVEN: &[&str] = &[
    "automatic hand start after-morning-break after-lunch J at",
    "robot noon hot fast torn perhaps all full B7 x",
];

fn assert_all_spanish(what: &str, text: &str) {
    let foreign = foreign(Language::Es, text, GIVEN);
    assert!(foreign.is_empty(), "{what}: {foreign:?} in\n{text}");
}

fn ask(answers: &[&str]) -> (Memory, Told) {
    let site = site_of(&[("language", "\"es\"")]);
    let mut book = Memory::of(&site);
    let input: String = answers.iter().map(|answer| format!("{answer}\n")).collect();
    let told = record_into(&mut book, &site, Some(&plan(&site)), &[], &input);
    (book, told)
}

#[test]
fn every_question_its_help_and_the_verdict_are_spanish() {
    let head =
        ["?", "", "?", "", "?", "", "?", "J.", "?", "62", "?", "", "?", "B7", "?", "", "?", "all"];
    let rest = ["?", "full", "?", "", "?", "800", "?", "1.5 f x3", "?", "", "?", "", "?", "sí"];
    let (book, told) = ask(&[&head[..], &rest].concat());
    assert_eq!(book.entries.len(), 1, "{}", told.talk);
    assert_all_spanish("questions", &told.talk);
    assert_all_spanish("what became of it", told.told());
    assert!(told.told().starts_with("anotada como prueba 1"), "{}", told.told());
    for prompt in [
        "Prueba del plan (1 07:00 start, 2 09:45 after-morning-break, 3 12:30 after-lunch) [07:00]: ",
        "entre corchetes el del pronóstico [60 °F]: ",
        "Lote de la membrana [nada]: ",
        "Velocidad fija, ft/min [8 ft/min]: ",
        "Tiras con 800 °F: ",
        "AJUSTE automatic 1: 800 °F a 8 ft/min",
        "¿Anotarla? (sí o no) [sí]: ",
    ] {
        assert!(told.talk.contains(prompt), "`{prompt}` is not asked:\n{}", told.talk);
    }
    // What is offered is a page of 80 columns.
    for line in told.talk.lines().filter(|line| line.starts_with("  ")) {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

/// Enter takes the yes that is offered; English answers are understood as well.
#[test]
fn yes_and_no_are_understood_in_both_languages() {
    let trial = ["", "", "", "J.", "62", "", "", "", "", "", "", "800", "1.5 f x3", "", ""];
    for yes in ["", "s", "Sí", "si", "yes", "Y"] {
        let (book, told) = ask(&[&trial[..], &[yes]].concat());
        assert_eq!(book.entries.len(), 1, "{yes:?}: {}", told.talk);
    }
    for no in ["no", "N"] {
        let (book, told) = ask(&[&trial[..], &[no]].concat());
        assert!(book.entries.is_empty(), "{no}");
        assert!(told.talk.ends_with("Se paró; no se escribió nada.\n"), "{}", told.talk);
        assert_all_spanish("stopped", &told.refusal());
    }
    let english = crate::record_crew::site();
    let input: String = [&trial[..], &["sí"]].concat().join("\n") + "\n";
    let mut book = Memory::of(&english);
    let told = record_into(&mut book, &english, Some(&plan(&english)), &[], &input);
    assert!(told.talk.contains("expected `yes` or `no`"), "{}", told.talk);
}

#[test]
fn every_mistake_is_told_in_spanish() {
    let long = "x".repeat(40_000);
    let answers = [
        "b",
        "4",
        long.as_str(),
        "",
        "robot",
        "",
        "2027-05-01 08:00",
        "noon",
        "2027-03-14 02:30",
        "07:10",
        "",
        "J.",
        "hot",
        "900",
        "1,010",
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
        "9000",
        ",",
        "800",
        "torn",
        "1.5",
        "1.5 torn",
        "1.5 f+torn",
        "1.5 f x0",
        "1.5 f a",
        "1.5 f x99, 1 f x99",
        "99 f",
        "1.5 f x3",
        "",
        "x",
        "",
        "perhaps",
        "sí",
    ];
    let (book, told) = ask(&answers);
    assert_eq!(book.entries.len(), 1, "{}", told.talk);
    assert_all_spanish("mistakes", &told.talk);
    for said in [
        "esta es la primera pregunta",
        "se espera una de la lista, por su número de 1 a 3",
        "esa línea es demasiado larga; otra vez, por favor",
        "la prueba tiene fecha de 9 d 23 h después de ahora",
        "se espera una hora como `YYYY-MM-DD HH:MM`",
        "no existe en el reloj del sitio",
        "esta pregunta necesita respuesta",
        "se espera una temperatura en °F, como `68`, se encontró `hot`",
        "el aire: se encontró 900 °F (482 °C), se espera de -130 a 140 °F (de -90 a 60 °C)",
        "escriban los decimales con punto",
        "se espera una velocidad en ft/min",
        "la velocidad: se encontró 500.0 ft/min",
        "temperatura 1: se encontró 9000 °F",
        "se esperan de 1 a 100 temperaturas, se encontraron 0",
        "entrada 1: se espera primero el ancho: ANCHO CÓMO",
        "se espera detrás del ancho cómo se separó",
        "se espera cómo se separó: `film-tear`, `cold`, `mixed`; se encontró `torn`",
        "se espera una señal",
        "se espera de `x1` a `x100`",
        "se espera hacia dónde se peló: `across`, `along`; se encontró `a`",
        "como máximo 100 tiras",
        "el ancho con la temperatura 1, tira 1: se encontró 99.00 in",
        "se espera `sí` o `no`",
    ] {
        assert!(told.talk.contains(said), "`{said}` is not said:\n{}", told.talk);
    }
}

#[test]
fn flags_that_cannot_be_read_are_told_in_spanish() {
    let site = site_of(&[("language", "\"es\"")]);
    let refusal = |flags: &[&str]| {
        let told = record_into(&mut Memory::of(&site), &site, None, flags, "");
        let refusal = told.refusal();
        // The flags themselves are the same in every language.
        let words = refusal.split_whitespace().filter(|word| !word.contains("--"));
        assert_all_spanish("flags", &words.collect::<Vec<_>>().join(" "));
        refusal
    };
    let said = refusal(&[
        "--air",
        "hot",
        "--at",
        "noon",
        "--speed",
        "fast",
        "--polymer",
        "x",
        "--thickness",
        "x",
        "--heat",
        "800",
        "--checkpoint",
        "",
        "--strips",
        "1.5 f",
        "--strips",
        "torn",
    ]);
    assert!(said.starts_with("la prueba no se puede leer; no se escribió nada\n"), "{said}");
    assert!(said.lines().count() >= 8, "{said}");
    assert!(said.contains("se espera un `--strips` por cada `--heat`, se encontraron 2 para 1"));
    let said = refusal(&["--heat", "800", "--strips", "1.5 f x3"]);
    for missing in ["`--who`: se espera el nombre", "`--air`: ", "`--welder`: "] {
        assert!(said.contains(missing), "{missing}: {said}");
    }
    let who = ["--who", "J.", "--air", "62", "--welder", "automatic 1", "--heat", "800"];
    let strips = ["--strips", "1.5 f x3"];
    let said = refusal(&[&who[..], &strips, &["--speed", "500"]].concat());
    assert!(
        said.starts_with("la prueba no se acepta; no se escribió nada: la velocidad"),
        "{said}"
    );
    let said =
        refusal(&[&who[..], &strips, &["--speed", "8", "--run-setting", "9000 at 8"]].concat());
    assert!(said.starts_with("el ajuste que de veras se usó no se acepta"), "{said}");
    let said = refusal(&["--correct", "7", "--by", "J.", "--why", "x"]);
    assert!(said.starts_with("no hay prueba `7`"), "{said}");
    // Withdrawn, put back, withdrawn twice: each in one sentence.
    let mut book = Memory::of(&site);
    record_into(&mut book, &site, None, &[&who[..], &strips, &["--speed", "8"]].concat(), "");
    let withdraw = ["--withdraw", "1", "--by", "J.", "--why", "x"];
    let told = record_into(&mut book, &site, None, &withdraw, "");
    assert_eq!(told.told(), "prueba 1 retirada; no cuenta para nada y se puede seguir leyendo");
    assert_all_spanish("withdrawn", told.told());
    let outside = [&who[..], &strips, &["--speed", "8", "--run-setting", "1200 at 8"]].concat();
    let told = record_into(&mut Memory::of(&site), &site, None, &outside, "");
    assert_all_spanish("outside", told.told());
    let stray = [&who[..], &strips, &["--speed", "8", "--checkpoint", "change-1"]].concat();
    let plan = plan(&site);
    let told = record_into(&mut Memory::of(&site), &site, Some(&plan), &stray, "");
    assert!(told.told().contains("; el plan a la mano no tiene la prueba `change-1`"));
}

/// One of each kind, and each part of a record that can be at fault.
#[test]
fn whatever_is_refused_is_refused_in_spanish() {
    type Change = fn(&mut Trial);
    let changes: &[Change] = &[
        |trial| trial.ambient = Temperature::from_celsius(f64::NAN),
        |trial| trial.sheet = Some(fahrenheit(500.0)),
        |trial| trial.thickness = Thickness::from_mils(6000.0),
        |trial| trial.heats[1].speed = Some(feet_per_minute(0.0)),
        |trial| trial.heats[1].strips[2].bond_width = BondWidth::from_inches(38.0),
        |trial| trial.heats.clear(),
        |trial| trial.who.clear(),
        |trial| trial.welder.clear(),
        |trial| trial.lot = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.roll = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.weights = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.air_flow = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.heats[0].weights = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.heats[0].air_flow = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.note = Some("x".repeat(LONGEST_TEXT + 1)),
        |trial| trial.heats = vec![HeatTrial::new(fahrenheit(800.0), vec![]); MOST_HEATS + 1],
        |trial| trial.heats[0].strips = vec![strip_of('g'); 101],
        |trial| trial.welder_kind = Kind::Hand,
        |trial| trial.when += TimeDelta::days(400),
    ];
    for (number, change) in changes.iter().enumerate() {
        let mut trial = trial("2027-04-20T12:00:00Z", "700 ccc, 800 ggg");
        change(&mut trial);
        let refusal: Refusal = accept(&trial, &[automatic()], now()).unwrap_err();
        let (spanish, english) = (refusal.said(Language::Es), refusal.to_string());
        assert_ne!(spanish, english, "change {number}");
        assert_all_spanish("refusal", &spanish);
        assert!(spanish.len() < 250, "{spanish}");
    }
}

#[test]
fn why_there_is_no_plan_is_told_in_spanish() {
    let date = NaiveDate::from_ymd_opt(2013, 4, 9).unwrap();
    let time_zone = chrono_tz::America::New_York;
    let hour = |hour: i64| utc("2013-04-09T12:00:00Z") + TimeDelta::hours(hour);
    let missing = PlanError::AirMissing {
        date,
        time_zone,
        missing: vec![hour(0), hour(1), hour(2), hour(5)],
        covers_from: hour(-9),
        covers_to: hour(24),
    };
    // New York is four hours behind UTC in April.
    assert_eq!(
        missing.said(Language::Es),
        "el pronóstico no cubre el turno del 2013-04-09: falta la temperatura del aire en 08:00 a \
         10:00 y 13:00; tiene horas de 2013-04-08 23:00 a 2013-04-10 08:00"
    );
    for why in
        [missing, PlanError::ShiftVanishes { date, time_zone }, PlanError::DateOutOfReach { date }]
    {
        assert_all_spanish("no plan", &why.said(Language::Es).replace("America/New_York", ""));
        assert_eq!(why.said(Language::En), why.to_string());
    }
}

#[test]
fn a_phone_that_asks_for_spanish_is_refused_and_told_why_in_spanish() {
    on_runtime(async {
        let served = Served::start().await;
        let days = TimeDelta::days(40);
        let (_, key) = served.key_of(Role::Crew, Some(ROOF), "crew A", days).await;
        let post = |json: serde_json::Value| {
            let request = request("POST", &format!("/crew/{ROOF}/trials"), Some(&key))
                .header(header::CONTENT_TYPE, "application/json")
                .header(header::ACCEPT_LANGUAGE, "es-MX,es;q=0.9");
            served.send(request.body(Body::from(json.to_string())).unwrap())
        };
        let mut hot = sent_trial(&uuid(1), "J.");
        hot["heats"][0]["heat"] = 70_000.into();
        let answer = post(hot).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", answer.text);
        let said = answer.json()["error"].as_str().unwrap().to_owned();
        assert!(said.starts_with("temperatura 1: se encontró 70000 °F"), "{said}");
        let mut nowhere = sent_trial(&uuid(1), "J.");
        nowhere.as_object_mut().unwrap().remove("welder");
        let said = post(nowhere).await.json()["error"].as_str().unwrap().to_owned();
        assert!(said.contains("`welder`: se espera una de las soldadoras del sitio"), "{said}");
        let sound = post(sent_trial(&uuid(2), "J.")).await;
        assert_eq!(sound.status, StatusCode::CREATED, "{}", sound.text);
        let text = sound.json()["judged"]["setting"]["text"].as_str().unwrap().to_owned();
        assert!(text.starts_with("AJUSTE automatic 1: "), "{text}");
        let mut other = sent_trial(&uuid(2), "J.");
        other["air"] = 56.into();
        let other = post(other).await;
        assert_eq!(other.status, StatusCode::CONFLICT);
        let said = other.json()["error"].as_str().unwrap().to_owned();
        assert!(said.starts_with("este envío lleva el nombre de otro"), "{said}");

        // Two weeks later the demo's forecast carries no plan; a trial has the page looked at anew.
        served.set_clock("2027-05-05T13:30:00Z");
        assert_eq!(post(sent_trial(&uuid(3), "K.")).await.status, StatusCode::CREATED);
        let page = request("GET", &format!("/crew/{ROOF}/"), Some(&key))
            .header(header::ACCEPT_LANGUAGE, "es");
        let page = served.send(page.body(Body::empty()).unwrap()).await.text;
        assert!(page.contains("No hay plan: el pronóstico no cubre el turno"), "{page}");
        let english = served.get(&format!("/crew/{ROOF}/"), &key).await.text;
        assert!(english.contains("There is no plan: the forecast does not cover"), "{english}");
    });
}
