//! The picture in words, for who does not see it.

use crate::plan::DayPlan;
use crate::render::glance::glance;
use crate::render::{figures, words};
use crate::words::tell;

/// Its name.
pub(super) fn title(plan: &DayPlan) -> String {
    let (start, end) = (plan.shift.start, plan.shift.end);
    let clock = |at| figures::clock(at, plan.time_zone);
    tell!(plan.language, "picture-title", start = clock(start), end = clock(end))
}

/// What it shows: the day at a glance, the spans, the tests and the stand-bys.
pub(super) fn description(plan: &DayPlan) -> String {
    let clock = |at| figures::clock(at, plan.time_zone);
    let glance =
        glance(plan).into_iter().map(|row| format!("{}: {}.", row.name, row.lines.join("; ")));
    let spans = plan.spans.iter().map(|span| {
        let why = words::reasons_short(plan.language, &span.reasons);
        let why = if why.is_empty() { why } else { format!(": {why}") };
        let verdict = words::verdict(plan.language, span.verdict);
        format!("{}-{} {verdict}{why}.", clock(span.start), clock(span.end))
    });
    let tests = plan.checkpoints.iter().zip(1..).map(|(point, number)| {
        format!("{number}: {}, {}.", clock(point.time), words::because(point, plan))
    });
    let stand_by = plan.stand_by.iter();
    let stand_by = stand_by.map(|test| words::stand_by(plan.language, test, plan.time_zone) + ".");
    glance.chain(spans).chain(tests).chain(stand_by).collect::<Vec<_>>().join(" ")
}
