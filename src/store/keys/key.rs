//! What a key opens.

use chrono::{DateTime, Utc};

/// What the holder of a key may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// One site: read it, record its test welds.
    Crew,
    /// Every site: read, record, correct.
    Office,
    /// Read the calendar of one site.
    Feed,
}

/// A key that is still to be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewKey {
    /// What its holder may do.
    pub role: Role,
    /// [`site_key`](crate::site::site_key) of its site; `None` for the office, which has all.
    pub site_key: Option<String>,
    /// Who has it: a person, a crew, a device. Every write names it.
    pub holder: String,
    /// By the clock of the machine.
    pub made_at: DateTime<Utc>,
    /// From then on it opens nothing.
    pub expires_at: DateTime<Utc>,
}

/// A key as it is kept: all but the key itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// By which it is called, in lists and logs.
    pub id: u64,
    /// What its holder may do.
    pub role: Role,
    /// Of its site; `None` for the office.
    pub site_key: Option<String>,
    /// Who has it.
    pub holder: String,
    /// When it was made.
    pub made_at: DateTime<Utc>,
    /// From then on it opens nothing.
    pub expires_at: DateTime<Utc>,
    /// When it was taken back.
    pub revoked_at: Option<DateTime<Utc>>,
}

/// Whether a key opens anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyState {
    /// It does.
    Valid,
    /// Its days are over.
    Expired,
    /// It was taken back.
    Revoked,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 3] = [Self::Crew, Self::Office, Self::Feed];

    /// The word on the command line and in the database.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Crew => "crew",
            Self::Office => "office",
            Self::Feed => "feed",
        }
    }

    /// From that word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name() == word)
    }
}

impl Key {
    /// Whether it opens anything at `now`.
    pub fn state(&self, now: DateTime<Utc>) -> KeyState {
        if self.revoked_at.is_some() {
            KeyState::Revoked
        } else if self.expires_at <= now {
            KeyState::Expired
        } else {
            KeyState::Valid
        }
    }
}

impl KeyState {
    /// The word in lists.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Valid => "valid",
            Self::Expired => "expired",
            Self::Revoked => "revoked",
        }
    }
}
