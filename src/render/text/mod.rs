//! The plan as text, for a terminal and for a printed page: 80 columns, readable without color.

mod day_chart;
mod page;
mod paint;
mod picture;

pub use page::plan_text;
pub(super) use page::{bullet, clean, section, wrap};
pub use paint::Paint;

/// Width of the page.
const COLUMNS: usize = 80;
