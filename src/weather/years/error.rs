//! Why there is no year, for the person at the terminal.

use std::path::PathBuf;

use chrono::{DateTime, Utc};

use crate::weather::WeatherError;
use crate::weather::sources::ParseError;

/// Why there is no year of weather.
#[derive(Debug, thiserror::Error)]
pub enum YearsError {
    /// The file or folder cannot be read.
    #[error("the weather file `{}` cannot be read: {problem}", .path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// What the system says, or what it is instead of a file.
        problem: String,
    },
    /// The file's content cannot be used.
    #[error("the weather file `{}` cannot be used: {problem}", .path.display())]
    Content {
        /// Which.
        path: PathBuf,
        /// What is wrong with it.
        problem: ParseError,
    },
    /// The file is of no known kind.
    #[error(
        "the weather file `{}` is of no known kind: expected NOAA ISD-Lite, EPW, TMY3, a saved reply \
         of NASA POWER or of Open-Meteo, or a CSV whose header has `time_utc`; found {found}",
        .path.display()
    )]
    UnknownKind {
        /// Which.
        path: PathBuf,
        /// What it looks like instead.
        found: String,
    },
    /// No file was named, or the folder holds none.
    #[error("there is no weather file in `{}`", .path.display())]
    NoFiles {
        /// The folder.
        path: PathBuf,
    },
    /// Files, and not two days of any year in them.
    #[error("the weather files of `{}` hold less than two days of any year", listed(.paths))]
    TooShort {
        /// As named.
        paths: Vec<PathBuf>,
    },
    /// A typical year among years that were: they would stand on the same dates.
    #[error(
        "`{}` is a typical year and `{}` is one that was; expected either for one record",
        .typical.display(), .observed.display()
    )]
    Mixed {
        /// The typical one.
        typical: PathBuf,
        /// One that was.
        observed: PathBuf,
    },
    /// Two files cover the same hours.
    #[error(
        "`{}` and `{}` both have the hour {}; expected the files of one station, each hour once",
        .first.display(), .second.display(), .at.format("%Y-%m-%d %H:00 UTC")
    )]
    Overlap {
        /// The one.
        first: PathBuf,
        /// The other.
        second: PathBuf,
        /// An hour that both have.
        at: DateTime<Utc>,
    },
    /// The service has no such year.
    #[error("{service} has no {year}: it reaches from {first} to {last}")]
    OutOfReach {
        /// The service, in words.
        service: &'static str,
        /// As asked.
        year: i32,
        /// The first year that it has.
        first: i32,
        /// The last year that it has, which may have only begun.
        last: i32,
    },
    /// A service was asked without years.
    #[error("{service} must be asked for certain years, such as 2005..2024")]
    NoYears {
        /// The service, in words.
        service: &'static str,
    },
    /// The service did not give the year.
    #[error("{year}: {}", told(.problem))]
    Weather {
        /// Which year.
        year: i32,
        /// What happened.
        problem: WeatherError,
    },
    /// The asking itself could not begin.
    #[error("the years cannot be asked for: {problem}")]
    Runtime {
        /// What the system says.
        problem: String,
    },
}

fn listed(paths: &[PathBuf]) -> String {
    paths.iter().map(|path| path.display().to_string()).collect::<Vec<_>>().join("`, `")
}

/// What is said of a forecast, said of a year.
fn told(problem: &WeatherError) -> String {
    match problem {
        WeatherError::Service { service, failure } => {
            format!("could not be had from {service}: {failure}")
        }
        WeatherError::OfflineWithoutCopy { service } => {
            format!(
                "no reply of {service} is kept for this year, and nothing may be fetched offline"
            )
        }
        other => other.to_string(),
    }
}

impl YearsError {
    /// One thing that the user can do next.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Weather { problem, .. } => match problem {
                WeatherError::NotBefore { .. } => Some("wait until then; years that came are kept"),
                WeatherError::OfflineWithoutCopy { .. }
                | WeatherError::OfflineWithDamagedCopy { .. } => {
                    Some("run once without `--offline` while there is a connection")
                }
                other => other.hint(),
            },
            Self::Overlap { .. } => Some("give the files of one station only, without copies"),
            Self::NoYears { .. } => Some("add `--years 2005..2024`"),
            _ => None,
        }
    }
}
