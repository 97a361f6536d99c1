//! A page as it is sent.

use axum::response::{Html, IntoResponse, Response};

use crate::render::markup::{Markup, document, element, served_head};

/// Which style sheets a page has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sheet {
    /// The office's and everybody's who is not on the roof.
    Office,
    /// With that of the day's page, for its picture and tables.
    OfficeDay,
}

impl Sheet {
    const fn addresses(self) -> &'static [&'static str] {
        match self {
            Self::Office => &["/assets/office.css"],
            Self::OfficeDay => &["/assets/day.css", "/assets/office.css"],
        }
    }
}

/// A page in `language` with its scripts by address.
pub(super) fn page(
    title: &str,
    language: &str,
    sheet: Sheet,
    scripts: &[&str],
    body: Markup,
) -> Response {
    let head = served_head(title, sheet.addresses(), scripts, Markup::default());
    let page = [head, element("body", &[], body)];
    Html(document(element("html", &[("lang", language)], page.into()))).into_response()
}
