//! A plan as text, JSON and iCalendar. Nothing is decided here.
//!
//! [`words`] holds every sentence that the crew reads; the other files lay them out.

pub mod figures;
pub mod ics;
pub mod json;
mod terminal;
pub mod text;
pub mod words;

pub use terminal::steers_a_terminal;
