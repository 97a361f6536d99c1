//! Markup that no text can break: every text and every value is escaped here and nowhere else.

use super::visible::visible;

/// A piece of a page, well formed by construction. Names of elements and attributes are the code's own.
#[derive(Debug, Default)]
pub(crate) struct Markup(String);

/// A page loads nothing and runs nothing, and has the browser hold it to that.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// Elements with a line of their own, so that a page can be read and compared line by line.
const ON_A_LINE: [&str; 31] = [
    "html",
    "head",
    "meta",
    "title",
    "link",
    "script",
    "style",
    "body",
    "header",
    "main",
    "footer",
    "section",
    "h1",
    "h2",
    "p",
    "dl",
    "div",
    "ul",
    "ol",
    "li",
    "table",
    "thead",
    "tbody",
    "tr",
    "figure",
    "figcaption",
    "caption",
    "details",
    "svg",
    "g",
    "path",
];

/// Text from anywhere.
pub(crate) fn text(text: &str) -> Markup {
    Markup(escaped(&visible(text)))
}

/// An element with its attributes and what it holds.
pub(crate) fn element(name: &str, attributes: &[(&str, &str)], content: Markup) -> Markup {
    let opening = opening(name, attributes);
    let end = line_end(name);
    Markup(format!("{opening}>{}</{name}>{end}", content.0))
}

/// An element with nothing but text in it.
pub(crate) fn element_of(name: &str, attributes: &[(&str, &str)], words: &str) -> Markup {
    element(name, attributes, text(words))
}

/// A part of a page under its heading, which names it; nothing where there is nothing to show.
pub(crate) fn section(id: &str, title: &str, body: Markup) -> Markup {
    if body.is_empty() {
        return body;
    }
    let named = format!("{id}-title");
    let title = element_of("h2", &[("id", &named)], title);
    element("section", &[("id", id), ("aria-labelledby", &named)], [title, body].into())
}

/// An element that holds nothing, such as `meta` or `rect`.
pub(crate) fn empty(name: &str, attributes: &[(&str, &str)]) -> Markup {
    Markup(format!("{}/>{}", opening(name, attributes), line_end(name)))
}

/// The page's own style sheet, which must hold no `<`.
fn style(sheet: &'static str) -> Markup {
    element("style", &[], Markup(format!("\n{sheet}")))
}

/// What stands in front of a page's body, its title and style sheet in it; `more` are meta names and
/// contents beyond those of every page.
pub(crate) fn page_head(title: &str, more: &[(&str, &str)], sheet: &'static str) -> Markup {
    let meta = |name, content| empty("meta", &[("name", name), ("content", content)]);
    let policy = [("http-equiv", "Content-Security-Policy"), ("content", POLICY)];
    let of_every_page = [
        empty("meta", &[("charset", "utf-8")]),
        empty("meta", &policy),
        meta("viewport", "width=device-width, initial-scale=1"),
        meta("referrer", "no-referrer"),
        meta("robots", "noindex"),
    ];
    let more = more.iter().map(|(name, content)| meta(name, content));
    let own = [element_of("title", &[], title), style(sheet)];
    element("head", &[], of_every_page.into_iter().chain(more).chain(own).collect())
}

/// The head of a page that the server sends: its style sheets and scripts have addresses of their
/// own, and what it may load and run is said by the answer's own header.
pub(crate) fn served_head(title: &str, sheets: &[&str], scripts: &[&str], more: Markup) -> Markup {
    let meta = |name, content| empty("meta", &[("name", name), ("content", content)]);
    let first = [
        empty("meta", &[("charset", "utf-8")]),
        meta("viewport", "width=device-width, initial-scale=1"),
        meta("referrer", "same-origin"),
        meta("robots", "noindex"),
        meta("format-detection", "telephone=no"),
        element_of("title", &[], title),
    ];
    let sheets = sheets.iter().map(|at| empty("link", &[("rel", "stylesheet"), ("href", at)]));
    let scripts = scripts
        .iter()
        .map(|at| element("script", &[("src", at), ("type", "module")], Markup::default()));
    element("head", &[], first.into_iter().chain(sheets).chain(scripts).chain([more]).collect())
}

/// JSON for a page's scripts, which no text in it can end: what could close the element is written as
/// an escape that JSON has for it.
pub(crate) fn data_block(id: &str, json: &str) -> Markup {
    let harmless = json.replace('<', "\\u003c").replace('>', "\\u003e").replace('&', "\\u0026");
    element("script", &[("type", "application/json"), ("id", id)], Markup(harmless))
}

/// The line in front of every page, then the page.
pub(crate) fn document(html: Markup) -> String {
    format!("<!DOCTYPE html>\n{}", html.0)
}

impl Markup {
    /// Whether there is nothing in it.
    pub(crate) const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
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
        opening.push_str(&format!(" {key}=\"{}\"", escaped(&visible(value))));
    }
    opening
}

fn line_end(name: &str) -> &'static str {
    if ON_A_LINE.contains(&name) { "\n" } else { "" }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_and_no_value_breaks_out() {
        let hostile = "\"><script>'&";
        let made = element_of("b", &[("title", hostile)], hostile).0;
        let harmless = "&quot;&gt;&lt;script&gt;&#39;&amp;";
        assert_eq!(made, format!("<b title=\"{harmless}\">{harmless}</b>"));
    }

    #[test]
    fn no_data_ends_its_block() {
        let json = serde_json::json!({ "name": "</script><!--<script>&amp;" }).to_string();
        let block = data_block("data", &json).0;
        let inside = block.split_once('>').unwrap().1.strip_suffix("</script>\n").unwrap();
        assert!(!inside.contains(['<', '>', '&']), "{inside}");
        let read: serde_json::Value = serde_json::from_str(inside).unwrap();
        assert_eq!(read["name"], "</script><!--<script>&amp;");
    }
}
