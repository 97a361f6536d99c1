//! A plan as text, JSON, iCalendar and a web page, an explanation and a power check as text and
//! JSON. Nothing is decided here.
//!
//! [`words`], [`start_words`], [`record_words`] and [`advice_words`] choose the sentences of a plan that
//! the crew reads, in its language; the other files lay them out. What is said of trials is in [`trial`].
//! The sentences themselves are in [`crate::words`], but for what the office alone reads.

pub mod advice_words;
pub mod cord;
pub mod crew;
pub mod explain;
pub mod figures;
mod glance;
pub mod html;
pub mod ics;
pub mod json;
pub(crate) mod markup;
mod open_roof;
pub mod outlook;
pub mod record_words;
pub mod start_words;
mod terminal;
pub mod text;
pub mod trial;
mod visible;
pub mod words;

pub use terminal::steers_a_terminal;

use crate::words::Language;

/// What the office alone reads, such as outlook, explanation and report, is in English.
pub const OFFICE: Language = Language::En;
