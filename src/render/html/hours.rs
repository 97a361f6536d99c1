//! The hours of the shift, a row each.

use chrono::TimeDelta;

use super::markup::{Markup, element, element_of};
use super::page::verdict_mark;
use crate::plan::{DayPlan, PlanHour};
use crate::render::{figures, words};
use crate::units::{RainDepth, Temperature, UnitSystem, WindSpeed};
use crate::words::{Language, tell};

/// What stands where the forecast says nothing.
const UNKNOWN: &str = "?";

/// One row for each hour that the shift touches.
pub(super) fn hours_table(plan: &DayPlan) -> Markup {
    let rows = plan.hours.iter().map(|hour| row(plan, hour));
    let body = element("tbody", &[], rows.collect());
    element("table", &[("class", "hours")], [head(plan.language, plan.units), body].into())
}

fn head(language: Language, units: UnitSystem) -> Markup {
    let columns = [
        (tell!(language, "column-time"), ""),
        (tell!(language, "column-air"), units.temperature()),
        (tell!(language, "column-sheet-short"), units.temperature()),
        (tell!(language, "column-dew"), units.temperature()),
        (tell!(language, "column-wind"), units.wind()),
        (tell!(language, "column-gust"), units.wind()),
        (tell!(language, "column-rain"), units.rain()),
        (String::new(), ""),
        (tell!(language, "column-tests"), ""),
    ];
    let cell = |(name, unit): &(String, &str)| {
        let name = element_of("span", &[], name);
        let unit = element_of("span", &[("class", "unit")], unit);
        element("th", &[("scope", "col")], [name, unit].into())
    };
    // A header without a word would be read out as one.
    let without = || element("td", &[], Markup::default());
    let cells: Markup = columns
        .iter()
        .map(|column| if column.0.is_empty() { without() } else { cell(column) })
        .collect();
    element("thead", &[], element("tr", &[], cells))
}

fn row(plan: &DayPlan, hour: &PlanHour) -> Markup {
    let units = plan.units;
    let mut cells =
        vec![element_of("th", &[("scope", "row")], &figures::clock(hour.time, plan.time_zone))];
    let numbers = [
        degrees(hour.air, units),
        degrees(hour.sheet.map(|sheet| sheet.nominal), units),
        degrees(hour.dew_point, units),
        speed(hour.wind, units),
        speed(hour.gust, units),
    ];
    cells.extend(numbers.iter().map(|number| element_of("td", &[], number)));
    let wet = hour.rain.is_some_and(|rain| rain.millimeters() > 0.0);
    let class = if wet { "wet" } else { "" };
    cells.push(element_of("td", &[("class", class)], &rain(hour.rain, units)));
    let mark = verdict_mark(plan.language, hour.verdict);
    cells.push(element("td", &[("class", "judged")], mark));
    cells.push(element_of("td", &[("class", "tests-in")], &tests_in(plan, hour)));
    element("tr", &[], cells.into_iter().collect())
}

fn degrees(value: Option<Temperature>, units: UnitSystem) -> String {
    value.map_or_else(|| UNKNOWN.to_owned(), |value| figures::whole(value.in_units(units)))
}

fn speed(value: Option<WindSpeed>, units: UnitSystem) -> String {
    value.map_or_else(|| UNKNOWN.to_owned(), |value| figures::whole(value.in_units(units)))
}

/// A plain 0 for none, so that rain stands out.
fn rain(value: Option<RainDepth>, units: UnitSystem) -> String {
    let decimals = match units {
        UnitSystem::Us => 2,
        UnitSystem::Metric => 1,
    };
    match value.map(|rain| rain.in_units(units)) {
        None => UNKNOWN.to_owned(),
        Some(amount) if amount <= 0.0 => "0".to_owned(),
        Some(amount) => format!("{amount:.decimals$}"),
    }
}

/// Times of the tests in the hour, then in words why it is no plain welding hour.
fn tests_in(plan: &DayPlan, hour: &PlanHour) -> String {
    let until = hour.time + TimeDelta::hours(1);
    let tests =
        plan.checkpoints.iter().filter(|point| hour.time <= point.time && point.time < until);
    let tests = tests.map(|point| figures::clock(point.time, plan.time_zone));
    let reasons = words::reasons_short(plan.language, &hour.reasons);
    let reasons = Some(reasons).filter(|reasons| !reasons.is_empty());
    tests.chain(reasons).collect::<Vec<_>>().join("  ")
}
