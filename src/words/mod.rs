//! What the crew reads, in its language: [Project Fluent](https://projectfluent.org) files, one folder
//! a language, one file a topic, built into the program.
//!
//! A sentence is said by `tell!` with its id and its variables:
//!
//! ```text
//! tell!(language, "dry-from", from = clock(dry.from), earliest, latest)
//! ```
//!
//! Ids and variables are held against the files by `tests/it/words.rs`, which finds what is missing,
//! unused or differs between languages. A line end inside a message reads as a blank, so that long
//! sentences can be folded. A new language is a folder here and its line in [`Language`].

mod bundle;
mod dates;
mod language;

pub use bundle::{Value, say};
pub use dates::{date, date_of_this_year, short_date, weekday};
pub use language::Language;

/// A message of the language: its id, then its variables as `name = value`, or `name` alone for a
/// variable of that name.
macro_rules! tell {
    ($language:expr, $id:literal $(, $name:ident $(= $value:expr)?)* $(,)?) => {
        $crate::words::say(
            $language,
            $id,
            [$((stringify!($name), $crate::words::variable!($name $(= $value)?))),*],
        )
    };
}

/// The value of one variable of [`tell`].
macro_rules! variable {
    ($name:ident) => {
        $crate::words::Value::from($name)
    };
    ($name:ident = $value:expr) => {
        $crate::words::Value::from($value)
    };
}

pub(crate) use {tell, variable};
