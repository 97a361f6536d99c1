//! Heat maps: a cell a day, the darker the more tests. No color stands alone: on the days ahead every
//! cell has its number, and past years have their numbers in the tables behind.

use chrono::{Datelike, NaiveDate};

use super::markup::{Markup, element, element_of, empty};
use super::{float, px};
use crate::render::outlook::ahead_tables::{side_cell, tests};
use crate::render::outlook::years_tables::month_name;
use crate::season::{SeasonDay, SiteAhead, SiteYears};

/// Classes of cells: none, one, two, three, four and more tests; all held; no weather.
const CLASSES: [(&str, &str); 7] = [
    ("t0", "no test"),
    ("t1", "one"),
    ("t2", "two"),
    ("t3", "three"),
    ("t4", "four or more"),
    ("held", "no weldable minute"),
    ("gap", "no weather"),
];
const HELD: usize = 5;
const GAP: usize = 6;

fn class_of(tests: u32, weldable_minutes: u16) -> usize {
    if weldable_minutes == 0 {
        return HELD;
    }
    usize::try_from(tests).unwrap_or(4).min(4)
}

/// What the colors mean.
pub(super) fn legend() -> Markup {
    let item = |(class, words): &(&str, &str)| {
        let square = [("x", "1"), ("y", "1"), ("width", "14"), ("height", "12"), ("class", *class)];
        let size = [("viewBox", "0 0 16 14"), ("width", "16"), ("height", "14")];
        let square = empty("rect", &square);
        let sign = element("svg", &[&size[..], &[("aria-hidden", "true")]].concat(), square);
        element("li", &[], [sign, element_of("span", &[], words)].into())
    };
    element("ul", &[("class", "legend")], CLASSES.iter().map(item).collect())
}

/// Sites by days: the worst site on top.
pub(super) fn sites_by_days(sites: &[SiteAhead], dates: &[NaiveDate]) -> Markup {
    const CELL: (f64, f64) = (52.0, 22.0);
    const LEFT: f64 = 190.0;
    const TOP: f64 = 36.0;
    let mut layers = Vec::new();
    for (at, date) in dates.iter().enumerate() {
        let x = px(LEFT + CELL.0 * (float(at) + 0.5));
        for (line, y) in [("%a", TOP - 21.0), ("%m-%d", TOP - 7.0)] {
            let y = px(y);
            let place = [("x", x.as_str()), ("y", &y), ("class", "middle")];
            layers.push(element_of("text", &place, &date.format(line).to_string()));
        }
    }
    for (row, site) in sites.iter().enumerate() {
        let y = TOP + CELL.1 * float(row);
        let (baseline, x) = (px(y + 15.0), px(LEFT - 6.0));
        let name: String = crate::render::outlook::text::cut(&site.head.name, 26);
        let place = [("x", x.as_str()), ("y", &baseline), ("class", "name")];
        layers.push(element_of("text", &place, &name));
        for (column, date) in dates.iter().enumerate() {
            let Some(day) = site.ahead.days.iter().find(|day| day.date == *date) else { continue };
            let class = day.ahead.as_ref().map_or(GAP, |ahead| {
                class_of(ahead.work.tests.total(), ahead.work.weldable_minutes)
            });
            let x = LEFT + CELL.0 * float(column);
            let corner = (px(x + 1.0), px(y + 1.0));
            let size = (px(CELL.0 - 2.0), px(CELL.1 - 2.0));
            let square = [
                ("x", corner.0.as_str()),
                ("y", &corner.1),
                ("width", &size.0),
                ("height", &size.1),
                ("class", CLASSES[class].0),
            ];
            layers.push(empty("rect", &square));
            let middle = px(x + CELL.0 / 2.0);
            let letters = format!("middle on-{}", CLASSES[class].0);
            let place = [("x", middle.as_str()), ("y", &baseline), ("class", &letters)];
            layers.push(element_of("text", &place, &side_cell(site, *date)));
        }
    }
    let size = (LEFT + CELL.0 * float(dates.len()), TOP + CELL.1 * float(sites.len()));
    let said = sites.iter().map(|site| {
        let most = site.ahead.days.iter().filter_map(|row| Some((row.date, row.ahead.as_ref()?)));
        let worst = most.max_by_key(|(_, day)| day.cost_minutes(site.head.trial_minutes));
        worst.map_or_else(
            || format!("{}: no day planned.", site.head.name),
            |(date, day)| format!("{}: worst on {date}, {} tests.", site.head.name, tests(day)),
        )
    });
    let description = said.collect::<Vec<_>>().join(" ");
    drawing("side", size, "Test welds a day, sites by days", &description, layers)
}

/// Years by days of one site, the years from the top.
pub(super) fn years_by_days(site: &SiteYears, id: &str) -> Markup {
    const CELL: (f64, f64) = (1.9, 14.0);
    const LEFT: f64 = 40.0;
    const TOP: f64 = 18.0;
    let first_year = site.record.years.first().map_or(0, |(year, _)| *year);
    let mut paths: [String; CLASSES.len()] = std::array::from_fn(|_| String::new());
    for day in &site.record.days {
        let class = class_of_day(day);
        let row = usize::try_from(day.date.year() - first_year).unwrap_or(0);
        let x = LEFT + CELL.0 * f64::from(day.date.ordinal0());
        let y = TOP + CELL.1 * float(row);
        let path =
            format!("M{} {}h{}v{}h-{}z", px(x), px(y), px(CELL.0), px(CELL.1 - 2.0), px(CELL.0));
        paths[class].push_str(&path);
    }
    let mut layers: Vec<Markup> = paths
        .iter()
        .zip(CLASSES)
        .filter(|(path, _)| !path.is_empty())
        .map(|(path, (class, _))| empty("path", &[("d", path), ("class", class)]))
        .collect();
    for month in 1..=12 {
        let start = NaiveDate::from_ymd_opt(2023, month, 1).map_or(0, |date| date.ordinal0());
        let x = px(LEFT + CELL.0 * f64::from(start));
        let place = [("x", x.as_str()), ("y", "12")];
        layers.push(element_of("text", &place, &month_name(month)));
    }
    for (year, _) in &site.record.years {
        let row = usize::try_from(year - first_year).unwrap_or(0);
        let (x, y) = (px(LEFT - 5.0), px(TOP + CELL.1 * float(row) + 10.0));
        let place = [("x", x.as_str()), ("y", &y), ("class", "name")];
        layers.push(element_of("text", &place, &year.to_string()));
    }
    let last_year = site.record.years.last().map_or(first_year, |(year, _)| *year);
    let rows = usize::try_from(last_year - first_year).unwrap_or(0) + 1;
    let size = (LEFT + CELL.0 * 367.0, TOP + CELL.1 * float(rows));
    let name = match first_year == last_year {
        true => format!("Test welds a day, {first_year}"),
        false => format!("Test welds a day, {first_year} to {last_year}"),
    };
    let said = site.record.years.iter().map(|(year, tally)| {
        format!(
            "{year}: {} of {} workdays covered, {} tests.",
            tally.covered, tally.workdays, tally.tests_in_all
        )
    });
    drawing(id, size, &name, &said.collect::<Vec<_>>().join(" "), layers)
}

fn class_of_day(day: &SeasonDay) -> usize {
    day.workday.as_ref().map_or(GAP, |work| class_of(work.tests.total(), work.weldable_minutes))
}

/// A drawing with its name and, for who does not see it, what it shows.
pub(super) fn drawing(
    id: &str,
    (width, height): (f64, f64),
    name: &str,
    description: &str,
    layers: Vec<Markup>,
) -> Markup {
    let (title_id, text_id) = (format!("{id}-name"), format!("{id}-text"));
    let names = [
        element_of("title", &[("id", &title_id)], name),
        element_of("desc", &[("id", &text_id)], description),
    ];
    let view = format!("0 0 {} {}", px(width), px(height));
    let broadest = format!("{}", width.ceil());
    let svg = element(
        "svg",
        &[
            ("viewBox", view.as_str()),
            ("width", &broadest),
            ("role", "img"),
            ("aria-labelledby", &title_id),
            ("aria-describedby", &text_id),
            ("font-size", "12"),
        ],
        names.into_iter().chain(layers).collect(),
    );
    let caption = element_of("figcaption", &[], name);
    element("figure", &[], [caption, svg].into())
}
