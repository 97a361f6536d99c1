//! One row for each workday of each site, for a spreadsheet.

use super::ahead_tables::tests;
use crate::render::figures::round_to;
use crate::season::{DayAhead, Hold, SiteAhead, SiteHead, SiteYears, Workday};
use crate::units::{Length, Temperature, TemperatureDifference, UnitSystem};

/// The days ahead as CSV (RFC 4180). Numbers are in each site's units, which a column names; an empty
/// field is unknown.
///
/// # Errors
/// When a row cannot be written; in memory that does not happen.
pub fn ahead_csv(sites: &[SiteAhead]) -> Result<String, csv::Error> {
    let mut head = shared_head();
    head.extend(["tests_likely", "change_percent", "sheet_swing", "advice"].map(str::to_owned));
    let rows = sites.iter().flat_map(|site| {
        site.ahead.days.iter().map(|row| {
            let day = row.ahead.as_ref();
            // Beyond day three a time of day would promise too much.
            let told = |day: &DayAhead| Workday {
                first_weldable: day.work.first_weldable.filter(|_| day.times_hold),
                ..day.work
            };
            let work = day.map(told);
            let mut cells = shared(&site.head, row.date, work.as_ref());
            cells.extend(ahead(&site.head, day));
            cells
        })
    });
    written(head, rows)
}

/// Past years as CSV (RFC 4180): every workday of the record, as [`ahead_csv`], with its season: `spring`,
/// `fall` or the `rest` of the year. Where a job was asked about, the column `job` says as what a day was worked on it: a month
/// `earlier`, as `planned`, a month `later`.
///
/// # Errors
/// As [`ahead_csv`].
pub fn years_csv(sites: &[SiteYears]) -> Result<String, csv::Error> {
    let has_job = sites.iter().any(|site| site.record.moves.is_some());
    let rows = sites.iter().flat_map(|site| {
        let days = site.record.days.iter();
        days.map(move |day| {
            let mut cells = shared(&site.head, day.date, day.workday.as_ref());
            cells.push(site.record.season_of(day.date).name().to_owned());
            cells.extend(has_job.then(|| job(site, day.date)));
            cells
        })
    });
    let mut head = shared_head();
    head.push("season".to_owned());
    head.extend(has_job.then(|| "job".to_owned()));
    written(head, rows)
}

/// How the job was placed that was worked on that day: `earlier`, `planned`, `later`.
fn job(site: &SiteYears, date: chrono::NaiveDate) -> String {
    let worked = site.record.moves.as_ref().map_or([false; 3], |moves| moves.is_worked(date));
    let named = ["earlier", "planned", "later"].into_iter().zip(worked);
    named.filter(|(_, is)| *is).map(|(name, _)| name).collect::<Vec<_>>().join(" ")
}

fn written(
    head: Vec<String>,
    rows: impl Iterator<Item = Vec<String>>,
) -> Result<String, csv::Error> {
    let mut writer =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(head)?;
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn shared_head() -> Vec<String> {
    let mut head: Vec<String> = ["site", "file", "units", "date", "covered", "tests"]
        .into_iter()
        .chain(["tests_start", "tests_after_break", "tests_ambient_change"])
        .chain(["tests_sheet_change", "tests_elapsed", "tests_after_hold"])
        .chain(["working_minutes", "weldable_minutes"])
        .map(str::to_owned)
        .collect();
    head.extend(Hold::ALL.map(|hold| format!("lost_{}_minutes", hold.name().replace('-', "_"))));
    let more = ["first_weldable", "begins_wet", "air_min", "air_max", "air_swing", "seam"];
    head.extend(more.map(str::to_owned));
    head.push("partly_known".to_owned());
    head
}

fn shared(head: &SiteHead, date: chrono::NaiveDate, work: Option<&Workday>) -> Vec<String> {
    let units = head.units;
    let mut cells =
        vec![no_formula(&head.name), no_formula(&head.file), unit_word(units).to_owned()];
    cells.extend([date.to_string(), flag(work.is_some())]);
    let Some(work) = work else {
        cells.resize(shared_head().len(), String::new());
        return cells;
    };
    let tests = &work.tests;
    cells.push(tests.total().to_string());
    let counts = [tests.start, tests.after_break, tests.ambient_change];
    let more = [tests.sheet_change, tests.elapsed, tests.after_hold];
    cells.extend(counts.iter().chain(&more).map(u8::to_string));
    cells.extend([work.working_minutes.to_string(), work.weldable_minutes.to_string()]);
    cells.extend(Hold::ALL.map(|hold| work.held.of(hold).to_string()));
    cells.push(work.first_weldable.map_or_else(String::new, |minutes| head.clock_after(minutes)));
    cells.push(flag(work.begins_wet));
    let air = |celsius: f32| Temperature::from_celsius(f64::from(celsius));
    let (low, high) = (air(work.air_c.0), air(work.air_c.1));
    cells.extend([tenth(low.in_units(units)), tenth(high.in_units(units))]);
    cells.push(difference(high - low, units));
    let seam = Length::from_meters(f64::from(work.seam_m));
    cells.push(format!("{:.0}", round_to(seam.in_units(units), 1.0)));
    cells.push(flag(work.partly_known));
    cells
}

fn ahead(head: &SiteHead, day: Option<&DayAhead>) -> [String; 4] {
    let Some(day) = day else { return std::array::from_fn(|_| String::new()) };
    let likely =
        day.likely.map_or_else(|| tests(day), |likely| format!("{}..{}", likely.p10, likely.p90));
    let change = day.change_percent().map_or_else(String::new, |percent| format!("{percent:.0}"));
    let sheet =
        day.sheet.map_or_else(String::new, |(low, high)| difference(high - low, head.units));
    [likely, change, sheet, day.word.name().to_owned()]
}

fn tenth(value: f64) -> String {
    round_to(value, 10.0).to_string()
}

fn difference(value: TemperatureDifference, units: UnitSystem) -> String {
    tenth(value.in_units(units))
}

fn flag(is: bool) -> String {
    if is { "yes" } else { "no" }.to_owned()
}

const fn unit_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    }
}

/// Spreadsheets run a cell that begins like a formula.
fn no_formula(text: &str) -> String {
    let starts_like_one = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if starts_like_one { format!("'{text}") } else { text.to_owned() }
}
