//! The plan as one web page for the crew and the office: for a phone, a desk and a printer.
//!
//! One file that loads nothing and runs nothing: style and pictures stand in it, and its own policy
//! forbids the rest. Sections and sentences are those of the text page.
//!
//! `render::markup` is the only place where text becomes markup, and escapes all of it. `page` lays the
//! sections out, `picture` draws air and sheet.

mod credit;
mod heading;
mod hours;
mod page;
mod picture;
mod tests_table;

use super::{markup, visible};

pub use page::day_page;
pub(crate) use page::{day_credit, day_heading, day_sections};
