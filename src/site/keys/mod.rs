//! Every key of the site file, once: the reader, the check and the documentation follow this table.

mod form;
mod table;
mod unit;

pub use form::{Form, Preset};
pub use table::{KEYS, TABLES};
pub use unit::{Allowed, Unit};

use crate::units::UnitSystem;

/// One key of the site file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Key {
    /// Its full dotted name; `[]` stands behind a list of tables: `welders[].heat_low`.
    pub path: &'static str,
    /// What kind of value it takes, in which unit and range.
    pub form: Form,
    /// What holds where the file does not give it.
    pub preset: Preset,
    /// What it means, in one line.
    pub meaning: &'static str,
}

/// A table of the site file, or a list of tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Table {
    /// Its dotted name, empty for the top of the file; `[]` behind a list of tables.
    pub path: &'static str,
    /// What it is about, in one line.
    pub about: &'static str,
}

impl Key {
    /// The table that it stands in.
    pub fn table(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(table, _)| table)
    }

    /// Its name within its table.
    pub fn name(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, name)| name)
    }

    /// What may stand there, in words, on a site of these units.
    pub fn allowed(&self, units: UnitSystem) -> String {
        self.form.allowed(units)
    }
}

impl Table {
    /// How the file opens it: `[rules]`, `[[welders]]`; empty for the top of the file.
    pub fn header(&self) -> String {
        match self.path.strip_suffix("[]") {
            Some(list) => format!("[[{list}]]"),
            None if self.path.is_empty() => String::new(),
            None => format!("[{}]", self.path),
        }
    }
}

/// The key of this full dotted name.
pub fn find(path: &str) -> Option<&'static Key> {
    KEYS.iter().find(|key| key.path == path)
}

/// The keys of one table, in the table's order.
pub fn of_table(table: &str) -> impl Iterator<Item = &'static Key> {
    KEYS.iter().filter(move |key| key.table() == table)
}
