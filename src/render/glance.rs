//! The day at a glance: a name and a sentence or two for each, the same on every page.

use chrono::{DateTime, Utc};

use super::{figures, words};
use crate::plan::DayPlan;
use crate::words::tell;

/// One thing to know of the day.
pub(super) struct Glance {
    /// What it is about.
    pub(super) name: String,
    /// What there is to say.
    pub(super) lines: Vec<String>,
    /// Asked first by a crew.
    pub(super) first: bool,
}

/// What there is to know of the day; what cannot be said is left out.
pub(super) fn glance(plan: &DayPlan) -> Vec<Glance> {
    let (language, zone, summary) = (plan.language, plan.time_zone, &plan.summary);
    let roof = summary.dry.map(|dry| words::dry(language, &dry, zone));
    let likely = summary.tests.as_ref().map(|tests| words::test_count(language, tests));
    let seam = plan.footage.as_ref();
    let seam = seam.map(|seam| words::footage(language, seam, plan.units, zone));
    let tests = std::iter::once(tests(plan)).chain(likely).collect();
    let row = |name, lines| Glance { name, lines, first: false };
    let first = |name, lines| Glance { name, lines, first: true };
    let mut rows = vec![
        row(tell!(language, "glance-shift"), vec![shift(plan)]),
        first(tell!(language, "glance-weldable"), vec![weldable(plan)]),
        row(tell!(language, "glance-roof"), Vec::from_iter(roof)),
        first(tell!(language, "glance-tests"), tests),
        row(tell!(language, "glance-air"), vec![air(plan)]),
        row(tell!(language, "glance-sheet"), Vec::from_iter(sheet(plan))),
        row(tell!(language, "glance-seam"), Vec::from_iter(seam)),
    ];
    rows.retain(|row| !row.lines.is_empty());
    rows
}

fn clock(plan: &DayPlan, at: DateTime<Utc>) -> String {
    figures::clock(at, plan.time_zone)
}

fn shift(plan: &DayPlan) -> String {
    let (start, end) = (clock(plan, plan.shift.start), clock(plan, plan.shift.end));
    let hours = tell!(plan.language, "shift-hours", start, end);
    let stops =
        plan.shift.breaks.iter().map(|stop| {
            format!("{} {}-{}", stop.name, clock(plan, stop.start), clock(plan, stop.end))
        });
    std::iter::once(hours).chain(stops).collect::<Vec<_>>().join("; ")
}

fn weldable(plan: &DayPlan) -> String {
    match (plan.summary.first_weldable, plan.summary.last_weldable) {
        (Some(first), Some(last)) => tell!(
            plan.language,
            "weldable-hours",
            first = clock(plan, first),
            last = clock(plan, last),
            work = figures::duration(plan.summary.weldable),
        ),
        _ => tell!(plan.language, "weldable-never"),
    }
}

fn tests(plan: &DayPlan) -> String {
    let times: Vec<String> = plan.checkpoints.iter().map(|point| clock(plan, point.time)).collect();
    match times.len() {
        0 => tell!(plan.language, "tests-none"),
        count => tell!(plan.language, "tests-at", count, times = times.join(", ")),
    }
}

fn air(plan: &DayPlan) -> String {
    let (low, high) = (plan.summary.air_min, plan.summary.air_max);
    tell!(
        plan.language,
        "air-range",
        low = figures::temperature(low, plan.units),
        high = figures::temperature(high, plan.units),
        swing = figures::difference(high - low, plan.units),
    )
}

fn sheet(plan: &DayPlan) -> Option<String> {
    let (low, high) = plan.summary.sheet?;
    let low = figures::temperature(low, plan.units);
    let high = figures::temperature(high, plan.units);
    Some(tell!(plan.language, "sheet-range", low, high))
}
