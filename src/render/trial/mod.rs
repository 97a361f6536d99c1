//! A test weld in words: what was written down, what it proves, what to do next.
//!
//! Nothing is decided here: `testweld` has judged, `quality` has held trials against the plan. The
//! `_words` files choose every sentence; the others lay them out as text, JSON, CSV and a page for
//! the printer. A judged trial is the crew's and speaks its language; reports and lists are the
//! office's. No sentence says more of a weld than its strips showed.

use super::{OFFICE, markup};
use crate::words::{Language, tell};

mod amounts;
mod changes;
mod csv_table;
pub mod doubt_words;
pub mod finding_words;
mod from_judged;
mod from_report;
mod from_trial;
mod judged_text;
mod layout;
mod learned_text;
mod list_text;
pub mod planned_words;
mod report_page;
mod report_text;
pub mod setting_words;
pub mod status_words;
pub mod strip_words;
pub mod verdict_words;
mod windows_chart;
pub mod wire;
pub mod wire_judged;
pub mod wire_report;
mod withdrawn;

pub use csv_table::strips_csv;
pub use from_judged::recorded_json;
pub use from_report::{book_json, month_json, report_json};
pub use from_trial::Show;
pub use judged_text::{judged_text, verdict_text};
pub use layout::clean;
pub use learned_text::learned_text;
pub use list_text::{list_text, trial_text};
pub use report_page::report_page;
pub(crate) use report_page::{trial as trial_section, withdrawn_section};
pub use report_text::{month_text, report_text};
pub use strip_words::notation;
pub use windows_chart::windows_text;
pub use withdrawn::{withdrawn_json, withdrawn_line, withdrawn_notice, withdrawn_trial_text};

/// What every output about test welds ends with.
pub fn certifies_nothing(language: Language) -> String {
    tell!(language, "certifies-nothing")
}
