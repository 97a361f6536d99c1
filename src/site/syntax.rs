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
        let mut errors: Vec<Broken> = errors
            .into_iter()
            .map(|error| {
                let line = lines.number(&error.span().unwrap_or_default());
                Broken { line, derails: derails(lines, line, &error), error }
            })
            .collect();
        // Of one line, what derails comes first: it says more.
        errors.sort_by_key(|broken| {
            (broken.line, !broken.derails, broken.error.span().unwrap_or_default().start)
        });
        errors.dedup_by_key(|broken| broken.line);
        let derailed = errors.iter().position(|broken| broken.derails);
        let trusted_below = derailed.map_or(usize::MAX, |index| errors[index].line);
        // What follows an unclosed bracket is noise.
        errors.truncate(derailed.map_or(errors.len(), |index| index + 1));
        let faults = errors.iter().map(|broken| fault(lines, broken)).collect();
        Self { root, faults, trusted_below }
    }
}

/// A place that is no TOML.
struct Broken {
    line: usize,
    error: Error,
    derails: bool,
}

/// Whether an error may change the meaning of the lines after it: a list or a table left open, a
/// header that cannot be read.
fn derails(lines: &Lines<'_>, line: usize, error: &Error) -> bool {
    let message = error.message();
    if message.starts_with("duplicate key") {
        return false;
    }
    ["array", "table", "multi-line", "recurse"].iter().any(|sign| message.contains(sign))
        || lines.text(line).starts_with('[')
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
        let hint = if broken.derails && !text.starts_with('[') {
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
