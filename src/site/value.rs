//! The value of one key: as it was read or as its default gives it.

use chrono::NaiveTime;
use chrono_tz::Tz;

use super::keys::{Form, Key, Preset, Unit};
use crate::units::UnitSystem;

/// The value of one key, in the site's own units.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    Text(String),
    /// A word of a choice.
    Word(&'static str),
    /// Words of a choice, in the table's order.
    Words(Vec<&'static str>),
    Number(f64),
    Whole(u32),
    Wholes(Vec<u32>),
    Flag(bool),
    /// `None`: an empty text, which means no time.
    Time(Option<NaiveTime>),
    Zone(Tz),
    /// How many tables a list has.
    Tables(usize),
}

impl Value {
    /// The default of a key on a site of these units; `None` where it has none.
    pub(super) fn preset(key: &Key, units: UnitSystem) -> Option<Self> {
        match key.preset {
            Preset::Required | Preset::Absent => None,
            Preset::Number { us, metric } => Some(Self::Number(match units {
                UnitSystem::Us => us,
                UnitSystem::Metric => metric,
            })),
            Preset::Whole(whole) => Some(Self::Whole(whole)),
            Preset::Word(word) => Some(match key.form {
                Form::Choice(_) => Self::Word(word),
                _ => Self::Text(word.to_owned()),
            }),
            Preset::Words(words) => Some(Self::Words(words.to_vec())),
            Preset::Wholes(wholes) => Some(Self::Wholes(wholes.to_vec())),
            Preset::Flag(flag) => Some(Self::Flag(flag)),
            Preset::Time(hour, minute) => {
                Some(Self::Time(NaiveTime::from_hms_opt(hour, minute, 0)))
            }
            Preset::NoTables => Some(Self::Tables(0)),
        }
    }

    /// For a person to read: with its unit, without quotes, secrets hidden.
    pub(super) fn show(&self, key: &Key, units: UnitSystem) -> String {
        match self {
            _ if key.form.is_secret() => "***".to_owned(),
            Self::Text(text) => printable(text),
            Self::Word(word) => (*word).to_owned(),
            Self::Words(words) => words.join(", "),
            Self::Number(number) => match key.form {
                Form::Number(unit, _) => unit.say(*number, units),
                _ => number.to_string(),
            },
            Self::Whole(whole) => match key.form {
                Form::Whole(unit, ..) => unit.say(f64::from(*whole), units),
                _ => whole.to_string(),
            },
            Self::Wholes(wholes) if wholes.is_empty() => "none".to_owned(),
            Self::Wholes(wholes) => {
                let all: Vec<_> = wholes.iter().map(u32::to_string).collect();
                format!("{} {}", all.join(", "), Unit::Minutes.sign(units))
            }
            Self::Flag(flag) => flag.to_string(),
            Self::Time(None) | Self::Tables(0) => "none".to_owned(),
            Self::Time(Some(time)) => time.format("%H:%M").to_string(),
            Self::Zone(zone) => zone.name().to_owned(),
            Self::Tables(count) => count.to_string(),
        }
    }
}

/// A text without anything that could steer a terminal or break a line.
pub(super) fn printable(text: &str) -> String {
    text.chars()
        .flat_map(|character| {
            let escaped = character.is_control() || is_invisible(character);
            let plain = (!escaped).then_some(character);
            let code = escaped.then(|| character.escape_default());
            plain.into_iter().chain(code.into_iter().flatten())
        })
        .collect()
}

/// Line and paragraph separators, and marks that turn the direction of the text round.
fn is_invisible(character: char) -> bool {
    matches!(character, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}
