//! What stands around every page of the office.

use axum::response::Response;

use crate::render::markup::{Markup, element, element_of};
use crate::server::page::{Sheet, page};
use crate::server::roof::Roof;
use crate::words::Language;

const SCRIPTS: &[&str] = &["/assets/office.js"];

/// How a page keeps itself current.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Current<'a> {
    /// By what happens on any roof.
    AllRoofs,
    /// By what happens on this one.
    Roof(&'a str),
    /// Not at all: somebody types into it.
    Still,
}

/// A page of the office: the way round, a line that says whether it is live, `header`, `main`.
pub(super) fn frame(
    title: &str,
    current: Current<'_>,
    way: Markup,
    header: Markup,
    main: Markup,
) -> Response {
    let skip = element_of("a", &[("href", "#main"), ("class", "skip")], "To the page's content");
    let live = element_of("p", &[("id", "live"), ("class", "live"), ("role", "status")], "");
    let way = element("nav", &[("aria-label", "Pages")], way);
    let bar = element("div", &[("class", "bar")], [way, live, leave()].into());
    let of_roof = match current {
        Current::AllRoofs => "*",
        Current::Roof(key) => key,
        Current::Still => "",
    };
    let attributes = [("id", "content"), ("data-live", of_roof)];
    let main = element("main", &[("id", "main"), ("tabindex", "-1")], main);
    let content = element("div", &attributes, [header, main].into());
    page(
        &format!("{title} - fairseam"),
        Language::En,
        Sheet::Office,
        SCRIPTS,
        [skip, bar, content].into(),
    )
}

fn leave() -> Markup {
    let button = element_of("button", &[("type", "submit"), ("class", "quiet")], "Sign out");
    element("form", &[("method", "post"), ("action", "/leave")], button)
}

/// The pages that belong to no roof.
pub(super) fn way() -> Markup {
    [link("/office/", "Roofs"), link("/office/outlook", "Days ahead")].into()
}

/// Those and the pages of one.
pub(super) fn way_of(roof: &Roof) -> Markup {
    let day = format!("/office/{}/", roof.key);
    [way(), link(&day, "Day"), link(&format!("{day}book"), "Book")].into()
}

pub(super) fn link(to: &str, name: &str) -> Markup {
    element_of("a", &[("href", to)], name)
}
