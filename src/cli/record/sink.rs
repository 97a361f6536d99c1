//! What the commands need of the test-weld book. The store stands behind it.

use crate::quality::{Correction, ForecastAir, KeptTrial, WithdrawnTrial};
use crate::testweld::Trial;
use crate::units::{Temperature, TravelSpeed};

/// The book of one site, to write into.
pub trait TrialSink {
    /// Every trial in its present form, in any order.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>>;

    /// Every trial that was withdrawn, in any order.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn withdrawn(&self) -> anyhow::Result<Vec<WithdrawnTrial>> {
        Ok(Vec::new())
    }

    /// Takes the trial that is called `id` out, by whom and why: a new entry, the old one stays
    /// readable.
    ///
    /// # Errors
    /// When it could not be written; nothing of it is kept then.
    fn withdraw(&mut self, id: &str, said: &Correction) -> anyhow::Result<()>;

    /// Takes one entry in, whole or not at all; returns the number by which the trial is called.
    /// Once this returns, nothing of it may be lost.
    ///
    /// # Errors
    /// When it could not be written; nothing of it is kept then.
    fn write(&mut self, entry: &NewEntry) -> anyhow::Result<String>;
}

/// One entry for the book: a trial or its correction, and what was run on it.
#[derive(Debug, Clone, PartialEq)]
pub struct NewEntry {
    /// Accepted by the door of the book.
    pub trial: Trial,
    /// The id of the plan's checkpoint that it was made for, where that is known.
    pub checkpoint: Option<String>,
    /// The trial that it corrects, by whom and why.
    pub corrects: Option<(String, Correction)>,
    /// The setting really run, where it is known already.
    pub ran: Option<(Temperature, Option<TravelSpeed>)>,
    /// Air as forecast; `None` also where the crew took the forecast for its reading, which would
    /// teach that the forecast is never wrong.
    pub forecast: Option<ForecastAir>,
}

/// No book: enough for a dry run.
#[derive(Debug, Clone, Copy)]
pub struct NoBook;

impl TrialSink for NoBook {
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>> {
        Ok(Vec::new())
    }

    fn withdraw(&mut self, _: &str, _: &Correction) -> anyhow::Result<()> {
        anyhow::bail!("there is no test-weld book to write into")
    }

    fn write(&mut self, _: &NewEntry) -> anyhow::Result<String> {
        anyhow::bail!("there is no test-weld book to write into")
    }
}
