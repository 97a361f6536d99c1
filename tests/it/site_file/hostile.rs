//! Files that nobody would write: too large, too deep, garbage.

use fairseam::site::{MAX_BYTES, SiteFaults, load};
use proptest::prelude::*;

use super::{EXAMPLE, SHORTEST, faults};

#[test]
fn a_file_too_large_is_not_looked_at_and_deep_nesting_does_not_overflow() {
    let big = format!("{SHORTEST}#{}", "x".repeat(MAX_BYTES));
    assert_eq!(
        faults(&big).to_string(),
        format!("site.toml:1: the file has {} bytes; expected at most 1048576", big.len())
    );
    let depth = MAX_BYTES / 4;
    for text in [
        "[".repeat(depth),
        format!("a = {}", "[".repeat(depth)),
        format!("a = {}{}", "[".repeat(depth), "]".repeat(depth)),
        format!("a = {}", "{a=".repeat(depth)),
        format!("{}a = 1", "a.".repeat(depth)),
        format!("[{}a]", "a.".repeat(depth)),
    ] {
        let faults = faults(&text);
        assert!(faults.faults().iter().all(|fault| fault.line == 1), "{faults}");
    }
}

#[test]
fn a_flood_of_faults_is_counted_and_not_printed() {
    let keys: String = (0..60_000).map(|number| format!("key{number} = 1\n")).collect();
    let told = faults(&keys).to_string();
    assert_eq!(told.lines().count(), SiteFaults::SHOWN + 1);
    assert!(told.lines().last().unwrap().ends_with("more faults"));
    let welders = "[[welders]]\n".repeat(60_000);
    let told = faults(&welders);
    assert!(
        told.faults()
            .iter()
            .any(|fault| { fault.sentence == "`welders` has 60000 entries; expected at most 50" })
    );
}

/// Every fault is told with a line of the file.
fn assert_told(text: &str) {
    if let Err(faults) = load(text, "site.toml") {
        let last = text.lines().count().max(1);
        assert!(!faults.faults().is_empty());
        for fault in faults.faults() {
            assert!((1..=last).contains(&fault.line), "{} of {last}: {fault:?}", fault.line);
            assert!(!fault.sentence.contains(char::is_control), "{fault:?}");
        }
    }
}

/// Pieces that a mutation puts into the example.
const PIECES: &[&str] = &[
    "\"",
    "'",
    "[",
    "]",
    "[[",
    "{",
    "}",
    "=",
    ".",
    ",",
    "#",
    "\n",
    "\r",
    "\0",
    "-",
    "nan",
    "1e308",
    "\"\"\"",
    "'''",
    "\\",
    "\u{feff}",
    "\u{202e}",
    "é",
    "07:00",
    "[shift]\n",
    "[[welders]]\n",
    "0x",
    "true",
    "1979-05-27T07:32:00Z",
    "\u{1f528}",
];

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn garbage_gets_a_fault_and_no_panic(text in "(?s).{0,300}") {
        assert_told(&text);
    }

    #[test]
    fn toml_like_garbage_gets_a_fault_and_no_panic(text in "([a-z.]{0,8}[=\\[\\]{}\"',\n 0-9:-]{0,6}){0,40}") {
        assert_told(&text);
    }

    #[test]
    fn a_mutated_example_loads_or_gets_a_fault(
        changes in proptest::collection::vec((0..EXAMPLE.len(), 0usize..12, 0..PIECES.len()), 1..5)
    ) {
        let mut text: Vec<char> = EXAMPLE.chars().collect();
        for (at, cut, piece) in changes {
            let at = at.min(text.len());
            let end = (at + cut).min(text.len());
            text.splice(at..end, PIECES[piece].chars());
        }
        assert_told(&text.into_iter().collect::<String>());
    }

    #[test]
    fn a_line_left_out_or_doubled_loads_or_gets_a_fault(line in 0usize..150, doubled: bool) {
        let text: Vec<&str> = EXAMPLE
            .lines()
            .enumerate()
            .flat_map(|(index, text)| {
                let times = match (index == line, doubled) {
                    (false, _) => 1,
                    (true, true) => 2,
                    (true, false) => 0,
                };
                std::iter::repeat_n(text, times)
            })
            .collect();
        assert_told(&text.join("\n"));
    }
}
