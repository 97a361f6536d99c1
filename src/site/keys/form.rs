//! What kind of value a key takes, and what holds where the file does not give it.

use super::{Allowed, Unit};
use crate::units::UnitSystem;

/// What kind of value a key takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Free text, not blank, at most [`Form::LONGEST_TEXT`] characters.
    Text,
    /// Small letters, digits and hyphens, at most [`Form::LONGEST_ID`]: fit for a calendar's UID.
    Id,
    /// Printable ASCII, as a network header can carry it.
    Contact,
    /// The name of a file: text without control characters.
    Path,
    /// Printable ASCII that is never shown.
    Secret,
    /// An http or https address without user, query or fragment.
    Address,
    /// The name of an IANA time zone.
    Zone,
    /// A local time of day.
    Time,
    /// A local time of day, or an empty text for none.
    TimeOrNone,
    /// `true` or `false`.
    Flag,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A list of these words, at least one, none twice.
    Choices(&'static [&'static str]),
    /// A number.
    Number(Unit, Allowed),
    /// A whole number, both ends allowed.
    Whole(Unit, u32, u32),
    /// A list of whole numbers of minutes, both ends allowed.
    Minutes {
        /// Smallest.
        low: u32,
        /// Largest.
        high: u32,
        /// How many at most.
        most: usize,
    },
    /// A list of tables.
    Tables {
        /// How many at most.
        most: usize,
    },
}

/// What holds where the file does not give a key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Preset {
    /// The file has to give it.
    Required,
    /// Nothing: the key is optional and has no default.
    Absent,
    /// A number, and the one that a metric crew would choose.
    Number {
        /// On a site of US units.
        us: f64,
        /// On a metric site.
        metric: f64,
    },
    /// A whole number.
    Whole(u32),
    /// One word of a choice.
    Word(&'static str),
    /// Several words of a choice.
    Words(&'static [&'static str]),
    /// A list of whole numbers.
    Wholes(&'static [u32]),
    /// `true` or `false`.
    Flag(bool),
    /// A local time of day: hours and minutes.
    Time(u32, u32),
    /// An empty list of tables.
    NoTables,
}

impl Form {
    /// Characters in a text at most.
    pub const LONGEST_TEXT: usize = 200;
    /// Longest [`Form::Id`], in characters.
    pub const LONGEST_ID: usize = 40;

    /// What may stand there, in words, on a site of these units.
    pub fn allowed(&self, units: UnitSystem) -> String {
        match *self {
            Self::Text => format!("text in quotes, 1 to {} characters", Self::LONGEST_TEXT),
            Self::Id => format!(
                "1 to {} small letters, digits and hyphens in quotes like \"roof-b\"",
                Self::LONGEST_ID
            ),
            Self::Contact => "an e-mail or web address in quotes, in plain ASCII".to_owned(),
            Self::Path => "the name of a file in quotes, without control characters".to_owned(),
            Self::Secret => "the key in quotes, in plain ASCII without spaces".to_owned(),
            Self::Address => "an address in quotes that begins with http:// or https:// and has \
                no user, query or fragment"
                .to_owned(),
            Self::Zone => "an IANA time zone in quotes like \"America/New_York\"".to_owned(),
            Self::Time => "a local time of day like \"07:00\"".to_owned(),
            Self::TimeOrNone => "a local time of day like \"18:00\", or \"\" for none".to_owned(),
            Self::Flag => "true or false, without quotes".to_owned(),
            Self::Choice(words) => format!("one of {}", quoted(words)),
            Self::Choices(words) => format!("a list of one or more of {}", quoted(words)),
            Self::Number(unit, allowed) => {
                let (low, high) = allowed.range(units);
                format!("{} from {low} to {high}", unit.asked_for(units))
            }
            Self::Whole(unit, low, high) => {
                let asked = unit.asked_for(units);
                let whole = asked.strip_prefix("a ").map_or(asked.as_str(), |rest| rest);
                format!("a whole {whole} from {low} to {high}")
            }
            Self::Minutes { low, high, most } => {
                format!("a list of at most {most} whole numbers of minutes from {low} to {high}")
            }
            Self::Tables { most } => format!("a list of at most {most} tables"),
        }
    }

    /// Whether the value must never be shown.
    pub const fn is_secret(&self) -> bool {
        matches!(self, Self::Secret)
    }
}

/// Words in quotes, with commas.
pub(in crate::site) fn quoted(words: &[&str]) -> String {
    words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(", ")
}
