//! Where each value in force comes from.

use super::section::Sections;

/// Where a value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The site file.
    File {
        /// The line, from 1.
        line: usize,
    },
    /// The default; for a key without one: that there is no value.
    Default,
}

/// For every key of a site file that was read: where its value comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Origins {
    pub(super) sections: Sections,
}

impl Origins {
    /// Where the value of a key comes from. Entries of a list are numbered from 1:
    /// `rules.cold_care`, `welders[1].heat_low`, `shift.breaks[2].minutes`. `None` for a key that
    /// is not in force: an unknown one, or a speed of a hand welder.
    pub fn of(&self, key: &str) -> Option<Origin> {
        self.iter().find(|(shown, _)| shown == key).map(|(_, origin)| origin)
    }

    /// Every key in force with its origin, in the order of the table of keys.
    pub fn iter(&self) -> impl Iterator<Item = (String, Origin)> {
        self.sections.values().map(|(section, key, entry)| (section.shown_key(key), entry.origin))
    }
}
