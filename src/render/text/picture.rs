//! Air and sheet over the shift, drawn with characters, with the verdicts and the tests under them.

use chrono::{DateTime, TimeDelta, Timelike, Utc};

use super::Paint;
use super::page::wrap;
use crate::plan::{DayPlan, RoofMoment, Verdict};
use crate::render::figures;
use crate::units::Temperature;
use crate::words::{Language, tell};

/// Width of the drawing and its height.
const COLUMNS: usize = 66;
const ROWS: usize = 9;
/// In front of the drawing: the scale.
const MARGIN: usize = 9;

const AIR: char = 'o';
const SHEET: char = '*';
const BOTH: char = '@';

/// The picture, line by line; nothing when there is no curve to draw.
pub(super) fn picture(plan: &DayPlan, paint: Paint) -> Vec<String> {
    let samples: Vec<&RoofMoment> =
        (0..COLUMNS).filter_map(|column| sample(plan, column)).collect();
    let Some((low, high)) = range(&samples) else { return Vec::new() };
    let mut grid = vec![[' '; COLUMNS]; ROWS];
    for (column, moment) in samples.iter().enumerate() {
        if let Some(sheet) = moment.sheet {
            put(&mut grid, column, row_of(sheet.nominal, low, high), SHEET);
        }
        if let Some(air) = moment.air {
            put(&mut grid, column, row_of(air, low, high), AIR);
        }
    }
    let mut lines: Vec<String> =
        (0..ROWS).map(|row| scale_line(plan, &grid[row], row, low, high)).collect();
    lines.push(strip(plan, paint));
    lines.push(clock_line(plan));
    lines.push(tests_line(plan));
    lines.extend(legend(plan.language, &samples));
    lines.retain(|line| !line.is_empty());
    lines
}

/// The minute in the middle of a column's share of the shift.
fn sample(plan: &DayPlan, column: usize) -> Option<&RoofMoment> {
    plan.course.get((2 * column + 1) * plan.course.len() / (2 * COLUMNS))
}

fn range(samples: &[&RoofMoment]) -> Option<(Temperature, Temperature)> {
    let values = samples.iter().flat_map(|moment| {
        [moment.air, moment.sheet.map(|sheet| sheet.nominal)].into_iter().flatten()
    });
    values.fold(None, |range: Option<(Temperature, Temperature)>, value| {
        Some(range.map_or((value, value), |(low, high)| (low.min(value), high.max(value))))
    })
}

/// Row 0 is the top.
fn row_of(value: Temperature, low: Temperature, high: Temperature) -> usize {
    let swing = (high - low).kelvin();
    let share = if swing > 0.0 { (value - low).kelvin() / swing } else { 0.5 };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a row of the drawing"
    )]
    let from_below = (share * (ROWS - 1) as f64).round() as usize;
    (ROWS - 1).saturating_sub(from_below)
}

fn put(grid: &mut [[char; COLUMNS]], column: usize, row: usize, sign: char) {
    if let Some(cell) = grid.get_mut(row).and_then(|row| row.get_mut(column)) {
        *cell = if *cell == ' ' || *cell == sign { sign } else { BOTH };
    }
}

/// Every second row names its temperature.
fn scale_line(
    plan: &DayPlan,
    cells: &[char],
    row: usize,
    low: Temperature,
    high: Temperature,
) -> String {
    #[expect(clippy::cast_precision_loss, reason = "a row of the drawing")]
    let share = (ROWS - 1 - row) as f64 / (ROWS - 1) as f64;
    let value = low + (high - low) * share;
    let label =
        if row.is_multiple_of(2) { figures::temperature(value, plan.units) } else { String::new() };
    format!("{label:>7} |{}", cells.iter().collect::<String>()).trim_end().to_owned()
}

/// The verdict of each column; a break is a break whatever the weather.
fn strip(plan: &DayPlan, paint: Paint) -> String {
    let mut line = format!("{:>7} |", "");
    for column in 0..COLUMNS {
        let Some(moment) = sample(plan, column) else { break };
        let at = moment.time;
        if plan.shift.breaks.iter().any(|stop| stop.start <= at && at < stop.end) {
            line.push('=');
            continue;
        }
        let span = plan.spans.iter().find(|span| span.start <= at && at < span.end);
        let verdict = span.map_or(Verdict::Weld, |span| span.verdict);
        line.push_str(&paint.verdict(verdict, sign(verdict)));
    }
    line
}

const fn sign(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Weld => ".",
        Verdict::Care => "~",
        Verdict::Hold => "#",
    }
}

/// Full hours of the wall clock, where they lie.
fn clock_line(plan: &DayPlan) -> String {
    let mut cells = vec![' '; MARGIN + COLUMNS + 6];
    let mut free_from = 0;
    for column in 0..COLUMNS {
        let Some(moment) = sample(plan, column) else { break };
        let hour = next_full_hour(plan, moment.time);
        let begins_here = sample(plan, column + 1).is_none_or(|next| hour <= next.time);
        let at = MARGIN + column;
        if begins_here && at >= free_from && hour < plan.shift.end {
            write_at(&mut cells, at, &figures::clock_in_a_row(hour, plan.time_zone));
            free_from = at + 6;
        }
    }
    cells.iter().collect::<String>().trim_end().to_owned()
}

fn next_full_hour(plan: &DayPlan, at: DateTime<Utc>) -> DateTime<Utc> {
    let minute = at.with_timezone(&plan.time_zone).minute();
    at + TimeDelta::minutes(i64::from((60 - minute) % 60))
}

/// A `T` under every test.
fn tests_line(plan: &DayPlan) -> String {
    let mut cells = vec![' '; MARGIN + COLUMNS];
    for point in &plan.checkpoints {
        let minute = usize::try_from((point.time - plan.shift.start).num_minutes()).unwrap_or(0);
        let column = minute * COLUMNS / plan.course.len().max(1);
        write_at(&mut cells, MARGIN + column.min(COLUMNS - 1), "T");
    }
    cells.iter().collect::<String>().trim_end().to_owned()
}

fn write_at(cells: &mut [char], at: usize, text: &str) {
    for (cell, sign) in cells.iter_mut().skip(at).zip(text.chars()) {
        *cell = sign;
    }
}

fn legend(language: Language, samples: &[&RoofMoment]) -> Vec<String> {
    let strip = tell!(language, "signs-strip");
    let curves = if samples.iter().any(|moment| moment.sheet.is_some()) {
        let curves = tell!(language, "signs-curves");
        let together = format!("{curves}; {strip}");
        if MARGIN + together.chars().count() <= super::COLUMNS {
            return vec![format!("{:MARGIN$}{together}", "")];
        }
        curves
    } else {
        tell!(language, "signs-air-alone")
    };
    let margin = " ".repeat(MARGIN);
    [curves, strip].iter().flat_map(|text| wrap(text, &margin, &margin)).collect()
}
