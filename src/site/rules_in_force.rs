//! What `fairseam check` shows: every key in force, its value, and where it comes from.

use super::keys::{self, Table};
use super::load::Loaded;
use super::origin::Origin;
use super::section::Section;

/// Characters of a line at most.
const LINE: usize = 80;
/// Two spaces, then the name of a key, then a space.
const NAME: usize = 31;
/// Characters of a value on one line; longer ones go on below.
const VALUE: usize = LINE - NAME - ORIGIN;
/// A space and `default`.
const ORIGIN: usize = 8;

/// Every key in force with its value in the site's units and `file` or `default` beside it, table
/// by table, within 80 columns. Keys of access are shown as `***`.
pub fn rules_in_force(loaded: &Loaded) -> String {
    let mut text = String::new();
    let mut open: Option<&Section> = None;
    for (section, key, entry) in loaded.origins.sections.values() {
        if open.is_none_or(|before| !std::ptr::eq(before, section)) {
            if open.is_some() {
                text.push('\n');
            }
            push_header(&mut text, section);
            open = Some(section);
        }
        let value = match &entry.value {
            Some(value) => value.show(key, loaded.site.units),
            None => "none".to_owned(),
        };
        let origin = match entry.origin {
            Origin::File { .. } => "file",
            Origin::Default => "default",
        };
        push_row(&mut text, key.name(), &value, origin);
    }
    text
}

fn push_header(text: &mut String, section: &Section) {
    let Some(table) = keys::TABLES.iter().find(|table| table.path == section.table) else {
        return;
    };
    let header = match table.path {
        "" => "site".to_owned(),
        path if path.ends_with("[]") => section.shown.clone(),
        _ => Table::header(table),
    };
    text.push_str(&header);
    text.push('\n');
}

/// One row; a value that is too long for it goes on in the next, under itself.
fn push_row(text: &mut String, name: &str, value: &str, origin: &str) {
    let mut lines = wrapped(value).into_iter();
    let first = lines.next().unwrap_or_default();
    let width = VALUE;
    text.push_str(&format!("  {name:<28} {first:<width$} {origin}\n"));
    for line in lines {
        text.push_str(&format!("{:NAME$}{line}\n", ""));
    }
}

/// A value in lines of at most [`VALUE`] characters, broken at spaces where there are any.
fn wrapped(value: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in value.split_inclusive(' ') {
        let length = word.trim_end().chars().count();
        if used > 0 && used + length > VALUE {
            lines.push(String::new());
            used = 0;
        }
        for character in word.chars() {
            if used == VALUE && character != ' ' {
                lines.push(String::new());
                used = 0;
            }
            if let Some(line) = lines.last_mut().filter(|_| used < VALUE) {
                line.push(character);
                used += 1;
            }
        }
    }
    for line in &mut lines {
        line.truncate(line.trim_end().len());
    }
    lines
}
