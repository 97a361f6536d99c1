//! The days ahead as a page.

use chrono::{DateTime, Utc};

use super::grid::{grid, plain_grid};
use super::heat::{legend, sites_by_days};
use super::markup::{Markup, element_of, section};
use super::shell::{failures, page, way_back};
use crate::render::outlook::ahead_tables::{
    all_dates, days_table, short_date, side_cell, times_table, worst_table,
};
use crate::render::outlook::ahead_text::{credits, lacking};
use crate::render::outlook::order_table::{ORDER_WORDS, order_table};
use crate::render::{OFFICE, words};
use crate::season::{Failed, SiteAhead, day_orders};

/// The days ahead of `sites`, which come worst first, as one HTML file of its own. `way` leads from it
/// to where it is served from, an address and its name each; a file leads nowhere.
pub fn ahead_page(
    sites: &[SiteAhead],
    failed: &[Failed],
    made_at: DateTime<Utc>,
    way: &[(&str, &str)],
) -> String {
    let dates = all_dates(sites);
    let line = match (dates.first(), dates.last()) {
        (Some(first), Some(last)) => {
            let several = if sites.len() == 1 { "" } else { "s" };
            format!("{} site{several}, {first} to {last}", sites.len())
        }
        _ => "no workday that a forecast reaches".to_owned(),
    };
    let mut sections = vec![way_back(way), failures(failed)];
    if !dates.is_empty() {
        let heads: Vec<String> = dates.iter().map(|date| short_date(*date)).collect();
        let heads: Vec<&str> =
            std::iter::once("Site").chain(heads.iter().map(String::as_str)).collect();
        let rows: Vec<Vec<String>> = sites
            .iter()
            .map(|site| {
                let cells = dates.iter().map(|date| side_cell(site, *date));
                std::iter::once(site.head.name.clone()).chain(cells).collect()
            })
            .collect();
        let table = plain_grid("Test welds a day; hold: no weldable minute", &heads, &rows);
        let body = [sites_by_days(sites, &dates), legend(), table].into();
        sections.push(section("compare", "Sites side by side, the worst first", body));
        sections.push(section("first", "Which roof first", first(sites)));
        sections.push(section("worst", "Worst days", worst(sites)));
    }
    let each = sites.iter().enumerate();
    sections.extend(each.map(|(at, site)| {
        let stale = site.ahead.weather.as_ref().filter(|weather| weather.stale);
        let stale = stale.map(|weather| words::stale_line(OFFICE, weather.age));
        let stale = stale.map(|line| element_of("p", &[("class", "stale")], &line));
        let weather = site.ahead.weather.as_ref();
        let line = weather.map_or_else(
            || "No workday that the forecast reaches.".to_owned(),
            |weather| words::weather_line(OFFICE, weather, site.head.time_zone),
        );
        let line = element_of("p", &[("class", "quiet")], &line);
        let tables = [line, grid(&days_table(site)), grid(&times_table(site))];
        let lacking = lacking(site).map(|line| element_of("p", &[], &line));
        let body = stale.into_iter().chain(lacking).chain(tables).collect();
        section(&format!("site-{at}"), &site.head.name, body)
    }));
    let sections = sections.into_iter().collect();
    page("Outlook: the days ahead", &line, made_at, sections, &credits(sites))
}

/// Nothing where there is one roof.
fn first(sites: &[SiteAhead]) -> Markup {
    let tables: Vec<Markup> =
        day_orders(sites).iter().map(order_table).map(|table| grid(&table)).collect();
    let how = (!tables.is_empty()).then(|| element_of("p", &[("class", "quiet")], ORDER_WORDS));
    tables.into_iter().chain(how).collect()
}

fn worst(sites: &[SiteAhead]) -> Markup {
    let table = worst_table(sites);
    let how = "A day is the worse the more minutes of work its holds and its test welds take.";
    [grid(&table), element_of("p", &[("class", "quiet")], how)].into()
}
