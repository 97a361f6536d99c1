//! Weather files for past years: which file holds which year, and the record of one year at a time.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
use sha2::{Digest, Sha256};

use super::kept::hex;
use crate::weather::{Forecast, Hour, sources::recognize};

/// A year of hours with every column fills a tenth of this.
const LONGEST: u64 = 64 << 20;
/// A record is wanted this far beyond either end of a year: the night before, the shift after, and
/// what the zone puts into the next day.
const BEYOND: TimeDelta = TimeDelta::days(2);
/// A year of which the files hold less is none of the record, but the end of its neighbor.
const LEAST: TimeDelta = TimeDelta::days(2);

/// What one weather file holds.
#[derive(Debug, Clone)]
pub(super) struct WeatherFile {
    path: PathBuf,
    digest: String,
    first: DateTime<Utc>,
    last: DateTime<Utc>,
    /// The credit that its license asks for.
    pub(super) attribution: String,
}

/// Where one year of a site's weather comes from.
#[derive(Debug, Clone)]
pub(super) struct YearOfFiles {
    pub(super) year: i32,
    /// Tells this weather from any other.
    pub(super) identity: String,
    files: Vec<PathBuf>,
}

/// The weather files that `path` means for the site file `site`: the file itself, or those of the
/// folder; of a folder with a folder named as the site file, those of that.
///
/// # Errors
/// When there is none, or one cannot be read.
pub(super) fn weather_files(path: &Path, site: &Path) -> anyhow::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let own = site.file_stem().map(|stem| path.join(stem)).filter(|folder| folder.is_dir());
    let folder = own.unwrap_or_else(|| path.to_owned());
    let name = folder.display();
    let entries =
        fs::read_dir(&folder).with_context(|| format!("the folder `{name}` cannot be read"))?;
    let mut files = Vec::new();
    for entry in entries {
        let path = entry.with_context(|| format!("the folder `{name}` cannot be read"))?.path();
        let hidden = path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'));
        if path.is_file() && !hidden {
            files.push(path);
        }
    }
    if files.is_empty() {
        bail!("the folder `{name}` holds no weather file");
    }
    files.sort();
    Ok(files)
}

/// Reads a file to see which hours it holds.
///
/// # Errors
/// When it cannot be read, or is no weather file.
pub(super) fn look_into(path: &Path, now: DateTime<Utc>) -> anyhow::Result<WeatherFile> {
    let bytes = read(path)?;
    let forecast = parse(path, &bytes, now)?;
    Ok(WeatherFile {
        path: path.to_owned(),
        digest: hex(&Sha256::digest(&bytes)),
        first: forecast.first(),
        last: forecast.last(),
        attribution: forecast.provenance.attribution,
    })
}

/// The years that the files hold, ascending.
pub(super) fn years_of(files: &[WeatherFile]) -> Vec<YearOfFiles> {
    let first = files.iter().map(|file| file.first.year()).min();
    let last = files.iter().map(|file| file.last.year()).max();
    let years = first.zip(last).map(|(first, last)| first..=last).into_iter().flatten();
    years.filter_map(|year| year_of(files, year)).collect()
}

fn year_of(files: &[WeatherFile], year: i32) -> Option<YearOfFiles> {
    let (from, to) = (first_hour(year)?, first_hour(year + 1)?);
    let inside = |file: &WeatherFile| file.last.min(to) - file.first.max(from) >= LEAST;
    files.iter().any(inside).then_some(())?;
    let near = files.iter().filter(|file| file.first <= to + BEYOND && file.last >= from - BEYOND);
    let near: Vec<&WeatherFile> = near.collect();
    let identity = near.iter().map(|file| file.digest.as_str()).collect::<Vec<_>>().join("+");
    Some(YearOfFiles { year, identity, files: near.iter().map(|file| file.path.clone()).collect() })
}

fn first_hour(year: i32) -> Option<DateTime<Utc>> {
    Some(NaiveDate::from_ymd_opt(year, 1, 1)?.and_hms_opt(0, 0, 0)?.and_utc())
}

impl YearOfFiles {
    /// The hours of the year and a little beyond, out of the files that hold them.
    ///
    /// # Errors
    /// When a file cannot be read any more.
    pub(super) fn load(&self, now: DateTime<Utc>) -> anyhow::Result<Forecast> {
        let ends = first_hour(self.year).zip(first_hour(self.year + 1));
        let (from, to) = ends.context("the year is beyond the calendar")?;
        let (from, to) = (from - BEYOND, to + BEYOND);
        let mut rows: Vec<Hour> = Vec::new();
        let mut provenance = None;
        for path in &self.files {
            let forecast = parse(path, &read(path)?, now)?;
            rows.extend(forecast.hours_between(from, to));
            provenance.get_or_insert(forecast.provenance);
        }
        let provenance = provenance.context("no file holds the year")?;
        Forecast::from_hours(provenance, rows).map_err(|error| anyhow!("{}: {error}", self.year))
    }
}

fn read(path: &Path) -> anyhow::Result<Vec<u8>> {
    let name = path.display();
    let mut bytes = Vec::new();
    if !fs::metadata(path)
        .with_context(|| format!("the weather file `{name}` cannot be read"))?
        .is_file()
    {
        bail!("the weather file `{name}` is no regular file");
    }
    File::open(path)
        .and_then(|file| file.take(LONGEST + 1).read_to_end(&mut bytes))
        .with_context(|| format!("the weather file `{name}` cannot be read"))?;
    if bytes.len() as u64 > LONGEST {
        bail!("the weather file `{name}` is larger than {} MB", LONGEST >> 20);
    }
    Ok(bytes)
}

fn parse(path: &Path, bytes: &[u8], now: DateTime<Utc>) -> anyhow::Result<Forecast> {
    recognize::parse_file(bytes, now)
        .map_err(|error| anyhow!("the weather file `{}`: {error}", path.display()))
}
