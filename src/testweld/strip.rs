//! One strip: cut across the seam, peeled, looked at.

use std::collections::BTreeSet;

use crate::units::BondWidth;

/// A strip of one heat, one inch (25 mm) wide, as the crew saw it part.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// How wide the weld held, measured across the seam. Finite, not negative.
    pub bond_width: BondWidth,
    /// How it parted.
    pub parted: Parted,
    /// What else was seen on it; empty where nothing was.
    pub signs: BTreeSet<Sign>,
    /// Which way it was pulled.
    pub peeled: Peeled,
}

/// How a strip parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Parted {
    /// The sheet tore down to its reinforcement over the whole weld.
    FilmTear,
    /// The faces came apart; no reinforcement seen.
    Cold,
    /// Torn in one place, come apart in another.
    Mixed,
}

/// What can be seen on a strip besides how it parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sign {
    /// Brown on the face or the edge: burnt.
    Browning,
    /// Yellow at the edge: burnt.
    Yellowing,
    /// Charred: burnt.
    Char,
    /// Much more molten sheet at the edge than the usual thin bead: burnt.
    HeavyBleedOut,
    /// A pocket that is not bonded.
    Void,
    /// The reinforcement cannot be seen.
    ScrimNotReached,
}

/// Which way a strip was pulled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Peeled {
    /// Across the seam, as a test machine would.
    Across,
    /// Along the seam, which tells nothing.
    Along,
}

impl Parted {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::FilmTear, Self::Cold, Self::Mixed];

    /// The word in a record.
    pub const fn name(self) -> &'static str {
        match self {
            Self::FilmTear => "film-tear",
            Self::Cold => "cold",
            Self::Mixed => "mixed",
        }
    }

    /// From the word in a record; `None` where there is no such word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.name() == word)
    }
}

impl Sign {
    /// Every sign.
    pub const ALL: [Self; 6] = [
        Self::Browning,
        Self::Yellowing,
        Self::Char,
        Self::HeavyBleedOut,
        Self::Void,
        Self::ScrimNotReached,
    ];

    /// The word in a record.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Browning => "browning",
            Self::Yellowing => "yellowing",
            Self::Char => "char",
            Self::HeavyBleedOut => "heavy-bleed-out",
            Self::Void => "void",
            Self::ScrimNotReached => "scrim-not-reached",
        }
    }

    /// From the word in a record; `None` where there is no such word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sign| sign.name() == word)
    }

    /// Whether it says that the sheet was overheated. *Common practice*.
    pub const fn is_burn(self) -> bool {
        match self {
            Self::Browning | Self::Yellowing | Self::Char | Self::HeavyBleedOut => true,
            Self::Void | Self::ScrimNotReached => false,
        }
    }
}

impl Peeled {
    /// Both ways.
    pub const ALL: [Self; 2] = [Self::Across, Self::Along];

    /// The word in a record.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::Along => "along",
        }
    }

    /// From the word in a record; `None` where there is no such word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.name() == word)
    }
}
