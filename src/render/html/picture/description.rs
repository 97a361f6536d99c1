//! The picture in words, for who does not see it.

use crate::plan::DayPlan;
use crate::render::html::glance::glance;
use crate::render::{figures, words};

/// Its name.
pub(super) fn title(plan: &DayPlan) -> String {
    let (start, end) = (plan.shift.start, plan.shift.end);
    let clock = |at| figures::clock(at, plan.time_zone);
    format!("Air and sheet, {} to {}", clock(start), clock(end))
}

/// What it shows: the day at a glance, the spans, the tests and the stand-bys.
pub(super) fn description(plan: &DayPlan) -> String {
    let clock = |at| figures::clock(at, plan.time_zone);
    let glance =
        glance(plan).into_iter().map(|row| format!("{}: {}.", row.name, row.lines.join("; ")));
    let spans = plan.spans.iter().map(|span| {
        let why = words::reasons_short(&span.reasons);
        let why = if why.is_empty() { why } else { format!(": {why}") };
        format!("{}-{} {}{why}.", clock(span.start), clock(span.end), span.verdict.name())
    });
    let tests = plan.checkpoints.iter().zip(1..).map(|(point, number)| {
        format!("{number}: {}, {}.", clock(point.time), words::because(point, plan))
    });
    let stand_by = plan.stand_by.iter().map(|test| words::stand_by(test, plan.time_zone) + ".");
    glance.chain(spans).chain(tests).chain(stand_by).collect::<Vec<_>>().join(" ")
}
