//! Whether the roof can be welded, as a strip under the plot; breaks as bars behind it.

use super::frame::{Drawing, STRIP};
use super::numbers::px;
use crate::plan::{BreakSpan, Span};
use crate::render::html::markup::{Markup, element, element_of, empty};
use crate::render::html::visible::visible;
use crate::render::words;

/// Most letters of a break's name; the rest is cut off.
const LONGEST_NAME: usize = 18;

/// The strip: weld plain, care hatched, hold cross-hatched; breaks gray over it.
pub(super) fn verdicts(drawing: &Drawing<'_>) -> Markup {
    let spans = drawing.plan.spans.iter().map(|span| span_bar(drawing, span));
    let top = px(drawing.strip_top());
    let breaks = drawing.plan.shift.breaks.iter().map(|stop| {
        let (x, width) = place(drawing, stop);
        let bar = [("x", x.as_str()), ("y", &top), ("width", &width), ("height", &px(STRIP))];
        empty("rect", &[&bar[..], &[("class", "stop")]].concat())
    });
    let names = drawing.plan.spans.iter().filter_map(|span| span_name(drawing, span));
    element("g", &[], spans.chain(breaks).chain(names).collect())
}

fn span_bar(drawing: &Drawing<'_>, span: &Span) -> Markup {
    let (from, to) = (drawing.x(span.start), drawing.x(span.end));
    let class = format!("bar {}", span.verdict.name());
    let bar = [
        ("x", &*px(from)),
        ("y", &px(drawing.strip_top())),
        ("width", &px(to - from)),
        ("height", &px(STRIP)),
        ("class", &class),
    ];
    empty("rect", &bar)
}

/// The verdict in words, in the widest part of the span that no break covers.
fn span_name(drawing: &Drawing<'_>, span: &Span) -> Option<Markup> {
    let mut from = drawing.x(span.start);
    let mut widest = (0.0, from);
    let breaks = drawing.plan.shift.breaks.iter();
    let stops = breaks.map(|stop| (drawing.x(stop.start), drawing.x(stop.end)));
    let end = drawing.x(span.end);
    for (stop, resume) in stops.chain([(end, end)]).filter(|(stop, _)| *stop <= end) {
        if stop - from > widest.0 {
            widest = (stop - from, from);
        }
        from = from.max(resume);
    }
    let (width, from) = widest;
    let word = words::verdict(drawing.plan.language, span.verdict);
    let letters = word.chars().count();
    if width < drawing.frame.text_width(letters + 1) {
        return None;
    }
    let (middle, y) = (from + width / 2.0, drawing.strip_top() + STRIP / 2.0);
    let ground = drawing.frame.text_width(letters) + 4.0;
    let ground = [
        ("x", &*px(middle - ground / 2.0)),
        ("y", &px(y - STRIP / 2.0 + 2.0)),
        ("width", &px(ground)),
        ("height", &px(STRIP - 4.0)),
        ("class", "ground"),
    ];
    let (x, y) = (px(middle), px(y));
    let place = [("x", x.as_str()), ("y", &y), ("dy", ".35em"), ("class", "bar-name")];
    Some([empty("rect", &ground), element_of("text", &place, &word)].into())
}

/// A gray bar over the height of the plot for each break.
pub(super) fn break_bars(drawing: &Drawing<'_>) -> Markup {
    let (top, height) = (px(drawing.top), px(drawing.frame.plot_height));
    let bars = drawing.plan.shift.breaks.iter().map(|stop| {
        let (x, width) = place(drawing, stop);
        let bar = [("x", x.as_str()), ("y", &top), ("width", &width), ("height", &height)];
        empty("rect", &[&bar[..], &[("class", "stop-bar")]].concat())
    });
    element("g", &[], bars.collect())
}

/// The name of each break along its bar.
pub(super) fn break_names(drawing: &Drawing<'_>) -> Markup {
    let foot = px(drawing.bottom() - 6.0);
    let names = drawing.plan.shift.breaks.iter().map(|stop| {
        let middle = px((drawing.x(stop.start) + drawing.x(stop.end)) / 2.0);
        let turn = format!("rotate(-90 {middle} {foot})");
        let name = [
            ("x", middle.as_str()),
            ("y", &foot),
            ("dy", ".35em"),
            ("transform", &turn),
            ("class", "stop-name"),
        ];
        element_of("text", &name, &shortened(&stop.name))
    });
    element("g", &[], names.collect())
}

fn place(drawing: &Drawing<'_>, stop: &BreakSpan) -> (String, String) {
    let (from, to) = (drawing.x(stop.start), drawing.x(stop.end));
    (px(from), px(to - from))
}

fn shortened(name: &str) -> String {
    let name = visible(name);
    if name.chars().count() <= LONGEST_NAME {
        return name;
    }
    let cut: String = name.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", cut.trim_end())
}
