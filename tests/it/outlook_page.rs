//! The outlook as a page: well formed, harmless, its figures backed by tables, readable in both themes.

use std::collections::BTreeMap;

use crate::day_page::contrast::{contrast, luminance};
use crate::day_page::well_formed::{Element, elements};
use crate::outlook::invented_hours;
use crate::proof::{Allowed, Proof};
use crate::support::{example_site, run};

const HOSTILE: &str = "\\\"><script>alert(1)</script>' & </title></style>";

/// Pages of both modes: (name, page).
fn pages() -> Vec<(&'static str, String)> {
    let rain = |at: chrono::DateTime<chrono::Utc>| at.timestamp() / 86_400 % 3 == 0;
    let hours = invented_hours("2013-03-20T00:00:00Z", 40 * 24, rain);
    let site = |name: &str| {
        example_site(&[
            ("name", &format!("\"{name}\"")),
            ("weather.source", "\"file\""),
            ("weather.path", "\"hours.csv\""),
            ("rules.crew_size", "4"),
            ("rules.crew_cost_per_hour", "50"),
        ])
    };
    let job = "--footage 20000 --start 2027-03-25 --finish 2027-04-20";
    [("ahead", String::new()), ("years", format!("--years hours.csv {job}"))]
        .map(|(mode, more)| {
            let folder = tempfile::tempdir().unwrap();
            let file = folder.path().join("page.html");
            let mut arguments = vec!["outlook", "a.toml", "b.toml", "c.toml"];
            arguments.extend(["--html", file.to_str().unwrap()]);
            arguments.extend(more.split_whitespace());
            let files = [
                ("a.toml", site("East roof")),
                ("b.toml", site(HOSTILE)),
                ("c.toml", "name = 1".to_owned()),
                ("hours.csv", hours.clone()),
            ];
            let files = files.each_ref().map(|(name, text)| (*name, text.as_str()));
            let outcome = run(&arguments, &files, &[]);
            // The third site is broken; the page is written all the same.
            assert_eq!(outcome.code, 1, "{}", outcome.shown());
            assert!(outcome.stderr.contains("page written to"), "{}", outcome.shown());
            (mode, std::fs::read_to_string(&file).unwrap())
        })
        .to_vec()
}

fn named<'a>(all: &'a [Element], name: &str) -> Vec<&'a Element> {
    all.iter().filter(|element| element.name == name).collect()
}

#[test]
fn every_page_is_well_formed_refers_only_to_itself_and_runs_nothing() {
    for (mode, page) in pages() {
        let all = elements(&page);
        let ids: Vec<&str> =
            all.iter().map(|e| e.value("id")).filter(|id| !id.is_empty()).collect();
        let mut once = ids.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), ids.len(), "{mode}: an id twice");
        for element in &all {
            for reference in ["aria-labelledby", "aria-describedby"] {
                let id = element.value(reference);
                assert!(id.is_empty() || ids.contains(&id), "{mode}: nothing has the id {id}");
            }
            let loads =
                ["script", "img", "link", "iframe", "object", "embed", "base", "form", "use"];
            assert!(!loads.contains(&element.name.as_str()), "{mode}: <{}>", element.name);
            for key in element.attributes.keys() {
                let inert =
                    !key.starts_with("on") && !["src", "style", "href"].contains(&key.as_str());
                assert!(inert, "{mode}: {key} on <{}>", element.name);
            }
        }
        assert!(!page.contains("url(") && !page.contains("@import"), "{mode}");
        let policy = named(&all, "meta")
            .into_iter()
            .find(|meta| meta.value("http-equiv") == "Content-Security-Policy");
        assert!(policy.unwrap().value("content").starts_with("default-src 'none'"), "{mode}");
        assert!(page.contains("&lt;script&gt;"), "{mode}: the hostile name is there, as text");
    }
}

/// Which roof first, ahead; what moving the job would save, behind: as the text has them, in tables.
#[test]
fn the_page_answers_what_the_text_answers() {
    let all = pages();
    let page = |mode: &str| all.iter().find(|(name, _)| *name == mode).unwrap().1.clone();
    let captions = |page: &str| {
        let rest = page.split("<caption>").skip(1);
        let names = rest.filter_map(|text| text.split_once("</caption>"));
        names.map(|(name, _)| name.to_owned()).collect::<Vec<_>>()
    };
    // The forecast begins in March; of the roofs' workdays three are near enough for times.
    let ahead = page("ahead");
    let orders: Vec<String> =
        captions(&ahead).into_iter().filter(|name| name.starts_with("Which roof first")).collect();
    let days = ["Tue 04-09", "Wed 04-10", "Thu 04-11"];
    assert_eq!(orders, days.map(|day| format!("Which roof first, {day}")));
    assert!(ahead.contains("are yours to weigh"));
    let years = page("years");
    let moves = captions(&years).into_iter().filter(|name| name == "Moving the job by a month");
    assert_eq!(moves.count(), 2, "one for each roof");
    assert!(years.contains("A month earlier, from 2027-02-25"), "{years}");
}

#[test]
fn every_figure_has_a_name_a_description_and_tables_behind_it() {
    for (mode, page) in pages() {
        let all = elements(&page);
        let figures = named(&all, "svg").into_iter().filter(|svg| svg.value("role") == "img");
        let mut count = 0;
        for figure in figures {
            count += 1;
            let text = |reference: &str| {
                let id = figure.value(reference);
                &all.iter().find(|element| element.value("id") == id).unwrap().text
            };
            assert!(!text("aria-labelledby").trim().is_empty(), "{mode}");
            assert!(text("aria-describedby").contains(':'), "{mode}");
        }
        // Ahead, one for all sites; behind, a heat map, tests and hours for each of two.
        assert_eq!(count, if mode == "ahead" { 1 } else { 6 }, "{mode}");
        let tables = named(&all, "table");
        assert_eq!(named(&all, "caption").len(), tables.len(), "{mode}: a table without a caption");
        assert!(tables.len() >= 5, "{mode}: {} tables", tables.len());
        for head in named(&all, "th") {
            assert!(["col", "row"].contains(&head.value("scope")), "{mode}: {}", head.text);
        }
        let scrolls = all.iter().filter(|element| element.is("scroll"));
        assert!(scrolls.clone().count() == tables.len());
        scrolls.for_each(|frame| assert_eq!(frame.value("tabindex"), "0"));
        let heading = named(&all, "section").len();
        assert_eq!(named(&all, "h2").len(), heading, "{mode}: a section without a heading");
        assert_eq!(named(&all, "h1").len(), 1, "{mode}");
    }
}

#[test]
fn a_cell_of_the_heat_map_is_a_cell_of_the_table() {
    let (_, page) = pages().into_iter().find(|(mode, _)| *mode == "ahead").unwrap();
    let all = elements(&page);
    let drawn: Vec<String> = all
        .iter()
        .filter(|cell| cell.name == "text" && cell.value("class").contains("on-"))
        .map(|cell| cell.text.clone())
        .collect();
    let start = all.iter().position(|e| e.name == "section" && e.value("id") == "compare").unwrap();
    let cells = all[start..].iter().skip_while(|element| element.name != "table").skip(1);
    let told: Vec<String> = cells
        .take_while(|element| element.name != "table")
        .filter(|element| element.name == "td" && element.inside.iter().any(|name| name == "tbody"))
        .map(|cell| cell.text.clone())
        .take(drawn.len())
        .collect();
    assert!(drawn.len() >= 20, "{}", drawn.len());
    assert_eq!(drawn, told);
    assert!(drawn.iter().any(|cell| cell == "hold"), "a day of rain holds: {drawn:?}");
}

/// The colors of the light theme, and of the dark one.
fn palettes(page: &str) -> [BTreeMap<String, [u8; 3]>; 2] {
    let style = named(&elements(page), "style")[0].text.clone();
    let (light, dark) = style.split_once("prefers-color-scheme: dark").unwrap();
    [light, dark].map(|part| {
        let line = |line: &str| {
            let (name, color) =
                line.trim().strip_prefix("--")?.strip_suffix(';')?.split_once(": #")?;
            let part = |at: usize| u8::from_str_radix(&color[at..at + 2], 16).unwrap();
            Some((name.to_owned(), [part(0), part(2), part(4)]))
        };
        part.lines().filter_map(line).collect()
    })
}

#[test]
fn letters_have_the_contrast_that_wcag_asks_for_in_both_themes() {
    let mut proof = Proof::of(
        "files/contrast-outlook",
        "Contrast of letters on the outlook's page, in both themes",
        "WCAG 2.2, criterion 1.4.3, by its own formula",
        "pairs",
        Allowed::Range("at least 4.5"),
    );
    let pages = pages();
    for palette in palettes(&pages[0].1) {
        for (top, ground) in [
            ("ink", "paper"),
            ("quiet", "paper"),
            ("ink", "shade"),
            ("quiet", "shade"),
            ("warn", "paper"),
            ("low", "t0"),
            ("low", "t1"),
            ("low", "t2"),
            ("high", "t3"),
            ("high", "t4"),
            ("high", "held"),
        ] {
            let ratio = contrast(palette[top], palette[ground]);
            proof.inside(ratio, 4.5.., || format!("{top} on {ground}"));
        }
        // The scale can be read without color: each step is lighter or darker than the one before.
        let steps = ["t0", "t1", "t2", "t3", "t4"].map(|step| luminance(palette[step]));
        let falls = steps.windows(2).all(|pair| pair[0] > pair[1]);
        let rises = steps.windows(2).all(|pair| pair[0] < pair[1]);
        assert!(falls || rises, "{steps:?}");
    }
    proof.done();
}
