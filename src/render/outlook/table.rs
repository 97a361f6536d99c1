//! A table of an outlook, before it is laid out.

/// A column: how it is headed where there is little room, and where there is some.
#[derive(Debug, Clone, Copy)]
pub(super) struct Column {
    pub(super) short: &'static str,
    pub(super) long: &'static str,
}

/// Cells in words. The first of a row is what the row is about.
#[derive(Debug, Clone)]
pub(super) struct Table {
    /// What it shows.
    pub(super) caption: String,
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<Row>,
    /// What the short heads of the columns mean, for the text.
    pub(super) legend: &'static str,
}

/// One row, with the share from 0 to 1 that a bar beside it shows.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) cells: Vec<String>,
    pub(super) bar: Option<f64>,
}

pub(super) const fn column(short: &'static str, long: &'static str) -> Column {
    Column { short, long }
}

/// `1.5` hours out of minutes.
pub(super) fn hours(minutes: u32) -> String {
    format!("{:.1}", f64::from(minutes) / 60.0)
}

/// A share in whole percent, without its sign.
pub(super) fn percent(value: Option<f64>) -> String {
    value.map_or_else(|| "-".to_owned(), |value| format!("{value:.0}"))
}

/// Three cells of a spread, or three that say that there is none.
pub(super) fn spread(
    spread: Option<&crate::season::Spread<u32>>,
    show: impl Fn(u32) -> String,
) -> [String; 3] {
    match spread {
        Some(spread) => [spread.p10, spread.p50, spread.p90].map(show),
        None => std::array::from_fn(|_| "-".to_owned()),
    }
}
