//! The picture of the day: air and sheet over the shift, verdicts, breaks, tests.
//!
//! Drawn twice, for wide and for narrow screens, since a scaled drawing has letters too small to
//! read; the style sheet shows one of them. Nothing is told by color alone: the air is a solid line,
//! the sheet a dashed one on a band, verdicts are hatched, tests numbered, stand-bys lettered.

mod axes;
mod curves;
mod description;
mod frame;
mod legend;
mod markers;
mod numbers;
mod strip;

use axes::{clock_axis, temperature_axis};
use curves::{air, curve_names, sheet};
use description::{description, title};
use frame::{Drawing, Frame};
use legend::{legend, patterns};
pub(super) use markers::letter;
use markers::{stand_by, tests};
use numbers::px;
use strip::{break_bars, break_names, verdicts};

use super::markup::{Markup, element, element_of};
use crate::plan::DayPlan;

/// The figure with its legend; nothing when there is no curve to draw.
pub(super) fn picture(plan: &DayPlan) -> Markup {
    let drawings = [Frame::WIDE, Frame::NARROW].map(|frame| Drawing::new(plan, frame));
    let drawings: Vec<Markup> = drawings.iter().flatten().map(svg).collect();
    if drawings.is_empty() {
        return Markup::default();
    }
    let parts = std::iter::once(patterns()).chain(drawings).chain([legend(plan)]);
    element("figure", &[], parts.collect())
}

fn svg(drawing: &Drawing<'_>) -> Markup {
    let frame = &drawing.frame;
    let (title_id, text_id) = (format!("{}-title", frame.name), format!("{}-text", frame.name));
    let names = [
        element_of("title", &[("id", &title_id)], &title(drawing.plan)),
        element_of("desc", &[("id", &text_id)], &description(drawing.plan)),
    ];
    let layers = [
        break_bars(drawing),
        temperature_axis(drawing),
        sheet(drawing),
        air(drawing),
        break_names(drawing),
        stand_by(drawing),
        tests(drawing),
        verdicts(drawing),
        clock_axis(drawing),
        curve_names(drawing),
    ];
    element(
        "svg",
        &[
            ("class", frame.name),
            ("viewBox", &format!("0 0 {} {}", px(frame.width), px(drawing.height))),
            ("role", "img"),
            ("aria-labelledby", &title_id),
            ("aria-describedby", &text_id),
            ("font-size", &px(frame.letter)),
        ],
        names.into_iter().chain(layers).collect(),
    )
}
