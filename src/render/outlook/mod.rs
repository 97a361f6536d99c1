//! The outlook on many days and many sites: text, CSV, JSON and a web page. Nothing is decided here.
//!
//! `ahead_tables` and `years_tables` put the values into tables; `text` lays a table out for a
//! terminal and `page` for a browser, with figures in front. `wire` is the JSON.

mod ahead_tables;
mod ahead_text;
mod chart;
mod csv_rows;
mod from_ahead;
mod from_job;
mod from_years;
mod job_tables;
mod order_table;
mod page;
mod table;
mod text;
mod wire;
mod wire_job;
mod wire_order;
mod years_tables;
mod years_text;

pub use ahead_text::ahead_text;
pub use chart::Chart;
pub use csv_rows::{ahead_csv, years_csv};
pub use from_ahead::ahead_json;
pub use from_years::years_json;
pub use page::{ahead_page, years_page};
pub use wire::{OutlookJson, outlook_schema};
pub use years_text::years_text;

/// What stands where nothing is known.
const UNKNOWN: &str = "?";

/// What every outlook says of itself.
const ADVICE_ONLY: &str = "An outlook counts what the plan of each day would ask for. It is no \
    forecast of a day and certifies no seam. Local codes, the project specification and the membrane \
    maker's instructions come first.";
