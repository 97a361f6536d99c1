//! The page of a day: well formed, harmless, true to the plan, the same words as the text page.

pub(crate) mod contrast;
mod crew;
mod invented;
mod picture;
pub(crate) mod well_formed;

use std::sync::LazyLock;

use fairseam::plan::DayPlan;
use fairseam::render::html::day_page;
use fairseam::render::text::{Paint, plan_text};
use fairseam::site::Site;
use fairseam::units::{Temperature, UnitSystem};
use fairseam::words::Language;

use crate::support::run;
use crate::words::vocabulary::foreign;
use invented::{Invented, air_alone, deep_cold, flat, rain_all_day, utc};
use well_formed::{Element, elements};

/// A day that strains the page, with its page.
struct Day {
    name: &'static str,
    site: Site,
    plan: DayPlan,
    page: String,
}

/// Planned once, since every test looks at all of them.
static DAYS: LazyLock<Vec<Day>> = LazyLock::new(|| {
    let day = |name, change: &dyn Fn(&mut Invented)| {
        let mut day = Invented::april();
        change(&mut day);
        let plan = day.plan();
        let page = day_page(&plan);
        Day { name, site: day.site, plan, page }
    };
    vec![
        day("april", &|_| ()),
        day("bracket", &|day| day.center = Some(Temperature::from_fahrenheit(925.0))),
        day("no sheet", &|day| day.hour = air_alone),
        day("all hold", &|day| day.hour = rain_all_day),
        day("over midnight", &|day| day.shift("21:00", "06:00", &[("meal", "01:00", 45)])),
        day("one hour", &|day| day.shift("09:00", "10:00", &[])),
        day("flat", &|day| day.hour = flat),
        day("metric below zero", &cold_and_metric),
        day("clocks go back", &clocks_go_back),
        day("stale", &old_forecast),
        day("hostile", &hostile),
    ]
});

fn cold_and_metric(day: &mut Invented) {
    day.hour = deep_cold;
    day.site.units = UnitSystem::Metric;
}

/// The night of November 7, 2027, has 02:00 to 03:00 once and 01:00 to 02:00 twice in the U.S.
fn clocks_go_back(day: &mut Invented) {
    day.date = chrono::NaiveDate::from_ymd_opt(2027, 11, 6).unwrap();
    day.now = utc("2027-11-06T12:00:00Z");
    day.provenance.issued_at = Some(utc("2027-11-06T10:00:00Z"));
    day.provenance.fetched_at = day.now;
    day.shift("22:00", "06:00", &[]);
}

fn old_forecast(day: &mut Invented) {
    day.provenance.stale = true;
    day.now = utc("2027-04-21T05:00:00Z");
}

const SCRIPT: &str = "<script>alert(1)</script>";

fn hostile(day: &mut Invented) {
    day.site.name =
        format!("\"{SCRIPT}' & \u{202e}\u{2066}roof\u{2069}\n\0👷\u{200d}♀️ </title></style>");
    day.site.welders[0].name = format!("\"><img src=x onerror=alert(1)>{SCRIPT}\u{85}");
    day.shift("07:00", "15:30", &[("</text></svg><script>x</script>&amp;\u{200f}", "12:00", 30)]);
    day.provenance.source = "<b>".to_owned();
    day.provenance.attribution =
        "https://a.example/?a=1&b=\"onclick='x' javascript:alert(1) <a href=x>".to_owned();
}

fn of_class<'a>(all: &'a [Element], class: &str) -> Vec<&'a Element> {
    all.iter().filter(|element| element.is(class)).collect()
}

fn words_of(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_page_is_well_formed_and_refers_only_to_itself() {
    for Day { name, page, .. } in DAYS.iter() {
        let all = elements(page);
        let mut ids: Vec<&str> =
            all.iter().map(|e| e.value("id")).filter(|id| !id.is_empty()).collect();
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "{name}: an id twice");
        for reference in ["aria-labelledby", "aria-describedby"] {
            let named =
                all.iter().map(|element| element.value(reference)).filter(|id| !id.is_empty());
            named.for_each(|id| assert!(ids.contains(&id), "{name}: nothing has the id {id}"));
        }
        let style = all.iter().find(|element| element.name == "style").unwrap();
        for (_, rest) in style.text.match_indices("url(").map(|(at, _)| style.text.split_at(at + 4))
        {
            let target = rest.strip_prefix('#').expect("only this page's own patterns");
            let id = target.split(')').next().unwrap();
            assert!(ids.contains(&id), "{name}: nothing has the id {id}");
        }
    }
}

#[test]
fn no_page_runs_or_loads_anything() {
    for Day { name, page, .. } in DAYS.iter() {
        let all = elements(page);
        for element in &all {
            let allowed = !matches!(
                element.name.as_str(),
                "script"
                    | "img"
                    | "link"
                    | "iframe"
                    | "object"
                    | "embed"
                    | "base"
                    | "form"
                    | "image"
                    | "use"
            );
            assert!(allowed, "{name}: <{}>", element.name);
            for (key, value) in &element.attributes {
                let inert = !key.starts_with("on")
                    && !matches!(key.as_str(), "src" | "style" | "xlink:href");
                assert!(inert, "{name}: {key}={value:?} on <{}>", element.name);
                let link = key != "href" || (element.name == "a" && value.starts_with("https://"));
                assert!(link, "{name}: href={value:?} on <{}>", element.name);
            }
        }
        let style = all.iter().find(|element| element.name == "style").unwrap();
        assert!(!style.text.contains("@import") && !style.text.contains("http"), "{name}");
        let policy =
            all.iter().find(|e| e.value("http-equiv") == "Content-Security-Policy").unwrap();
        assert!(policy.value("content").starts_with("default-src 'none'"));
    }
}

#[test]
fn hostile_names_are_shown_as_text_without_what_reorders_it() {
    let page = &DAYS.iter().find(|day| day.name == "hostile").unwrap().page;
    assert!(!page.contains("<script") && !page.contains("<img"));
    let bad = |sign: char| {
        (sign.is_control() && sign != '\n')
            || matches!(sign, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    assert_eq!(page.chars().find(|sign| bad(*sign)), None);
    let all = elements(page);
    let shown = of_class(&all, "site")[0].text.clone();
    assert_eq!(words_of(&shown), format!("\"{SCRIPT}' & roof 👷\u{200d}♀️ </title></style>"));
    let welder = &of_class(&all, "welder")[0].text;
    assert_eq!(words_of(welder), format!("\"><img src=x onerror=alert(1)>{SCRIPT}"));
    let links: Vec<&Element> = all.iter().filter(|element| element.name == "a").collect();
    assert_eq!(links.len(), 1);
    assert_eq!(links[0].value("href"), "https://a.example/?a=1&b=");
}

/// Names and credits aside, which no language file can know.
#[test]
fn a_spanish_page_says_so_and_holds_no_english_word() {
    for Day { name, plan, .. } in DAYS.iter().filter(|day| day.name != "hostile") {
        let plan = plan.in_language(Language::Es);
        let page = day_page(&plan);
        assert!(page.contains("<html lang=\"es\">"), "{name}");
        let mut given = vec![plan.site.as_str(), &plan.weather.source, &plan.weather.attribution];
        given.extend(plan.shift.breaks.iter().map(|stop| stop.name.as_str()));
        let welders = plan.checkpoints.iter().flat_map(|point| &point.settings);
        given.extend(welders.map(|setting| setting.welder.as_str()));
        let (before, rest) = page.split_once("<style>").unwrap();
        let (_, after) = rest.split_once("</style>").unwrap();
        let pieces = [before, after].into_iter().flat_map(|part| part.split('<'));
        let mut shown: String = pieces
            .filter_map(|piece| piece.split_once('>'))
            .map(|(_, text)| format!("{text} "))
            .collect();
        shown.extend(
            elements(&page).iter().map(|element| format!("{} ", element.value("data-name"))),
        );
        assert!(shown.contains("soldar"), "{name}");
        let foreign = foreign(Language::Es, &shown, &given);
        assert!(foreign.is_empty(), "{name}: {foreign:?}");
        let text = plan_text(&plan, Paint::Plain);
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{name}:\n{text}");
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    assert_eq!(DAYS[0].page, day_page(&Invented::april().plan()));
}

/// One decision, one wording: what the crew reads on the page is what it reads in the terminal.
#[test]
fn every_sentence_of_the_page_stands_on_the_text_page_too() {
    for Day { name, plan, page, .. } in DAYS.iter().filter(|day| day.name != "hostile") {
        let text = words_of(&plan_text(plan, Paint::Plain));
        let upper = text.to_uppercase();
        for element in elements(page) {
            let said = words_of(&element.text);
            match element.name.as_str() {
                "h2" => assert!(upper.contains(&said.to_uppercase()), "{name}: {said:?}"),
                "p" | "dd" if !element.is("date") => {
                    assert!(text.contains(&said), "{name}: {said:?}")
                }
                "div" if element.is("hint") => assert!(text.contains(&said), "{name}: {said:?}"),
                "li" if !element.inside.contains(&"figure".to_owned()) => {
                    // A stand-by has its letter in front.
                    let letters = ["A ", "B ", "C "];
                    let plain = letters.iter().find_map(|letter| said.strip_prefix(letter));
                    let said = plain.unwrap_or(&said);
                    assert!(text.contains(said), "{name}: {said:?}");
                }
                _ => {}
            }
        }
    }
}

#[test]
fn an_old_forecast_is_the_first_thing_on_the_page() {
    let first = |name: &str| {
        let all = elements(&DAYS.iter().find(|day| day.name == name).unwrap().page);
        let header = all.iter().position(|element| element.name == "header").unwrap();
        (all[header + 1].name.clone(), all[header + 1].text.clone())
    };
    assert_eq!(first("april").0, "h1");
    let (name, said) = first("stale");
    assert_eq!(name, "p");
    // Read at 22:45 UTC, planned at 05:00 UTC of the next day.
    assert!(said.starts_with("STALE FORECAST, 6 h 15 min old"), "{said}");
}

#[test]
fn the_table_has_every_test_and_every_welder_of_the_plan() {
    for Day { name, plan, page, .. } in DAYS.iter() {
        let all = elements(page);
        let welders: usize = plan.checkpoints.iter().map(|point| point.settings.len()).sum();
        let heats: usize =
            plan.checkpoints.iter().flat_map(|p| &p.settings).map(|s| s.trial.heats.len()).sum();
        assert_eq!(of_class(&all, "time").len(), plan.checkpoints.len(), "{name}");
        assert_eq!(of_class(&all, "welder").len(), welders, "{name}");
        let large = of_class(&all, "figure").len();
        let speeds = plan.checkpoints.iter().flat_map(|p| &p.settings);
        let speeds = speeds.filter(|setting| setting.trial.speed_held.is_some()).count();
        assert_eq!(large, plan.checkpoints.len() + heats + speeds, "{name}");
    }
}

#[test]
fn what_the_forecast_lacks_is_a_question_mark_and_never_a_zero() {
    let day = DAYS.iter().find(|day| day.name == "no sheet").unwrap();
    let all = elements(&day.page);
    let cells: Vec<&str> =
        all.iter().filter(|cell| cell.name == "td").map(|cell| cell.text.as_str()).collect();
    // 07:00 by `april_hour`: 59 - 17 cos(0.2 π) = 45 °F; nothing else is in the forecast.
    let first = ["45", "?", "?", "?", "?", "?"];
    assert!(cells.windows(first.len()).any(|cells| cells == first), "{cells:?}");
    assert!(!cells.contains(&"0"));
}

#[test]
fn an_all_hold_day_says_that_there_is_no_test() {
    let day = DAYS.iter().find(|day| day.name == "all hold").unwrap();
    let all = elements(&day.page);
    assert_eq!(of_class(&all, "none").len(), 1);
    assert!(of_class(&all, "test-sign").is_empty());
    let verdicts = all.iter().filter(|mark| mark.name == "span" && mark.is("verdict"));
    let verdicts: Vec<&str> = verdicts.map(|mark| mark.text.as_str()).collect();
    assert!(verdicts.iter().all(|verdict| *verdict == "hold"), "{verdicts:?}");
}

#[test]
fn the_command_writes_the_page_beside_the_plan() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("day.html");
    let site = concat!(env!("CARGO_MANIFEST_DIR"), "/config/demo/site.toml");
    let clock = [("FAIRSEAM_NOW", "2027-04-20T23:00:00Z")];
    let plain = ["plan", site, "--date", "2027-04-21"];
    let with_page = [&plain[..], &["--html", file.to_str().unwrap()]].concat();
    let outcome = run(&with_page, &[], &clock);
    assert_eq!(outcome.code, 0, "{}", outcome.shown());
    assert!(outcome.stderr.contains("page written to"), "{}", outcome.shown());
    let page = std::fs::read_to_string(&file).unwrap();
    assert_eq!(of_class(&elements(&page), "site")[0].text, "Prairie grain store, roof B");
    assert_eq!(outcome.stdout, run(&plain, &[], &clock).stdout);
}
