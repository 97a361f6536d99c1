//! When to test and what to set: the table that the crew works from.

use super::markup::{Markup, element, element_of, text};
use crate::plan::{Checkpoint, DayPlan, Setting};
use crate::render::{figures, record_words, words};
use crate::units::UnitSystem;
use crate::words::tell;

/// A group of rows for each test, a row for each welder in it.
pub(super) fn tests_table(plan: &DayPlan) -> Markup {
    if plan.checkpoints.is_empty() {
        let none = tell!(plan.language, "tests-no-minute");
        return element_of("p", &[("class", "none")], &none);
    }
    let names = [
        tell!(plan.language, "column-time"),
        tell!(plan.language, "column-why"),
        tell!(plan.language, "column-air"),
        tell!(plan.language, "column-sheet"),
        tell!(plan.language, "column-welder"),
        tell!(plan.language, "column-speed"),
        tell!(plan.language, "column-heats"),
    ];
    let names = names.iter().map(|name| element_of("th", &[("scope", "col")], name)).collect();
    let head = element("thead", &[], element("tr", &[], names));
    let groups = plan.checkpoints.iter().zip(1..).map(|(point, number)| group(plan, point, number));
    let rows = std::iter::once(head).chain(groups);
    element("table", &[("class", "tests")], rows.collect())
}

fn group(plan: &DayPlan, point: &Checkpoint, number: usize) -> Markup {
    let welders = point.settings.len().max(1);
    let rows = (0..welders).map(|row| {
        let first = (row == 0).then(|| first_cells(plan, point, number, welders));
        let setting = point.settings.get(row).map(|setting| setting_cells(setting, plan));
        element("tr", &[], first.into_iter().chain(setting).collect())
    });
    element("tbody", &[], rows.collect())
}

/// What holds for every welder of the test.
fn first_cells(plan: &DayPlan, point: &Checkpoint, number: usize, welders: usize) -> Markup {
    let welders = welders.to_string();
    let span = ("rowspan", welders.as_str());
    let badge = element_of("span", &[("class", "badge")], &number.to_string());
    let time =
        element_of("span", &[("class", "figure")], &figures::clock(point.time, plan.time_zone));
    let sure = point.likelihood.as_ref().map_or_else(Markup::default, |likelihood| {
        let sure = words::likelihood(plan.language, likelihood, plan.time_zone);
        element_of("div", &[("class", "hint")], &sure)
    });
    let why = [element_of("div", &[], &words::because(point, plan)), sure];
    let sheet = point
        .sheet
        .map_or_else(|| "?".to_owned(), |sheet| figures::temperature(sheet.nominal, plan.units));
    let air = figures::temperature(point.air, plan.units);
    // On a phone, which has no head of columns, the style sheet puts these in front.
    let named_air = tell!(plan.language, "picture-air");
    let named_sheet = tell!(plan.language, "picture-sheet");
    Markup::from([
        element(
            "th",
            &[("scope", "rowgroup"), ("class", "time"), span],
            [badge, text(" "), time].into(),
        ),
        element("td", &[("class", "why"), span], why.into()),
        element_of("td", &[("class", "air"), ("data-name", &named_air), span], &air),
        element_of("td", &[("class", "sheet"), ("data-name", &named_sheet), span], &sheet),
    ])
}

fn setting_cells(setting: &Setting, plan: &DayPlan) -> Markup {
    let (language, units) = (plan.language, plan.units);
    let speed = setting.trial.speed_held.map_or_else(
        || text("–"),
        |speed| figure(&figures::travel_speed_figure(speed, units), units.travel_speed()),
    );
    let hints = words::trial_hints(language, setting, units);
    let kind = words::trial_kind(language, &setting.trial.kind);
    let because = format!("{kind}: {}", words::trial_because(language, setting, units));
    let learned = setting.learned.as_ref();
    let learned = learned.map(|found| record_words::learned(language, found, units));
    let passed_over = record_words::passed_over(language, setting, plan.time_zone, units);
    let hints = hints.into_iter().chain(learned).chain([because]).chain(passed_over);
    let hints = hints.map(|hint| element_of("div", &[("class", "hint")], &hint));
    let heats = std::iter::once(heats(setting, units)).chain(hints);
    Markup::from([
        element_of("td", &[("class", "welder"), ("dir", "auto")], &setting.welder),
        element("td", &[("class", "speed")], speed),
        element("td", &[("class", "heats")], heats.collect()),
    ])
}

/// `700, 800, 900 °F`, the numbers large.
fn heats(setting: &Setting, units: UnitSystem) -> Markup {
    let last = setting.trial.heats.len().saturating_sub(1);
    let heats = setting.trial.heats.iter().enumerate().map(|(index, heat)| {
        let number = figures::whole(heat.in_units(units));
        if index < last {
            Markup::from([element_of("span", &[("class", "figure")], &number), text(", ")])
        } else {
            figure(&number, units.temperature())
        }
    });
    element("div", &[], heats.collect())
}

fn figure(number: &str, unit: &str) -> Markup {
    // A no-break space, so that a number and its unit stay on one line.
    let unit = element_of("span", &[("class", "unit")], &format!("\u{a0}{unit}"));
    Markup::from([element_of("span", &[("class", "figure")], number), unit])
}
