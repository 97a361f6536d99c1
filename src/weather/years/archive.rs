//! The years of an archive, asked for one at a time.

use std::ops::RangeInclusive;

use chrono::{Datelike, NaiveDate};
use tokio::runtime::{Builder, Runtime};

use super::{Archive, Coverage, MARGIN, Origin, WeatherYear, YearLabel, YearsError, ends_of};
use crate::weather::Request;
use crate::weather::ask::days_of_archive;
use crate::weather::sources::record::Record;
use crate::weather::sources::{nasa_power, open_meteo};

/// The years of an archive.
pub(super) struct ArchiveYears<'a> {
    archive: Archive,
    request: Request<'a>,
    left: RangeInclusive<i32>,
    runtime: Runtime,
}

impl<'a> ArchiveYears<'a> {
    /// Makes ready to ask; asks nobody yet.
    ///
    /// # Errors
    /// No years, or one that the service does not have.
    pub(super) fn open(
        archive: Archive,
        years: Option<RangeInclusive<i32>>,
        request: Request<'a>,
    ) -> Result<Self, YearsError> {
        let service = archive.words();
        let years = years.ok_or(YearsError::NoYears { service })?;
        let (first, last) = (archive.first_year(), request.now.year());
        for year in [*years.start(), *years.end()] {
            if !(first..=last).contains(&year) {
                return Err(YearsError::OutOfReach { service, year, first, last });
            }
        }
        let runtime = Builder::new_current_thread().enable_all().build();
        let runtime =
            runtime.map_err(|error| YearsError::Runtime { problem: error.to_string() })?;
        Ok(Self { archive, request, left: years, runtime })
    }

    /// A year with its margins, as one document: kept replies are then good for any range of years.
    fn year(&self, year: i32) -> Result<WeatherYear, YearsError> {
        let (starts_at, ends_at) =
            ends_of(year).ok_or(YearsError::NoYears { service: self.archive.words() })?;
        let earliest = NaiveDate::from_ymd_opt(self.archive.first_year(), 1, 1);
        let first = (starts_at - MARGIN).date_naive().max(earliest.unwrap_or(NaiveDate::MIN));
        // Sums are stamped with the end of their hour, so that one day more is needed for the last.
        let last = (ends_at + MARGIN).date_naive();
        // The service has nothing of tomorrow, and refuses to be asked for it.
        let last = last.min(self.request.now.date_naive());
        let asked = days_of_archive(&self.request, self.archive, first, last);
        let (record, notes) = self
            .runtime
            .block_on(asked)
            .map_err(|problem| YearsError::Weather { year, problem })?;
        let Record { series, station, place, standard_time, .. } = record;
        let coverage = Coverage::of(&series, starts_at, ends_at);
        let source = self.archive.source();
        Ok(WeatherYear {
            label: YearLabel::Observed { year },
            origin: Origin { source, station, place, standard_time },
            starts_at,
            ends_at,
            series,
            coverage,
            notes,
        })
    }
}

impl Iterator for ArchiveYears<'_> {
    type Item = Result<WeatherYear, YearsError>;

    fn next(&mut self) -> Option<Self::Item> {
        let year = self.left.next()?;
        Some(self.year(year))
    }
}

impl Archive {
    const fn words(self) -> &'static str {
        match self {
            Self::OpenMeteo => "Open-Meteo's archive",
            Self::NasaPower => "NASA POWER",
        }
    }

    const fn source(self) -> &'static str {
        match self {
            Self::OpenMeteo => "open-meteo-archive",
            Self::NasaPower => "nasa-power",
        }
    }

    const fn first_year(self) -> i32 {
        match self {
            Self::OpenMeteo => open_meteo::ARCHIVE_FIRST_YEAR,
            Self::NasaPower => nasa_power::FIRST_YEAR,
        }
    }
}
