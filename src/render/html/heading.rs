//! Above everything: a warning when the forecast is old, then the site, the day and its weather.

use super::markup::{Markup, element, element_of};
use crate::plan::DayPlan;
use crate::render::words;
use crate::words::date;

/// The head of the page.
pub(super) fn heading(plan: &DayPlan) -> Markup {
    let stale = plan.weather.stale.then(|| words::stale_line(plan.language, plan.weather.age));
    let stale = stale.map(|line| element_of("p", &[("class", "stale")], &line));
    let date = date(plan.language, plan.date);
    let title = [element_of("span", &[("class", "site"), ("dir", "auto")], &plan.site)];
    let day = element_of("p", &[("class", "date")], &date);
    let weather = words::weather_and_gaps(plan.language, &plan.weather, plan.time_zone);
    let weather = element_of("p", &[("class", "weather")], &weather);
    let lines = stale.into_iter().chain([element("h1", &[], title.into()), day, weather]);
    element("header", &[], lines.collect())
}

/// What the browser's tab and a bookmark say.
pub(super) fn window_title(plan: &DayPlan) -> String {
    format!("{} - {}", plan.site, date(plan.language, plan.date))
}
