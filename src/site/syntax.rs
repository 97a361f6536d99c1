//! From text to TOML, with every place that is no TOML.

use toml::Spanned;
use toml::de::{DeTable, Error};

use super::fault::Fault;
use super::found::shortened;
use super::lines::Lines;

/// What could be read of a text.
pub(super) struct Document<'a> {
    pub(super) root: Spanned<DeTable<'a>>,
    /// At most one fault a line, ascending.
    pub(super) faults: Vec<Fault>,
    /// From this line on the tree cannot be trusted: what follows may have landed elsewhere.
    pub(super) trusted_below: usize,
}

impl<'a> Document<'a> {
    /// Reads what can be read. Nesting is limited by the TOML reader.
    pub(super) fn parse(lines: &Lines<'_>, text: &'a str) -> Self {
        let (root, errors) = DeTable::parse_recoverable(text);
        let is_open = errors.iter().any(|error| {
            let message = error.message();
            message.contains("unclosed inline table")
                || message.contains("unclosed array") && !message.contains("unclosed array table")
        });
        let mut errors: Vec<Broken> = errors
            .into_iter()
            .map(|error| {
                let line = lines.number(&error.span().unwrap_or_default());
                Broken { line, reach: reach(lines.text(line), error.message(), is_open), error }
            })
            .collect();
        // Of one line, what reaches furthest comes first: it says most.
        errors.sort_by_key(|broken| {
            let start = broken.error.span().unwrap_or_default().start;
            (broken.line, std::cmp::Reverse(broken.reach), start)
        });
        errors.dedup_by_key(|broken| broken.line);
        let trusted_below = errors
            .iter()
            .find(|broken| broken.reach > Reach::Line)
            .map_or(usize::MAX, |broken| broken.line);
        // What follows an open bracket is noise.
        if let Some(open) = errors.iter().position(|broken| broken.reach == Reach::Rest) {
            errors.truncate(open + 1);
        }
        let faults = errors.iter().map(|broken| fault(lines, broken)).collect();
        Self { root, faults, trusted_below }
    }
}

/// A place that is no TOML.
struct Broken {
    line: usize,
    error: Error,
    reach: Reach,
}

/// How far the harm of an error goes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Reach {
    /// It stays on its line.
    Line,
    /// A header cannot be read: what follows may have landed in another table.
    Table,
    /// A bracket or quotes are open: what follows was read as part of something else.
    Rest,
}

/// `is_open`: somewhere in the file a list or an inline table is not closed.
fn reach(line: &str, message: &str, is_open: bool) -> Reach {
    let is_duplicate = message.starts_with("duplicate key");
    let in_list = ["array", "inline table", "element"].iter().any(|sign| message.contains(sign))
        && !message.contains("array table");
    let swallows = message.contains("multi-line") || message.contains("recurse");
    if swallows || (is_open && (in_list || (is_header(line) && !is_duplicate))) {
        Reach::Rest
    } else if line.starts_with('[') && !is_duplicate {
        Reach::Table
    } else {
        Reach::Line
    }
}

/// Whether a line looks like a header that is complete.
fn is_header(line: &str) -> bool {
    line.starts_with('[') && line.contains(']')
}

fn fault(lines: &Lines<'_>, broken: &Broken) -> Fault {
    let line = broken.line;
    let text = lines.text(line);
    let message = broken.error.message();
    // A line that may hold a secret is not quoted.
    let subject = if text.is_empty() || text.to_lowercase().contains("key") {
        "this line".to_owned()
    } else {
        format!("`{}`", shortened(text))
    };
    let sentence = if message.starts_with("duplicate key") {
        format!("{subject} gives again what stands further up; expected every key and table once")
    } else {
        let said = plain_words(message);
        let hint = if broken.reach == Reach::Rest {
            " (look further up too for a bracket or quotes left open)"
        } else {
            ""
        };
        format!("{subject} is not valid TOML: {said}{hint}")
    };
    Fault { line, key: None, sentence }
}

/// The TOML reader's message, said for somebody who has never seen its grammar.
fn plain_words(message: &str) -> String {
    let (what, expected) = message.split_once(", expected ").unwrap_or((message, ""));
    match (what, expected) {
        // A bare word: the reader tries it as `true` or as text, by its first letter.
        (what, _) if what.starts_with("string values must") || what == "invalid boolean" => {
            "a word without quotes; expected text in quotes, true or false".to_owned()
        }
        ("unexpected key or value", _) => {
            "something stands behind the value; expected the end of the line".to_owned()
        }
        (what, "") => what.to_owned(),
        (what, expected) => format!("{what}; expected {expected}"),
    }
}
