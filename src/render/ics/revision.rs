//! What tells a phone that an event has changed.

use chrono::{DateTime, Utc};

use super::Entry;

/// The revision of one event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Revision {
    /// Goes up by at least one with every change, and never down; at most 2 147 483 647.
    pub sequence: u32,
    /// When the event last changed; later than before with every change. In whole seconds.
    pub last_modified: DateTime<Utc>,
}

/// An entry with its revision: ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Revised {
    /// What the event says.
    pub entry: Entry,
    /// Which revision of the event that is.
    pub revision: Revision,
}
