//! The test-weld book of a roof: its trials, the newest first.

use axum::Extension;
use axum::response::{IntoResponse, Response};

use super::frame::{Current, frame, link, way_of};
use crate::quality::KeptTrial;
use crate::render::markup::{Markup, element, element_of, section, text};
use crate::render::trial::{certifies_nothing, setting_words, withdrawn_section};
use crate::server::access::OfSite;
use crate::server::problem::Problem;
use crate::server::roof::{Roof, View};
use crate::words::Language;

/// Trials shown; the whole book is the command line's to print.
const MOST: usize = 200;

pub(in crate::server) async fn book(Extension(OfSite(roof)): Extension<OfSite>) -> Response {
    let Some(view) = roof.view() else { return Problem::not_yet().into_response() };
    let title = format!("{}: test-weld book", roof.site.name);
    let header = element("header", &[], element_of("h1", &[("dir", "auto")], &title));
    let main = [
        section("trials", "Trials, the newest first", trials(&roof, &view)),
        withdrawn_section(&view.look.withdrawn, view.look.time_zone),
        foot(),
    ];
    frame(&title, Current::Roof(&roof.key), way_of(&roof), header, main.into())
}

fn trials(roof: &Roof, view: &View) -> Markup {
    let mut trials: Vec<&KeptTrial> = view.look.trials.iter().collect();
    trials.sort_by(|one, other| other.when().cmp(&one.when()).then_with(|| other.id.cmp(&one.id)));
    if trials.is_empty() {
        return element_of("p", &[], "No trial has been written down yet.");
    }
    let heads = ["Trial", "Made", "Welder", "By", "For", "What it proves", "Corrected"];
    let heads = heads.iter().map(|head| element_of("th", &[("scope", "col")], head));
    let head = element("thead", &[], element("tr", &[], heads.collect()));
    let rows = trials.iter().take(MOST).map(|kept| row(roof, view, kept));
    let rows = element("tbody", &[], rows.collect());
    let table = element("table", &[("class", "book")], [head, rows].into());
    let more = trials.len().saturating_sub(MOST);
    let more = (more > 0).then(|| {
        let said = format!("{more} older ones are in `fairseam book`.");
        element_of("p", &[("class", "hint")], &said)
    });
    let table = element(
        "div",
        &[("class", "wide-table"), ("tabindex", "0"), ("role", "region"), ("aria-label", "Trials")],
        table,
    );
    [table].into_iter().chain(more).collect()
}

fn row(roof: &Roof, view: &View, kept: &KeptTrial) -> Markup {
    let trial = &kept.judged.trial;
    let to = format!("/office/{}/book/{}", roof.key, kept.id);
    let made = kept.when().with_timezone(&view.look.time_zone).format("%Y-%m-%d %H:%M");
    let corrected = kept.correction.as_ref();
    let corrected = corrected.map(|one| format!("by {}: {}", one.by, one.why));
    let texts = [
        made.to_string(),
        trial.welder.clone(),
        trial.who.clone(),
        kept.checkpoint.clone().unwrap_or_default(),
        setting_words::headline(Language::En, &kept.judged, roof.site.units),
        corrected.unwrap_or_default(),
    ];
    let cells = texts.iter().map(|cell| element_of("td", &[], cell));
    let number = element("th", &[("scope", "row")], link(&to, &kept.id));
    element("tr", &[], std::iter::once(number).chain(cells).collect())
}

pub(super) fn foot() -> Markup {
    element("footer", &[], element("p", &[], text(&certifies_nothing(Language::En))))
}
