//! A page as it is sent.

use axum::response::{Html, IntoResponse, Response};

use crate::render::markup::{Markup, document, element, served_head};
use crate::words::Language;

/// Which style sheets a page has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sheet {
    /// Everybody's who is not on the roof: that of the printed day, and what the pages add to it.
    Office,
}

impl Sheet {
    const fn addresses(self) -> &'static [&'static str] {
        match self {
            Self::Office => &["/assets/day.css", "/assets/office.css"],
        }
    }
}

/// A page in `language` with its scripts by address.
pub(super) fn page(
    title: &str,
    language: Language,
    sheet: Sheet,
    scripts: &[&str],
    body: Markup,
) -> Response {
    let head = served_head(title, sheet.addresses(), scripts, Markup::default());
    let page = [head, element("body", &[], body)];
    Html(document(element("html", &[("lang", language.tag())], page.into()))).into_response()
}
