//! A plan as text, JSON and iCalendar. Nothing is decided here.
//!
//! [`words`] holds every sentence that the crew reads; the other files lay them out.

pub mod explain;
pub mod figures;
pub mod ics;
pub mod json;
pub mod text;
pub mod trial;
pub mod words;
