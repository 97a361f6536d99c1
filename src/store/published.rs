//! What has been published of one day, and what a new plan changes in it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, NaiveDate, SubsecRound, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use crate::plan::DayPlan;
use crate::render::ics::{Entry, Revised, Revision, Status};
use crate::units::instant;
use crate::words::Language;

/// Largest SEQUENCE: an INTEGER is a signed 32-bit number. Source: RFC5545, section 3.3.8.
const LARGEST_SEQUENCE: u32 = i32::MAX as u32;

/// One day of one site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DayKey {
    /// Stands for the site: see [`site_key`](crate::site::site_key).
    pub site: String,
    /// The local day on which the shift starts.
    #[serde(deserialize_with = "instant::read_date")]
    pub date: NaiveDate,
}

/// What is known of a day's earlier publications.
#[derive(Debug, Clone, PartialEq)]
pub enum Previous {
    /// There was none.
    Unpublished,
    /// This is the last one.
    Known(PublishedDay),
    /// There was one, and its record cannot be read.
    Lost,
}

/// The events of one day as they were last published.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PublishedDay {
    /// Which day of which site.
    pub key: DayKey,
    /// The SEQUENCE of an event that is new: 0, or more where an earlier record was lost.
    pub first_sequence: u32,
    /// By UID.
    pub events: BTreeMap<String, PublishedEvent>,
}

/// One event as it was last published.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PublishedEvent {
    /// Its SEQUENCE.
    pub sequence: u32,
    /// Its LAST-MODIFIED.
    #[serde(deserialize_with = "instant::read")]
    pub last_modified: DateTime<Utc>,
    /// [`Entry::content_hash`] of what was published while it stood in the plan.
    pub content_hash: String,
    /// Whether it has gone from the plan.
    pub cancelled: bool,
    /// Its first moment.
    #[serde(deserialize_with = "instant::read")]
    pub start: DateTime<Utc>,
    /// Its end.
    #[serde(deserialize_with = "instant::read")]
    pub end: DateTime<Utc>,
    /// Its summary, without the mark of a cancelled one.
    pub summary: String,
}

/// Gives every entry its revision, and keeps what has gone from the plan as a cancelled entry, which
/// says so in `language`.
///
/// A new entry starts at the day's first SEQUENCE. An unchanged one keeps SEQUENCE and
/// LAST-MODIFIED. A changed one, one that goes and one that comes back get SEQUENCE + 1 and
/// a LAST-MODIFIED that is `now`, or one second after the old one if the clock was set back: some
/// phones take over a change only if both have gone up.
///
/// After [`Previous::Lost`] the first SEQUENCE is the number of minutes since 1970, which no earlier
/// publication of the day can have reached by counting its own changes.
pub fn revise(
    previous: &Previous,
    key: &DayKey,
    entries: &[Entry],
    language: Language,
    now: DateTime<Utc>,
) -> (Vec<Revised>, PublishedDay) {
    // A calendar has whole seconds.
    let now = now.trunc_subsecs(0);
    let empty = BTreeMap::new();
    let (first_sequence, known) = match previous {
        Previous::Unpublished => (0, &empty),
        Previous::Known(day) => (day.first_sequence, &day.events),
        Previous::Lost => (minutes_since_1970(now), &empty),
    };
    let current = entries.iter().map(|entry| {
        let revision = revision_of(entry, known.get(&entry.uid), first_sequence, now);
        (Revised { entry: entry.clone(), revision }, published(entry, revision))
    });
    let still_there: BTreeSet<&str> = entries.iter().map(|entry| entry.uid.as_str()).collect();
    let gone = known
        .iter()
        .filter(|(uid, _)| !still_there.contains(uid.as_str()))
        .map(|(uid, event)| cancelled(uid, event, language, now));
    let mut revised = Vec::new();
    let mut events = BTreeMap::new();
    for (entry, record) in current.chain(gone) {
        events.insert(entry.entry.uid.clone(), record);
        revised.push(entry);
    }
    (revised, PublishedDay { key: key.clone(), first_sequence, events })
}

fn revision_of(
    entry: &Entry,
    known: Option<&PublishedEvent>,
    first_sequence: u32,
    now: DateTime<Utc>,
) -> Revision {
    match known {
        None => Revision { sequence: first_sequence, last_modified: now },
        Some(event) if !event.cancelled && event.content_hash == entry.content_hash() => {
            event.revision()
        }
        Some(event) => event.next_revision(now),
    }
}

fn published(entry: &Entry, revision: Revision) -> PublishedEvent {
    PublishedEvent {
        sequence: revision.sequence,
        last_modified: revision.last_modified,
        content_hash: entry.content_hash(),
        cancelled: entry.status == Status::Cancelled,
        start: entry.start,
        end: entry.end,
        summary: entry.summary.clone(),
    }
}

/// An event that has gone: its first run without it is its last change.
fn cancelled(
    uid: &str,
    event: &PublishedEvent,
    language: Language,
    now: DateTime<Utc>,
) -> (Revised, PublishedEvent) {
    let revision = if event.cancelled { event.revision() } else { event.next_revision(now) };
    let Revision { sequence, last_modified } = revision;
    let record = PublishedEvent { sequence, last_modified, cancelled: true, ..event.clone() };
    let entry = Entry::cancelled(language, uid.to_owned(), event.start, event.end, &event.summary);
    (Revised { entry, revision }, record)
}

fn minutes_since_1970(now: DateTime<Utc>) -> u32 {
    u32::try_from(now.timestamp() / 60).map_or(0, |minutes| minutes.min(LARGEST_SEQUENCE))
}

impl DayKey {
    /// The day that `plan` is for.
    pub fn of(plan: &DayPlan) -> Self {
        Self { site: plan.site_key(), date: plan.date }
    }
}

fn sequence_fault(found: u32) -> String {
    format!("a SEQUENCE must be at most {LARGEST_SEQUENCE}, found {found}")
}

impl PublishedDay {
    /// What is wrong with a record that was read back, if anything.
    pub(super) fn fault(&self) -> Option<String> {
        if self.first_sequence > LARGEST_SEQUENCE {
            return Some(sequence_fault(self.first_sequence));
        }
        self.events.values().find_map(PublishedEvent::fault)
    }
}

impl PublishedEvent {
    fn revision(&self) -> Revision {
        Revision { sequence: self.sequence, last_modified: self.last_modified }
    }

    fn next_revision(&self, now: DateTime<Utc>) -> Revision {
        let sequence = self.sequence.saturating_add(1).min(LARGEST_SEQUENCE);
        let just_later = self.last_modified.checked_add_signed(TimeDelta::seconds(1));
        let last_modified = just_later.map_or(now, |later| later.max(now));
        Revision { sequence, last_modified }
    }

    fn fault(&self) -> Option<String> {
        // What a calendar can hold: four-digit years.
        let sound = |at: DateTime<Utc>| (0..=253_402_214_400).contains(&at.timestamp());
        let instants = [self.last_modified, self.start, self.end];
        if self.sequence > LARGEST_SEQUENCE {
            Some(sequence_fault(self.sequence))
        } else if let Some(at) = instants.into_iter().find(|&at| !sound(at)) {
            Some(format!("instants must lie in the years 1970 to 9999, found {at}"))
        } else if self.end <= self.start {
            Some(format!("`end` must be later than `start`, found {}", self.end))
        } else {
            None
        }
    }
}
