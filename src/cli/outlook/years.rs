//! The past years of every site, by its record: one site-year at a time on every core.

use std::collections::BTreeMap;
use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::flags::{OutlookArguments, Years};
use super::kept::{Kept, key};
use super::progress::Progress;
use super::stop;
use super::weather_files::{WeatherFile, YearOfFiles, look_into, weather_files, years_of};
use crate::cli::folders::Folders;
use crate::cli::outcome::say;
use crate::cli::shell;
use crate::season::{
    Failed, FinishQuestion, SeasonDay, SiteHead, SiteYears, site_year, years_behind,
};
use crate::site::Site;
use crate::units::Length;

/// A site whose record is known, but not yet worked through.
struct Ready {
    file: PathBuf,
    site: Site,
    time_zone: Tz,
    attribution: String,
    years: Vec<YearOfFiles>,
    question: Option<FinishQuestion>,
}

/// One site-year to work out.
#[derive(Clone, Copy)]
struct Job {
    site: usize,
    year: usize,
}

/// What became of a site-year: its days, whether they had been kept, or why there are none.
type Done = Result<(Vec<SeasonDay>, bool), String>;

/// The sites whose years could all be worked out, the dearest first, and those that could not.
pub(super) fn sites_years(
    arguments: &OutlookArguments,
    years: &Years,
    files: &[PathBuf],
    folders: &Folders,
    now: DateTime<Utc>,
) -> (Vec<SiteYears>, Vec<Failed>) {
    let (mut ready, mut failed) = (Vec::new(), Vec::new());
    let known = files_of_all(years, files, now);
    for file in files {
        match prepare(arguments, years, file, &known) {
            Ok(site) => ready.push(site),
            Err(error) => failed.push(super::failed(file, &error)),
        }
    }
    let jobs: Vec<Job> = (0..ready.len())
        .flat_map(|site| (0..ready[site].years.len()).map(move |year| Job { site, year }))
        .collect();
    let mut done = work(&ready, &jobs, &Kept::below(&folders.cache), now);
    let kept = done.values().flatten().filter(|done| matches!(done, Ok((_, true)))).count();
    if kept > 0 {
        let all = jobs.len();
        say(&format!("{kept} of {all} site-years were kept, and not worked out again"));
    }
    let mut sites = Vec::new();
    for (number, ready) in ready.into_iter().enumerate() {
        match gather(ready, &done.remove(&number).unwrap_or_default()) {
            Ok(site) => sites.push(site),
            Err(failure) => failed.push(failure),
        }
    }
    sites.sort_by(|one, other| {
        let cost = |site: &SiteYears| site.cost_percent().unwrap_or(-1.0);
        cost(other).total_cmp(&cost(one)).then_with(|| one.head.name.cmp(&other.head.name))
    });
    (sites, failed)
}

/// What each weather file holds, or why it cannot be told; files that sites share are read once.
type Known = BTreeMap<PathBuf, Result<WeatherFile, String>>;

fn files_of_all(years: &Years, sites: &[PathBuf], now: DateTime<Utc>) -> Known {
    let Years::Path(path) = years else { return Known::new() };
    // A folder that cannot be read is told of the site that wants it.
    let mut paths: Vec<PathBuf> =
        sites.iter().filter_map(|site| weather_files(path, site).ok()).flatten().collect();
    paths.sort();
    paths.dedup();
    let look = |path: &PathBuf| look_into(path, now).map_err(|error| super::in_a_sentence(&error));
    let looked = on_every_core("weather files", &paths, look);
    looked.into_iter().map(|(at, found)| (paths[at].clone(), found)).collect()
}

fn prepare(
    arguments: &OutlookArguments,
    years: &Years,
    file: &Path,
    known: &Known,
) -> anyhow::Result<Ready> {
    let site = shell::load_site(file)?.site;
    let time_zone = site.time_zone.context(
        "the site file has no `time_zone`, and a record does not tell it; add one such as \
         `time_zone = \"America/New_York\"`",
    )?;
    let question = question(arguments, &site)?;
    let path = match years {
        Years::Path(path) => path,
        Years::Range(_) => bail!("there is no archive to ask; give weather files to `--years`"),
    };
    let mut found = Vec::new();
    for path in weather_files(path, file)? {
        match known.get(&path) {
            Some(Ok(weather)) => found.push(weather.clone()),
            Some(Err(reason)) => bail!("{reason}"),
            None => return Err(super::not_begun()),
        }
    }
    let mut credits: Vec<&str> = found.iter().map(|file| file.attribution.as_str()).collect();
    credits.dedup();
    let attribution = credits.join("; ");
    let years = years_of(&found);
    if years.is_empty() {
        bail!("the weather files of `{}` hold less than two days of any year", path.display());
    }
    Ok(Ready { file: file.to_owned(), site, time_zone, attribution, years, question })
}

/// The job, its first and its last day, where the command line asks for the odds.
fn question(arguments: &OutlookArguments, site: &Site) -> anyhow::Result<Option<FinishQuestion>> {
    let Some((start, finish)) = arguments.start.zip(arguments.finish) else { return Ok(None) };
    if finish < start || finish - start >= TimeDelta::days(365) {
        bail!(
            "`--finish` is {finish} and `--start` {start}; expected a last day on or after the \
             first and less than a year later"
        );
    }
    let footage = match arguments.footage {
        Some(typed) if typed.is_finite() && typed > 0.0 => Length::from_units(typed, site.units),
        Some(typed) => {
            bail!("`--footage` is {typed} {}; expected a length above 0", site.units.length())
        }
        None => site.rules.footage_target.context(
            "`--start` and `--finish` ask when a job would be done, and nothing says how much seam \
             it has; give `--footage`, or set `footage_target` in the site file",
        )?,
    };
    Ok(Some(FinishQuestion { footage, start, finish }))
}

/// Works out every job, the results by site in the order of its years. Jobs that a stop leaves are
/// missing.
fn work(
    ready: &[Ready],
    jobs: &[Job],
    kept: &Kept,
    now: DateTime<Utc>,
) -> BTreeMap<usize, Vec<Done>> {
    let results = on_every_core("site-years", jobs, |job| {
        one(&ready[job.site], &ready[job.site].years[job.year], kept, now)
    });
    let mut by_site: BTreeMap<usize, Vec<Done>> = BTreeMap::new();
    for (number, done) in results {
        by_site.entry(jobs[number].site).or_default().push(done);
    }
    by_site
}

/// Does `work` on every piece, on all cores, and gives the results by the places of the pieces. A
/// stop leaves the pieces that are not yet begun.
fn on_every_core<P: Sync, R: Send>(
    what: &'static str,
    pieces: &[P],
    work: impl Fn(&P) -> R + Sync,
) -> BTreeMap<usize, R> {
    let next = AtomicUsize::new(0);
    let results: Mutex<BTreeMap<usize, R>> = Mutex::new(BTreeMap::new());
    let progress = Mutex::new(Progress::new(what, pieces.len()));
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(pieces.len());
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                while !stop::asked() {
                    let at = next.fetch_add(1, Ordering::Relaxed);
                    let Some(piece) = pieces.get(at) else { break };
                    let done = work(piece);
                    results.lock().unwrap_or_else(PoisonError::into_inner).insert(at, done);
                    progress.lock().unwrap_or_else(PoisonError::into_inner).step();
                }
            });
        }
    });
    results.into_inner().unwrap_or_else(PoisonError::into_inner)
}

fn one(ready: &Ready, year: &YearOfFiles, kept: &Kept, now: DateTime<Utc>) -> Done {
    let key = key(&ready.site, ready.time_zone, &year.identity, year.year);
    if let Some(days) = kept.find(&key) {
        return Ok((days, true));
    }
    let record = year.load(now).map_err(|error| super::in_a_sentence(&error))?;
    let days = site_year(&ready.site, ready.time_zone, &record, year.year);
    // A full disk costs the next run its head start, and this one nothing.
    let _ = kept.keep(&key, &days);
    Ok((days, false))
}

fn gather(ready: Ready, done: &[Done]) -> Result<SiteYears, Failed> {
    if let Some(Err(reason)) = done.iter().find(|done| done.is_err()) {
        return Err(super::failed(&ready.file, &anyhow!("{reason}")));
    }
    if done.len() < ready.years.len() {
        let (finished, years) = (done.len(), ready.years.len());
        let reason = anyhow!(
            "stopped with {finished} of {years} years finished; they are kept, and the same \
             command goes on from there"
        );
        return Err(super::failed(&ready.file, &reason));
    }
    let days = done.iter().flatten().flat_map(|(days, _)| days.iter().copied()).collect();
    let head = SiteHead::of(&ready.site, &ready.file.display().to_string(), ready.time_zone);
    let record = years_behind(&ready.site, days, ready.question);
    Ok(SiteYears { head, record, attribution: ready.attribution })
}
