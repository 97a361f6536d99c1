//! Past years for a terminal.

use super::chart::Chart;
use super::job_tables::{MOVES_CAPTION, moves_table, moves_words};
use super::text::{closed, table_section};
use super::years_tables::{
    budget_table, by_month, by_season, by_week, by_weekday, cover_table, cover_words, finish_table,
    finish_words, hours_table, sites_table, tests_table, weeks_table,
};
use crate::render::text::{Paint, bullet, clean, section, wrap};
use crate::season::{Failed, SiteYears};

/// Sites up to this many are shown month by month beside the comparison.
const WHOLE: usize = 3;

/// The past years of `sites`, which come dearest first, in 80 columns.
pub fn years_text(sites: &[SiteYears], failed: &[Failed], paint: Paint, chart: Chart) -> String {
    let mut lines = Vec::new();
    if sites.len() > 1 {
        table_section(&mut lines, &sites_table(sites), paint, chart);
        odds(&mut lines, sites, paint);
        if sites.len() > WHOLE {
            moves(&mut lines, sites, paint);
        }
    }
    if sites.len() <= WHOLE {
        for site in sites {
            one_site(&mut lines, site, paint, chart);
        }
    } else {
        lines.push(String::new());
        let more = "Name up to three sites for their months one by one, or take `--html`, `--format \
                    json` or `--format csv`.";
        lines.extend(wrap(more, "", ""));
    }
    closed(lines, failed, &credits(sites), paint)
}

/// The odds of every site, a line each.
fn odds(lines: &mut Vec<String>, sites: &[SiteYears], paint: Paint) {
    let said = sites.iter().filter_map(|site| {
        let odds = site.record.finish.as_ref()?;
        Some(bullet(&format!("{}: {}", site.head.name, finish_words(&site.head, odds))))
    });
    section(lines, paint, "Done in time?", said.flatten().collect());
}

/// What moving the job would save on every site, a line a sentence.
fn moves(lines: &mut Vec<String>, sites: &[SiteYears], paint: Paint) {
    let said = sites.iter().flat_map(|site| {
        let words = site.record.moves.iter().flat_map(|moves| moves_words(&site.head, moves));
        words.flat_map(|words| bullet(&format!("{}: {words}", site.head.name))).collect::<Vec<_>>()
    });
    section(lines, paint, MOVES_CAPTION, said.collect());
}

fn one_site(lines: &mut Vec<String>, site: &SiteYears, paint: Paint, chart: Chart) {
    lines.push(String::new());
    lines.extend(wrap(&clean(&site.head.name), "", "  ").iter().map(|line| paint.strong(line)));
    lines.extend(wrap(&cover_words(site), "", "  "));
    table_section(lines, &cover_table(site), paint, chart);
    let notes = site.notes.iter().flat_map(|note| bullet(note));
    section(lines, paint, "Notes", notes.collect());
    let (months, weekdays) = (by_month(site), by_weekday(site));
    let head = &site.head;
    let plain = |table| super::table::Table { legend: "", ..table };
    table_section(lines, &tests_table(head, "Test welds a day, by month", &months), paint, chart);
    table_section(lines, &hours_table("Hours, by month", &months), paint, chart);
    let seasons = by_season(site);
    let by_season = tests_table(head, "Test welds a day, spring and fall", &seasons);
    table_section(lines, &plain(by_season), paint, chart);
    let by_season = hours_table("Hours, spring and fall", &seasons);
    table_section(lines, &plain(by_season), paint, chart);
    let by_weekday = plain(tests_table(head, "Test welds a day, by weekday", &weekdays));
    table_section(lines, &by_weekday, paint, chart);
    table_section(lines, &plain(hours_table("Hours, by weekday", &weekdays)), paint, chart);
    table_section(lines, &weeks_table(&by_week(site)), paint, chart);
    table_section(lines, &budget_table(site), paint, chart);
    if let Some(odds) = &site.record.finish {
        section(lines, paint, "Done in time?", wrap(&finish_words(head, odds), "", ""));
        table_section(lines, &finish_table(head, odds), paint, chart);
    }
    if let Some(moves) = &site.record.moves {
        table_section(lines, &moves_table(moves), paint, chart);
        lines.extend(moves_words(head, moves).iter().flat_map(|words| bullet(words)));
    }
}

/// Every credit once.
pub(super) fn credits(sites: &[SiteYears]) -> Vec<String> {
    let mut credits: Vec<String> = Vec::new();
    for site in sites {
        if !credits.contains(&site.attribution) {
            credits.push(site.attribution.clone());
        }
    }
    credits
}
