//! From the tree of a file to the values of its tables, by the table of keys.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use super::fault::Fault;
use super::found::{describe, shortened};
use super::keys::{self, Form, Key, Preset, TABLES};
use super::lines::Lines;
use super::names::Named;
use super::nearest::nearest;
use super::origin::Origin;
use super::parse_value::parse_value;
use super::section::{Entry, Section, Sections};
use super::value::Value;
use crate::units::UnitSystem;

/// Faults that are worked out; a file with more is no site file.
const MOST_FAULTS: usize = 1000;

/// A file's values and what is wrong with them.
pub(super) struct Reading {
    pub(super) sections: Sections,
    pub(super) units: UnitSystem,
    /// Values and keys that cannot stand.
    pub(super) faults: Vec<Fault>,
    /// Required keys that were not found; noise where part of the file could not be read.
    pub(super) missing: Vec<Fault>,
}

/// Reads every table of the tree.
pub(super) fn read(lines: &Lines<'_>, root: &DeTable<'_>) -> Reading {
    let units = match root.get("units").map(Spanned::get_ref) {
        None => Some(UnitSystem::Us),
        Some(raw) => raw.as_str().and_then(UnitSystem::of_word),
    };
    let mut reader = Reader { lines, units, faults: Vec::new(), missing: Vec::new() };
    let mut sections = Vec::new();
    for table in TABLES {
        match table.path.strip_suffix("[]") {
            Some(list) => reader.read_list(root, list, table.path, &mut sections),
            None => sections.push(reader.read_single(root, table.path)),
        }
    }
    Reading {
        sections: Sections(sections),
        units: units.unwrap_or(UnitSystem::Us),
        faults: reader.faults,
        missing: reader.missing,
    }
}

struct Reader<'a> {
    lines: &'a Lines<'a>,
    /// `None` where the file's own `units` cannot be read.
    units: Option<UnitSystem>,
    faults: Vec<Fault>,
    missing: Vec<Fault>,
}

impl Reader<'_> {
    fn fault(&mut self, line: usize, key: String, sentence: String) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(Fault {
                line,
                sentence: format!("`{key}` {sentence}"),
                key: Some(key),
            });
        }
    }

    /// A table that stands once, or is absent: then every key has its default.
    fn read_single(&mut self, root: &DeTable<'_>, table: &'static str) -> Section {
        let absent = DeTable::new();
        let (content, line, present) = match (table, root.get(table)) {
            ("", _) => (root, 1, true),
            (_, None) => (&absent, 1, false),
            (_, Some(raw)) => {
                let line = self.lines.number(&raw.span());
                match raw.get_ref() {
                    DeValue::Table(content) => (content, line, true),
                    found => {
                        let sentence = format!(
                            "is {}; expected one table, opened by `[{table}]`",
                            describe(found)
                        );
                        self.fault(line, table.to_owned(), sentence);
                        // Nothing is missing from a table that is no table.
                        return self.read_keys(&absent, table, table.to_owned(), line, true);
                    }
                }
            }
        };
        self.unknown_keys(content, table, table);
        let mut section = self.read_keys(content, table, table.to_owned(), line, false);
        section.present = present;
        section
    }

    /// A list of tables: `list` names it, `table` its entries.
    fn read_list(
        &mut self,
        root: &DeTable<'_>,
        list: &str,
        table: &'static str,
        sections: &mut Vec<Section>,
    ) {
        let (parent, name) = list.rsplit_once('.').unwrap_or(("", list));
        let parent_table = match parent {
            "" => Some(root),
            parent => root.get(parent).and_then(|raw| raw.get_ref().as_table()),
        };
        let Some(raw) = parent_table.and_then(|content| content.get(name)) else { return };
        // Whether it is a list, and of how many, is said where its own key is read.
        let DeValue::Array(entries) = raw.get_ref() else { return };
        if self.too_many(list, entries) {
            return;
        }
        for (index, entry) in entries.iter().enumerate() {
            let shown = format!("{list}[{}]", index + 1);
            let line = self.lines.number(&entry.span());
            match entry.get_ref() {
                DeValue::Table(content) => {
                    self.unknown_keys(content, table, &shown);
                    sections.push(self.read_keys(content, table, shown, line, false));
                }
                found => {
                    let sentence = format!("is {}; expected a table", describe(found));
                    self.fault(line, shown, sentence);
                }
            }
        }
    }

    fn too_many(&self, list: &str, entries: &DeArray<'_>) -> bool {
        keys::find(list).is_some_and(|key| match key.form {
            Form::Tables { most } => entries.len() > most,
            _ => false,
        })
    }

    /// The value of every key of one table. `lenient`: say nothing of keys that are missing.
    fn read_keys(
        &mut self,
        content: &DeTable<'_>,
        table: &'static str,
        shown: String,
        line: usize,
        lenient: bool,
    ) -> Section {
        let entries = BTreeMap::new();
        let mut section = Section { table, shown, line, present: true, entries };
        for key in keys::of_table(table) {
            let entry = match content.get_key_value(key.name()) {
                Some((name, raw)) => self.read_given(&section, key, name.span(), raw),
                None => {
                    if key.preset == Preset::Required && !lenient {
                        self.required(&section, key);
                    }
                    let value = Value::preset(key, self.units.unwrap_or(UnitSystem::Us));
                    Entry { value, origin: Origin::Default }
                }
            };
            section.entries.insert(key.path, entry);
        }
        section
    }

    fn read_given(
        &mut self,
        section: &Section,
        key: &'static Key,
        name: std::ops::Range<usize>,
        raw: &Spanned<DeValue<'_>>,
    ) -> Entry {
        let origin = Origin::File { line: self.lines.number(&name) };
        let value = match key.form {
            Form::Tables { most } => {
                self.read_count(section, key, (self.lines.number(&name), most), raw.get_ref())
            }
            _ => match parse_value(key, raw, self.units) {
                Ok(value) => Some(value),
                Err(refusals) => {
                    for (span, sentence) in refusals {
                        let line = self.lines.number(&span);
                        self.fault(line, section.shown_key(key), sentence);
                    }
                    None
                }
            },
        };
        Entry { value, origin }
    }

    /// How many tables a list has. Its entries are read on their own.
    fn read_count(
        &mut self,
        section: &Section,
        key: &'static Key,
        (line, most): (usize, usize),
        found: &DeValue<'_>,
    ) -> Option<Value> {
        let header = format!("[[{}]]", key.path);
        let sentence = match found {
            DeValue::Array(list) if list.is_empty() && key.preset == Preset::Required => {
                format!("is an empty list; expected at least one `{header}`")
            }
            DeValue::Array(list) if list.len() <= most => return Some(Value::Tables(list.len())),
            DeValue::Array(list) => {
                format!("has {} entries; expected at most {most}", list.len())
            }
            DeValue::Table(_) => {
                format!("is one table; expected a list, every entry opened by `{header}`")
            }
            found => format!("is {}; expected a list of tables like `{header}`", describe(found)),
        };
        self.fault(line, section.shown_key(key), sentence);
        None
    }

    fn required(&mut self, section: &Section, key: &'static Key) {
        let shown = section.shown_key(key);
        let wanted = match key.form {
            Form::Tables { .. } => format!("at least one `[[{}]]`", key.path),
            _ => key.allowed(self.units.unwrap_or(UnitSystem::Us)),
        };
        let sentence = format!("`{shown}` is missing; expected {wanted}");
        self.missing.push(Fault { line: section.line, key: Some(shown), sentence });
    }

    /// Says of every key that is in no table of keys which one is nearest.
    fn unknown_keys(&mut self, content: &DeTable<'_>, table: &'static str, shown: &str) {
        for (name, _) in content.iter() {
            let (line, name) = (self.lines.number(&name.span()), name.get_ref().as_ref());
            if self.faults.len() >= MOST_FAULTS || is_known(table, name) {
                continue;
            }
            let full = match shown {
                "" => shortened(name),
                shown => format!("{shown}.{}", shortened(name)),
            };
            self.fault(line, full, unknown_sentence(table, name));
        }
    }
}

/// Keys of a table, and the tables that stand in it.
fn known_names(table: &'static str) -> impl Iterator<Item = &'static str> {
    let own = keys::of_table(table).map(Key::name);
    let inner = TABLES.iter().map(|inner| inner.path);
    own.chain(
        inner
            .filter(move |path| table.is_empty() && !path.is_empty() && !path.contains(['.', '['])),
    )
}

fn is_known(table: &'static str, name: &str) -> bool {
    known_names(table).any(|known| known == name)
}

fn unknown_sentence(table: &'static str, name: &str) -> String {
    // A key under the wrong header is the commonest slip of all in TOML.
    let elsewhere = keys::KEYS.iter().find(|key| key.name() == name && key.table() != table);
    if let Some(key) = elsewhere {
        let place = match TABLES.iter().find(|table| table.path == key.table()) {
            Some(table) if !table.path.is_empty() => format!("under `{}`", table.header()),
            _ => "above the first table".to_owned(),
        };
        return format!("is not a key of the site file; the nearest is `{}`, {place}", key.path);
    }
    match nearest(name, known_names(table)) {
        Some(near) if table.is_empty() => {
            format!("is not a key of the site file; the nearest is `{near}`")
        }
        Some(near) => format!("is not a key of the site file; the nearest is `{table}.{near}`"),
        None => "is not a key of the site file".to_owned(),
    }
}
