//! A table laid out for a terminal: 80 columns, numbers on the right, a bar where it has one.

use super::ADVICE_ONLY;
use super::chart::Chart;
use super::table::Table;
use crate::render::text::{Paint, bullet, clean, section, wrap};
use crate::season::Failed;

/// Width of the page, as of the plan's.
pub(super) const COLUMNS: usize = 80;
/// Widest first cell; longer names are cut.
const NAME: usize = 22;
/// Width of a bar.
const BAR: usize = 5;

/// The table as a section of the page.
pub(super) fn table_section(lines: &mut Vec<String>, table: &Table, paint: Paint, chart: Chart) {
    if table.rows.is_empty() {
        return;
    }
    let mut body = table_lines(table, chart);
    if !table.legend.is_empty() {
        body.extend(wrap(table.legend, "  ", "  "));
    }
    section(lines, paint, &table.caption, body);
}

/// What every outlook ends with, and its lines as one text: the sites that there is none for, what
/// an outlook is not, and the credits.
pub(super) fn closed(
    mut lines: Vec<String>,
    failed: &[Failed],
    credits: &[String],
    paint: Paint,
) -> String {
    let without =
        failed.iter().flat_map(|failed| bullet(&format!("{}: {}", failed.file, failed.reason)));
    section(&mut lines, paint, "No outlook for", without.collect());
    lines.push(String::new());
    lines.extend(wrap(ADVICE_ONLY, "", ""));
    for credit in credits {
        lines.push(String::new());
        lines.extend(wrap(&clean(credit), "", ""));
    }
    lines.push(String::new());
    if lines.first().is_some_and(String::is_empty) {
        lines.remove(0);
    }
    lines.join("\n")
}

fn table_lines(table: &Table, chart: Chart) -> Vec<String> {
    let head: Vec<String> = table.columns.iter().map(|column| column.short.to_owned()).collect();
    let cells: Vec<Vec<String>> = table
        .rows
        .iter()
        .map(|row| row.cells.iter().map(|cell| cut(&clean(cell), NAME)).collect())
        .collect();
    let width = |at: usize| {
        let of_row = |row: &Vec<String>| row.get(at).map_or(0, |cell| cell.chars().count());
        cells.iter().chain([&head]).map(of_row).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..head.len()).map(width).collect();
    let has_bars = table.rows.iter().any(|row| row.bar.is_some());
    let bars = table.rows.iter().map(|row| row.bar);
    let rows = cells.iter().zip(bars).map(|(row, bar)| {
        let bar = has_bars.then(|| bar.map_or_else(|| " ".repeat(BAR), |bar| chart.bar(bar, BAR)));
        line(row, &widths, bar)
    });
    let blank = has_bars.then(|| " ".repeat(BAR));
    std::iter::once(line(&head, &widths, blank)).chain(rows).collect()
}

/// The first cell on the left, then the bar, then the others on the right of their columns.
fn line(cells: &[String], widths: &[usize], bar: Option<String>) -> String {
    let mut line = String::new();
    for (at, (cell, width)) in cells.iter().zip(widths).enumerate() {
        let width = *width;
        if at == 0 {
            line.push_str(&format!("{cell:<width$}"));
            if let Some(bar) = &bar {
                line.push_str(&format!(" {bar}"));
            }
        } else {
            line.push_str(&format!(" {cell:>width$}"));
        }
    }
    line.truncate(line.trim_end().len());
    line
}

/// At most `width` signs, the last a dot where some are gone.
pub(super) fn cut(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        return text.to_owned();
    }
    text.chars().take(width.saturating_sub(1)).chain(['…']).collect()
}
