//! The hours of the shift, one line each: air with a bar, wind, rain, verdict, tests.

use chrono::TimeDelta;

use super::{COLUMNS, Paint};
use crate::plan::{DayPlan, PlanHour};
use crate::render::{figures, words};
use crate::units::{Temperature, UnitSystem};

/// Longest bar, in characters.
const BAR: usize = 18;
/// Where tests and reasons stand: after hour, air, bar, gust, rain and verdict.
const TOLD_FROM: usize = 45 + BAR;

/// One line for each hour, under a line of headings.
pub(super) fn day_chart(plan: &DayPlan, paint: Paint) -> Vec<String> {
    let unit = plan.units;
    let heading = format!(
        "  {:<6}{:>6}  {:<BAR$}  {:>9}  {:>8}  {:<6}{}",
        "",
        format!("air {}", unit.temperature()),
        "",
        format!("gust {}", unit.wind()),
        format!("rain {}", unit.rain()),
        "",
        "tests"
    );
    let range = range(&plan.hours);
    let lines = plan.hours.iter().flat_map(|hour| hour_lines(plan, hour, range, paint));
    std::iter::once(heading.trim_end().to_owned()).chain(lines).collect()
}

/// One line, and more under its end where there is much to say.
fn hour_lines(
    plan: &DayPlan,
    hour: &PlanHour,
    range: Option<(Temperature, Temperature)>,
    paint: Paint,
) -> Vec<String> {
    let units = plan.units;
    let unknown = || "?".to_owned();
    let air = hour.air.map_or_else(unknown, |air| figures::whole(air.in_units(units)));
    // Where no gust is given the mean wind is the least that the gust can be.
    let gust = match (hour.gust, hour.wind) {
        (Some(gust), _) => figures::whole(gust.in_units(units)),
        (None, Some(wind)) => format!(">{}", figures::whole(wind.in_units(units))),
        (None, None) => unknown(),
    };
    let rain = hour.rain.map_or_else(unknown, |rain| rain_figure(rain.in_units(units), units));
    let verdict = format!("{:<6}", hour.verdict.name());
    let line = format!(
        "  {:<6}{air:>6}  {:<BAR$}  {gust:>9}  {rain:>8}  {}",
        figures::clock_in_a_row(hour.time, plan.time_zone),
        bar(hour.air, range),
        paint.verdict(hour.verdict, &verdict),
    );
    let told = tests_in(plan, hour);
    let mut told = textwrap::wrap(&told, COLUMNS - TOLD_FROM).into_iter();
    let first = format!("{line}{}", told.next().unwrap_or_default()).trim_end().to_owned();
    let rest = told.map(|more| format!("{:TOLD_FROM$}{}", "", more.trim_start()));
    std::iter::once(first).chain(rest).collect()
}

/// `.` for none, so that rain stands out.
fn rain_figure(amount: f64, units: UnitSystem) -> String {
    let decimals = match units {
        UnitSystem::Us => 2,
        UnitSystem::Metric => 1,
    };
    if amount <= 0.0 { ".".to_owned() } else { format!("{amount:.decimals$}") }
}

/// Times of the tests in the hour, or in words why it is no plain welding hour.
fn tests_in(plan: &DayPlan, hour: &PlanHour) -> String {
    let until = hour.time + TimeDelta::hours(1);
    let tests: Vec<String> = plan
        .checkpoints
        .iter()
        .filter(|point| hour.time <= point.time && point.time < until)
        .map(|point| figures::clock(point.time, plan.time_zone))
        .collect();
    let mut parts = tests;
    if !hour.reasons.is_empty() {
        parts.push(words::reasons_short(&hour.reasons));
    }
    parts.join("  ")
}

fn range(hours: &[PlanHour]) -> Option<(Temperature, Temperature)> {
    let mut known = hours.iter().filter_map(|hour| hour.air);
    let first = known.next()?;
    Some(known.fold((first, first), |(low, high), air| (low.min(air), high.max(air))))
}

/// The coldest hour has the shortest bar, the warmest the longest.
fn bar(air: Option<Temperature>, range: Option<(Temperature, Temperature)>) -> String {
    let (Some(air), Some((low, high))) = (air, range) else { return String::new() };
    let swing = (high - low).kelvin();
    let share = if swing > 0.0 { (air - low).kelvin() / swing } else { 0.0 };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "between 1 and BAR"
    )]
    let length = 1 + (share * (BAR - 1) as f64).round() as usize;
    "#".repeat(length.min(BAR))
}
