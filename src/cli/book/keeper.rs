//! What `book` needs of the test-weld book besides its trials. The store stands behind it.

use std::path::Path;

use chrono::NaiveDate;

use crate::quality::{KeptTrial, PlanAtHand, WithdrawnTrial};

/// The book of one site, to read, check and carry away.
pub trait BookKeeper {
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

    /// The plan that counts for each day from `first` to `last`, as far as one was kept.
    ///
    /// # Errors
    /// When one is there and cannot be read.
    fn plans_of(&self, _first: NaiveDate, _last: NaiveDate) -> anyhow::Result<Vec<PlanAtHand>> {
        Ok(Vec::new())
    }

    /// Checks the chain of entries; returns how many there are.
    ///
    /// # Errors
    /// With the first entry that does not fit.
    fn verify(&self) -> anyhow::Result<usize>;

    /// Writes every entry to a file, by its ending JSON Lines or CSV; returns how many.
    ///
    /// # Errors
    /// When the file cannot be written.
    fn export(&self, to: &Path) -> anyhow::Result<usize>;

    /// Takes in the entries of a file that are not in the book yet, all of them or none.
    ///
    /// # Errors
    /// When the file or an entry of it cannot be read.
    fn import(&mut self, from: &Path) -> anyhow::Result<Imported>;

    /// Writes a whole copy, also while others write.
    ///
    /// # Errors
    /// When the copy cannot be written.
    fn backup(&self, to: &Path) -> anyhow::Result<()>;
}

/// What an import took in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Imported {
    /// Entries that are new.
    pub new: usize,
    /// Entries that were in the book already.
    pub known: usize,
}
