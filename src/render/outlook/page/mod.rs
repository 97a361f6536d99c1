//! The outlook as one web page: a file that loads nothing and runs nothing, for a desk, a printer, a
//! keyboard and a screen reader.
//!
//! Every figure has its numbers in a table behind it. `shell` is what stands around the sections,
//! `grid` the tables, `heat` the heat maps, `distribution` the months.

mod ahead;
mod distribution;
mod grid;
mod heat;
mod shell;
mod years;

pub use ahead::ahead_page;
pub use years::years_page;

use crate::render::markup;

/// To a tenth of a unit of a drawing, the shortest way to write it.
fn px(value: f64) -> String {
    format!("{}", (value * 10.0).round() / 10.0 + 0.0)
}

/// A count as a length of a drawing.
#[expect(clippy::cast_precision_loss, reason = "rows and columns of a drawing")]
const fn float(count: usize) -> f64 {
    count as f64
}
