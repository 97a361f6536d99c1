//! One entry of the book: who wrote down what, for which site, in place of which earlier entry.

use std::fmt;

use chrono::{DateTime, Utc};

use crate::site::Site;
use crate::testweld::Trial;
use crate::units::{Temperature, TravelSpeed};

/// An entry's number: 1 for the first one, without gaps over the whole book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryId(pub u64);

impl fmt::Display for EntryId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.0)
    }
}

/// The site that an entry belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookSite {
    /// Stands for the site: see [`site_key`](crate::site::site_key).
    pub key: String,
    /// Its name at the time.
    pub name: String,
}

impl BookSite {
    /// Of a site file.
    pub fn of(site: &Site) -> Self {
        Self { key: site.key(), name: site.name.clone() }
    }
}

/// A trial with what is only known at the moment at which it is written down.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordedTrial {
    /// As the crew made it.
    pub trial: Trial,
    /// The plan's checkpoint that it was made for, such as `after-lunch`.
    pub checkpoint: Option<String>,
    /// Ambient as it was forecast for the time of the trial.
    pub forecast: Option<ForecastThen>,
}

/// What the forecast said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForecastThen {
    /// Ambient for the minute of the trial.
    pub ambient: Temperature,
    /// When the forecast was issued.
    pub issued_at: DateTime<Utc>,
}

/// What a welder was set to for production.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// From when on.
    pub from: DateTime<Utc>,
    /// Name of the welder, as the site file has it.
    pub welder: String,
    /// The heat.
    pub heat: Temperature,
    /// The speed; `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// Anything else.
    pub note: Option<String>,
}

/// What an entry says. An empty optional text is kept as none.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// A test weld.
    Trial(Box<RecordedTrial>),
    /// Settings run.
    Run(Run),
    /// Something worth remembering.
    Note(String),
    /// In a correction: the entry that it supersedes should not have been written.
    Withdrawn,
}

/// What an entry counts as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryKind {
    /// A test weld, written down for the first time.
    Trial,
    /// Stands in place of an earlier entry.
    Correction,
    /// Settings run.
    Run,
    /// Something worth remembering.
    Note,
}

impl EntryKind {
    /// The word in the database and in exports.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Trial => "trial",
            Self::Correction => "correction",
            Self::Run => "run",
            Self::Note => "note",
        }
    }
}

/// Which earlier entry a correction stands in place of. That one stays readable.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Supersedes {
    /// A trial, a run, a note, or a correction of one; not one that was corrected already.
    pub entry: EntryId,
    /// Why it was corrected.
    pub because: String,
}

/// An entry that is still to be written down.
#[derive(Debug, Clone, PartialEq)]
pub struct NewEntry {
    /// For which site; a correction is for the site of the entry that it corrects.
    pub site: BookSite,
    /// By the clock of the machine; kept to the microsecond.
    pub recorded_at: DateTime<Utc>,
    /// Who writes it down; for a correction, who corrects.
    pub recorded_by: String,
    /// For a correction.
    pub supersedes: Option<Supersedes>,
    /// What it says.
    pub content: Content,
}

/// An entry of the book.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its number.
    pub id: EntryId,
    /// For which site.
    pub site: BookSite,
    /// By the clock of the machine that wrote it. The order of entries is that of their numbers.
    pub recorded_at: DateTime<Utc>,
    /// Who wrote it down.
    pub recorded_by: String,
    /// For a correction.
    pub supersedes: Option<Supersedes>,
    /// What it says.
    pub content: Content,
}

impl Entry {
    /// What it counts as.
    pub const fn kind(&self) -> EntryKind {
        kind(&self.content, self.supersedes.is_some())
    }
}

pub(super) const fn kind(content: &Content, supersedes: bool) -> EntryKind {
    match content {
        _ if supersedes => EntryKind::Correction,
        Content::Trial(_) => EntryKind::Trial,
        Content::Run(_) => EntryKind::Run,
        Content::Note(_) => EntryKind::Note,
        // Refused at the door where nothing is superseded.
        Content::Withdrawn => EntryKind::Correction,
    }
}
