//! Why a record is not taken into the book, in the language of whoever made it.

use std::fmt;

use chrono::{DateTime, TimeDelta, Utc};

use crate::words::{Language, tell};

/// Why a record is not taken into the book; nothing of it is kept.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// NaN or infinite.
    NotANumber {
        /// Which.
        field: Field,
    },
    /// No roof and no machine has such a value.
    OutOfRange {
        /// Which.
        field: Field,
        /// In both systems of units.
        found: String,
        /// What may stand there.
        expected: Bounds,
    },
    /// Dated ahead of now.
    InTheFuture {
        /// As written.
        when: DateTime<Utc>,
        /// Our clock.
        now: DateTime<Utc>,
    },
    /// Nobody, or no machine, is named.
    Nameless {
        /// Which.
        field: Field,
    },
    /// Nothing was tried.
    NoHeats,
    /// More than a crew could have made.
    TooMany {
        /// Which.
        field: Field,
        /// How many.
        found: usize,
        /// How many are taken.
        most: usize,
    },
    /// More than a note.
    TooLong {
        /// Which.
        field: Field,
        /// How many.
        found: usize,
        /// How many are taken.
        most: usize,
    },
    /// A hand welder has no travel speed.
    HandWelderSpeed,
}

/// A part of a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// Who made it.
    Who,
    /// The machine.
    Welder,
    /// The sheet's lot.
    Lot,
    /// The roll.
    Roll,
    /// The machine's weights.
    Weights,
    /// The machine's air flow.
    AirFlow,
    /// The weights at one heat.
    HeatWeights,
    /// The air flow at one heat.
    HeatAirFlow,
    /// Anything else.
    Note,
    /// Air in the shade.
    Ambient,
    /// The sheet's own temperature.
    Sheet,
    /// The sheet's thickness.
    Thickness,
    /// The speed held.
    Speed,
    /// The list of heats.
    Trial,
    /// A heat, by its number from 1, or the list of its strips.
    Heat(usize),
    /// The speed at a heat, by its number from 1.
    HeatSpeed(usize),
    /// How wide a strip held, both by their numbers from 1.
    BondWidth {
        /// The heat.
        heat: usize,
        /// The strip.
        strip: usize,
    },
}

/// The least and the most that may stand somewhere, in both systems of units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bounds {
    /// As `-130` and `140 °F`.
    pub us: (&'static str, &'static str),
    /// As `-90` and `60 °C`.
    pub metric: (&'static str, &'static str),
}

impl Refusal {
    /// In one sentence: what was found, what is expected, what to do.
    pub fn said(&self, language: Language) -> String {
        match self {
            Self::NotANumber { field } => {
                tell!(language, "refusal-no-number", field = field.said(language))
            }
            Self::OutOfRange { field, found, expected } => {
                let (field, expected) = (field.said(language), expected.said(language));
                tell!(language, "refusal-out-of-range", field, found = found.as_str(), expected)
            }
            Self::InTheFuture { when, now } => {
                tell!(language, "refusal-in-the-future", ahead = duration(language, *when - *now))
            }
            Self::Nameless { field } => {
                tell!(language, "refusal-nameless", field = field.said(language))
            }
            Self::NoHeats => tell!(language, "refusal-no-heats"),
            Self::TooMany { field, found, most } => {
                let (field, found, most) = (field.said(language), *found, *most);
                tell!(language, "refusal-too-many", field, found, most)
            }
            Self::TooLong { field, found, most } => {
                let (field, found, most) = (field.said(language), *found, *most);
                tell!(language, "refusal-too-long", field, found, most)
            }
            Self::HandWelderSpeed => tell!(language, "refusal-hand-speed"),
        }
    }
}

impl Field {
    fn said(self, language: Language) -> String {
        let name = match self {
            Self::Heat(heat) => return tell!(language, "field-heat", heat),
            Self::HeatSpeed(heat) => return tell!(language, "field-heat-speed", heat),
            Self::BondWidth { heat, strip } => {
                return tell!(language, "field-bond-width", heat, strip);
            }
            Self::Who => "who",
            Self::Welder => "welder",
            Self::Lot => "lot",
            Self::Roll => "roll",
            Self::Weights => "weights",
            Self::AirFlow => "air-flow",
            Self::HeatWeights => "heat-weights",
            Self::HeatAirFlow => "heat-air-flow",
            Self::Note => "note",
            Self::Ambient => "ambient",
            Self::Sheet => "sheet",
            Self::Thickness => "thickness",
            Self::Speed => "speed",
            Self::Trial => "trial",
        };
        tell!(language, "record-field", field = name)
    }
}

impl Bounds {
    fn said(self, language: Language) -> String {
        let ((low, high), (least, most)) = (self.us, self.metric);
        tell!(language, "refusal-bounds", low, high, least, most)
    }
}

/// For the log and the office.
impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(Language::En))
    }
}

impl std::error::Error for Refusal {}

/// How far ahead: no zone's clock has to be known to read it.
fn duration(language: Language, ahead: TimeDelta) -> String {
    let (days, hours, minutes) =
        (ahead.num_days(), ahead.num_hours() % 24, ahead.num_minutes() % 60);
    match (days, hours) {
        (0, 0) => tell!(language, "crew-duration-minutes", minutes),
        (0, _) => tell!(language, "crew-duration-hours", hours, minutes),
        _ => tell!(language, "crew-duration-days", days, hours),
    }
}
