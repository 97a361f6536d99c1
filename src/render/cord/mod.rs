//! Generator and cords in words, as a page of text and as JSON by `docs/cord.schema.json`.

mod from_report;
mod page;
mod wire;
mod words;

pub use from_report::{cord_json, cord_schema};
pub use page::cord_text;
pub use wire::CordJson;
pub use words::{nothing_to_check, size};
