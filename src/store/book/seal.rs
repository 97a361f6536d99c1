//! An entry as it is kept and exported: texts, and the hash that ties it to the one before.

use chrono::{DateTime, Datelike, Utc};
use sha2::{Digest, Sha256};

use super::entry::{self, BookSite, Entry, EntryId, NewEntry, Supersedes};
use super::payload;
use super::refusal::{Refusal, check};

/// What the first entry has in place of the hash of the one before.
pub(super) const NO_HASH: &str = "0000000000000000000000000000000000000000000000000000000000000000";
/// Begins what is hashed, so that no other program's hash can stand for one of ours.
const DOMAIN: &[u8] = b"fairseam test-weld book, entry, format 1\n";
/// Largest payload, in bytes: the largest trial that the door of the book lets in is smaller.
pub(super) const LARGEST_PAYLOAD: usize = 4 << 20;

/// An entry as texts, sealed. Its hash covers every other field, that of the entry before included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealedEntry {
    /// Its number.
    pub sequence: u64,
    /// `trial`, `correction`, `run` or `note`.
    pub kind: String,
    /// Key of its site.
    pub site_key: String,
    /// Name of its site.
    pub site: String,
    /// UTC to the microsecond, such as `2026-04-20T22:00:00.000000Z`.
    pub recorded_at: String,
    /// Who wrote it down.
    pub recorded_by: String,
    /// For a correction: the number of the entry that it supersedes.
    pub supersedes: Option<u64>,
    /// For a correction: why.
    pub because: Option<String>,
    /// What it says, as JSON.
    pub payload: String,
    /// Hash of the entry before; 64 zeros for the first.
    pub previous_hash: String,
    /// SHA-256 in hexadecimal.
    pub hash: String,
}

/// The end of a chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// The last entry.
    pub entry: EntryId,
    /// Its hash.
    pub hash: String,
}

/// SHA-256 of `fields` under `domain`, in hexadecimal. Each field is hashed behind its length, so that
/// no two lists of fields run together into one.
pub(super) fn hash_of(domain: &[u8], fields: &[&str]) -> String {
    let mut hasher = Sha256::new_with_prefix(domain);
    for field in fields {
        hasher.update((field.len() as u64).to_be_bytes());
        hasher.update(field);
    }
    hasher.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

impl SealedEntry {
    /// `new` as the entry that follows `last`; `None` for the first of a book.
    ///
    /// # Errors
    /// What the entry alone shows to be wrong; whether it may supersede is for the store to say.
    pub(super) fn seal(new: &NewEntry, last: Option<&Head>) -> Result<Self, Refusal> {
        check(new)?;
        let payload = payload::write(&new.content)
            .map_err(|cause| Refusal::Unwritable { cause: cause.to_string() })?;
        if payload.len() > LARGEST_PAYLOAD {
            return Err(Refusal::TooLarge { bytes: payload.len(), most: LARGEST_PAYLOAD });
        }
        let mut sealed = Self {
            sequence: last.map_or(0, |last| last.entry.0) + 1,
            kind: entry::kind(&new.content, new.supersedes.is_some()).name().to_owned(),
            site_key: new.site.key.clone(),
            site: new.site.name.clone(),
            recorded_at: stamp(new.recorded_at),
            recorded_by: new.recorded_by.clone(),
            supersedes: new.supersedes.as_ref().map(|supersedes| supersedes.entry.0),
            because: new.supersedes.as_ref().map(|supersedes| supersedes.because.clone()),
            payload,
            previous_hash: last.map_or(NO_HASH, |last| &last.hash).to_owned(),
            hash: String::new(),
        };
        sealed.hash = sealed.computed_hash();
        Ok(sealed)
    }

    /// The hash that belongs to the other fields.
    pub fn computed_hash(&self) -> String {
        let number = |number: u64| number.to_string();
        let fields = [
            self.previous_hash.as_str(),
            &number(self.sequence),
            &self.kind,
            &self.site_key,
            &self.site,
            &self.recorded_at,
            &self.recorded_by,
            &self.supersedes.map(number).unwrap_or_default(),
            self.because.as_deref().unwrap_or_default(),
            &self.payload,
        ];
        hash_of(DOMAIN, &fields)
    }

    /// The entry that it stands for, or what is wrong with it. The hash is not looked at.
    pub fn open(&self) -> Result<Entry, String> {
        let content = payload::read(&self.payload)?;
        let recorded_at = DateTime::parse_from_rfc3339(&self.recorded_at)
            .map_err(|error| format!("`recorded_at` is {:?}: {error}", self.recorded_at))?
            .to_utc();
        let supersedes = match (self.supersedes, &self.because) {
            (None, None) => None,
            (Some(number), Some(because)) => {
                Some(Supersedes { entry: EntryId(number), because: because.clone() })
            }
            _ => return Err("a correction needs both `supersedes` and `because`".to_owned()),
        };
        let expected = entry::kind(&content, supersedes.is_some()).name();
        if self.kind != expected {
            return Err(format!("its kind is {:?}, expected `{expected}`", self.kind));
        }
        Ok(Entry {
            id: EntryId(self.sequence),
            site: BookSite { key: self.site_key.clone(), name: self.site.clone() },
            recorded_at,
            recorded_by: self.recorded_by.clone(),
            supersedes,
            content,
        })
    }

    /// The end of a chain of which this is the last entry.
    pub(super) fn head(&self) -> Head {
        Head { entry: EntryId(self.sequence), hash: self.hash.clone() }
    }
}

/// Fixed to the microsecond, so that one moment has one text.
pub(super) fn stamp(at: DateTime<Utc>) -> String {
    at.format("%Y-%m-%dT%H:%M:%S%.6fZ").to_string()
}

/// Whether `at` can be written with a year of four digits.
pub(super) fn has_plain_year(at: DateTime<Utc>) -> bool {
    (0..=9999).contains(&at.year())
}
