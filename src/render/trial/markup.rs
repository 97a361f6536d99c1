//! Markup that no text can break: every text and every value is escaped here and nowhere else.

use super::clean;

/// A piece of a page, well formed by construction. Names of elements and attributes are the code's
/// own.
#[derive(Debug, Default)]
pub(super) struct Markup(String);

/// Text from anywhere.
pub(super) fn text(text: &str) -> Markup {
    Markup(escaped(&clean(text)))
}

/// An element with its attributes and what it holds.
pub(super) fn element(name: &str, attributes: &[(&str, &str)], content: Markup) -> Markup {
    Markup(format!("{}>{}</{name}>\n", opening(name, attributes), content.0))
}

/// An element with nothing but text in it.
pub(super) fn element_of(name: &str, attributes: &[(&str, &str)], words: &str) -> Markup {
    element(name, attributes, text(words))
}

/// An element that holds nothing, such as `meta`.
pub(super) fn empty(name: &str, attributes: &[(&str, &str)]) -> Markup {
    Markup(format!("{}>\n", opening(name, attributes)))
}

/// The page's own style sheet, which must hold no `<`.
pub(super) fn style(sheet: &'static str) -> Markup {
    element("style", &[], Markup(format!("\n{sheet}")))
}

/// The line in front of every page, then the page.
pub(super) fn document(html: Markup) -> String {
    format!("<!DOCTYPE html>\n{}", html.0)
}

impl FromIterator<Self> for Markup {
    fn from_iter<I: IntoIterator<Item = Self>>(pieces: I) -> Self {
        Self(pieces.into_iter().map(|piece| piece.0).collect())
    }
}

impl<const N: usize> From<[Self; N]> for Markup {
    fn from(pieces: [Self; N]) -> Self {
        pieces.into_iter().collect()
    }
}

fn opening(name: &str, attributes: &[(&str, &str)]) -> String {
    let mut opening = format!("<{name}");
    for (key, value) in attributes {
        opening.push_str(&format!(" {key}=\"{}\"", escaped(&clean(value))));
    }
    opening
}

fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            sign => escaped.push(sign),
        }
    }
    escaped
}
