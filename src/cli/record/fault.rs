//! What is wrong with a trial as somebody wrote it, all of it at once.

use std::fmt;

use crate::words::{Language, tell};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where: a flag (`--air`), or a path into the JSON (`heats[2].strips[1].width`, entries
    /// numbered from 1 as everywhere in fairseam).
    pub place: String,
    /// What was expected and what was found.
    pub said: String,
}

/// Everything that is wrong, at least one fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults {
    /// In which it is told.
    pub language: Language,
    /// Each of them.
    pub all: Vec<Fault>,
}

impl Faults {
    /// Faults that are spelled out; the rest is counted.
    pub const SHOWN: usize = 50;
}

impl Fault {
    pub(super) fn new(place: impl Into<String>, said: impl Into<String>) -> Self {
        Self { place: place.into(), said: said.into() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}`: {}", self.place, self.said)
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tell!(self.language, "typed-trial-unreadable"))?;
        for fault in self.all.iter().take(Self::SHOWN) {
            write!(f, "\n  {fault}")?;
        }
        match self.all.len().saturating_sub(Self::SHOWN) {
            0 => Ok(()),
            more => write!(f, "\n  {}", tell!(self.language, "typed-and-more", more)),
        }
    }
}

impl std::error::Error for Faults {}

/// `text` as it may stand in a sentence: short, on one line.
pub(in crate::cli) fn quoted(text: &str) -> String {
    const LONGEST: usize = 40;
    let clean = crate::render::trial::clean(text);
    let mut shown: String = clean.chars().take(LONGEST).collect();
    if clean.chars().count() > LONGEST {
        shown.push('…');
    }
    format!("`{shown}`")
}
