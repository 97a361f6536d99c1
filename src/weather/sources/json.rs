//! Reading JSON within bounds, and saying in one sentence what is wrong with it.

use std::fmt;
use std::marker::PhantomData;

use serde::Deserialize;
use serde::de::{DeserializeOwned, Deserializer, Error, IgnoredAny, SeqAccess, Visitor};

use super::ParseError;

/// More values than three years of hours have: a longer array is a broken one.
const LONGEST_ARRAY: usize = 30_000;
/// How much of a foreign text is repeated in a message.
const LONGEST_QUOTE: usize = 120;

/// Reads `body` as a `T`.
///
/// # Errors
/// Empty, HTML, cut short, not JSON, or another shape than `expected`.
pub(crate) fn parse<T: DeserializeOwned>(
    body: &[u8],
    expected: &'static str,
) -> Result<T, ParseError> {
    let body = without_mark(body);
    let start = body.trim_ascii_start();
    if start.is_empty() {
        return Err(ParseError::Empty);
    }
    if looks_like_html(start) {
        return Err(ParseError::WebPage { title: html_title(start) });
    }
    serde_json::from_slice(body).map_err(|error| {
        if let Some(reason) = last_words(body) {
            ParseError::ServiceError { reason }
        } else if error.is_eof() {
            ParseError::CutShort { line: error.line(), column: error.column() }
        } else {
            ParseError::Malformed { expected, detail: quote(&error.to_string()) }
        }
    })
}

/// What a service writes at the end of an answer that it cannot complete, its good status long sent:
/// Open-Meteo does.
fn last_words(body: &[u8]) -> Option<String> {
    const BEGIN: &str = "Unexpected error while streaming";
    let end = String::from_utf8_lossy(body.get(body.len().saturating_sub(1024)..)?);
    end.rfind(BEGIN).and_then(|at| end.get(at..)).map(quote)
}

/// The body without the mark that some editors put in front of UTF-8.
pub(crate) fn without_mark(body: &[u8]) -> &[u8] {
    body.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(body)
}

/// Whether a body begins as a web page does.
pub(crate) fn looks_like_html(body: &[u8]) -> bool {
    let start: Vec<u8> =
        body.trim_ascii_start().iter().take(15).map(u8::to_ascii_lowercase).collect();
    [&b"<!doctype html"[..], b"<html", b"<head", b"<body", b"<title", b"<?xml"]
        .iter()
        .any(|tag| start.starts_with(tag))
}

/// What a web page's `<title>` says.
pub(crate) fn html_title(body: &[u8]) -> Option<String> {
    let head = String::from_utf8_lossy(body.get(..body.len().min(4096))?);
    let lower = head.to_ascii_lowercase();
    let start = lower.find("<title>")? + "<title>".len();
    let length = lower.get(start..)?.find("</title>")?;
    let title = quote(head.get(start..start + length)?);
    (!title.is_empty()).then_some(title)
}

/// A foreign text on one line, short enough for a message, without control characters.
pub(crate) fn quote(text: &str) -> String {
    let clean = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut short: String = clean.chars().filter(|c| !c.is_control()).take(LONGEST_QUOTE).collect();
    if clean.chars().count() > LONGEST_QUOTE {
        short.push('…');
    }
    short
}

/// An array that is read no further than three years of hours reach.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Bounded<T>(pub(crate) Vec<T>);

impl<T> Default for Bounded<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Bounded<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(BoundedVisitor(PhantomData))
    }
}

struct BoundedVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for BoundedVisitor<T> {
    type Value = Bounded<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an array")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut sequence: A) -> Result<Self::Value, A::Error> {
        let mut values = Vec::new();
        while let Some(value) = sequence.next_element()? {
            if values.len() == LONGEST_ARRAY {
                return Err(A::Error::custom(format_args!(
                    "an array of more than {LONGEST_ARRAY} values, which is over three years of hours"
                )));
            }
            values.push(value);
        }
        Ok(Bounded(values))
    }
}

/// One object, or the first of an array of them: a service that was asked for several places
/// answers with an array.
pub(crate) struct FirstOf<T>(pub(crate) T);

impl<'de, T: Deserialize<'de>> Deserialize<'de> for FirstOf<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(FirstVisitor(PhantomData)).map(Self)
    }
}

struct FirstVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for FirstVisitor<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an array with at least one place")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut sequence: A) -> Result<Self::Value, A::Error> {
        let first = sequence.next_element()?.ok_or_else(|| A::Error::invalid_length(0, &self))?;
        while sequence.next_element::<IgnoredAny>()?.is_some() {}
        Ok(first)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_is_told_from_a_mistake() {
        let cut = parse::<Vec<u8>>(b"[1, 2", "a list");
        assert_eq!(cut, Err(ParseError::CutShort { line: 1, column: 5 }));
        assert!(matches!(
            parse::<Vec<u8>>(b"[1, x]", "a list"),
            Err(ParseError::Malformed { expected: "a list", .. })
        ));
        assert_eq!(parse::<Vec<u8>>(b" \n ", "a list"), Err(ParseError::Empty));
    }

    #[test]
    fn a_web_page_is_named_with_its_title() {
        let page = b"  <!DOCTYPE HTML><html><head><title>\n 503 Service\tUnavailable </title>";
        assert_eq!(
            parse::<Vec<u8>>(page, "a list"),
            Err(ParseError::WebPage { title: Some("503 Service Unavailable".to_owned()) })
        );
    }

    #[test]
    fn an_endless_array_is_refused() {
        let body = format!("[{}0]", "0,".repeat(LONGEST_ARRAY));
        let error = parse::<Bounded<f64>>(body.as_bytes(), "a list");
        assert!(
            matches!(error, Err(ParseError::Malformed { .. })),
            "{:?}",
            error.map(|b| b.0.len())
        );
    }
}
