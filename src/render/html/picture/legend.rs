//! What each line and each hatching means, and the hatchings themselves.

use crate::plan::{DayPlan, Verdict};
use crate::render::html::markup::{Markup, element, element_of, empty};
use crate::render::words;
use crate::words::tell;

/// The hatchings that the drawings and the legend share.
pub(super) fn patterns() -> Markup {
    let care = hatching("care-hatch", "M-2 2L2 -2M0 8L8 0M6 10L10 6");
    let hold = hatching("hold-hatch", "M-2 2L2 -2M0 8L8 0M6 10L10 6M-2 6L2 10M0 0L8 8M6 -2L10 2");
    // Not `display: none`, which would take the hatchings away from the drawings as well.
    let hidden = [("class", "patterns"), ("width", "0"), ("height", "0"), ("aria-hidden", "true")];
    element("svg", &hidden, element("defs", &[], [care, hold].into()))
}

fn hatching(id: &str, strokes: &str) -> Markup {
    let square = [("id", id), ("width", "8"), ("height", "8"), ("patternUnits", "userSpaceOnUse")];
    let ground = empty("rect", &[("width", "8"), ("height", "8"), ("class", "ground")]);
    let strokes = empty("path", &[("d", strokes), ("class", id)]);
    element("pattern", &square, [ground, strokes].into())
}

/// A line or a field of each kind that the drawing has, and its name.
pub(super) fn legend(plan: &DayPlan) -> Markup {
    let known = plan.course.iter().any(|moment| moment.sheet.is_some());
    let line = |class| empty("path", &[("class", class), ("d", "M1 7H31")]);
    let field = |class: &str| {
        let field = [("x", "1"), ("y", "1"), ("width", "30"), ("height", "12")];
        empty("rect", &[&field[..], &[("class", class)]].concat())
    };
    let band = empty("path", &[("class", "sheet-band"), ("d", "M1 1H31V13H1Z")]);
    let language = plan.language;
    let air =
        if known { tell!(language, "picture-air") } else { tell!(language, "picture-air-alone") };
    let mut items = vec![item(line("air-line"), &air)];
    if known {
        let sheet = tell!(language, "picture-sheet-band");
        items.push(item([band, line("sheet-line")].into(), &sheet));
    }
    items.extend(Verdict::ALL.map(|verdict| {
        let class = format!("bar {}", verdict.name());
        item(field(&class), &words::verdict(language, verdict))
    }));
    if !plan.shift.breaks.is_empty() {
        items.push(item(field("stop"), &tell!(language, "picture-break")));
    }
    items.push(item(line("test-line"), &tell!(language, "picture-test")));
    if !plan.stand_by.is_empty() {
        items.push(item(line("stand-by-line"), &tell!(language, "picture-stand-by")));
    }
    element("ul", &[("class", "legend")], items.into_iter().collect())
}

fn item(sign: Markup, name: &str) -> Markup {
    let size =
        [("viewBox", "0 0 32 14"), ("width", "32"), ("height", "14"), ("aria-hidden", "true")];
    let sign = element("svg", &size, sign);
    element("li", &[], [sign, element_of("span", &[], name)].into())
}
