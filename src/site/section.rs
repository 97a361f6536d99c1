//! The values of one table of the file, read or by default, each with where it comes from.

use std::collections::BTreeMap;

use chrono::NaiveTime;
use chrono_tz::Tz;

use super::keys::{self, Key};
use super::names::Named;
use super::origin::Origin;
use super::value::Value;

/// One value with where it comes from; without a value where the key has none or a faulty one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    pub(super) value: Option<Value>,
    pub(super) origin: Origin,
}

/// The values of one table, or of one entry of a list of tables, by full dotted key.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Section {
    /// The table as [`keys::TABLES`] names it.
    pub(super) table: &'static str,
    /// The table as a sentence names it: `welders[2]`.
    pub(super) shown: String,
    /// The line that opens it; 1 where the file has no such table.
    pub(super) line: usize,
    /// Whether the file has it.
    pub(super) present: bool,
    pub(super) entries: BTreeMap<&'static str, Entry>,
}

/// Everything that a file says, table by table in the order of [`keys::TABLES`].
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sections(pub(super) Vec<Section>);

/// A key that has no value although it must have one.
pub(super) struct NoValue(pub(super) &'static str);

impl Section {
    /// The full dotted key as a sentence names it: `welders[2].kind`.
    pub(super) fn shown_key(&self, key: &Key) -> String {
        match self.shown.as_str() {
            "" => key.name().to_owned(),
            table => format!("{table}.{}", key.name()),
        }
    }

    pub(super) fn entry(&self, path: &str) -> Option<&Entry> {
        self.entries.get(path)
    }

    pub(super) fn value(&self, path: &str) -> Option<&Value> {
        self.entry(path)?.value.as_ref()
    }

    /// Whether the file gives this key.
    pub(super) fn is_given(&self, path: &str) -> bool {
        self.line_of(path).is_some()
    }

    /// The line on which the file gives this key.
    pub(super) fn line_of(&self, path: &str) -> Option<usize> {
        match self.entry(path)?.origin {
            Origin::File { line } => Some(line),
            Origin::Default => None,
        }
    }

    pub(super) fn number(&self, path: &str) -> Option<f64> {
        match self.value(path)? {
            Value::Number(number) => Some(*number),
            _ => None,
        }
    }

    pub(super) fn whole(&self, path: &str) -> Option<u32> {
        match self.value(path)? {
            Value::Whole(whole) => Some(*whole),
            _ => None,
        }
    }

    pub(super) fn flag(&self, path: &str) -> Option<bool> {
        match self.value(path)? {
            Value::Flag(flag) => Some(*flag),
            _ => None,
        }
    }

    pub(super) fn text(&self, path: &str) -> Option<String> {
        match self.value(path)? {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    pub(super) fn time(&self, path: &str) -> Option<NaiveTime> {
        match self.value(path)? {
            Value::Time(time) => *time,
            _ => None,
        }
    }

    pub(super) fn zone(&self, path: &str) -> Option<Tz> {
        match self.value(path)? {
            Value::Zone(zone) => Some(*zone),
            _ => None,
        }
    }

    pub(super) fn choice<T: Named>(&self, path: &str) -> Option<T> {
        match self.value(path)? {
            Value::Word(word) => T::of_word(word),
            _ => None,
        }
    }

    pub(super) fn choices<T: Named>(&self, path: &str) -> Option<Vec<T>> {
        match self.value(path)? {
            Value::Words(words) => words.iter().map(|word| T::of_word(word)).collect(),
            _ => None,
        }
    }

    pub(super) fn wholes(&self, path: &str) -> Option<Vec<u32>> {
        match self.value(path)? {
            Value::Wholes(wholes) => Some(wholes.clone()),
            _ => None,
        }
    }
}

impl Sections {
    /// The table of this name; of a list, its first entry.
    pub(super) fn table(&self, table: &'static str) -> Result<&Section, NoValue> {
        self.list(table).next().ok_or(NoValue(table))
    }

    /// The entries of a list of tables.
    pub(super) fn list(&self, table: &str) -> impl Iterator<Item = &Section> {
        self.0.iter().filter(move |section| section.table == table)
    }

    /// Each value that is in force, in the order in which it is shown.
    pub(super) fn values(&self) -> impl Iterator<Item = (&Section, &'static Key, &Entry)> {
        self.0.iter().flat_map(|section| {
            keys::of_table(section.table)
                .filter_map(move |key| Some((section, key, section.entry(key.path)?)))
        })
    }
}
