//! iCalendar output: what rings on the crew's phones.
//!
//! [`entries`] says what the day's events are, `revise` in the store says what has
//! changed in them since they were last published, [`calendar`] writes the file. All three are
//! pure: the same arguments give the same bytes.

mod components;
mod content_line;
mod entry;
mod revision;
mod texts;
mod titles;

pub use components::{calendar, calendar_object, feed};
pub use content_line::{Refused, clean, write_calendar};
pub use entry::{Entry, Status, entries, hold_entry, test_entry};
pub use revision::{Revised, Revision};
pub use texts::{EventTexts, evening_texts, event_texts};
