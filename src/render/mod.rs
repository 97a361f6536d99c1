<<<<<<< HEAD
//! A plan as text, JSON, iCalendar and a web page. Nothing is decided here.
//!
//! [`words`] holds every sentence that the crew reads; the other files lay them out.

pub mod explain;
=======
//! A plan as text, JSON and iCalendar, a power check as text and JSON. Nothing is decided here.
//!
//! [`words`] holds every sentence that the crew reads; the other files lay them out.

pub mod cord;
>>>>>>> cord
pub mod figures;
pub mod html;
pub mod ics;
pub mod json;
pub mod text;
pub mod words;
