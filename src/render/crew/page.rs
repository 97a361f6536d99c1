//! The page and the order of its parts.

use super::markup::{Markup, data_block, document, element, element_of, empty, served_head, text};
use super::{CrewPage, data, parts};
use crate::words::{Language, tell};

/// The scripts, in the order in which they build on each other.
pub const ASSETS: &[&str] = &[
    "/assets/crew-base.js",
    "/assets/crew-outbox.js",
    "/assets/crew-verdict.js",
    "/assets/crew-verdict-view.js",
    "/assets/crew-keypad.js",
    "/assets/crew-strips.js",
    "/assets/crew-draft.js",
    "/assets/crew-heat.js",
    "/assets/crew-review.js",
    "/assets/crew-form.js",
    "/assets/crew-next.js",
    "/assets/crew-unsent.js",
    "/assets/crew.js",
];

/// The page; `None` where a number of site or plan is none.
///
/// Names from the site file and the book are escaped, whatever they hold, in text and in data.
pub fn page(page: &CrewPage<'_>) -> Option<String> {
    let language = page.language;
    let title = tell!(language, "crew-title", site = page.site.name.as_str());
    let head = served_head(&title, &["/assets/crew.css"], ASSETS, more_of_head());
    let views = Markup::from([day(page), form(language), unsent(language)]);
    let skip =
        element_of("a", &[("class", "skip"), ("href", "#main")], &tell!(language, "crew-skip"));
    let main = element("main", &[("id", "main"), ("tabindex", "-1")], views);
    let block = data_block("crew-data", &data::data(page)?);
    let body = element("body", &[], [skip, top(page), main, foot(page), block].into());
    let html = element("html", &[("lang", language.tag())], [head, body].into());
    Some(document(html))
}

fn more_of_head() -> Markup {
    let link = |rel, href| empty("link", &[("rel", rel), ("href", href)]);
    Markup::from([
        link("manifest", "/crew/manifest.webmanifest"),
        link("icon", "/assets/icon.svg"),
        link("apple-touch-icon", "/assets/icon-192.png"),
        empty("meta", &[("name", "theme-color"), ("content", "#17202b")]),
    ])
}

fn top(page: &CrewPage<'_>) -> Markup {
    let unsent = [("type", "button"), ("id", "unsent-open"), ("hidden", "hidden")];
    let enter = [("id", "enter"), ("href", "/enter"), ("hidden", "hidden")];
    let parts = [
        element_of("h1", &[("dir", "auto")], &page.site.name),
        element_of("p", &[("id", "head-date")], &parts::date(page)),
        element_of("p", &[("id", "signal"), ("role", "status")], ""),
        element_of("a", &enter, &tell!(page.language, "crew-enter")),
        element_of("button", &unsent, ""),
    ];
    element("header", &[("class", "top")], parts.into())
}

fn day(page: &CrewPage<'_>) -> Markup {
    let language = page.language;
    let news = [("id", "news"), ("role", "status"), ("hidden", "hidden")];
    let half = [("type", "button"), ("id", "half"), ("class", "first"), ("hidden", "hidden")];
    let other = [("type", "button"), ("id", "record-other"), ("class", "second")];
    let script = element_of("p", &[("class", "problem")], &tell!(language, "crew-no-script"));
    let parts = [
        element("noscript", &[], script),
        element_of("p", &news, ""),
        element_of("button", &half, &tell!(language, "crew-half")),
        parts::weather(page),
        parts::next(page),
        parts::running(language),
        parts::list(page),
        element_of("button", &other, &tell!(language, "crew-record-other")),
        parts::tested(page),
        parts::notes(page),
        parts::how(page),
        parts::cautions(language),
    ];
    element("div", &[("id", "day")], parts.into())
}

/// Filled by its script.
fn form(language: Language) -> Markup {
    let quiet =
        |id: &str| element_of("button", &[("type", "button"), ("id", id), ("class", "quiet")], "");
    let later = [("type", "button"), ("id", "form-leave"), ("class", "quiet")];
    let bar = [
        quiet("form-back"),
        element_of("p", &[("id", "form-step")], ""),
        element_of("button", &later, &tell!(language, "crew-form-leave")),
    ];
    let parts = [
        element("div", &[("class", "bar")], bar.into()),
        element_of("p", &[("id", "form-for"), ("class", "hint"), ("dir", "auto")], ""),
        element_of("h2", &[("id", "form-title"), ("tabindex", "-1")], ""),
        element("div", &[("id", "form-body")], Markup::default()),
    ];
    let named = [("id", "form"), ("hidden", "hidden"), ("aria-labelledby", "form-title")];
    element("section", &named, parts.into())
}

fn unsent(language: Language) -> Markup {
    let back = [("type", "button"), ("id", "unsent-back"), ("class", "quiet")];
    let send = [("type", "button"), ("id", "unsent-send"), ("class", "first")];
    let parts = [
        element_of("button", &back, &tell!(language, "crew-back")),
        element_of(
            "h2",
            &[("id", "unsent-title"), ("tabindex", "-1")],
            &tell!(language, "crew-unsent"),
        ),
        element_of("p", &[], &tell!(language, "crew-unsent-how")),
        element("ul", &[("id", "unsent-list"), ("class", "plain")], Markup::default()),
        element_of("button", &send, &tell!(language, "crew-send-now")),
    ];
    let named = [("id", "unsent"), ("hidden", "hidden"), ("aria-labelledby", "unsent-title")];
    element("section", &named, parts.into())
}

fn foot(page: &CrewPage<'_>) -> Markup {
    let others = Language::ALL.into_iter().filter(|other| *other != page.language);
    let links = others.map(|other| {
        let at = format!("?language={}", other.tag());
        let tag = other.tag();
        let attributes = [("href", at.as_str()), ("lang", tag), ("hreflang", tag)];
        element("li", &[], element_of("a", &attributes, other.name()))
    });
    let list = element("ul", &[("class", "plain")], links.collect());
    let language = tell!(page.language, "crew-language");
    let switch = element("nav", &[("aria-label", &language)], list);
    let credit = parts::credit(page);
    let kept = element("p", &[], text(&tell!(page.language, "crew-leave-device")));
    element("footer", &[("id", "foot")], [switch, credit, kept].into())
}
