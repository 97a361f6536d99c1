//! The day at a glance: a name and a sentence or two for each.

use chrono::{DateTime, Utc};

use super::markup::{Markup, element, element_of};
use crate::plan::DayPlan;
use crate::render::{figures, words};

/// One thing to know of the day.
pub(super) struct Glance {
    /// What it is about.
    pub(super) name: &'static str,
    /// What there is to say.
    pub(super) lines: Vec<String>,
}

/// The list for the page; what a crew asks first stands out.
pub(super) fn glance_list(plan: &DayPlan) -> Markup {
    let item = |row: &Glance| {
        let class = if matches!(row.name, "Weldable" | "Test welds") { "first" } else { "" };
        let lines = row.lines.iter().map(|line| element_of("dd", &[], line));
        let term = element_of("dt", &[], row.name);
        element("div", &[("class", class)], std::iter::once(term).chain(lines).collect())
    };
    element("dl", &[("class", "glance")], glance(plan).iter().map(item).collect())
}

/// What there is to know of the day, in the order of the text page.
pub(super) fn glance(plan: &DayPlan) -> Vec<Glance> {
    let summary = &plan.summary;
    let roof = summary.dry.map(|dry| words::dry(&dry, plan.time_zone));
    let likely = summary.tests.as_ref().map(words::test_count);
    let seam = plan.footage.as_ref();
    let seam = seam.map(|seam| words::footage(seam, plan.units, plan.time_zone));
    let tests = std::iter::once(tests(plan)).chain(likely).collect();
    let rows = [
        ("Shift", vec![shift(plan)]),
        ("Weldable", vec![weldable(plan)]),
        ("Roof", Vec::from_iter(roof)),
        ("Test welds", tests),
        ("Air", vec![air(plan)]),
        ("Sheet", Vec::from_iter(sheet(plan))),
        ("Seam", Vec::from_iter(seam)),
    ];
    let said = rows.into_iter().filter(|(_, lines)| !lines.is_empty());
    said.map(|(name, lines)| Glance { name, lines }).collect()
}

fn clock(plan: &DayPlan, at: DateTime<Utc>) -> String {
    figures::clock(at, plan.time_zone)
}

fn shift(plan: &DayPlan) -> String {
    let (start, end) = (clock(plan, plan.shift.start), clock(plan, plan.shift.end));
    let stops =
        plan.shift.breaks.iter().map(|stop| {
            format!("{} {}-{}", stop.name, clock(plan, stop.start), clock(plan, stop.end))
        });
    std::iter::once(format!("{start} to {end}")).chain(stops).collect::<Vec<_>>().join("; ")
}

fn weldable(plan: &DayPlan) -> String {
    match (plan.summary.first_weldable, plan.summary.last_weldable) {
        (Some(first), Some(last)) => format!(
            "from {} to {}, {} of work",
            clock(plan, first),
            clock(plan, last),
            figures::duration(plan.summary.weldable)
        ),
        _ => "not at all in this shift".to_owned(),
    }
}

fn tests(plan: &DayPlan) -> String {
    let times: Vec<String> = plan.checkpoints.iter().map(|point| clock(plan, point.time)).collect();
    match times.len() {
        0 => "none".to_owned(),
        count => format!("{count}, at {}", times.join(", ")),
    }
}

fn air(plan: &DayPlan) -> String {
    let (low, high) = (plan.summary.air_min, plan.summary.air_max);
    format!(
        "{} to {}, a swing of {}",
        figures::temperature(low, plan.units),
        figures::temperature(high, plan.units),
        figures::difference(high - low, plan.units)
    )
}

fn sheet(plan: &DayPlan) -> Option<String> {
    let (low, high) = plan.summary.sheet?;
    Some(format!(
        "{} to {}, by the sun, the sky and the wind",
        figures::temperature(low, plan.units),
        figures::temperature(high, plan.units)
    ))
}
