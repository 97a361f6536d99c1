//! What is wrong with a site file, all of it at once.

use std::fmt;

/// One thing that is wrong, in one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Line of the file, from 1. For a key that is missing: the line that opens its table.
    pub line: usize,
    /// The full dotted key, entries of a list numbered from 1 (`welders[2].kind`); `None` where
    /// the text cannot be read as TOML.
    pub key: Option<String>,
    /// What was found and what is allowed, without file and line.
    pub sentence: String,
}

/// Everything that is wrong with a site file, at least one fault, ascending by line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SiteFaults {
    file_name: String,
    faults: Vec<Fault>,
}

impl SiteFaults {
    /// Faults that are spelled out; the rest is counted.
    pub const SHOWN: usize = 50;

    pub(super) fn new(file_name: &str, mut faults: Vec<Fault>) -> Self {
        faults.sort_by_key(|fault| fault.line);
        Self { file_name: file_name.to_owned(), faults }
    }

    /// The faults, ascending by line.
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// The file's name as it was given.
    pub fn file_name(&self) -> &str {
        &self.file_name
    }
}

impl fmt::Display for SiteFaults {
    /// One line for each fault: file, line, sentence.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().take(Self::SHOWN).enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            write!(f, "{}:{}: {}", self.file_name, fault.line, fault.sentence)?;
        }
        match self.faults.len().saturating_sub(Self::SHOWN) {
            0 => Ok(()),
            1 => write!(f, "\nand one more fault"),
            more => write!(f, "\nand {more} more faults"),
        }
    }
}

impl std::error::Error for SiteFaults {}
