//! The crew's page over the same days: well formed, harmless, whole without a script, and its scripts
//! find every word and every figure that they ask for.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use fairseam::quality::{DayReport, ReportInput, day_report};
use fairseam::render::crew::{ASSETS, CrewDay, CrewPage, page};
use fairseam::words::Language;
use serde_json::Value;

use super::contrast::contrast;
use super::well_formed::{Element, elements};
use super::{DAYS, Day};
use crate::crew_verdict::FINDINGS;

fn report(day: &Day) -> DayReport {
    day_report(&ReportInput {
        site: &day.site,
        time_zone: day.plan.time_zone,
        date: day.plan.date,
        now: day.plan.shift.start,
        plan: None,
        trials: &[],
        withdrawn: &[],
    })
}

fn crew_page(day: &Day, language: Language) -> String {
    warned_page(day, language, &[])
}

fn warned_page(day: &Day, language: Language, warnings: &[String]) -> String {
    let report = report(day);
    let tomorrow = CrewDay {
        date: day.plan.date.succ_opt().unwrap(),
        plan: Err("no forecast <yet> & \"why\""),
        report: &report,
    };
    page(&CrewPage {
        site: &day.site,
        site_key: "0123456789abcdef",
        holder: "Crew <A> & \"sons\"",
        language,
        zone: day.plan.time_zone,
        now: day.plan.shift.start - chrono::TimeDelta::minutes(5),
        at: day.plan.shift.start - chrono::TimeDelta::minutes(5),
        plan_version: "p",
        book_version: "b",
        today: CrewDay { date: day.plan.date, plan: Ok(&day.plan), report: &report },
        tomorrow,
        last: None,
        warnings,
    })
    .unwrap()
}

fn data(all: &[Element]) -> Value {
    let block = all.iter().find(|one| one.value("id") == "crew-data").unwrap();
    serde_json::from_str(&block.text).unwrap()
}

#[test]
fn every_page_is_well_formed_and_runs_nothing_of_its_own() {
    for day in DAYS.iter() {
        for language in Language::ALL {
            let page = crew_page(day, language);
            let all = elements(&page);
            assert_eq!(all[0].value("lang"), language.tag());
            let mut ids = BTreeSet::new();
            for one in &all {
                let name = day.name;
                assert!(!one.attributes.contains_key("style"), "{name}: a style in {}", one.name);
                assert!(one.name != "style", "{name}: a style sheet in the page");
                let runs = one.attributes.keys().any(|key| key.starts_with("on"));
                assert!(!runs, "{name}: a script in {}", one.name);
                if one.name == "script" && one.value("type") != "application/json" {
                    assert!(ASSETS.contains(&one.value("src")), "{name}: {}", one.value("src"));
                    assert_eq!(one.text, "", "{name}: a script in the page");
                }
                for at in ["src", "href"] {
                    let at = one.value(at);
                    let own = at.is_empty() || at.starts_with(['/', '#', '?']);
                    assert!(own && !at.starts_with("//"), "{name}: leads to {at}");
                }
                if let Some(id) = one.attributes.get("id") {
                    assert!(ids.insert(id.clone()), "{name}: {id} twice");
                }
            }
            for label in all.iter().filter_map(|one| one.attributes.get("aria-labelledby")) {
                assert!(ids.contains(label), "{}: nothing is called {label}", day.name);
            }
        }
    }
}

/// The office's language is English; a crew that reads another is not shown what it cannot read.
#[test]
fn how_the_forecast_came_is_told_in_a_language_that_the_crew_reads() {
    let said = ["no forecast from <here>".to_owned()];
    for day in DAYS.iter() {
        let english = warned_page(day, Language::En, &said);
        assert!(english.contains("no forecast from &lt;here&gt;"), "{english}");
        let spanish = warned_page(day, Language::Es, &said);
        assert!(!spanish.contains("&lt;here&gt;") && spanish.contains("La oficina tiene una nota"));
        assert!(!crew_page(day, Language::Es).contains("La oficina tiene una nota"));
    }
}

#[test]
fn hostile_names_are_text_in_the_page_and_in_its_data() {
    let day = DAYS.iter().find(|day| day.name == "hostile").unwrap();
    let page = crew_page(day, Language::En);
    let all = elements(&page);
    let data = data(&all);
    assert_eq!(data["site"], day.site.name.as_str());
    assert_eq!(data["holder"], "Crew <A> & \"sons\"");
    let welders: Vec<&str> = data["welders"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["name"].as_str().unwrap())
        .collect();
    let names: Vec<&str> = day.site.welders.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(welders, names);
    // Nothing but the data's own end ends the data.
    assert_eq!(page.matches("</script>").count(), ASSETS.len() + 1);
}

#[test]
fn without_a_script_the_page_tells_what_is_next_and_the_whole_day() {
    for day in DAYS.iter() {
        let page = crew_page(day, Language::En);
        let all = elements(&page);
        let listed: Vec<&Element> = all
            .iter()
            .filter(|one| one.name == "li" && !one.value("data-key").is_empty())
            .collect();
        assert_eq!(listed.len(), day.plan.checkpoints.len(), "{}", day.name);
        let next = all.iter().find(|one| one.value("id") == "next-some").unwrap();
        let hidden = next.attributes.contains_key("hidden");
        assert_eq!(hidden, day.plan.checkpoints.is_empty(), "{}", day.name);
        for heat in day.plan.checkpoints.iter().flat_map(|point| &point.settings).take(1) {
            for heat in &heat.trial.heats {
                let figure = format!("{:.0}", heat.in_units(day.plan.units));
                assert!(next.text.contains(&figure), "{}: {figure} in {}", day.name, next.text);
            }
        }
        for caution in ["fire watch", "carbon monoxide", "fall protection", "Local codes"] {
            assert!(page.contains(caution), "{}: {caution}", day.name);
        }
    }
}

#[test]
fn the_data_has_the_figures_of_the_plan() {
    for day in DAYS.iter() {
        let data = data(&elements(&crew_page(day, Language::En)));
        let points = data["checkpoints"].as_array().unwrap();
        assert_eq!(points.len(), day.plan.checkpoints.len(), "{}", day.name);
        for (told, planned) in points.iter().zip(&day.plan.checkpoints) {
            assert_eq!(told["key"], format!("{}/{}", day.plan.date, planned.id));
            let time: chrono::DateTime<chrono::Utc> =
                told["time"].as_str().unwrap().parse().unwrap();
            assert_eq!(time, planned.time);
            for (told, planned) in
                told["settings"].as_array().unwrap().iter().zip(&planned.settings)
            {
                let heats: Vec<f64> = told["heats"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|heat| heat.as_f64().unwrap())
                    .collect();
                let wanted = planned.trial.heats.iter().map(|heat| heat.in_units(day.plan.units));
                for (told, planned) in heats.iter().zip(wanted) {
                    assert!((told - planned).abs() <= 0.05, "{}: {told} {planned}", day.name);
                }
                assert_eq!(heats.len(), planned.trial.heats.len());
            }
        }
    }
}

fn assets() -> BTreeMap<String, String> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/server/assets");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let names = ASSETS.iter().map(|at| at.strip_prefix("/assets/").unwrap());
    names.chain(["crew.css", "worker.js"]).map(|name| (name.to_owned(), read(name))).collect()
}

/// Names in `say("...")`, in `say(one ? "..." : "...")`, and beginnings in say(`...${`.
fn said(scripts: &BTreeMap<String, String>) -> (BTreeSet<String>, BTreeSet<String>) {
    let (mut whole, mut begun) = (BTreeSet::new(), BTreeSet::new());
    for script in scripts.values() {
        for (at, _) in script.match_indices("say(") {
            let call = &script[at + 4..];
            let call = &call[..call.find([')', '{']).unwrap_or(call.len())];
            for (place, text) in call.split('"').enumerate() {
                if place % 2 == 1 {
                    whole.insert(text.to_owned());
                }
            }
            if let Some(name) = script[at + 4..].trim_start().strip_prefix('`') {
                begun.insert(name[..name.find("${").unwrap()].to_owned());
            }
        }
    }
    (whole, begun)
}

#[test]
fn the_scripts_find_every_sentence_and_every_sentence_is_said() {
    let scripts = assets();
    let (whole, begun) = said(&scripts);
    assert!(whole.len() > 60, "only {} sentences found in the scripts", whole.len());
    for language in Language::ALL {
        let data = data(&elements(&crew_page(&DAYS[0], language)));
        let there: BTreeSet<String> = data["words"].as_object().unwrap().keys().cloned().collect();
        for name in &whole {
            assert!(there.contains(name), "{}: no words for `{name}`", language.tag());
        }
        for name in &there {
            let is_said = whole.contains(name) || begun.iter().any(|begun| name.starts_with(begun));
            // Named in a list of what is still wanted.
            let quoted = scripts.values().any(|script| script.contains(&format!("\"{name}\"")));
            assert!(is_said || quoted, "nobody says `{name}`");
        }
        for (name, said) in data["words"].as_object().unwrap() {
            let said = said.as_str().unwrap();
            assert!(!said.is_empty() && !said.contains("crew-"), "{name}: {said}");
        }
    }
}

/// What the core may name has a sentence each: a phone must not show a bare id.
#[test]
fn every_verdict_sign_and_finding_has_its_sentence() {
    let data = data(&elements(&crew_page(&DAYS[0], Language::Es)));
    let words = data["words"].as_object().unwrap();
    let signs = fairseam::testweld::Sign::ALL.map(|sign| format!("sign-{}", sign.name()));
    let parted = fairseam::testweld::Parted::ALL.map(|way| format!("parted-{}", way.name()));
    let verdicts =
        ["good", "cold", "burnt", "not-conclusive"].map(|name| format!("verdict-{name}"));
    let why = ["nothing-good", "contradiction", "not-conclusive"].map(|name| format!("why-{name}"));
    let findings = FINDINGS.map(|name| format!("finding-{name}"));
    for name in signs.iter().chain(&parted).chain(&verdicts).chain(&why).chain(&findings) {
        assert!(words.contains_key(name), "no words for `{name}`");
    }
}

#[test]
fn nothing_of_the_page_comes_from_elsewhere() {
    for (name, text) in assets() {
        for elsewhere in ["http://", "https://", "@import", "eval(", "innerHTML"] {
            assert!(!text.contains(elsewhere), "{name} has `{elsewhere}`");
        }
    }
}

/// (what lies on top, the ground, the least ratio, the success criterion)
const PAIRS: &[(&str, &str, f64, &str)] = &[
    ("ink", "paper", 7.0, "1.4.6, letters"),
    ("quiet", "paper", 7.0, "1.4.6, letters"),
    ("quiet", "shade", 7.0, "1.4.6, letters of what cannot be tapped yet"),
    ("paper", "go", 7.0, "1.4.6, letters of a button"),
    ("go", "go-ground", 7.0, "1.4.6, the setting"),
    ("quiet", "go-ground", 7.0, "1.4.6, when it was tested"),
    ("stop", "stop-ground", 7.0, "1.4.6, do not weld"),
    ("stop", "paper", 7.0, "1.4.6, what was missed"),
    ("care", "paper", 7.0, "1.4.6, with care"),
    ("paper", "stop", 7.0, "1.4.6, what is late"),
    ("rule", "paper", 3.0, "1.4.11, the line around a choice"),
    ("focus", "paper", 3.0, "1.4.11, what has the focus"),
];

#[test]
fn every_pair_of_colors_can_be_read_in_the_sun() {
    let sheet = &assets()["crew.css"];
    let color = |name: &str| -> [u8; 3] {
        let hex = sheet.split_once(&format!("  --{name}: #")).unwrap().1;
        [0, 2, 4].map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap())
    };
    for (top, ground, least, why) in PAIRS {
        let found = contrast(color(top), color(ground));
        assert!(found >= *least, "{top} on {ground}: {found:.2}, {why} asks for {least}");
    }
}
