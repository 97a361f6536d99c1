//! How a sentence names what stands in the file.

use toml::de::DeValue;

use super::value::printable;

/// Characters of a value that are quoted.
const QUOTED: usize = 40;

/// What stands in the file, short enough for a sentence.
pub(super) fn describe(raw: &DeValue<'_>) -> String {
    match raw {
        DeValue::String(text) => format!("\"{}\"", shortened(text)),
        DeValue::Integer(digits) => shortened(&digits.to_string()),
        DeValue::Float(digits) => shortened(digits.as_str()),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(moment) => shortened(&moment.to_string()),
        DeValue::Array(list) if list.is_empty() => "an empty list".to_owned(),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}

/// At most [`QUOTED`] characters of a text, on one line.
pub(super) fn shortened(text: &str) -> String {
    let mut characters = text.chars();
    let mut start = printable(&characters.by_ref().take(QUOTED).collect::<String>());
    if characters.next().is_some() {
        start.push('…');
    }
    start
}
