//! What stands around the sections of a page.

use chrono::{DateTime, Utc};

use super::markup::{Markup, document, element, element_of, page_head, section};
use crate::render::outlook::ADVICE_ONLY;
use crate::season::Failed;

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
    page_head(title, &[("color-scheme", "light dark")], include_str!("outlook_page.css"))
}

/// Links to the pages around this one; nothing where there are none.
pub(super) fn way_back(way: &[(&str, &str)]) -> Markup {
    let links: Markup =
        way.iter().map(|(to, name)| element_of("a", &[("href", to)], name)).collect();
    if links.is_empty() { links } else { element("nav", &[("aria-label", "Pages")], links) }
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
