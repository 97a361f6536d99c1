//! `docs/verification.md`: one line a check, in sections, in the order of the keys.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};

/// First part of a key, and the heading of its section.
const SECTIONS: &[(&str, &str)] = &[
    ("plan", "## The plan"),
    ("weld", "## Test welds"),
    ("learn", "## Learning from the book"),
    ("heat", "## Hot air on the sheet"),
    ("sun", "## Sun and sky"),
    ("air", "## Humid air"),
    ("sheet", "## The sheet"),
    ("water", "## Water on the sheet"),
    ("people", "## People"),
    ("power", "## Cords and generators"),
    ("doubt", "## Doubt about a forecast"),
    ("weather", "## Weather as it is sent"),
    ("outlook", "## Days ahead and years behind"),
    ("calendar", "## Calendar"),
    ("files", "## Files and pages"),
    ("inner", "## Inner agreement"),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn blessing() -> bool {
    std::env::var_os("FAIRSEAM_BLESS").is_some()
}

/// The page, locked against every other test, be it in this process or in another.
fn open() -> (File, String) {
    let path = root().join("docs/verification.md");
    let mut file = File::options().read(true).write(blessing()).open(path).unwrap();
    if blessing() {
        file.lock().unwrap()
    } else {
        file.lock_shared().unwrap()
    }
    let mut text = String::new();
    file.read_to_string(&mut text).unwrap();
    (file, text)
}

fn write(mut file: File, text: &str) {
    file.set_len(0).unwrap();
    file.rewind().unwrap();
    file.write_all(text.as_bytes()).unwrap();
}

/// The key of a row; `None` for any other line.
fn key_of(line: &str) -> Option<&str> {
    let key = line.strip_prefix("| `")?.split('`').next()?;
    key.contains('/').then_some(key)
}

/// Asserts that the page holds `row`, or puts it there where `FAIRSEAM_BLESS` is set.
pub(super) fn hold(key: &str, row: &str) {
    let (file, text) = open();
    if text.lines().any(|line| line == row) {
        return;
    }
    let old = text.lines().find(|line| key_of(line) == Some(key)).unwrap_or("no such row");
    assert!(
        blessing(),
        "docs/verification.md is stale: run `FAIRSEAM_BLESS=1 cargo test` and look at it\n\
         expected: {row}\n   found: {old}"
    );
    write(file, &with_row(&text, key, row));
}

/// The page with `row` in its place instead of the old one.
fn with_row(text: &str, key: &str, row: &str) -> String {
    let mut lines: Vec<&str> = text.lines().filter(|line| key_of(line) != Some(key)).collect();
    let section = key.split('/').next().unwrap_or_default();
    let known = SECTIONS.iter().find(|(name, _)| *name == section);
    let (_, heading) = known.unwrap_or_else(|| panic!("{key}: no section {section}"));
    let heading = lines.iter().position(|line| line == heading);
    let heading = heading.unwrap_or_else(|| panic!("the page lacks the heading of {key}"));
    let table = heading + lines[heading..].iter().position(|l| l.starts_with("|---")).unwrap() + 1;
    let before = lines[table..].iter().take_while(|line| key_of(line).is_some_and(|k| k < key));
    lines.insert(table + before.count(), row);
    lines.join("\n") + "\n"
}

/// Every key that a test names.
fn keys_in_tests() -> Vec<String> {
    let mut keys = Vec::new();
    let mut folders = vec![root().join("tests/it")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let of_this_module = path.file_stem().is_some_and(|stem| stem == "proof");
            if path.is_dir() && !of_this_module {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") && !of_this_module {
                keys_in(&path, &mut keys);
            }
        }
    }
    keys
}

fn keys_in(path: &Path, keys: &mut Vec<String>) {
    let text = fs::read_to_string(path).unwrap();
    for after in text.split("Proof::of(").skip(1) {
        let key = after.trim_start().strip_prefix('"').and_then(|rest| rest.split('"').next());
        let key = key.unwrap_or_else(|| panic!("{path:?}: a key must be written out"));
        keys.push(key.to_owned());
    }
}

#[test]
fn every_row_has_its_test_and_every_test_its_row() {
    let named = keys_in_tests();
    let keys: BTreeSet<&str> = named.iter().map(String::as_str).collect();
    assert_eq!(keys.len(), named.len(), "a key stands in two tests: {named:?}");
    let (file, text) = open();
    let gone = |line: &str| key_of(line).is_some_and(|key| !keys.contains(key));
    if blessing() && text.lines().any(gone) {
        let kept: Vec<&str> = text.lines().filter(|line| !gone(line)).collect();
        return write(file, &(kept.join("\n") + "\n"));
    }
    let rows: Vec<&str> = text.lines().filter_map(key_of).collect();
    let on_page: BTreeSet<&str> = rows.iter().copied().collect();
    assert_eq!(on_page.len(), rows.len(), "a key stands twice on the page: {rows:?}");
    if !blessing() {
        let apart: Vec<_> = on_page.symmetric_difference(&keys).collect();
        assert!(apart.is_empty(), "on the page or in a test, not in both: {apart:?}");
    }
}

#[test]
fn every_row_stands_in_its_section_and_in_order() {
    let (_, text) = open();
    for part in text.split("\n## ").skip(1) {
        let keys: Vec<&str> = part.lines().filter_map(key_of).collect();
        assert!(keys.is_sorted(), "{keys:?}");
        let heading = format!("## {}", part.lines().next().unwrap());
        let section = SECTIONS.iter().find(|(_, title)| *title == heading);
        for key in keys {
            let named = section.is_some_and(|(name, _)| key.split('/').next() == Some(name));
            assert!(named, "{key} stands under {heading:?}");
        }
    }
}

#[test]
fn every_source_on_the_page_is_listed() {
    let listed = fs::read_to_string(root().join("docs/references.md")).unwrap();
    let (_, text) = open();
    let rows = text.lines().filter(|line| key_of(line).is_some());
    let words = rows.flat_map(|row| row.split('|').nth(3).unwrap().split([' ', ',', ';', ':']));
    // A key of docs/references.md is a name with its year.
    let is_key = |word: &&str| {
        let (name, year) = word.split_at_checked(word.len().saturating_sub(4)).unwrap_or(("", ""));
        name.len() > 2
            && name.starts_with(|c: char| c.is_ascii_uppercase())
            && name.chars().all(|c| c.is_ascii_alphabetic())
            && year.parse::<u32>().is_ok_and(|year| (1900..2100).contains(&year))
    };
    let mut named = 0;
    for key in words.filter(is_key) {
        assert!(listed.contains(&format!("**{key}**")), "docs/references.md lacks {key}");
        named += 1;
    }
    assert!(named > 20, "only {named} sources found: does the search still work?");
}

#[test]
fn a_row_goes_to_its_place_and_takes_the_old_ones() {
    let page = "# P\n\n## Sun and sky\n\n| key |\n|---|\n| `sun/a` | 1 |\n| `sun/c` | 1 |\n\nEnd\n";
    let added = with_row(page, "sun/b", "| `sun/b` | 2 |");
    assert_eq!(added, page.replace("| `sun/c`", "| `sun/b` | 2 |\n| `sun/c`"));
    let replaced = with_row(page, "sun/c", "| `sun/c` | 3 |");
    assert_eq!(replaced, page.replace("| `sun/c` | 1 |", "| `sun/c` | 3 |"));
}
