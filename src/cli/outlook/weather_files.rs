//! Past years out of files that also serve as forecasts: which file holds which year, and the record
//! of one year at a time.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};

use crate::weather::years::{Coverage, MARGIN, Origin, WeatherYear, YearLabel};
use crate::weather::{Forecast, Hour, sources::recognize};

/// A year of hours with every column fills a tenth of this.
const LONGEST: u64 = 64 << 20;
/// A year of which the files hold less is none of the record, but the end of its neighbor.
const LEAST: TimeDelta = TimeDelta::days(2);

/// What one weather file holds.
struct WeatherFile {
    path: PathBuf,
    first: DateTime<Utc>,
    last: DateTime<Utc>,
}

/// The years of the files below `paths`, one at a time, ascending.
///
/// # Errors
/// When there is no file, or one cannot be read, or they hold no year.
pub(super) fn years_of_files(
    paths: &[PathBuf],
    now: DateTime<Utc>,
) -> anyhow::Result<impl Iterator<Item = anyhow::Result<WeatherYear>> + use<>> {
    let mut files = Vec::new();
    for path in paths {
        for path in in_folder(path)? {
            let forecast = parse(&path, now)?;
            files.push(WeatherFile { path, first: forecast.first(), last: forecast.last() });
        }
    }
    let first = files.iter().map(|file| file.first.year()).min().unwrap_or(0);
    let last = files.iter().map(|file| file.last.year()).max().unwrap_or(-1);
    let years: Vec<i32> = (first..=last).filter(|year| holds(&files, *year)).collect();
    if years.is_empty() {
        let named: Vec<_> = paths.iter().map(|path| path.display().to_string()).collect();
        bail!("the weather files of `{}` hold less than two days of any year", named.join("`, `"));
    }
    Ok(years.into_iter().map(move |year| load(&files, year, now)))
}

/// The file itself, or the files of a folder by name, without hidden ones and subfolders.
fn in_folder(path: &Path) -> anyhow::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let name = path.display();
    let entries =
        fs::read_dir(path).with_context(|| format!("the folder `{name}` cannot be read"))?;
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

fn holds(files: &[WeatherFile], year: i32) -> bool {
    let Some((from, to)) = ends_of(year) else { return false };
    files.iter().any(|file| file.last.min(to) - file.first.max(from) >= LEAST)
}

fn ends_of(year: i32) -> Option<(DateTime<Utc>, DateTime<Utc>)> {
    let start = |year| Some(NaiveDate::from_ymd_opt(year, 1, 1)?.and_hms_opt(0, 0, 0)?.and_utc());
    start(year).zip(start(year + 1))
}

/// The hours of the year and a little beyond, out of the files that hold them.
fn load(files: &[WeatherFile], year: i32, now: DateTime<Utc>) -> anyhow::Result<WeatherYear> {
    let (starts_at, ends_at) = ends_of(year).context("the year is beyond the calendar")?;
    let (from, to) = (starts_at - MARGIN, ends_at + MARGIN);
    let mut rows: Vec<Hour> = Vec::new();
    let mut provenance = None;
    for file in files.iter().filter(|file| file.first <= to && file.last >= from) {
        let forecast = parse(&file.path, now)?;
        rows.extend(forecast.hours_between(from, to));
        provenance.get_or_insert(forecast.provenance);
    }
    let provenance = provenance.context("no file holds the year")?;
    let series =
        Forecast::from_hours(provenance, rows).map_err(|error| anyhow!("{year}: {error}"))?;
    let coverage = Coverage::of(&series, starts_at, ends_at);
    let origin = Origin { source: "csv", station: None, place: None, standard_time: None };
    let label = YearLabel::Observed { year };
    Ok(WeatherYear { label, origin, starts_at, ends_at, series, coverage, notes: Vec::new() })
}

fn parse(path: &Path, now: DateTime<Utc>) -> anyhow::Result<Forecast> {
    let name = path.display();
    let unreadable = || format!("the weather file `{name}` cannot be read");
    if !fs::metadata(path).with_context(unreadable)?.is_file() {
        bail!("the weather file `{name}` is no regular file");
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LONGEST + 1).read_to_end(&mut bytes))
        .with_context(unreadable)?;
    if bytes.len() as u64 > LONGEST {
        bail!("the weather file `{name}` is larger than {} MB", LONGEST >> 20);
    }
    recognize::parse_file(&bytes, now)
        .map_err(|error| anyhow!("the weather file `{name}`: {error}"))
}
