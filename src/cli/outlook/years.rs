//! The past years of every site, by its record: readers hand on one site-year at a time, and every
//! core works one out.

use std::num::NonZero;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread;

use anyhow::{Context, bail};
use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::flags::{OutlookArguments, Years};
use super::kept::{Kept, key};
use super::known::Known;
use super::progress::Progress;
use super::stop;
use super::weather_years::{identity, source_of};
use crate::cli::folders::Folders;
use crate::cli::outcome::say;
use crate::cli::shell;
use crate::season::{Failed, Job, SeasonDay, SiteHead, SiteYears, Suns, site_year, years_behind};
use crate::site::Site;
use crate::units::Length;
use crate::weather::years::{self, WeatherYear, YearLabel, YearsError, YearsRequest, YearsSource};
use crate::weather::{Patience, Request, SourceSettings};

/// A site whose file is sound, before its weather is read.
struct Ready {
    file: PathBuf,
    site: Site,
    time_zone: Tz,
    settings: SourceSettings,
    source: YearsSource,
    job: Option<Job>,
}

/// What has become of a site so far.
#[derive(Default)]
struct Found {
    days: Vec<SeasonDay>,
    finished: usize,
    kept: usize,
    credits: Vec<String>,
    notes: Vec<String>,
    known: Known,
    is_typical: bool,
    /// Years that could not be had, a sentence each.
    missing: Vec<String>,
    /// The reader came to the end of the years.
    read_to_the_end: bool,
}

/// What every thread sees.
struct Hall<'a> {
    ready: &'a [Ready],
    found: Mutex<Vec<Found>>,
    progress: Mutex<Progress>,
    suns: Suns,
    kept: Kept,
    folders: &'a Folders,
    years: &'a Years,
    offline: bool,
    now: DateTime<Utc>,
}

/// The sites whose years could be worked out, the dearest first, and those that could not.
pub(super) fn sites_years(
    arguments: &OutlookArguments,
    years: &Years,
    files: &[PathBuf],
    folders: &Folders,
    now: DateTime<Utc>,
) -> (Vec<SiteYears>, Vec<Failed>) {
    let (mut ready, mut failed) = (Vec::new(), Vec::new());
    for file in files {
        match prepare(arguments, years, file) {
            Ok(site) => ready.push(site),
            Err(error) => failed.push(super::failed(file, &error)),
        }
    }
    let hall = Hall {
        ready: &ready,
        found: Mutex::new(ready.iter().map(|_| Found::default()).collect()),
        progress: Mutex::new(Progress::new("site-years", expected(years, &ready))),
        suns: Suns::default(),
        kept: Kept::below(&folders.cache),
        folders,
        years,
        offline: arguments.forecast.offline,
        now,
    };
    work(&hall);
    drop(hall.progress);
    let found = hall.found.into_inner().unwrap_or_else(PoisonError::into_inner);
    let sum = |of: fn(&Found) -> usize| found.iter().map(of).sum::<usize>();
    let (kept, all) = (sum(|found| found.kept), sum(|found| found.finished));
    if kept > 0 {
        say(&format!("{kept} of {all} site-years were kept, and not worked out again"));
    }
    let mut sites = Vec::new();
    for (ready, found) in ready.iter().zip(found) {
        match gather(ready, found) {
            Ok(site) => sites.push(site),
            Err(error) => failed.push(super::failed(&ready.file, &error)),
        }
    }
    sites.sort_by(|one, other| {
        let cost = |site: &SiteYears| site.cost_percent().unwrap_or(-1.0);
        cost(other).total_cmp(&cost(one)).then_with(|| one.head.name.cmp(&other.head.name))
    });
    (sites, failed)
}

fn prepare(arguments: &OutlookArguments, years: &Years, file: &Path) -> anyhow::Result<Ready> {
    let site = shell::load_site(file)?.site;
    let time_zone = site.time_zone.context(
        "the site file has no `time_zone`, and a record does not tell it; add one such as \
         `time_zone = \"America/New_York\"`",
    )?;
    let job = job(arguments, &site)?;
    let source = source_of(years, &site, file);
    let settings = shell::settings(&site, file, &arguments.forecast);
    Ok(Ready { file: file.to_owned(), site, time_zone, settings, source, job })
}

/// The job, its first and its last day, where the command line asks about one. Without a length of seam
/// there are no odds, and it is so many workdays.
fn job(arguments: &OutlookArguments, site: &Site) -> anyhow::Result<Option<Job>> {
    let Some((start, finish)) = arguments.start.zip(arguments.finish) else { return Ok(None) };
    if finish < start || finish - start >= TimeDelta::days(365) {
        bail!(
            "`--finish` is {finish} and `--start` {start}; expected a last day on or after the \
             first and less than a year later"
        );
    }
    let footage = match arguments.footage {
        Some(typed) if typed.is_finite() && typed > 0.0 => {
            Some(Length::from_units(typed, site.units))
        }
        Some(typed) => {
            bail!("`--footage` is {typed} {}; expected a length above 0", site.units.length())
        }
        None => site.rules.footage_target,
    };
    Ok(Some(Job { start, finish, footage }))
}

/// About how many site-years there will be: as asked for, or one a file.
fn expected(years: &Years, ready: &[Ready]) -> usize {
    let of_path = |path: &PathBuf| std::fs::read_dir(path).map_or(1, Iterator::count);
    let of_site = |ready: &Ready| match (&ready.source, years) {
        (YearsSource::Files(paths), _) => paths.iter().map(of_path).sum(),
        (YearsSource::Archive(_), Years::Range(range)) => range.clone().count(),
        (YearsSource::Archive(_), Years::Path(_)) => 0,
    };
    ready.iter().map(of_site).sum()
}

/// Readers hand years to workers through a channel that holds no more than the cores can take up, so
/// that memory does not grow with the years.
fn work(hall: &Hall<'_>) {
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    // A service is asked one thing at a time.
    let readers = match hall.years {
        Years::Path(_) => cores.min(hall.ready.len()),
        Years::Range(_) => 1,
    };
    let next = AtomicUsize::new(0);
    let (hand_on, take) = sync_channel::<(usize, WeatherYear)>(cores);
    let take = Mutex::new(take);
    thread::scope(|scope| {
        for _ in 0..readers {
            let hand_on = hand_on.clone();
            let next = &next;
            scope.spawn(move || {
                loop {
                    let site = next.fetch_add(1, Ordering::Relaxed);
                    let Some(ready) = hall.ready.get(site) else { return };
                    read(hall, site, ready, &hand_on);
                }
            });
        }
        drop(hand_on);
        for _ in 0..cores {
            scope.spawn(|| {
                while let Some((site, year)) = taken(&take) {
                    one(hall, site, &year);
                }
            });
        }
    });
}

fn taken(take: &Mutex<Receiver<(usize, WeatherYear)>>) -> Option<(usize, WeatherYear)> {
    locked(take).recv().ok()
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Reads the years of one site and hands them on, until there are no more or somebody asks to stop.
fn read(hall: &Hall<'_>, site: usize, ready: &Ready, hand_on: &SyncSender<(usize, WeatherYear)>) {
    let miss = |error: &YearsError| {
        locked(&hall.found)[site].missing.push(error.to_string());
    };
    let years = match years_of(hall, ready) {
        Ok(years) => years,
        Err(error) => return miss(&error),
    };
    for year in years {
        if stop::asked() {
            return;
        }
        match year {
            // Workers take until the last reader has gone.
            Ok(year) => drop(hand_on.send((site, year))),
            Err(error) => miss(&error),
        }
    }
    locked(&hall.found)[site].read_to_the_end = true;
}

/// The years of one site, one at a time.
fn years_of<'a>(hall: &'a Hall<'_>, ready: &'a Ready) -> Result<years::Years<'a>, YearsError> {
    let range = match hall.years {
        Years::Range(range) => Some(range.clone()),
        Years::Path(_) => None,
    };
    let request = Request {
        place: shell::place(&ready.site),
        settings: &ready.settings,
        now: hall.now,
        cache_dir: &hall.folders.cache,
        offline: hall.offline,
        patience: Patience::default(),
    };
    let asked = YearsRequest { source: ready.source.clone(), years: range, request };
    years::open(asked)
}

/// Works a site-year out, or finds it kept.
fn one(hall: &Hall<'_>, site: usize, weather: &WeatherYear) {
    let ready = &hall.ready[site];
    let year = weather.calendar_year();
    let key = key(&ready.site, ready.time_zone, &identity(&weather.series), year);
    let kept = hall.kept.find(&key);
    let is_kept = kept.is_some();
    let days = kept.unwrap_or_else(|| {
        let (site, zone) = (&ready.site, ready.time_zone);
        let days = site_year(site, zone, &weather.series, year, &hall.suns);
        // A full disk costs the next run its head start, and this one nothing.
        let _ = hall.kept.keep(&key, &days);
        days
    });
    let mut found = locked(&hall.found);
    let found = &mut found[site];
    found.days.extend(days);
    found.finished += 1;
    found.known.add(&weather.coverage);
    found.kept += usize::from(is_kept);
    let credit = &weather.series.provenance.attribution;
    if !found.credits.contains(credit) {
        found.credits.push(credit.clone());
    }
    let label = &weather.label;
    found.notes.extend(weather.notes.iter().map(|note| format!("{label}: {note}")));
    if matches!(label, YearLabel::Composed { .. }) {
        found.is_typical = true;
        found.notes.push(format!(
            "a typical year put together from months of several years, shown on the dates of {year}; \
             what happens over the midnights between two of them never happened"
        ));
    }
    locked(&hall.progress).step();
}

fn gather(ready: &Ready, mut found: Found) -> anyhow::Result<SiteYears> {
    // One file that cannot be read makes the record another one; one year that an archive lacks
    // does not.
    let is_files = matches!(ready.source, YearsSource::Files(_));
    if let Some(reason) = found.missing.first()
        && (is_files || found.finished == 0)
    {
        bail!("{reason}");
    }
    if !found.read_to_the_end {
        bail!(
            "stopped with {} years finished; they are kept, and the same command goes on from there",
            found.finished
        );
    }
    if found.finished == 0 {
        bail!("there is no year of weather for `--years`");
    }
    if found.finished == 1 {
        let thin = "one year on record: its percentiles are thin, since they tell nothing of how \
                    years differ; take ten or more";
        found.notes.push(thin.to_owned());
    }
    found.notes.extend(found.known.lacks());
    found.notes.extend(found.missing);
    found.notes.sort();
    found.notes.dedup();
    let head = SiteHead::of(&ready.site, &ready.file.display().to_string(), ready.time_zone);
    let mut record =
        years_behind(&ready.site, found.days, ready.job.and_then(|job| job.question()));
    if let Some(job) = ready.job {
        record = record.with_moves(&ready.site, job);
    }
    let attribution = found.credits.join("; ");
    Ok(SiteYears { head, record, attribution, is_typical: found.is_typical, notes: found.notes })
}
