//! Above everything: a warning when the forecast is old, then the site, the day and its weather.

use super::markup::{Markup, element, element_of};
use crate::plan::DayPlan;
use crate::render::{figures, words};
use crate::weather::Field;

/// The head of the page.
pub(super) fn heading(plan: &DayPlan) -> Markup {
    let stale = plan.weather.stale.then(|| words::stale_line(plan.weather.age));
    let stale = stale.map(|line| element_of("p", &[("class", "stale")], &line));
    let date = plan.date.format("%A, %B %-d, %Y").to_string();
    let title = [element_of("span", &[("class", "site"), ("dir", "auto")], &plan.site)];
    let day = element_of("p", &[("class", "date")], &date);
    let weather = element_of("p", &[("class", "weather")], &weather_line(plan));
    let lines = stale.into_iter().chain([element("h1", &[], title.into()), day, weather]);
    element("header", &[], lines.collect())
}

/// What the browser's tab and a bookmark say.
pub(super) fn window_title(plan: &DayPlan) -> String {
    format!("{} - {}", plan.site, plan.date.format("%A, %B %-d, %Y"))
}

/// Source and age of the weather, and what it lacks.
fn weather_line(plan: &DayPlan) -> String {
    let weather = &plan.weather;
    let names = |fields: &[Field]| {
        fields.iter().map(|field| field.name().replace('_', " ")).collect::<Vec<_>>().join(", ")
    };
    let mut line = words::weather_line(weather, plan.time_zone);
    if !weather.missing.is_empty() {
        line.push_str(&format!("; not in it: {}", names(&weather.missing)));
    }
    if !weather.partly_missing.is_empty() {
        line.push_str(&format!("; with gaps: {}", names(&weather.partly_missing)));
    }
    if !weather.bridged.is_empty() {
        let hours = weather.bridged.iter().map(|at| figures::clock(*at, plan.time_zone));
        let hours = hours.collect::<Vec<_>>().join(", ");
        line.push_str(&format!("; air bridged from the hours beside it at {hours}"));
    }
    line
}
