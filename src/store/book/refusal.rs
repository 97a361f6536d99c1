//! What cannot be written into the book, whoever writes it.
//!
//! Whether a trial makes sense is decided by [`crate::testweld::accept`], before it gets here.

use chrono::{DateTime, Utc};

use super::entry::{Content, EntryId, NewEntry, RecordedTrial, Run};
use super::seal::has_plain_year;

/// Why an entry is not written down; nothing of it is kept.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// NaN or infinite.
    #[error("{field} is not a number: write it in figures")]
    NotANumber {
        /// Which.
        field: String,
    },
    /// Nobody is named, or no reason is given.
    #[error("{field} is empty: write it down")]
    Missing {
        /// Which.
        field: &'static str,
    },
    /// No calendar of ours has the year.
    #[error("{field} is {found}: expected a year from 0 to 9999")]
    NoSuchYear {
        /// Which.
        field: &'static str,
        /// As given.
        found: DateTime<Utc>,
    },
    /// More than any trial.
    #[error("the entry takes {bytes} bytes, expected at most {most}: split it")]
    TooLarge {
        /// Its size.
        bytes: usize,
        /// The largest.
        most: usize,
    },
    /// It cannot be put into words.
    #[error("the entry cannot be written down: {cause}")]
    Unwritable {
        /// Why.
        cause: String,
    },
    /// A withdrawal that names no entry.
    #[error("nothing is named that is to be withdrawn: say which entry")]
    NothingToWithdraw,
    /// A correction of what is not there.
    #[error("entry {entry} is not in the book: check the number")]
    UnknownEntry {
        /// As given.
        entry: EntryId,
    },
    /// A second correction of the same entry.
    #[error("entry {entry} was corrected by entry {by} already: correct entry {by} instead")]
    AlreadySuperseded {
        /// As given.
        entry: EntryId,
        /// Its correction.
        by: EntryId,
    },
    /// A trial in place of a run, or the like.
    #[error("entry {entry} is a {was} and cannot be corrected by a {found}")]
    OtherContent {
        /// As given.
        entry: EntryId,
        /// What it is.
        was: &'static str,
        /// What is to stand in its place.
        found: &'static str,
    },
    /// A correction from another site.
    #[error(
        "entry {entry} belongs to another site: correct it from there, or withdraw it there and \
         record it here"
    )]
    OtherSite {
        /// As given.
        entry: EntryId,
    },
}

/// What an entry's content is; what a correction puts in its place has to be the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Trial,
    Run,
    Note,
    Withdrawn,
}

impl Sort {
    pub(super) const fn of(content: &Content) -> Self {
        match content {
            Content::Trial(_) => Self::Trial,
            Content::Run(_) => Self::Run,
            Content::Note(_) => Self::Note,
            Content::Withdrawn => Self::Withdrawn,
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Trial => "trial",
            Self::Run => "run",
            Self::Note => "note",
            Self::Withdrawn => "withdrawal",
        }
    }
}

/// What has to be known of an entry before it is superseded.
#[derive(Debug, Clone)]
pub(super) struct Target {
    pub(super) entry: EntryId,
    pub(super) sort: Sort,
    pub(super) site_key: String,
    pub(super) superseded_by: Option<EntryId>,
}

impl Target {
    /// Whether content of `sort`, recorded for `site_key`, may stand in its place.
    pub(super) fn gives_way_to(&self, sort: Sort, site_key: &str) -> Result<(), Refusal> {
        let entry = self.entry;
        if let Some(by) = self.superseded_by {
            return Err(Refusal::AlreadySuperseded { entry, by });
        }
        if self.site_key != site_key {
            return Err(Refusal::OtherSite { entry });
        }
        // What was withdrawn can be put back.
        if self.sort != sort && self.sort != Sort::Withdrawn && sort != Sort::Withdrawn {
            let (was, found) = (self.sort.name(), sort.name());
            return Err(Refusal::OtherContent { entry, was, found });
        }
        Ok(())
    }
}

/// What the entry alone shows to be wrong.
pub(super) fn check(new: &NewEntry) -> Result<(), Refusal> {
    named("who records it", &new.recorded_by)?;
    named("the site's key", &new.site.key)?;
    dated("the time of recording", new.recorded_at)?;
    match &new.supersedes {
        Some(supersedes) => named("the reason for the correction", &supersedes.because)?,
        None if matches!(new.content, Content::Withdrawn) => {
            return Err(Refusal::NothingToWithdraw);
        }
        None => {}
    }
    match &new.content {
        Content::Trial(recorded) => check_trial(recorded),
        Content::Run(run) => check_run(run),
        Content::Note(note) => named("the note", note),
        Content::Withdrawn => Ok(()),
    }
}

fn check_trial(recorded: &RecordedTrial) -> Result<(), Refusal> {
    let trial = &recorded.trial;
    dated("the trial's time", trial.when)?;
    number("the thickness", Some(trial.thickness.millimeters()))?;
    number("ambient", Some(trial.ambient.celsius()))?;
    number("the sheet's temperature", trial.sheet.map(|sheet| sheet.celsius()))?;
    number("the speed", trial.speed.map(|speed| speed.feet_per_minute()))?;
    if let Some(forecast) = recorded.forecast {
        number("ambient by the forecast", Some(forecast.ambient.celsius()))?;
        dated("the forecast's issue", forecast.issued_at)?;
    }
    for (index, heat) in trial.heats.iter().enumerate() {
        let place = format!("heat {}", index + 1);
        number(&place, Some(heat.heat.celsius()))?;
        number(&format!("the speed of {place}"), heat.speed.map(|speed| speed.feet_per_minute()))?;
        for (index, strip) in heat.strips.iter().enumerate() {
            let field = format!("the bond width of {place}, strip {}", index + 1);
            number(&field, Some(strip.bond_width.millimeters()))?;
        }
    }
    Ok(())
}

fn check_run(run: &Run) -> Result<(), Refusal> {
    named("the welder", &run.welder)?;
    dated("the time of the run", run.from)?;
    number("the heat", Some(run.heat.celsius()))?;
    number("the speed", run.speed.map(|speed| speed.feet_per_minute()))
}

fn named(field: &'static str, text: &str) -> Result<(), Refusal> {
    if text.trim().is_empty() { Err(Refusal::Missing { field }) } else { Ok(()) }
}

fn dated(field: &'static str, found: DateTime<Utc>) -> Result<(), Refusal> {
    if has_plain_year(found) { Ok(()) } else { Err(Refusal::NoSuchYear { field, found }) }
}

fn number(field: &str, value: Option<f64>) -> Result<(), Refusal> {
    match value {
        Some(value) if !value.is_finite() => Err(Refusal::NotANumber { field: field.to_owned() }),
        _ => Ok(()),
    }
}
