//! Tables of the page.

use super::markup::{Markup, element, element_of};
use crate::render::outlook::table::Table;

/// A table with its caption, heads and rows; nothing where there is no row.
pub(super) fn grid(table: &Table) -> Markup {
    let heads: Vec<&str> = table.columns.iter().map(|column| column.long).collect();
    let rows: Vec<Vec<String>> = table.rows.iter().map(|row| row.cells.clone()).collect();
    plain_grid(&table.caption, &heads, &rows)
}

/// As [`grid`], of words alone. The first cell of a row is its head.
pub(super) fn plain_grid(caption: &str, heads: &[&str], rows: &[Vec<String>]) -> Markup {
    if rows.is_empty() {
        return Markup::default();
    }
    let head = |name: &&str| element_of("th", &[("scope", "col")], name);
    let head = element("tr", &[], heads.iter().map(head).collect());
    let row = |cells: &Vec<String>| {
        let cell = |(at, cell): (usize, &String)| match at {
            0 => element_of("th", &[("scope", "row"), ("dir", "auto")], cell),
            _ => element_of("td", &[], cell),
        };
        element("tr", &[], cells.iter().enumerate().map(cell).collect())
    };
    let parts = [
        element_of("caption", &[], caption),
        element("thead", &[], head),
        element("tbody", &[], rows.iter().map(row).collect()),
    ];
    // A wide table scrolls by itself, also by the keyboard.
    let frame =
        [("class", "scroll"), ("tabindex", "0"), ("role", "region"), ("aria-label", caption)];
    element("div", &frame, element("table", &[], parts.into()))
}
