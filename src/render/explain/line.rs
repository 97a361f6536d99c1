//! One number on one line.

use super::see::See;

/// A number with its name, its unit, how it came about and where the documents explain it.
pub(super) struct Line {
    pub(super) name: &'static str,
    pub(super) value: String,
    pub(super) note: String,
    pub(super) see: See,
}

/// Lines under one heading.
pub(super) struct Section {
    pub(super) title: &'static str,
    pub(super) lines: Vec<Line>,
}

impl Line {
    pub(super) fn new(name: &'static str, value: String, see: See) -> Self {
        Self { name, value, note: String::new(), see }
    }

    /// A line for a number that may be unknown.
    pub(super) fn of(name: &'static str, value: Option<String>, see: See) -> Self {
        Self::new(name, value.unwrap_or_else(|| "unknown".to_owned()), see)
    }

    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.note = note.into();
        self
    }
}
