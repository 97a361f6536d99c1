//! Which of several roofs to go to first, in a table.

use super::UNKNOWN;
use super::ahead_tables::{short_date, weldable_share};
use super::table::{Row, Table, column, hours};
use crate::render::figures;
use crate::season::{DayOrder, RoofOfDay, SiteHead};

/// What the order goes by.
pub(super) const ORDER_WORDS: &str = "First the roof that can be welded first; of equal ones the one \
    with more weldable hours, then that with fewer tests. By weather and tests alone: the way there \
    and what waits on each roof are yours to weigh.";

pub(super) fn order_caption(order: &DayOrder<'_>) -> String {
    format!("Which roof first, {}", short_date(order.date))
}

/// The roofs of one day, the one to go to first at the top; last those of which nothing is known.
pub(super) fn order_table(order: &DayOrder<'_>) -> Table {
    let known = order.roofs.iter().zip(1..).map(|(roof, place)| known_row(roof, place));
    let unknown = order.unknown.iter().map(|head| unknown_row(head));
    Table {
        caption: order_caption(order),
        columns: vec![
            column("", "Roof"),
            column("weldable from", "Weldable from"),
            column("h", "Weldable hours"),
            column("tests", "Tests"),
            column("first test", "First test"),
            column("word", "Advice in a word"),
        ],
        rows: known.chain(unknown).collect(),
        legend: "",
    }
}

/// The same a line a roof, where there is no room for columns.
pub(super) fn order_lines(order: &DayOrder<'_>) -> Vec<String> {
    let line = |row: Row| match row.cells.as_slice() {
        [roof, from, hours, tests, first_test, word] if row.bar.is_some() => format!(
            "{roof}: weldable from {from}, {hours} h; tests: {tests}, first {first_test}; {word}"
        ),
        [roof, ..] => format!("{roof}: the forecast lacks that day"),
        [] => String::new(),
    };
    let never = |roof: &RoofOfDay<'_>| roof.day.first_weldable.is_none();
    let known = order.roofs.iter().zip(1..).map(|(roof, place)| match never(roof) {
        true => format!("{place}. {}: not weldable at all", roof.head.name),
        false => line(known_row(roof, place)),
    });
    known.chain(order.unknown.iter().map(|head| line(unknown_row(head)))).collect()
}

fn known_row(roof: &RoofOfDay<'_>, place: usize) -> Row {
    let day = roof.day;
    let clock = |at| figures::clock(at, roof.head.time_zone);
    let from = day.first_weldable.map_or_else(|| "not at all".to_owned(), clock);
    let first_test = day.test_times.first().copied().map_or_else(|| "none".to_owned(), clock);
    let cells = vec![
        format!("{place}. {}", roof.head.name),
        from,
        hours(u32::from(day.work.weldable_minutes)),
        day.work.tests.total().to_string(),
        first_test,
        day.word.name().to_owned(),
    ];
    Row { cells, bar: Some(weldable_share(day)) }
}

fn unknown_row(head: &SiteHead) -> Row {
    let unknown = std::iter::repeat_n(UNKNOWN.to_owned(), 4);
    let cells = std::iter::once(head.name.clone()).chain(unknown).chain(["no data".to_owned()]);
    Row { cells: cells.collect(), bar: None }
}
