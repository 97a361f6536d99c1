//! The years of the files of one station.

use std::collections::VecDeque;
use std::path::{Path, PathBuf};

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, TimeDelta, Utc};

use super::disk::{Content, files_below};
use super::kind::Kind;
use super::lines::Lines;
use super::{Coverage, MARGIN, NOMINAL_YEAR, Origin, WeatherYear, YearLabel, YearsError, ends_of};
use crate::weather::sources::record::Record;
use crate::weather::sources::{epw, nasa_power, open_meteo, tmy3};
use crate::weather::{Forecast, Hour, floor_hour};

/// Enough of a file to tell its kind.
const START: u64 = 16 << 10;
/// A year of which the files hold less is none of the record, but the end of its neighbor.
const LEAST: TimeDelta = TimeDelta::days(2);

/// One file, and what it holds.
struct WeatherFile {
    path: PathBuf,
    kind: Kind,
    /// For the kinds that are read line by line.
    lines: Option<Lines>,
    composed: bool,
    standard_time: Option<FixedOffset>,
    first: DateTime<Utc>,
    last: DateTime<Utc>,
}

/// A year to give.
enum Next {
    Composed(usize),
    Observed(i32),
}

/// The years of the files, one at a time: those that were, ascending, or a composed one.
pub(super) struct FileYears {
    files: Vec<WeatherFile>,
    left: VecDeque<Next>,
    read_at: DateTime<Utc>,
}

impl FileYears {
    /// Looks through the files.
    ///
    /// # Errors
    /// No file, one that cannot be read or is of no known kind, two with the same hours, no year.
    pub(super) fn open(
        paths: &[PathBuf],
        asked: Option<&std::ops::RangeInclusive<i32>>,
        read_at: DateTime<Utc>,
    ) -> Result<Self, YearsError> {
        let files = files_below(paths)?;
        let mut files = files
            .into_iter()
            .map(|path| WeatherFile::look(path, read_at))
            .collect::<Result<Vec<_>, _>>()?;
        files.sort_by_key(|file| (file.composed, file.first));
        for pair in files.windows(2) {
            let [one, other] = pair else { continue };
            // Those that were come first.
            if one.composed != other.composed {
                return Err(YearsError::Mixed {
                    typical: other.path.clone(),
                    observed: one.path.clone(),
                });
            }
            if other.first <= one.last {
                return Err(YearsError::Overlap {
                    first: one.path.clone(),
                    second: other.path.clone(),
                    at: other.first,
                });
            }
        }
        let observed = || files.iter().filter(|file| !file.composed);
        // A year in local standard time can begin in the UTC year before.
        let first = observed().map(|file| file.first.year()).min().unwrap_or(0);
        let last = observed().map(|file| file.last.year() + 1).max().unwrap_or(-1);
        let holds = |year: &i32| observed().any(|file| file.holds(*year));
        let is_asked = |year: &i32| asked.is_none_or(|asked| asked.contains(year));
        let mut left: VecDeque<Next> =
            (first..=last).filter(holds).filter(is_asked).map(Next::Observed).collect();
        left.extend((0..files.len()).filter(|at| files[*at].composed).map(Next::Composed));
        if left.is_empty() {
            return Err(YearsError::TooShort { paths: paths.to_vec() });
        }
        Ok(Self { files, left, read_at })
    }

    /// One year that was, out of all files that hold hours of it.
    fn observed(&self, year: i32) -> Result<WeatherYear, YearsError> {
        let near = |file: &&WeatherFile| !file.composed && file.reaches(year);
        let mut rows: Vec<Hour> = Vec::new();
        let mut found: Option<(Kind, Record)> = None;
        let mut notes = Vec::new();
        let mut standard_time = None;
        for file in self.files.iter().filter(near) {
            let Some(mut record) = file.year(year, self.read_at)? else { continue };
            let Some((from, to)) = local_ends(year, file.standard_time) else { continue };
            rows.extend(record.series.hours_between(from - MARGIN, to + MARGIN));
            notes.append(&mut record.notes);
            // The file that holds the year says whose it is, and not its neighbors.
            if file.holds(year) && found.is_none() {
                standard_time = file.standard_time;
                found = Some((file.kind, record));
            }
        }
        let (Some((kind, record)), Some((starts_at, ends_at))) =
            (found, local_ends(year, standard_time))
        else {
            return Err(YearsError::TooShort {
                paths: self.files.iter().map(|file| file.path.clone()).collect(),
            });
        };
        let path = self.files.iter().find(|file| file.holds(year)).map(|file| file.path.clone());
        let series =
            Forecast::from_hours(record.series.provenance.clone(), rows).map_err(|problem| {
                YearsError::Content { path: path.unwrap_or_default(), problem: problem.into() }
            })?;
        let coverage = Coverage::of(&series, starts_at, ends_at);
        notes.dedup();
        Ok(WeatherYear {
            label: YearLabel::Observed { year },
            origin: origin(kind, record),
            starts_at,
            ends_at,
            series,
            coverage,
            notes,
        })
    }

    fn composed(&self, file: &WeatherFile) -> Result<WeatherYear, YearsError> {
        let record = file.whole(self.read_at)?;
        let Some((starts_at, ends_at)) = local_ends(NOMINAL_YEAR, file.standard_time) else {
            return Err(YearsError::TooShort { paths: vec![file.path.clone()] });
        };
        let coverage = Coverage::of(&record.series, starts_at, ends_at);
        Ok(WeatherYear {
            label: YearLabel::Composed { joins: record.joins.clone().unwrap_or_default() },
            starts_at,
            ends_at,
            series: record.series.clone(),
            coverage,
            notes: record.notes.clone(),
            origin: origin(file.kind, record),
        })
    }
}

impl Iterator for FileYears {
    type Item = Result<WeatherYear, YearsError>;

    fn next(&mut self) -> Option<Self::Item> {
        let year = match self.left.pop_front()? {
            Next::Observed(year) => self.observed(year),
            Next::Composed(at) => self.composed(self.files.get(at)?),
        };
        // A file that cannot be read makes the record another one: it ends here.
        if year.is_err() {
            self.left.clear();
        }
        Some(year)
    }
}

impl WeatherFile {
    fn look(path: PathBuf, read_at: DateTime<Utc>) -> Result<Self, YearsError> {
        let start = Content::start(&path, START)?;
        let kind = match Kind::of(&start) {
            Ok(kind) => kind,
            Err(found) if found.is_empty() => Kind::of_json(&Content::open(&path)?.whole()?)
                .map_err(|found| YearsError::UnknownKind { path: path.clone(), found })?,
            Err(found) => return Err(YearsError::UnknownKind { path, found }),
        };
        if matches!(kind, Kind::Csv | Kind::IsdLite) {
            let lines = Lines::of(&path, kind)?;
            let (first, last) = (lines.first, lines.last);
            let lines = Some(lines);
            return Ok(Self {
                path,
                kind,
                lines,
                composed: false,
                standard_time: None,
                first,
                last,
            });
        }
        let record = parse(&path, kind, read_at)?;
        // Sums begin an hour before the first stamp, and that hour is the end of another file.
        let known = |hour: &&Hour| hour.air.is_some();
        let first = record.series.hours().iter().find(known);
        let last = record.series.hours().iter().rev().find(known);
        Ok(Self {
            first: first.map_or(record.series.first(), |hour| hour.time),
            last: last.map_or(record.series.last(), |hour| hour.time),
            path,
            kind,
            lines: None,
            composed: record.joins.is_some(),
            standard_time: record.standard_time,
        })
    }

    fn whole(&self, read_at: DateTime<Utc>) -> Result<Record, YearsError> {
        parse(&self.path, self.kind, read_at)
    }

    fn year(&self, year: i32, read_at: DateTime<Utc>) -> Result<Option<Record>, YearsError> {
        let Some(lines) = &self.lines else { return self.whole(read_at).map(Some) };
        let series = lines.year(&self.path, self.kind, year, read_at)?;
        Ok(series.map(|series| Record {
            series,
            station: (self.kind == Kind::IsdLite).then(|| station_of(&self.path)).flatten(),
            place: None,
            standard_time: None,
            joins: None,
            notes: Vec::new(),
        }))
    }

    fn holds(&self, year: i32) -> bool {
        local_ends(year, self.standard_time)
            .is_some_and(|(from, to)| self.last.min(to) - self.first.max(from) >= LEAST)
    }

    fn reaches(&self, year: i32) -> bool {
        local_ends(year, self.standard_time)
            .is_some_and(|(from, to)| self.first <= to + MARGIN && self.last >= from - MARGIN)
    }
}

fn parse(path: &Path, kind: Kind, read_at: DateTime<Utc>) -> Result<Record, YearsError> {
    let body = Content::open(path)?.whole()?;
    let record = match kind {
        Kind::Epw => epw::parse(&body, read_at),
        Kind::Tmy3 => tmy3::parse(&body, read_at),
        Kind::NasaPower => nasa_power::parse(&body, read_at),
        // Files of lines are not read as a whole.
        Kind::OpenMeteo | Kind::Csv | Kind::IsdLite => open_meteo::parse_archive(&body, read_at),
    };
    record.map_err(|problem| YearsError::Content { path: path.to_owned(), problem })
}

/// Start and end of a year, at or before midnight where the file's clock is.
fn local_ends(
    year: i32,
    standard_time: Option<FixedOffset>,
) -> Option<(DateTime<Utc>, DateTime<Utc>)> {
    let (starts_at, ends_at) = ends_of(year)?;
    let east = standard_time.map_or(0, |zone| zone.local_minus_utc());
    let local = |at: DateTime<Utc>| floor_hour(at - TimeDelta::seconds(i64::from(east)));
    Some((local(starts_at), local(ends_at)))
}

fn origin(kind: Kind, record: Record) -> Origin {
    let Record { station, place, standard_time, .. } = record;
    Origin { source: kind.source(), station, place, standard_time }
}

/// The station's number, with which the names of these files begin: `725300-94846-2015.gz`.
fn station_of(path: &Path) -> Option<String> {
    let name = path.file_name()?.to_string_lossy().into_owned();
    let number: String = name.chars().take_while(char::is_ascii_alphanumeric).collect();
    (number.len() == 6).then_some(number)
}

/// Start and end of a calendar year in UTC.
pub(super) fn utc_ends(year: i32) -> Option<(DateTime<Utc>, DateTime<Utc>)> {
    let start = |year| Some(NaiveDate::from_ymd_opt(year, 1, 1)?.and_hms_opt(0, 0, 0)?.and_utc());
    start(year).zip(start(year + 1))
}
