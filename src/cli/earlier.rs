//! What worked before, out of the test-weld book, for the next plan.

use std::path::Path;

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::outcome::say;
use super::shell::block_on;
use crate::site::{Site, Welder};
use crate::store::book::{BookFault, BookSite, RecordedTrial, SqliteBook, Thread, current_trials};
use crate::testweld::{
    AmbientPair, Book, Carry, Conditions, EarlierWindows, Estimate, JudgedTrial, Judging,
    NoRecords, PassedOver, UnreadableBook,
};

/// The judged trials of a site, which a [`Book`] looks into.
struct SiteBook<'a> {
    site: &'a Site,
    trials: Vec<JudgedTrial>,
    /// With the moment of each reading.
    pairs: Vec<(DateTime<Utc>, AmbientPair)>,
    time_zone: Tz,
}

/// The book of `site` as the plan asks for it. A plan goes on without a book that cannot be read,
/// and says so.
pub(super) fn from_book<'a>(
    site: &'a Site,
    data_folder: &Path,
    time_zone: Tz,
) -> anyhow::Result<Box<dyn EarlierWindows + 'a>> {
    let (windows, fault) = look_up(site, data_folder, time_zone)?;
    if let Some(fault) = fault {
        say(&unread(&fault));
    }
    Ok(windows)
}

/// The warning that goes with a book that could not be read.
pub(super) fn unread(fault: &BookFault) -> String {
    format!("warning: the test-weld book could not be read: {fault}")
}

/// The same without a word; why the book could not be read, for whoever has more to say about it.
pub(super) fn look_up<'a>(
    site: &'a Site,
    data_folder: &Path,
    time_zone: Tz,
) -> anyhow::Result<(Box<dyn EarlierWindows + 'a>, Option<BookFault>)> {
    let carry_days = site.rules.carry_days;
    Ok(match block_on(read(site, data_folder))? {
        Ok(Some(threads)) => (from_threads(site, &threads, time_zone), None),
        Ok(None) => (Box::new(NoRecords { carry_days }), None),
        Err(fault) => (Box::new(UnreadableBook), Some(fault)),
    })
}

/// The same from what was read already.
pub(super) fn from_threads<'a>(
    site: &'a Site,
    threads: &[Thread],
    time_zone: Tz,
) -> Box<dyn EarlierWindows + 'a> {
    let trials = judged(site, threads);
    let pairs = ambient_pairs(threads, time_zone);
    Box::new(SiteBook { site, trials, pairs, time_zone })
}

async fn read(site: &Site, data_folder: &Path) -> Result<Option<Vec<Thread>>, BookFault> {
    let Some(book) = SqliteBook::open_to_read(data_folder).await? else { return Ok(None) };
    let trials = current_trials(&book, Some(&BookSite::of(site).key), None, None).await;
    book.close().await;
    trials.map(Some)
}

/// Trials as they stand now, judged by the rules of the site.
pub(super) fn judged(site: &Site, threads: &[Thread]) -> Vec<JudgedTrial> {
    let judging = Judging::of_site(site);
    threads
        .iter()
        .filter_map(Thread::trial)
        .map(|recorded| {
            let welder = site.welders.iter().find(|welder| welder.name == recorded.trial.welder);
            JudgedTrial::new(recorded.trial.clone(), welder, &judging)
        })
        .collect()
}

/// What the crew read against what was forecast, wherever a trial has both.
fn ambient_pairs(threads: &[Thread], time_zone: Tz) -> Vec<(DateTime<Utc>, AmbientPair)> {
    let pair = |recorded: &RecordedTrial| {
        let (trial, forecast) = (&recorded.trial, recorded.forecast?);
        let pair = AmbientPair {
            day: trial.when.with_timezone(&time_zone).date_naive(),
            lead: trial.when - forecast.issued_at,
            forecast: forecast.ambient,
            read: trial.ambient,
        };
        Some((trial.when, pair))
    };
    threads.iter().filter_map(Thread::trial).filter_map(pair).collect()
}

impl SiteBook<'_> {
    fn book(&self) -> Book<'_> {
        Book {
            trials: &self.trials,
            polymer: self.site.sheet.polymer,
            thickness: self.site.sheet.thickness,
            carry_days: self.site.rules.carry_days,
            time_zone: self.time_zone,
        }
    }
}

impl EarlierWindows for SiteBook<'_> {
    fn carry(&self, welder: &Welder, at: DateTime<Utc>) -> Carry {
        self.book().look_up(welder, at).carry
    }

    fn passed_over(&self, welder: &Welder, at: DateTime<Utc>) -> Vec<PassedOver> {
        self.book().look_up(welder, at).passed_over
    }

    fn estimate(&self, welder: &Welder, at: DateTime<Utc>, asked: &Conditions) -> Option<Estimate> {
        self.book().estimate(welder, at, asked)
    }

    fn ambient_pairs(&self, at: DateTime<Utc>) -> Vec<AmbientPair> {
        let earlier = self.pairs.iter().filter(|(when, _)| *when < at);
        earlier.map(|(_, pair)| *pair).collect()
    }
}
