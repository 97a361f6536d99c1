//! The days ahead for a terminal.

use chrono::NaiveDate;

use super::ahead_tables::{
    all_dates, days_table, short_name, side_cell, times_table, weldable_share, worst_table,
};
use super::chart::Chart;
use super::order_table::{ORDER_WORDS, order_caption, order_lines};
use super::text::{COLUMNS, closed, table_section};
use crate::render::text::{Paint, bullet, clean, section, wrap};
use crate::render::{OFFICE, words};
use crate::season::{Failed, SiteAhead, day_orders};

/// Sites up to this many are shown day by day beside the comparison.
const WHOLE: usize = 3;
/// Roofs of one day that are put in order.
const IN_ORDER: usize = 12;
/// Of the sites side by side: the name, then a cell for each day.
const NAME: usize = 24;
const CELL: usize = 6;

/// The days ahead of `sites`, which come worst first, in 80 columns.
pub fn ahead_text(sites: &[SiteAhead], failed: &[Failed], paint: Paint, chart: Chart) -> String {
    let mut lines = Vec::new();
    if sites.len() > 1 {
        orders(&mut lines, sites, paint);
        table_section(&mut lines, &worst_table(sites), paint, chart);
        let dates = all_dates(sites);
        for dates in dates.chunks((COLUMNS - NAME) / CELL) {
            side_by_side(&mut lines, sites, dates, paint, chart);
        }
    }
    if sites.len() <= WHOLE {
        for site in sites {
            one_site(&mut lines, site, paint, chart);
        }
    } else {
        let stale = sites.iter().filter_map(|site| {
            let weather = site.ahead.weather.as_ref().filter(|weather| weather.stale)?;
            Some(bullet(&format!("{}: {}", site.head.name, words::stale_line(OFFICE, weather.age))))
        });
        section(&mut lines, paint, "Old forecasts", stale.flatten().collect());
        lines.push(String::new());
        let more = "Name up to three sites for their days one by one, or take `--html`, `--format \
                    json` or `--format csv`.";
        lines.extend(wrap(more, "", ""));
    }
    closed(lines, failed, &credits(sites), paint)
}

/// Which roof first, day by day: lines and not a table, since a name that is cut tells no roof.
fn orders(lines: &mut Vec<String>, sites: &[SiteAhead], paint: Paint) {
    let orders = day_orders(sites);
    for order in &orders {
        let roofs = order_lines(order);
        let left = roofs.len().saturating_sub(IN_ORDER);
        let mut body: Vec<String> = roofs
            .iter()
            .take(IN_ORDER)
            .flat_map(|roof| wrap(&clean(roof), "  ", "     "))
            .collect();
        if left > 0 {
            body.extend(wrap(&format!("{left} more: `--html` or `--format json`"), "  ", "  "));
        }
        section(lines, paint, &order_caption(order), body);
    }
    if !orders.is_empty() {
        lines.extend(wrap(ORDER_WORDS, "  ", "  "));
    }
}

fn one_site(lines: &mut Vec<String>, site: &SiteAhead, paint: Paint, chart: Chart) {
    lines.push(String::new());
    lines.extend(wrap(&clean(&site.head.name), "", "  ").iter().map(|line| paint.strong(line)));
    match &site.ahead.weather {
        Some(weather) => {
            if weather.stale {
                lines.extend(wrap(&words::stale_line(OFFICE, weather.age), "", ""));
            }
            lines.extend(wrap(
                &words::weather_line(OFFICE, weather, site.head.time_zone),
                "",
                "  ",
            ));
            lines.extend(lacking(site).iter().flat_map(|line| wrap(line, "", "  ")));
        }
        None => lines.extend(wrap("No workday that the forecast reaches.", "", "")),
    }
    table_section(lines, &days_table(site), paint, chart);
    let times = times_table(site);
    let rows = times.rows.iter().flat_map(|row| {
        let [day, from, tests, roof] = row.cells.as_slice() else { return Vec::new() };
        let roof = if roof.is_empty() { String::new() } else { format!("; roof {roof}") };
        wrap(
            &format!("weldable from {from}; tests {tests}{roof}"),
            &format!("{day}  "),
            "           ",
        )
    });
    section(lines, paint, &times.caption, rows.collect());
}

/// What the days were judged without, where something is unknown.
pub(super) fn lacking(site: &SiteAhead) -> Option<String> {
    let days = site.ahead.days.iter().filter_map(|row| row.ahead.as_ref());
    let partly = days.clone().filter(|day| day.work.partly_known).count();
    (partly > 0).then(|| {
        format!(
            "{partly} of {} days are judged without rain, wind or the water on the sheet in some \
             hour: they may lose more than is shown.",
            days.count()
        )
    })
}

fn side_by_side(
    lines: &mut Vec<String>,
    sites: &[SiteAhead],
    dates: &[NaiveDate],
    paint: Paint,
    chart: Chart,
) {
    let row = |name: &str, cells: &mut dyn Iterator<Item = String>| {
        let cells: String = cells.map(|cell| format!("{cell:<CELL$}")).collect();
        format!("{name:<NAME$}{cells}").trim_end().to_owned()
    };
    let mut body = vec![
        row("", &mut dates.iter().map(|date| date.format("%a").to_string())),
        row("", &mut dates.iter().map(|date| date.format("%m-%d").to_string())),
    ];
    for site in sites {
        let name = clean(&short_name(&site.head, NAME - 1));
        let cells = dates.iter().map(|date| {
            let day = site.ahead.days.iter().find(|row| row.date == *date);
            let day = day.and_then(|row| row.ahead.as_ref());
            let bar = day.map_or_else(String::new, |day| chart.bar(weldable_share(day), 1));
            format!("{:<3} {bar}", side_cell(site, *date)).trim_end().to_owned()
        });
        body.push(row(&name, &mut cells.collect::<Vec<_>>().into_iter()));
    }
    let legend = "Test welds a day, and a bar for the share of the work that is weldable; hold: no \
                  minute of it. Worst site first, by its worst day.";
    body.extend(wrap(legend, "  ", "  "));
    section(lines, paint, "Side by side", body);
}

/// Every credit once.
pub(super) fn credits(sites: &[SiteAhead]) -> Vec<String> {
    let mut credits: Vec<String> = Vec::new();
    for weather in sites.iter().filter_map(|site| site.ahead.weather.as_ref()) {
        if !credits.contains(&weather.attribution) {
            credits.push(weather.attribution.clone());
        }
    }
    credits
}
