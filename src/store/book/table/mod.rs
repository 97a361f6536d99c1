//! Trials as a table for spreadsheets: CSV, one row a strip.

mod columns;
mod export;
mod import;

pub use export::export_table;
pub use import::{Importing, import_table};
