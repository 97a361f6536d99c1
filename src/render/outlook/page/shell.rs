//! What stands around the sections of a page.

use chrono::{DateTime, Utc};

use super::markup::{Markup, document, element, element_of, empty, style};
use crate::render::outlook::ADVICE_ONLY;
use crate::season::Failed;

/// The page loads nothing and runs nothing, and has the browser hold it to that.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// A whole page: `title` on it and on the browser's tab, a line under it, then `sections`.
pub(super) fn page(
    title: &str,
    line: &str,
    made_at: DateTime<Utc>,
    sections: Markup,
    credits: &[String],
) -> String {
    let made = made_at.format("made %Y-%m-%d %H:%M UTC").to_string();
    let header = [
        element_of("h1", &[], title),
        element_of("p", &[], line),
        element_of("p", &[("class", "quiet")], &made),
    ];
    let credits = credits.iter().map(|credit| element_of("p", &[], credit));
    let foot = std::iter::once(element_of("p", &[], ADVICE_ONLY)).chain(credits);
    let body = [
        element("header", &[], header.into()),
        element("main", &[], sections),
        element("footer", &[], foot.collect()),
    ];
    let page = [head(title), element("body", &[], body.into())];
    document(element("html", &[("lang", "en")], page.into()))
}

fn head(title: &str) -> Markup {
    let meta = |name, content| empty("meta", &[("name", name), ("content", content)]);
    let pieces = Markup::from([
        empty("meta", &[("charset", "utf-8")]),
        empty("meta", &[("http-equiv", "Content-Security-Policy"), ("content", POLICY)]),
        meta("viewport", "width=device-width, initial-scale=1"),
        meta("referrer", "no-referrer"),
        meta("robots", "noindex"),
        meta("color-scheme", "light dark"),
        element_of("title", &[], title),
        style(include_str!("outlook_page.css")),
    ]);
    element("head", &[], pieces)
}

/// A named part of the page; nothing where there is nothing to show.
pub(super) fn section(id: &str, title: &str, body: Markup) -> Markup {
    if body.is_empty() {
        return body;
    }
    let named = format!("{id}-title");
    let title = element_of("h2", &[("id", &named)], title);
    element("section", &[("id", id), ("aria-labelledby", &named)], [title, body].into())
}

/// The sites that there is no outlook for.
pub(super) fn failures(failed: &[Failed]) -> Markup {
    let items: Markup = failed
        .iter()
        .map(|failed| element_of("li", &[], &format!("{}: {}", failed.file, failed.reason)))
        .collect();
    let list = if items.is_empty() { items } else { element("ul", &[], items) };
    section("failed", "No outlook for", list)
}
