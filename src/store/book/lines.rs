//! The whole book as JSON Lines: a first line about the book, then one line an entry, chain included.

use std::io::{self, BufRead, Read, Write};

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use super::chain::Walk;
use super::entry::EntryId;
use super::fault::BookFault;
use super::keeping::{Adopted, BookStore};
use super::reading::PAGE;
use super::seal::{Head, LARGEST_PAYLOAD, NO_HASH, SealedEntry};

/// Version of the file.
const VERSION: u32 = 1;
/// Longest line read, in bytes: a payload with room for the fields around it.
const LONGEST_LINE: u64 = 2 * LARGEST_PAYLOAD as u64;

/// The first line. It says how much follows, so that a file cut short at the end of a line is
/// noticed.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FirstLine {
    fairseam_book: u32,
    entries: u64,
    head: String,
}

/// A line of an entry. The payload is taken as it stands, since its hash covers every character.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EntryLine {
    sequence: u64,
    kind: String,
    site_key: String,
    site: String,
    recorded_at: String,
    recorded_by: String,
    supersedes: Option<u64>,
    because: Option<String>,
    payload: Box<RawValue>,
    previous_hash: String,
    hash: String,
}

impl From<EntryLine> for SealedEntry {
    fn from(line: EntryLine) -> Self {
        Self {
            sequence: line.sequence,
            kind: line.kind,
            site_key: line.site_key,
            site: line.site,
            recorded_at: line.recorded_at,
            recorded_by: line.recorded_by,
            supersedes: line.supersedes,
            because: line.because,
            payload: line.payload.get().to_owned(),
            previous_hash: line.previous_hash,
            hash: line.hash,
        }
    }
}

/// Writes the whole book, as it stands at this moment; returns the number of entries.
///
/// # Errors
/// Whatever keeps the book from being read; [`BookFault::Stream`] where `out` cannot be written.
pub async fn export_lines(store: &impl BookStore, out: &mut impl Write) -> Result<u64, BookFault> {
    let written = |cause: io::Error| BookFault::Stream { doing: "write the export", cause };
    let head = store.head().await?;
    let entries = head.as_ref().map_or(0, |head| head.entry.0);
    let hash = head.map_or_else(|| NO_HASH.to_owned(), |head| head.hash);
    let first = FirstLine { fairseam_book: VERSION, entries, head: hash };
    write_line(out, &first).map_err(written)?;
    let mut after = 0;
    while after < entries {
        let page = store.page(after, PAGE, None).await?;
        let Some(last) = page.last() else { break };
        after = last.sequence;
        for sealed in page.into_iter().filter(|sealed| sealed.sequence <= entries) {
            write_line(out, &line(sealed)?).map_err(written)?;
        }
    }
    out.flush().map_err(written)?;
    Ok(entries)
}

fn line(sealed: SealedEntry) -> Result<EntryLine, BookFault> {
    let entry = EntryId(sealed.sequence);
    let payload = RawValue::from_string(sealed.payload).map_err(|error| {
        super::chain::ChainBreak::Unreadable { entry, cause: error.to_string() }
    })?;
    Ok(EntryLine {
        sequence: sealed.sequence,
        kind: sealed.kind,
        site_key: sealed.site_key,
        site: sealed.site,
        recorded_at: sealed.recorded_at,
        recorded_by: sealed.recorded_by,
        supersedes: sealed.supersedes,
        because: sealed.because,
        payload,
        previous_hash: sealed.previous_hash,
        hash: sealed.hash,
    })
}

fn write_line(out: &mut impl Write, line: &impl Serialize) -> io::Result<()> {
    serde_json::to_writer(&mut *out, line)?;
    out.write_all(b"\n")
}

/// Takes in a file that [`export_lines`] wrote: verifies it, passes over what the book has, adds
/// what follows the book's end. All or nothing.
///
/// # Errors
/// [`BookFault::Line`] with the first line that is wrong or that parts from this book; whatever
/// keeps the book from being written.
pub async fn import_lines(
    store: &impl BookStore,
    input: &mut (impl BufRead + Send),
) -> Result<Adopted, BookFault> {
    let mut lines = Lines { input, number: 0, first: None, walk: Walk::default(), done: false };
    lines.read_first()?;
    match store.adopt(&mut lines).await {
        Err(BookFault::Conflict { entry }) => Err(lines.wrong(format!(
            "entry {entry} is in the book already, with other content: the file and the book \
             come from two books that have parted"
        ))),
        other => other,
    }
}

/// The entries of a file, each checked against the one before.
struct Lines<'a, R> {
    input: &'a mut R,
    /// Of the line read last, counted from 1.
    number: u64,
    first: Option<FirstLine>,
    walk: Walk,
    done: bool,
}

impl<R: BufRead> Lines<'_, R> {
    fn wrong(&self, problem: impl Into<String>) -> BookFault {
        BookFault::Line { line: self.number, problem: problem.into() }
    }

    /// The next line without its end; `None` after the last one.
    fn next_line(&mut self) -> Result<Option<String>, BookFault> {
        let mut bytes = Vec::new();
        let read = (&mut self.input).take(LONGEST_LINE + 1).read_until(b'\n', &mut bytes);
        read.map_err(|cause| BookFault::Stream { doing: "read the import", cause })?;
        self.number += 1;
        if bytes.is_empty() {
            return Ok(None);
        }
        if bytes.len() as u64 > LONGEST_LINE {
            return Err(self.wrong(format!("expected at most {LONGEST_LINE} bytes, found more")));
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Some(text)),
            Err(_) => Err(self.wrong("expected UTF-8 text, found other bytes")),
        }
    }

    fn read_first(&mut self) -> Result<(), BookFault> {
        let text = self.next_line()?.unwrap_or_default();
        let expected = "expected the first line of an export, such as \
                        `{\"fairseam_book\":1,\"entries\":0,\"head\":\"…\"}`";
        let first: FirstLine = serde_json::from_str(&text)
            .map_err(|error| self.wrong(format!("{expected}; {error}")))?;
        if first.fairseam_book != VERSION {
            let found = first.fairseam_book;
            return Err(self.wrong(format!(
                "the export has version {found}, and this fairseam reads {VERSION}: use the newest \
                 fairseam"
            )));
        }
        self.first = Some(first);
        Ok(())
    }

    fn next_entry(&mut self) -> Result<Option<SealedEntry>, BookFault> {
        let Some(text) = self.next_line()? else {
            return self.at_end().map(|()| None);
        };
        let line: EntryLine = serde_json::from_str(&text)
            .map_err(|error| self.wrong(format!("expected an entry of the book; {error}")))?;
        let sealed = SealedEntry::from(line);
        self.walk.step(&sealed).map_err(|broken| self.wrong(broken.to_string()))?;
        Ok(Some(sealed))
    }

    /// Whether all came that the first line announced.
    fn at_end(&self) -> Result<(), BookFault> {
        let Some(first) = &self.first else { return Ok(()) };
        let found = self.walk.entries();
        if found != first.entries {
            return Err(self.wrong(format!(
                "expected {} entries as the first line says, found {found}: the file is not whole",
                first.entries
            )));
        }
        let none = Head { entry: EntryId(0), hash: NO_HASH.to_owned() };
        if self.walk.head().unwrap_or(&none).hash != first.head {
            return Err(self.wrong("the last entry is not the one that the first line names"));
        }
        Ok(())
    }
}

impl<R: BufRead> Iterator for Lines<'_, R> {
    type Item = Result<SealedEntry, BookFault>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.done {
            return None;
        }
        let next = self.next_entry().transpose();
        self.done = !matches!(next, Some(Ok(_)));
        next
    }
}
