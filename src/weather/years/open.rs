//! The one way to ask for years behind.

use std::ops::RangeInclusive;
use std::path::PathBuf;

use super::archive::ArchiveYears;
use super::files::FileYears;
use super::{WeatherYear, YearsError};
use crate::weather::Request;

/// Where the years come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum YearsSource {
    /// Files of one station, and folders of such files, in any order, plain or gzipped.
    Files(Vec<PathBuf>),
    /// A service that keeps the weather of past years for every place.
    Archive(Archive),
}

/// A service that keeps the weather of past years.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Archive {
    /// Open-Meteo's archive: reanalysis of the whole world since 1940. Its free host is for
    /// non-commercial use only, as that of the forecast.
    OpenMeteo,
    /// NASA POWER: reanalysis and satellites, the whole world since 2001, for any use.
    NasaPower,
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct YearsRequest<'a> {
    /// Whom or what to ask.
    pub source: YearsSource,
    /// Which years; `None` for all that the files hold. A composed year is always given.
    pub years: Option<RangeInclusive<i32>>,
    /// Place, terms, clock, cache and patience, as for a forecast. Files need only its clock.
    pub request: Request<'a>,
}

/// The years, one at a time, ascending, or one composed year.
///
/// A file that cannot be read ends them; a year that a service does not give is an error in its
/// place, and the next year follows.
pub struct Years<'a>(From<'a>);

enum From<'a> {
    Files(FileYears),
    Archive(ArchiveYears<'a>),
}

/// Opens the files or makes ready to ask the service.
///
/// The iterator blocks while it reads or asks: do not drive it from inside an async task.
///
/// # Errors
/// What can be told before the first year: no file, a file of unknown kind, years that the service
/// does not have. See [`YearsError`].
pub fn open(asked: YearsRequest<'_>) -> Result<Years<'_>, YearsError> {
    let YearsRequest { source, years, request } = asked;
    Ok(Years(match source {
        YearsSource::Files(paths) => {
            From::Files(FileYears::open(&paths, years.as_ref(), request.now)?)
        }
        YearsSource::Archive(archive) => {
            From::Archive(ArchiveYears::open(archive, years, request)?)
        }
    }))
}

impl Iterator for Years<'_> {
    type Item = Result<WeatherYear, YearsError>;

    fn next(&mut self) -> Option<Self::Item> {
        match &mut self.0 {
            From::Files(years) => years.next(),
            From::Archive(years) => years.next(),
        }
    }
}
