//! The test-weld book of one site, as `record` and `book` need it, on the store.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, NaiveDate, Utc};

use super::book::keeper::{BookKeeper, Imported};
use super::keep_plan::say_earlier_self;
use super::outcome::say;
use super::record::sink::{NewEntry, TrialSink};
use super::shell::block_on;
use crate::quality::{
    Correction, EarlierForm, ForecastAir, KeptTrial, PlanAtHand, Ran, Withdrawal, WithdrawnTrial,
};
use crate::site::Site;
use crate::store::book::{
    self, BookSite, BookStore, Content, Entry, EntryId, ForecastThen, Importing, RecordedTrial,
    Run, SqliteBook, Supersedes, Thread,
};
use crate::store::write_atomically;
use crate::testweld::{JudgedTrial, Judging, Trial};

/// The book of one site.
pub(super) struct KeptBook {
    /// `None` where no book was begun and nothing is to be written.
    book: Option<SqliteBook>,
    site: Site,
    now: DateTime<Utc>,
}

/// Whether a book is begun where there is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Opening {
    ToRead,
    ToWrite,
}

impl KeptBook {
    /// Opens the book in the data folder.
    ///
    /// # Errors
    /// When it is there and cannot be read, or cannot be begun.
    pub(super) fn open(
        site: &Site,
        data_folder: &Path,
        opening: Opening,
        now: DateTime<Utc>,
    ) -> anyhow::Result<Self> {
        let book = match opening {
            Opening::ToRead => block_on(SqliteBook::open_to_read(data_folder))??,
            Opening::ToWrite => Some(block_on(SqliteBook::open(data_folder))??),
        };
        // Whatever keeps the book from being read is told when its trials are asked for.
        if let Some(book) = &book
            && let Ok(Some(earlier)) = block_on(book::earlier_self(book, site))?
        {
            say_earlier_self(&earlier);
        }
        Ok(Self { book, site: site.clone(), now })
    }

    /// A book that is open already.
    pub(super) fn over(book: SqliteBook, site: &Site, now: DateTime<Utc>) -> Self {
        Self { book: Some(book), site: site.clone(), now }
    }

    /// Every trial of a site, without a word about anything.
    ///
    /// # Errors
    /// When the book is there and cannot be read.
    pub(super) fn trials_of(
        site: &Site,
        data_folder: &Path,
        now: DateTime<Utc>,
    ) -> anyhow::Result<Vec<KeptTrial>> {
        let book = block_on(SqliteBook::open_to_read(data_folder))??;
        Self { book, site: site.clone(), now }.kept()
    }

    /// Every trial of a site that was withdrawn, without a word about anything.
    ///
    /// # Errors
    /// When the book is there and cannot be read.
    pub(super) fn withdrawn_of(
        site: &Site,
        data_folder: &Path,
        now: DateTime<Utc>,
    ) -> anyhow::Result<Vec<WithdrawnTrial>> {
        let book = block_on(SqliteBook::open_to_read(data_folder))??;
        let kept = Self { book, site: site.clone(), now };
        Ok(withdrawn_trials(site, &kept.threads()?))
    }

    fn begun(&self) -> anyhow::Result<&SqliteBook> {
        self.book
            .as_ref()
            .ok_or_else(|| anyhow!("there is no test-weld book yet; `fairseam record` begins it"))
    }

    fn threads(&self) -> anyhow::Result<Vec<Thread>> {
        let Some(book) = &self.book else { return Ok(Vec::new()) };
        Ok(block_on(book::threads(book, Some(&BookSite::of(&self.site).key)))??)
    }

    fn kept(&self) -> anyhow::Result<Vec<KeptTrial>> {
        Ok(kept_trials(&self.site, &self.threads()?))
    }

    fn entry(&self, by: &str, supersedes: Option<Supersedes>, content: Content) -> book::NewEntry {
        book::NewEntry {
            site: BookSite::of(&self.site),
            recorded_at: self.now,
            recorded_by: by.to_owned(),
            supersedes,
            content,
        }
    }

    /// The entry that stands now for the trial that is called `id`.
    fn standing(&self, id: &str) -> anyhow::Result<EntryId> {
        let threads = self.threads()?;
        let thread = threads.iter().find(|thread| first_entry(thread).to_string() == id);
        thread.map(|thread| thread.current.id).ok_or_else(|| {
            anyhow!("there is no trial {id} of this site in the book; `fairseam book` lists them")
        })
    }
}

impl TrialSink for KeptBook {
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>> {
        self.kept()
    }

    fn withdrawn(&self) -> anyhow::Result<Vec<WithdrawnTrial>> {
        Ok(withdrawn_trials(&self.site, &self.threads()?))
    }

    fn withdraw(&mut self, id: &str, said: &Correction) -> anyhow::Result<()> {
        let supersedes = Supersedes { entry: self.standing(id)?, because: said.why.clone() };
        let entry = self.entry(&said.by, Some(supersedes), Content::Withdrawn);
        let appended = block_on(book::record(self.begun()?, &entry))??;
        if let Some(lag) = &appended.lag {
            say(&format!("warning: {lag}"));
        }
        Ok(())
    }

    fn write(&mut self, new: &NewEntry) -> anyhow::Result<String> {
        let supersedes = match &new.corrects {
            Some((id, correction)) => {
                Some(Supersedes { entry: self.standing(id)?, because: correction.why.clone() })
            }
            None => None,
        };
        let by = new.corrects.as_ref().map_or(&new.trial.who, |(_, correction)| &correction.by);
        let recorded = RecordedTrial {
            trial: new.trial.clone(),
            checkpoint: new.checkpoint.clone(),
            forecast: new
                .forecast
                .map(|then| ForecastThen { ambient: then.air, issued_at: then.issued_at }),
        };
        let trial = self.entry(by, supersedes, Content::Trial(Box::new(recorded)));
        let run = new.ran.map(|(heat, speed)| {
            let run = Run {
                from: new.trial.when,
                welder: new.trial.welder.clone(),
                heat,
                speed,
                note: None,
            };
            self.entry(by, None, Content::Run(run))
        });
        let entries: Vec<book::NewEntry> = std::iter::once(trial).chain(run).collect();
        let appended = block_on(self.begun()?.append_all(&entries, None))??;
        for lag in appended.iter().filter_map(|entry| entry.lag.as_ref()) {
            say(&format!("warning: {lag}"));
        }
        let first = appended.first().context("the book took nothing in")?;
        Ok(new.corrects.as_ref().map_or_else(|| first.id.to_string(), |(id, _)| id.clone()))
    }
}

impl BookKeeper for KeptBook {
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>> {
        self.kept()
    }

    fn withdrawn(&self) -> anyhow::Result<Vec<WithdrawnTrial>> {
        Ok(withdrawn_trials(&self.site, &self.threads()?))
    }

    fn plans_of(&self, first: NaiveDate, last: NaiveDate) -> anyhow::Result<Vec<PlanAtHand>> {
        let Some(book) = &self.book else { return Ok(Vec::new()) };
        Ok(block_on(book::plans_that_count(book, &self.site.key(), first, last))??)
    }

    fn verify(&self) -> anyhow::Result<usize> {
        let Some(book) = &self.book else { return Ok(0) };
        let verified = block_on(book::verify(book))??;
        for remark in &verified.remarks {
            say(&format!("warning: {remark}"));
        }
        match verified.fault {
            Some(fault) => bail!("the book does not hold: {fault}"),
            None => Ok(usize::try_from(verified.entries)?),
        }
    }

    fn export(&self, to: &Path) -> anyhow::Result<usize> {
        let mut bytes = Vec::new();
        let entries = match table_by_name(to)? {
            true => book::export_table(&self.threads()?, &mut bytes)?,
            false => block_on(book::export_lines(self.begun()?, &mut bytes))??,
        };
        write_atomically(to, &bytes)?;
        Ok(usize::try_from(entries)?)
    }

    fn import(&mut self, from: &Path) -> anyhow::Result<Imported> {
        let file =
            File::open(from).with_context(|| format!("`{}` cannot be read", from.display()))?;
        let mut input = BufReader::new(file);
        let book = self.begun()?;
        let adopted = match table_by_name(from)? {
            true => {
                let importing = Importing {
                    site: BookSite::of(&self.site),
                    recorded_at: self.now,
                    recorded_by: "import".to_owned(),
                };
                block_on(book::import_table(book, &importing, input))??
            }
            false => block_on(book::import_lines(book, &mut input))??,
        };
        Ok(Imported {
            new: usize::try_from(adopted.added)?,
            known: usize::try_from(adopted.known)?,
        })
    }

    fn backup(&self, to: &Path) -> anyhow::Result<()> {
        Ok(block_on(self.begun()?.backup(to, false))??)
    }
}

/// The trials of `threads`, judged by the rules of the site.
pub(super) fn kept_trials(site: &Site, threads: &[Thread]) -> Vec<KeptTrial> {
    let mut ran = runs(threads);
    threads.iter().filter_map(|thread| kept_trial(site, thread, &mut ran)).collect()
}

/// The trials of `threads` that were withdrawn, as they stood last.
pub(super) fn withdrawn_trials(site: &Site, threads: &[Thread]) -> Vec<WithdrawnTrial> {
    let mut ran = runs(threads);
    let withdrawn = threads.iter().filter(|thread| thread.is_withdrawn());
    withdrawn
        .filter_map(|thread| {
            let trial = kept_form(site, thread, &mut ran)?;
            let withdrawal = trial.withdrawals.last()?.clone();
            Some(WithdrawnTrial { trial, withdrawal })
        })
        .collect()
}

fn kept_trial(
    site: &Site,
    thread: &Thread,
    ran: &mut BTreeMap<EntryId, Vec<Ran>>,
) -> Option<KeptTrial> {
    thread.trial()?;
    kept_form(site, thread, ran)
}

/// The last form of a trial, with the ones before it; `None` for what is no trial.
fn kept_form(
    site: &Site,
    thread: &Thread,
    ran: &mut BTreeMap<EntryId, Vec<Ran>>,
) -> Option<KeptTrial> {
    let entries = || thread.history.iter().chain([&thread.current]);
    let forms = entries().filter_map(|entry| match &entry.content {
        Content::Trial(recorded) => Some((entry, recorded)),
        Content::Run(_) | Content::Note(_) | Content::Withdrawn => None,
    });
    let mut forms: Vec<_> = forms.collect();
    let (last, recorded) = forms.pop()?;
    let earlier = forms.into_iter().map(|(entry, recorded)| EarlierForm {
        written_at: entry.recorded_at,
        judged: judged(site, &recorded.trial),
        checkpoint: recorded.checkpoint.clone(),
        correction: correction(entry),
    });
    let (mut withdrawals, mut forms_before) = (Vec::new(), 0);
    for entry in entries() {
        match (&entry.content, correction(entry)) {
            (Content::Trial(_), _) => forms_before += 1,
            (Content::Withdrawn, Some(said)) => {
                withdrawals.push(Withdrawal { at: entry.recorded_at, said, forms_before });
            }
            _ => {}
        }
    }
    let id = first_entry(thread);
    Some(KeptTrial {
        id: id.to_string(),
        written_at: last.recorded_at,
        judged: judged(site, &recorded.trial),
        checkpoint: recorded.checkpoint.clone(),
        correction: correction(last),
        earlier: earlier.collect(),
        withdrawals,
        ran: ran.remove(&id).unwrap_or_default(),
        forecast: recorded
            .forecast
            .map(|then| ForecastAir { air: then.ambient, issued_at: then.issued_at }),
    })
}

fn judged(site: &Site, trial: &Trial) -> JudgedTrial {
    let welder = site.welders.iter().find(|welder| welder.name == trial.welder);
    JudgedTrial::new(trial.clone(), welder, &Judging::of_site(site))
}

/// Whether a file is a table of trials; else it is the whole book as JSON Lines.
fn table_by_name(path: &Path) -> anyhow::Result<bool> {
    match path.extension().and_then(|end| end.to_str()) {
        Some("csv") => Ok(true),
        Some("jsonl") => Ok(false),
        _ => bail!(
            "`{}` is neither a `.jsonl` (the whole book, its chain included) nor a `.csv` (its \
             trials); name it so",
            path.display()
        ),
    }
}

/// Settings run, by the number of the trial that they were run on: the last one written down before
/// of the same welder and time, whichever form of it said so.
fn runs(threads: &[Thread]) -> BTreeMap<EntryId, Vec<Ran>> {
    let mut forms: BTreeMap<(&str, DateTime<Utc>), BTreeMap<EntryId, EntryId>> = BTreeMap::new();
    for thread in threads {
        for entry in thread.history.iter().chain([&thread.current]) {
            if let Content::Trial(recorded) = &entry.content {
                let made = (recorded.trial.welder.as_str(), recorded.trial.when);
                forms.entry(made).or_default().insert(entry.id, first_entry(thread));
            }
        }
    }
    let mut runs: BTreeMap<EntryId, Vec<Ran>> = BTreeMap::new();
    for thread in threads {
        let Content::Run(run) = &thread.current.content else { continue };
        let trials = forms.get(&(run.welder.as_str(), run.from));
        let before = trials.and_then(|trials| trials.range(..first_entry(thread)).next_back());
        if let Some((_, &trial)) = before {
            let ran =
                Ran { written_at: thread.current.recorded_at, heat: run.heat, speed: run.speed };
            runs.entry(trial).or_default().push(ran);
        }
    }
    runs
}

/// A trial is called by the number under which it was first written down.
fn first_entry(thread: &Thread) -> EntryId {
    thread.history.first().unwrap_or(&thread.current).id
}

fn correction(entry: &Entry) -> Option<Correction> {
    let supersedes = entry.supersedes.as_ref()?;
    Some(Correction { by: entry.recorded_by.clone(), why: supersedes.because.clone() })
}
