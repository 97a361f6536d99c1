//! A plan as text, JSON and iCalendar. Nothing is decided here.

pub mod ics;
