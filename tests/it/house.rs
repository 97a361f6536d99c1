//! The house rules as tests: pure rooms, arrows that run one way, every source listed.

use std::fs;
use std::path::{Path, PathBuf};

/// Every Rust file below a folder of the clone.
pub(crate) fn rust_files(folder: &str) -> Vec<PathBuf> {
    let mut files = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                files.push(path);
            }
        }
    }
    assert!(!files.is_empty(), "{folder} holds no Rust file");
    files
}

fn assert_free_of(folder: &str, words: &[&str], why: &str) {
    for path in rust_files(folder) {
        let text = fs::read_to_string(&path).unwrap();
        for word in words {
            assert!(!text.contains(word), "{path:?} mentions `{word}`: {why}");
        }
    }
}

const IMPURE: &[&str] = &[
    "reqwest",
    "tokio",
    "std::fs",
    "std::env",
    "std::net",
    "Utc::now",
    "SystemTime",
    "Instant::now",
    "println!",
    "eprintln!",
];

#[test]
fn the_pure_rooms_stay_pure() {
    for room in [
        "src/units",
        "src/words",
        "src/physics",
        "src/testweld",
        "src/plan",
        "src/quality",
        "src/season",
        "src/site",
        "src/render",
        "src/follow",
    ] {
        assert_free_of(room, IMPURE, "pure rooms take clock, network and disk as arguments");
    }
}

#[test]
fn arrows_run_downwards_only() {
    let order = [
        "units", "words", "physics", "weather", "site", "testweld", "plan", "quality", "season",
        "render", "follow", "store", "publish", "server", "cli",
    ];
    for (floor, room) in order.iter().enumerate() {
        for above in &order[floor + 1..] {
            assert_free_of(
                &format!("src/{room}"),
                &[&format!("crate::{above}")],
                "arrows run downwards only",
            );
        }
    }
    assert_free_of("src/weather", &["crate::site"], "weather knows no site");
    assert_free_of("src/site", &["crate::weather"], "a site knows no weather");
    assert_free_of("src/weather", &["crate::physics"], "weather does no physics");
}

#[test]
fn every_source_named_in_the_code_is_listed() {
    let listed =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/references.md"))
            .unwrap();
    let mut named = 0;
    for path in rust_files("src") {
        let text = fs::read_to_string(&path).unwrap();
        for (_, after) in
            text.match_indices("Source: ").map(|(at, word)| text.split_at(at + word.len()))
        {
            let key: String = after.chars().take_while(char::is_ascii_alphanumeric).collect();
            assert!(
                listed.contains(&format!("**{key}**")),
                "{path:?} names the source `{key}`, which docs/references.md does not list"
            );
            named += 1;
        }
    }
    assert!(named > 5, "only {named} sources found: does the search still work?");
}
