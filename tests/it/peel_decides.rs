//! Nothing that a reader is told says that a weld or a seam is good: the peel decides.

use std::fs;
use std::path::PathBuf;

use crate::binary::root;

/// What would say it, in either language, in small letters.
const SAYS_IT: &[&str] = &[
    "weld is good",
    "weld is sound",
    "seam is good",
    "seam is sound",
    "seam is tight",
    "sound seam",
    "approved",
    "guarantee",
    "watertight",
    "soldadura es buena",
    "soldadura está bien",
    "costura es buena",
    "costura está bien",
    "garantiz",
    "aprobad",
];

/// Words that are only said to be denied, and what has to stand before them.
const ONLY_DENIED: &[(&str, &[&str])] = &[("certifies", &["it certifies no", "and certifies no"])];

fn files(folder: &str, ends: &[&str]) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|end| ends.iter().any(|one| end == *one)) {
                found.push(path);
            }
        }
    }
    found
}

/// What is said by a text: without the lines of code comments, on one line, in small letters.
fn said(text: &str) -> String {
    let lines = text.lines().map(str::trim_start).filter(|line| !line.starts_with("//"));
    lines.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ").to_lowercase()
}

fn faults(text: &str) -> Vec<&'static str> {
    let said = said(text);
    let plain = SAYS_IT.iter().filter(|words| said.contains(**words)).copied();
    let denied = ONLY_DENIED.iter().filter(|(word, denials)| {
        // The name of a message or a function is not said.
        let count = said
            .match_indices(word)
            .filter(|(at, word)| !said[at + word.len()..].starts_with(['-', '_']));
        let denials: usize = denials.iter().map(|denial| said.matches(denial).count()).sum();
        count.count() > denials
    });
    plain.chain(denied.map(|(word, _)| *word)).collect()
}

#[test]
fn no_message_and_no_page_says_that_a_weld_is_good() {
    let mut looked_at = 0;
    for (folder, ends) in [
        ("src/words", &["ftl"][..]),
        ("src/render", &["rs"]),
        ("src/server", &["rs", "js"]),
        ("src/cli", &["rs"]),
    ] {
        for path in files(folder, ends) {
            let found = faults(&fs::read_to_string(&path).unwrap());
            assert!(found.is_empty(), "{path:?} says {found:?}");
            looked_at += 1;
        }
    }
    assert!(looked_at > 100, "only {looked_at} files: does the search still work?");
}

#[test]
fn a_sentence_that_says_it_is_found() {
    for text in ["The seam\n    is tight.", "x = This certifies the seam.", "La costura está bien"]
    {
        assert_eq!(faults(text).len(), 1, "{text}");
    }
    for text in ["It certifies no seam", "// a good seam is sound", "say(\"certifies-nothing\")"] {
        assert_eq!(faults(text), [""; 0], "{text}");
    }
}
