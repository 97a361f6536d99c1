//! The days ahead in tables.

use chrono::NaiveDate;

use super::table::{Row, Table, column, hours, percent};
use super::{UNKNOWN, text::cut};
use crate::render::{OFFICE, figures, words};
use crate::season::{DayAhead, DayRow, SiteAhead, SiteHead, WorstDay, worst_days};
use crate::units::TemperatureDifference;

/// How many days of all sites are the worst ones.
const WORST: usize = 12;

/// The workdays of one site.
pub(super) fn days_table(site: &SiteAhead) -> Table {
    let columns = vec![
        column("day", "Day"),
        column("tests", "Tests"),
        column("st", "at the start"),
        column("br", "after a break"),
        column("ai", "air moved"),
        column("sh", "sheet moved"),
        column("el", "time was up"),
        column("ho", "after a hold"),
        column("air", "Air swing"),
        column("sheet", "Sheet swing"),
        column("h", "Weldable hours"),
        column("dry", "Dry from"),
        column("move", "Chance of a test for air or sheet, %"),
        column("word", "Advice in a word"),
    ];
    Table {
        caption: "Days ahead".to_owned(),
        columns,
        rows: site.ahead.days.iter().map(|row| day_row(&site.head, row)).collect(),
        legend: "Tests: st at the start, br after a break, ai air moved, sh sheet moved, el time \
            was up, ho after a hold; beyond day three the likely range. air, sheet: swing. h: \
            weldable hours, the bar their share of the work. dry: when a wet sheet is. move: \
            chance in % of a test for air or sheet.",
    }
}

fn day_row(head: &SiteHead, row: &DayRow) -> Row {
    let name = short_date(row.date);
    let Some(day) = &row.ahead else {
        let unknown = std::iter::repeat_n(UNKNOWN.to_owned(), 12);
        let cells = std::iter::once(name).chain(unknown).chain(["no data".to_owned()]).collect();
        return Row { cells, bar: None };
    };
    let causes = &day.work.tests;
    let counts = [causes.start, causes.after_break, causes.ambient_change];
    let more = [causes.sheet_change, causes.elapsed, causes.after_hold];
    let mut cells = vec![name, tests(day)];
    cells.extend(counts.iter().chain(&more).map(|count| match count {
        0 => ".".to_owned(),
        count => count.to_string(),
    }));
    cells.push(swing(head, day.air.1 - day.air.0));
    cells.push(day.sheet.map_or_else(|| UNKNOWN.to_owned(), |(low, high)| swing(head, high - low)));
    cells.push(hours(u32::from(day.work.weldable_minutes)));
    cells.push(dry(head, day));
    cells.push(percent(day.change_percent()));
    cells.push(day.word.name().to_owned());
    Row { cells, bar: Some(weldable_share(day)) }
}

/// `3`, or `2-4` for a day whose times do not hold.
pub(super) fn tests(day: &DayAhead) -> String {
    match day.likely {
        Some(likely) if !day.times_hold && likely.p10 != likely.p90 => {
            format!("{}-{}", likely.p10, likely.p90)
        }
        Some(likely) if !day.times_hold => likely.p50.to_string(),
        _ => day.work.tests.total().to_string(),
    }
}

/// Share of the working time that is weldable.
pub(super) fn weldable_share(day: &DayAhead) -> f64 {
    let working = f64::from(day.work.working_minutes.max(1));
    f64::from(day.work.weldable_minutes) / working
}

fn swing(head: &SiteHead, difference: TemperatureDifference) -> String {
    figures::whole(difference.abs().in_units(head.units))
}

fn dry(head: &SiteHead, day: &DayAhead) -> String {
    match (&day.dry, day.work.begins_wet) {
        (Some(dry), _) if day.times_hold => figures::clock(dry.from, head.time_zone),
        (None, false) => "-".to_owned(),
        // A time of day so far ahead would promise too much.
        _ => "wet".to_owned(),
    }
}

/// When the tests of the next days fall due.
pub(super) fn times_table(site: &SiteAhead) -> Table {
    let near = |row: &DayRow| -> Option<Row> {
        let day = row.ahead.as_ref().filter(|day| day.times_hold)?;
        let clock = |at| figures::clock(at, site.head.time_zone);
        let times: Vec<String> = day.test_times.iter().map(|at| clock(*at)).collect();
        let times = if times.is_empty() { "none".to_owned() } else { times.join(" ") };
        let first = day.first_weldable.map_or_else(|| "never".to_owned(), clock);
        let dry = day.dry.as_ref().map(|dry| words::dry(OFFICE, dry, site.head.time_zone));
        let cells = vec![short_date(row.date), first, times, dry.unwrap_or_default()];
        Some(Row { cells, bar: None })
    };
    Table {
        caption: "Times, up to day three".to_owned(),
        columns: vec![
            column("day", "Day"),
            column("from", "Weldable from"),
            column("tests at", "Tests at"),
            column("roof", "Roof"),
        ],
        rows: site.ahead.days.iter().filter_map(near).collect(),
        legend: "",
    }
}

/// The worst days of all sites.
pub(super) fn worst_table(sites: &[SiteAhead]) -> Table {
    let row = |worst: &WorstDay<'_>| {
        let day = worst.day;
        let cells = vec![
            worst.head.name.clone(),
            short_date(worst.date),
            tests(day),
            hours(u32::from(day.work.weldable_minutes)),
            worst.cost_minutes.to_string(),
            percent(day.change_percent()),
            day.word.name().to_owned(),
        ];
        Row { cells, bar: Some(1.0 - weldable_share(day)) }
    };
    Table {
        caption: "Worst days first".to_owned(),
        columns: vec![
            column("site", "Site"),
            column("day", "Day"),
            column("tests", "Tests"),
            column("weldable h", "Weldable hours"),
            column("lost min", "Minutes lost to holds and tests"),
            column("move %", "Chance of a test for air or sheet, %"),
            column("word", "Advice in a word"),
        ],
        rows: worst_days(sites, WORST).iter().map(row).collect(),
        legend: "A day is the worse the more minutes of work its holds and its test welds take. \
            The bar is the share of the work that cannot be welded.",
    }
}

/// The dates that any site has a row for, ascending.
pub(super) fn all_dates(sites: &[SiteAhead]) -> Vec<NaiveDate> {
    let mut dates: Vec<NaiveDate> =
        sites.iter().flat_map(|site| site.ahead.days.iter().map(|row| row.date)).collect();
    dates.sort_unstable();
    dates.dedup();
    dates
}

/// A cell of the sites side by side: tests, `hold` for a day without a weldable minute, `?` for one
/// without weather, nothing for one without work.
pub(super) fn side_cell(site: &SiteAhead, date: NaiveDate) -> String {
    match site.ahead.days.iter().find(|row| row.date == date) {
        None => String::new(),
        Some(DayRow { ahead: None, .. }) => UNKNOWN.to_owned(),
        Some(DayRow { ahead: Some(day), .. }) if day.work.weldable_minutes == 0 => {
            "hold".to_owned()
        }
        Some(DayRow { ahead: Some(day), .. }) => tests(day),
    }
}

/// `Tue 04-09`.
pub(super) fn short_date(date: NaiveDate) -> String {
    date.format("%a %m-%d").to_string()
}

/// A site's name where there is room for `width` signs.
pub(super) fn short_name(head: &SiteHead, width: usize) -> String {
    cut(&head.name, width)
}
