//! The curves: the air as a line, the sheet as a dashed line on the band it may lie in.

use super::frame::Drawing;
use super::numbers::px;
use crate::plan::RoofMoment;
use crate::render::html::markup::{Markup, element, element_of, empty};
use crate::units::Temperature;
use crate::words::tell;

/// About how far two points of a curve are apart.
const POINT_EVERY: usize = 4;

/// The air.
pub(super) fn air(drawing: &Drawing<'_>) -> Markup {
    let runs = runs(drawing, |moment| moment.air);
    let lines = runs.iter().map(|run| {
        let points = run.iter().map(|(moment, air)| (drawing.x(moment.time), drawing.y(*air)));
        empty("path", &[("class", "air-line"), ("d", &line(points))])
    });
    element("g", &[], lines.collect())
}

/// The sheet, as far as it is known.
pub(super) fn sheet(drawing: &Drawing<'_>) -> Markup {
    let runs = runs(drawing, |moment| moment.sheet);
    let paths = runs.iter().flat_map(|run| {
        let at = |value: fn(&crate::physics::surface::Range<Temperature>) -> Temperature| {
            run.iter().map(move |(moment, sheet)| (drawing.x(moment.time), drawing.y(value(sheet))))
        };
        let outline = line(at(|sheet| sheet.high).chain(at(|sheet| sheet.low).rev()));
        let likely = line(at(|sheet| sheet.nominal));
        [
            empty("path", &[("class", "sheet-band"), ("d", &format!("{outline}Z"))]),
            empty("path", &[("class", "sheet-line"), ("d", &likely)]),
        ]
    });
    element("g", &[], paths.collect())
}

/// The name of each curve where it ends, pushed apart where they end together.
pub(super) fn curve_names(drawing: &Drawing<'_>) -> Markup {
    let Some(last) = drawing.plan.course.last() else { return Markup::default() };
    let air = last.air.map(|air| (drawing.y(air), "air"));
    let sheet = last.sheet.map(|sheet| (drawing.y(sheet.nominal), "sheet"));
    let (air, sheet) = match (air, sheet) {
        (Some((air, air_name)), Some((sheet, sheet_name))) => {
            let lacking = (drawing.frame.letter * 1.1 - (air - sheet).abs()).max(0.0) / 2.0;
            let way = if air < sheet { -lacking } else { lacking };
            (Some((air + way, air_name)), Some((sheet - way, sheet_name)))
        }
        either => either,
    };
    let x = px(drawing.right() + 5.0);
    let names = [air, sheet].into_iter().flatten().map(|(y, name)| {
        let class = format!("{name}-name");
        let place = [("x", x.as_str()), ("y", &px(y)), ("dy", ".35em"), ("class", &class)];
        let said = match name {
            "air" => tell!(drawing.plan.language, "picture-air"),
            _ => tell!(drawing.plan.language, "picture-sheet"),
        };
        element_of("text", &place, &said)
    });
    element("g", &[], names.collect())
}

/// The moments that make a curve, cut where the value is unknown.
fn runs<'a, T>(
    drawing: &Drawing<'a>,
    value: impl Fn(&RoofMoment) -> Option<T>,
) -> Vec<Vec<(&'a RoofMoment, T)>> {
    let course = &drawing.plan.course;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a width of some hundred"
    )]
    let width = (drawing.right() - drawing.left()) as usize;
    let step = (course.len() * POINT_EVERY / width).max(1);
    let mut runs = Vec::new();
    let mut run = Vec::new();
    for (index, moment) in course.iter().enumerate() {
        match value(moment) {
            Some(known) => {
                let last = course.get(index + 1).is_none_or(|next| value(next).is_none());
                if index % step == 0 || run.is_empty() || last {
                    run.push((moment, known));
                }
            }
            None => runs.push(std::mem::take(&mut run)),
        }
    }
    runs.push(run);
    runs.retain(|run| !run.is_empty());
    runs
}

/// A path through the points; one point alone is a dot.
fn line(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (index, (x, y)) in points.enumerate() {
        let step = if index == 0 { "M" } else { "L" };
        path.push_str(&format!("{step}{} {}", px(x), px(y)));
    }
    if !path.contains('L') {
        path.push_str("h.1");
    }
    path
}
