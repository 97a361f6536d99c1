//! Past years in tables.

use chrono::{NaiveDate, Weekday};

use super::UNKNOWN;
use super::table::{Row, Table, column, hours, percent, spread};
use crate::render::figures;
use crate::season::{FinishOdds, Hold, SiteHead, SiteYears, Tally};
use crate::units::Length;

/// Tests of a day that fill a bar.
const FULL_BAR: f64 = 6.0;

/// Rows of a grouping: what a row is about, and its days.
pub(super) type Group = Vec<(String, Tally)>;

/// By calendar month, the whole record last.
pub(super) fn by_month(site: &SiteYears) -> Group {
    let months = site.record.months.iter();
    let whole = ("all".to_owned(), site.record.whole.clone());
    months.map(|(month, tally)| (month_name(*month), tally.clone())).chain([whole]).collect()
}

/// By ISO week.
pub(super) fn by_week(site: &SiteYears) -> Group {
    let weeks = site.record.weeks.iter();
    weeks.map(|(week, tally)| (format!("week {week:02}"), tally.clone())).collect()
}

/// By weekday.
pub(super) fn by_weekday(site: &SiteYears) -> Group {
    let weekdays = site.record.weekdays.iter();
    weekdays.map(|(day, tally)| (weekday_name(*day).to_owned(), tally.clone())).collect()
}

/// By season: spring and fall against the rest.
pub(super) fn by_season(site: &SiteYears) -> Group {
    let seasons = site.record.seasons.iter();
    seasons.map(|(season, tally)| (season.name().to_owned(), tally.clone())).collect()
}

fn dew_days(tally: &Tally) -> String {
    tally.dew_days().map_or_else(|| "-".to_owned(), |days| days.to_string())
}

/// How many tests a day takes, and when it can begin.
pub(super) fn tests_table(head: &SiteHead, caption: &str, group: &Group) -> Table {
    let row = |(name, tally): &(String, Tally)| {
        let mut cells = vec![name.clone(), tally.covered.to_string()];
        cells.extend(spread(tally.tests.as_ref(), |tests| tests.to_string()));
        let [none, one, two, three, more] = tally.days_with;
        let shares = [none + one, two, three, more].map(|days| percent(tally.percent(days)));
        cells.extend(shares);
        let clock = |minutes| head.clock_after(minutes);
        let (earliest, latest) = tally
            .first_weldable
            .map_or(("-".to_owned(), "-".to_owned()), |(first, last)| (clock(first), clock(last)));
        cells.extend([earliest, latest, dew_days(tally)]);
        let delay = tally.dew.delay.as_ref();
        cells.push(delay.map_or_else(|| "-".to_owned(), |delay| delay.p50.to_string()));
        cells.push(delay.map_or_else(|| "-".to_owned(), |delay| delay.p90.to_string()));
        let bar = (tally.covered > 0)
            .then(|| f64::from(tally.tests_in_all) / f64::from(tally.covered) / FULL_BAR);
        Row { cells, bar }
    };
    Table {
        caption: caption.to_owned(),
        columns: vec![
            column("", "Days"),
            column("days", "Workdays covered"),
            column("p10", "Tests a day, one day in ten at most"),
            column("p50", "Tests a day, the middle"),
            column("p90", "Tests a day, nine days in ten at most"),
            column("0-1%", "Days with none or one, %"),
            column("2%", "Days with two, %"),
            column("3%", "Days with three, %"),
            column("4+%", "Days with four or more, %"),
            column("first", "Earliest start"),
            column("last", "Latest start"),
            column("dew", "Days that begin wet with dew or frost"),
            column("d50", "Their delay, the middle, min"),
            column("d90", "Their delay, nine in ten at most, min"),
        ],
        rows: group.iter().map(row).collect(),
        legend: "days: workdays covered; the bar is the mean of tests a day. p10 p50 p90: tests a \
            day; then shares of the days by their tests. first, last: earliest and latest start. \
            dew: days that begin wet with dew or frost, - where the record does not tell; d50, d90: \
            minutes until they start.",
    }
}

/// Weldable hours, and what took the others.
pub(super) fn hours_table(caption: &str, group: &Group) -> Table {
    let row = |(name, tally): &(String, Tally)| {
        let mut cells = vec![name.clone()];
        cells.extend(spread(tally.weldable.as_ref(), hours));
        cells.push(hours(tally.weldable_in_all));
        cells.extend(tally.held_in_all.iter().map(|minutes| hours(*minutes)));
        cells.push(tally.never_weldable.to_string());
        let bar = (tally.working_in_all > 0)
            .then(|| f64::from(tally.weldable_in_all) / f64::from(tally.working_in_all));
        Row { cells, bar }
    };
    let mut columns = vec![
        column("", "Days"),
        column("p10", "Weldable hours a day, one day in ten at most"),
        column("p50", "Weldable hours a day, the middle"),
        column("p90", "Weldable hours a day, nine days in ten at most"),
        column("in all", "Weldable hours in all"),
    ];
    columns.extend(Hold::ALL.map(|hold| match hold {
        Hold::Snow => column("snow", "Hours lost to snow"),
        Hold::Rain => column("rain", "Hours lost to rain"),
        Hold::Thunder => column("thunder", "Hours lost to thunder"),
        Hold::WetSheet => column("wet", "Hours lost to a wet sheet"),
        Hold::WindStop => column("storm", "Hours lost to storm wind"),
    }));
    columns.push(column("none", "Days without a weldable minute"));
    Table {
        caption: caption.to_owned(),
        columns,
        rows: group.iter().map(row).collect(),
        legend: "p10 p50 p90: weldable hours a day; the bar is their share of the work. Then hours \
            in all: weldable, and lost to snow, rain, thunder, a wet sheet, storm wind. none: days \
            without a weldable minute.",
    }
}

/// Tests and hours in few columns, since there are many weeks.
pub(super) fn weeks_table(group: &Group) -> Table {
    let row = |(name, tally): &(String, Tally)| {
        let mut cells = vec![name.clone(), tally.covered.to_string()];
        cells.extend(spread(tally.tests.as_ref(), |tests| tests.to_string()));
        let [.., three, more] = tally.days_with;
        cells.push(percent(tally.percent(three)));
        cells.push(percent(tally.percent(more)));
        cells.extend(spread(tally.weldable.as_ref(), hours));
        let lost: u32 = tally.held_in_all.iter().sum();
        cells.extend([hours(lost), dew_days(tally)]);
        let bar = (tally.covered > 0)
            .then(|| f64::from(tally.tests_in_all) / f64::from(tally.covered) / FULL_BAR);
        Row { cells, bar }
    };
    Table {
        caption: "By week".to_owned(),
        columns: vec![
            column("", "Weeks"),
            column("days", "Workdays covered"),
            column("p10", "Tests a day, one day in ten at most"),
            column("p50", "Tests a day, the middle"),
            column("p90", "Tests a day, nine days in ten at most"),
            column("3%", "Days with three, %"),
            column("4+%", "Days with four or more, %"),
            column("h p10", "Weldable hours a day, one day in ten at most"),
            column("p50", "Weldable hours a day, the middle"),
            column("p90", "Weldable hours a day, nine days in ten at most"),
            column("lost h", "Hours lost in all"),
            column("dew", "Days that begin wet with dew or frost"),
        ],
        rows: group.iter().map(row).collect(),
        legend: "p10 p50 p90: tests a day, then weldable hours a day. lost h: to all holds, in all.",
    }
}

/// What test welds cost a month.
pub(super) fn budget_table(site: &SiteYears) -> Table {
    let money = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), figures::whole);
    let row = |budget: &crate::season::MonthBudget| {
        let of = |show: &dyn Fn(u32) -> String| spread(budget.minutes.as_ref(), show);
        let mut cells = vec![month_name(budget.month), budget.complete.to_string()];
        cells.push(budget.with_gaps.to_string());
        cells.extend(of(&|minutes| minutes.to_string()));
        cells.push(of(&|minutes| money(budget.crew_hours(minutes)))[1].clone());
        cells.extend(of(&|minutes| money(budget.cost(minutes))));
        Row { cells, bar: None }
    };
    Table {
        caption: "What test welds take a month".to_owned(),
        columns: vec![
            column("", "Month"),
            column("full", "Months counted"),
            column("gaps", "Months with a gap, not counted"),
            column("min p10", "Minutes of testing, one month in ten at most"),
            column("p50", "Minutes of testing, the middle"),
            column("p90", "Minutes of testing, nine months in ten at most"),
            column("crew h", "Crew hours, the middle"),
            column("cost p10", "Cost, one month in ten at most"),
            column("p50", "Cost, the middle"),
            column("p90", "Cost, nine months in ten at most"),
        ],
        rows: site.record.budget.iter().map(row).collect(),
        legend: "min: minutes of testing in a month, over the years whose month is whole (full). \
            crew h: times `crew_size`; cost: times `crew_cost_per_hour`, in its currency; both go \
            under `[rules]` in the site file.",
    }
}

/// How far the record carries.
pub(super) fn cover_table(site: &SiteYears) -> Table {
    let row = |(year, tally): &(i32, Tally)| {
        let share = f64::from(tally.covered) / f64::from(tally.workdays.max(1));
        let cells = vec![
            year.to_string(),
            tally.workdays.to_string(),
            tally.covered.to_string(),
            percent(Some(100.0 * share)),
            tally.partly_known.to_string(),
            tally.tests_in_all.to_string(),
        ];
        Row { cells, bar: Some(share) }
    };
    Table {
        caption: "The record".to_owned(),
        columns: vec![
            column("year", "Year"),
            column("workdays", "Workdays"),
            column("covered", "Covered by the record"),
            column("%", "Covered, %"),
            column("partly", "Judged without rain, wind or water"),
            column("tests", "Tests in all"),
        ],
        rows: site.record.years.iter().map(row).collect(),
        legend: "Days without air temperatures are not covered: they count for nothing below and \
            are not filled in. partly: judged without rain, wind or the water on the sheet in \
            some hour.",
    }
}

/// The sites against each other, the dearest first.
pub(super) fn sites_table(sites: &[SiteYears]) -> Table {
    let row = |site: &SiteYears| {
        let whole = &site.record.whole;
        let [.., three, more] = whole.days_with;
        let mut cells = vec![site.head.name.clone(), whole.covered.to_string()];
        let tests = spread(whole.tests.as_ref(), |tests| tests.to_string());
        let weldable = spread(whole.weldable.as_ref(), hours);
        cells.extend([tests[1].clone(), tests[2].clone(), percent(whole.percent(three + more))]);
        cells.extend([weldable[1].clone(), dew_days(whole)]);
        cells.push(percent(site.cost_percent()));
        Row { cells, bar: site.cost_percent().map(|percent| percent / 100.0) }
    };
    Table {
        caption: "Sites side by side".to_owned(),
        columns: vec![
            column("site", "Site"),
            column("days", "Workdays covered"),
            column("p50", "Tests a day, the middle"),
            column("p90", "Tests a day, nine days in ten at most"),
            column("3+%", "Days with three or more, %"),
            column("h p50", "Weldable hours a day, the middle"),
            column("dew", "Days that begin wet with dew or frost"),
            column("lost%", "Of the work, lost to holds and tests, %"),
        ],
        rows: sites.iter().map(row).collect(),
        legend: "The site whose work loses the largest share to holds and test welds comes first; \
            the bar is that share.",
    }
}

/// The job in each year.
pub(super) fn finish_table(head: &SiteHead, odds: &FinishOdds) -> Table {
    let row = |year: &crate::season::FinishYear| {
        let done = match year.done_on {
            Some(date) => date.to_string(),
            None if year.is_decided() => "not in time".to_owned(),
            None => UNKNOWN.to_owned(),
        };
        let seam = Length::from_meters(year.seam_m);
        let cells = vec![
            year.year.to_string(),
            done,
            figures::length(seam, head.units),
            year.uncovered.to_string(),
        ];
        Row { cells, bar: Some(year.seam_m / odds.question.footage.meters()) }
    };
    Table {
        caption: "The job, year by year".to_owned(),
        columns: vec![
            column("year", "Year"),
            column("done on", "Done on"),
            column("seam", "Seam laid"),
            column("gaps", "Workdays without weather"),
        ],
        rows: odds.years.iter().map(row).collect(),
        legend: "?: not done on the days that the record covers, and some are missing; such a year \
            does not count.",
    }
}

/// The odds in a sentence or two.
pub(super) fn finish_words(head: &SiteHead, odds: &FinishOdds) -> String {
    let question = &odds.question;
    let asked = format!(
        "{} of seam from {} to {}",
        figures::length(question.footage, head.units),
        question.start,
        question.finish
    );
    let Some(percent) = odds.percent() else {
        return format!("{asked}: no year on record covers that time, so there are no odds.");
    };
    let (finished, decided) = (odds.finished(), odds.decided());
    let mut text = format!(
        "{asked}: done in time in {finished} of {decided} years on record, {percent:.0} %."
    );
    let day = |days: i64| -> Option<NaiveDate> {
        question.start.checked_add_signed(chrono::TimeDelta::days(days))
    };
    // Of a few years, such a share says nothing.
    let shares = [(50, "half"), (90, "nine in ten")];
    for (percent, share) in shares.into_iter().filter(|_| decided >= 5) {
        if let Some(date) = odds.days_to_finish(percent).and_then(day) {
            text.push_str(&format!(" By {} {share} of them were.", date.format("%B %-d")));
        }
    }
    let open = odds.years.len() - decided;
    if open > 0 {
        text.push_str(&format!(" {open} more have gaps and do not count."));
    }
    text
}

/// How much of the record there is, in a sentence.
pub(super) fn cover_words(site: &SiteYears) -> String {
    let whole = &site.record.whole;
    let years = &site.record.years;
    let span = match (years.first(), years.last()) {
        (Some((year, _)), _) if site.is_typical => {
            format!("a typical year, on the dates of {year}")
        }
        (Some((first, _)), Some((last, _))) if first == last => first.to_string(),
        (Some((first, _)), Some((last, _))) => format!("{first} to {last}"),
        _ => "no year".to_owned(),
    };
    let gaps = match whole.workdays - whole.covered {
        0 => String::new(),
        1 => "; 1 without weather is left out".to_owned(),
        gaps => format!("; {gaps} without weather are left out"),
    };
    let partly = match whole.partly_known {
        0 => String::new(),
        days => format!(
            " {days} are judged without rain, wind or the water on the sheet in some hour: they \
             may lose more than is shown."
        ),
    };
    format!(
        "Record of {span}: {} of {} workdays covered{gaps}.{partly}",
        whole.covered, whole.workdays
    )
}

pub(super) fn month_name(month: u32) -> String {
    let names =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let at = usize::try_from(month).ok().and_then(|month| month.checked_sub(1));
    at.and_then(|at| names.get(at)).map_or(UNKNOWN, |name| name).to_owned()
}

const fn weekday_name(day: Weekday) -> &'static str {
    match day {
        Weekday::Mon => "Mon",
        Weekday::Tue => "Tue",
        Weekday::Wed => "Wed",
        Weekday::Thu => "Thu",
        Weekday::Fri => "Fri",
        Weekday::Sat => "Sat",
        Weekday::Sun => "Sun",
    }
}
