//! What the documents point to is there: files, sections, options.

use std::collections::BTreeSet;

use super::pages::{Page, pages, read};
use super::subcommands;
use crate::binary::{fairseam, root};

/// Folders of the clone in which a path in backquotes is looked for.
const FOLDERS: &[&str] = &["src/", "tests/", "docs/", "config/", "benches/", ".ci/"];

/// Options of other programs that the documents name.
const OF_OTHERS: &[&str] = &[
    "--test",
    "--bench",
    "--locked",
    "--all",
    "--all-targets",
    "--path",
    "--release",
    "--check",
    "--config",
    "--lib",
    "--seconds",
    "--binary",
];

#[test]
fn every_path_named_in_the_docs_exists() {
    let mut count = 0;
    for page in pages() {
        for span in page.code_spans() {
            let path = span.trim_end_matches('/');
            let is_path = FOLDERS.iter().any(|folder| span.starts_with(folder))
                && !path.contains([' ', '*', '<', '…']);
            if is_path {
                assert!(root().join(path).exists(), "{}: `{span}` is not there", page.name);
                count += 1;
            }
        }
    }
    assert!(count > 80, "only {count} paths found: does the search still work?");
}

/// The anchor that a renderer gives a heading: small letters, hyphens for blanks, no other signs.
fn anchor(heading: &str) -> String {
    let kept = heading.to_lowercase();
    let kept = kept.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect()
}

fn anchors(text: &str) -> BTreeSet<String> {
    let headings = text.lines().filter(|line| line.starts_with('#'));
    headings.map(|line| anchor(line.trim_start_matches('#').trim())).collect()
}

fn links(page: &Page) -> Vec<String> {
    let starts = page.text.match_indices("](").map(|(at, sign)| at + sign.len());
    starts.map(|at| page.text[at..].split(')').next().unwrap().to_owned()).collect()
}

#[test]
fn every_link_in_the_docs_leads_somewhere() {
    let mut count = 0;
    for page in pages() {
        let folder = root().join(&page.name);
        let folder = folder.parent().unwrap();
        for link in links(&page).iter().filter(|link| !link.contains("://")) {
            let (file, section) = link.split_once('#').unwrap_or((link, ""));
            let target = if file.is_empty() { root().join(&page.name) } else { folder.join(file) };
            assert!(target.exists(), "{}: {link}", page.name);
            if !section.is_empty() {
                let found = anchors(&read(&target)).contains(section);
                assert!(found, "{}: {link}: no such section", page.name);
            }
            count += 1;
        }
    }
    assert!(count > 40, "only {count} links found: does the search still work?");
}

/// The options that a text names.
fn options(text: &str) -> BTreeSet<String> {
    let starts = text.match_indices("--").filter(|(at, _)| {
        let before = text[..*at].chars().next_back();
        before.is_none_or(|c| !c.is_alphanumeric() && c != '-')
    });
    let names = starts.map(|(at, _)| {
        let is_part = |c: &char| c.is_ascii_lowercase() || *c == '-';
        text[at..].chars().take_while(is_part).collect::<String>()
    });
    names.filter(|name| name.len() > 2).collect()
}

#[test]
fn every_option_named_in_the_docs_exists() {
    let mut known: BTreeSet<String> = OF_OTHERS.iter().map(|name| (*name).to_owned()).collect();
    for name in subcommands() {
        known.extend(options(&fairseam(&[&name, "--help"], "2027-04-20T23:00:00Z").stdout));
    }
    for page in pages() {
        for span in page.code_spans() {
            for option in options(&span) {
                assert!(known.contains(&option), "{}: `{span}`: no `{option}`", page.name);
            }
        }
    }
}

/// The cells of every table row in a section, in the order of its columns.
fn rows(text: &str, section: &str) -> Vec<Vec<String>> {
    let (_, rest) = text.split_once(&format!("\n## {section}\n")).unwrap();
    let body = rest.split("\n## ").next().unwrap();
    let rows = body.lines().filter(|line| line.starts_with("| ") && !line.starts_with("|-"));
    rows.skip(1).map(|row| row.split('|').map(|cell| cell.trim().to_owned()).collect()).collect()
}

fn in_backquotes(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

#[test]
fn the_page_of_the_house_lists_every_room_and_the_tests_of_every_law() {
    let page = read("docs/architecture.md");
    let listed: BTreeSet<String> =
        rows(&page, "Rooms").iter().map(|row| row[1].trim_matches('`').to_owned()).collect();
    let mut rooms = BTreeSet::new();
    for entry in std::fs::read_dir(root().join("src")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rooms.insert(path.file_name().unwrap().to_str().unwrap().to_owned());
        }
    }
    assert_eq!(listed, rooms, "the page on the left, src/ on the right");

    let laws = rows(&page, "What always holds");
    assert!(laws.len() > 10);
    for law in &laws {
        let tests: Vec<&str> = in_backquotes(&law[3]).collect();
        assert!(!tests.is_empty() || law[3] == "the compiler", "{}: held by nothing", law[1]);
        for test in tests {
            let file = root().join(format!("tests/it/{test}.rs"));
            let folder = root().join(format!("tests/it/{test}"));
            assert!(file.exists() || folder.exists(), "{}: no test `{test}`", law[1]);
        }
    }
}
