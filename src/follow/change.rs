//! What a new look at a day changes in what the crew was told.

use chrono::{DateTime, Utc};

use crate::plan::CauseKind;

/// Something that the crew would do differently. All but [`Change::TestedEarly`] ring.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// The day is published for the first time.
    First {
        /// How many checkpoints.
        checkpoints: usize,
        /// How many holds.
        holds: usize,
    },
    /// A checkpoint falls due at another time.
    Moved {
        /// Its id.
        id: String,
        /// As published.
        from: DateTime<Utc>,
        /// Now.
        to: DateTime<Utc>,
    },
    /// A checkpoint that nobody was told of.
    New {
        /// Its id.
        id: String,
        /// When.
        at: DateTime<Utc>,
        /// What asks for it.
        cause: CauseKind,
    },
    /// A checkpoint that is no longer asked for.
    Gone {
        /// Its id.
        id: String,
        /// When it would have been.
        at: DateTime<Utc>,
    },
    /// A checkpoint starts from other heats or another speed.
    Setting {
        /// Its id.
        id: String,
        /// When.
        at: DateTime<Utc>,
        /// The heats changed; else only a speed did.
        heats: bool,
    },
    /// A hold that nobody was told of.
    HoldNew {
        /// Its id.
        id: String,
        /// Its first minute.
        start: DateTime<Utc>,
        /// The minute after its last.
        end: DateTime<Utc>,
    },
    /// A hold begins or ends at another time.
    HoldMoved {
        /// Its id.
        id: String,
        /// Start and end as published.
        from: (DateTime<Utc>, DateTime<Utc>),
        /// Start and end now.
        to: (DateTime<Utc>, DateTime<Utc>),
    },
    /// A hold that is no longer expected.
    HoldGone {
        /// Its id.
        id: String,
        /// Start and end as published.
        was: (DateTime<Utc>, DateTime<Utc>),
    },
    /// A checkpoint that is still to come was silenced by a trial that has been withdrawn since.
    Untested {
        /// Its id.
        id: String,
        /// When it falls due.
        at: DateTime<Utc>,
        /// When the withdrawn trial was made.
        was: DateTime<Utc>,
    },
    /// A checkpoint was tested ahead of its time: its alarms are taken off, and nothing rings.
    TestedEarly {
        /// Its id.
        id: String,
        /// When it was tested.
        when: DateTime<Utc>,
    },
}

/// A difference that is not told, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Waiting {
    /// Less than the rule's minutes.
    Wobble {
        /// The checkpoint or hold.
        id: String,
        /// Minutes from the published time, the larger one of a hold.
        minutes: i64,
    },
    /// Good news that has to be said again.
    Unconfirmed {
        /// The checkpoint or hold.
        id: String,
        /// What the forecasts say of it.
        what: Doubt,
        /// Forecasts in a row that say so.
        seen: u32,
        /// How many it takes.
        needed: u32,
    },
}

/// Good news, or news that comes and goes, about something published.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doubt {
    /// The checkpoint is not in the forecast's plan.
    Gone,
    /// The speed to start from is another.
    Speed,
    /// The hold is not in the forecast's plan.
    HoldGone,
}

impl Doubt {
    /// The word under which it is counted.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Gone => "gone",
            Self::Speed => "speed",
            Self::HoldGone => "hold-gone",
        }
    }
}

impl Change {
    /// Whether it is worth a phone's ringing.
    pub const fn rings(&self) -> bool {
        !matches!(self, Self::TestedEarly { .. })
    }
}
