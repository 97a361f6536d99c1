//! Past years as a page.

use chrono::{DateTime, Utc};

use super::distribution::distribution;
use super::grid::grid;
use super::heat::{legend, years_by_days};
use super::markup::{Markup, element, element_of, section};
use super::shell::{failures, page};
use crate::render::outlook::job_tables::{moves_table, moves_words};
use crate::render::outlook::years_tables::{
    Group, budget_table, by_month, by_season, by_week, by_weekday, cover_table, cover_words,
    finish_table, finish_words, hours_table, sites_table, tests_table,
};
use crate::render::outlook::years_text::credits;
use crate::season::{Failed, SiteYears, Spread, Tally};

/// Figures are drawn for this many sites; with more, a page would be too large to open.
const DRAWN: usize = 12;

/// The past years of `sites`, which come dearest first, as one HTML file of its own.
pub fn years_page(sites: &[SiteYears], failed: &[Failed], made_at: DateTime<Utc>) -> String {
    let line = match sites {
        [only] => only.head.name.clone(),
        many => format!("{} sites", many.len()),
    };
    let mut sections = vec![failures(failed)];
    if sites.len() > 1 {
        let how =
            "The site whose work loses the largest share to holds and test welds comes first.";
        let body = [grid(&sites_table(sites)), element_of("p", &[("class", "quiet")], how)];
        sections.push(section("compare", "Sites side by side", body.into()));
    }
    let each = sites.iter().enumerate();
    sections.extend(each.map(|(at, site)| one_site(site, &format!("site-{at}"), at < DRAWN)));
    if sites.len() > DRAWN {
        let left = format!("Figures are drawn for the first {DRAWN} sites.");
        sections.push(element_of("p", &[("class", "quiet")], &left));
    }
    let sections = sections.into_iter().collect();
    page("Outlook: the years behind", &line, made_at, sections, &credits(sites))
}

fn one_site(site: &SiteYears, id: &str, drawn: bool) -> Markup {
    let months = by_month(site);
    let mut parts = vec![element_of("p", &[], &cover_words(site))];
    if drawn {
        parts.extend([years_by_days(site, &format!("{id}-heat")), legend()]);
        let of_months = &months[..months.len().saturating_sub(1)];
        let spreads =
            |of: fn(&Tally) -> Option<Spread<u32>>| -> Vec<(String, Option<Spread<u32>>)> {
                of_months.iter().map(|(name, tally)| (name.clone(), of(tally))).collect()
            };
        let name = "Test welds a day by month: the middle, and from one day in ten to nine in ten";
        let tests = spreads(|tally| tally.tests);
        parts.push(distribution(&format!("{id}-tests"), name, &tests, 1.0));
        let name =
            "Weldable hours a day by month: the middle, and from one day in ten to nine in ten";
        let weldable = spreads(|tally| tally.weldable);
        parts.push(distribution(&format!("{id}-hours"), name, &weldable, 60.0));
    }
    let pair = |what: &str, group: &Group| -> Markup {
        let tests = tests_table(&site.head, &format!("Test welds a day, by {what}"), group);
        [grid(&tests), grid(&hours_table(&format!("Hours, by {what}"), group))].into()
    };
    parts.push(pair("month", &months));
    parts.push(pair("season", &by_season(site)));
    parts.push(pair("weekday", &by_weekday(site)));
    let weeks = [element_of("summary", &[], "By week"), pair("week", &by_week(site))];
    parts.push(element("details", &[], weeks.into()));
    parts.push(grid(&budget_table(site)));
    if let Some(odds) = &site.record.finish {
        parts.push(element_of("p", &[("class", "odds")], &finish_words(&site.head, odds)));
        parts.push(grid(&finish_table(&site.head, odds)));
    }
    if let Some(moves) = &site.record.moves {
        parts.push(grid(&moves_table(moves)));
        let words = moves_words(&site.head, moves);
        let words = words.iter().map(|words| element_of("li", &[], words));
        parts.push(element("ul", &[], words.collect()));
    }
    parts.push(grid(&cover_table(site)));
    if !site.notes.is_empty() {
        let notes = site.notes.iter().map(|note| element_of("li", &[], note));
        parts.push(element("ul", &[], notes.collect()));
    }
    section(id, &site.head.name, parts.into_iter().collect())
}
