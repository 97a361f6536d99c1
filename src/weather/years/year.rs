//! One year of weather, what it is made of, and how much of it there is.

use std::fmt;

use chrono::{DateTime, FixedOffset, TimeDelta, Utc};

use crate::weather::{Field, Forecast, Place};

/// How far the series reaches into the years before and after, where these are at hand.
pub const MARGIN: TimeDelta = TimeDelta::hours(48);

/// The year on which a composed year is placed.
///
/// It has no February 29, begins on a Sunday, as composed files say of themselves, and lies late
/// enough for the clock changes in force today.
pub const NOMINAL_YEAR: i32 = 2023;

/// One calendar year of hourly weather.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherYear {
    /// Which year.
    pub label: YearLabel,
    /// Where it was measured or computed, as far as the source says.
    pub origin: Origin,
    /// Start of the year. Midnight in UTC, or for a file in local standard time the full UTC hour
    /// at or before midnight there.
    pub starts_at: DateTime<Utc>,
    /// End of the year, exclusive.
    pub ends_at: DateTime<Utc>,
    /// The hours from the first to the last that is known, up to [`MARGIN`] outside the year.
    pub series: Forecast,
    /// How many hours of the year have which value; the margins do not count.
    pub coverage: Coverage,
    /// What was left out or made of it that the user should know, a sentence each.
    pub notes: Vec<String>,
}

/// Which year a [`WeatherYear`] is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum YearLabel {
    /// A year that was.
    Observed {
        /// By the calendar.
        year: i32,
    },
    /// Months of several years, put together as a typical one, on [`NOMINAL_YEAR`]. There is no
    /// February 29, and no hour before January 1 or after December 31.
    Composed {
        /// Where a month of one year meets a month of another. The weather does not go on there:
        /// what happens over these midnights never happened.
        joins: Vec<MonthJoin>,
    },
}

/// A midnight at which a composed year goes from one year's month to another's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MonthJoin {
    /// The midnight, on the nominal year.
    pub at: DateTime<Utc>,
    /// The year that the month before it is from.
    pub from: i32,
    /// The year that the month after it is from.
    pub to: i32,
}

/// Where a year was measured or computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// The source by name: `isd-lite`, `epw`, `tmy3`, `nasa-power`, `open-meteo-archive`, `csv`.
    pub source: &'static str,
    /// Name of the station, where the file gives one.
    pub station: Option<String>,
    /// Where the station stands, or the center of the grid cell.
    pub place: Option<Place>,
    /// Local standard time, for a file whose hours are in it.
    pub standard_time: Option<FixedOffset>,
}

/// How many of a year's hours have a value, by kind of value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Coverage {
    hours: u32,
    present: [u32; Field::ALL.len()],
}

impl WeatherYear {
    /// The calendar year in which the hours lie: the year itself, or [`NOMINAL_YEAR`].
    pub const fn calendar_year(&self) -> i32 {
        match self.label {
            YearLabel::Observed { year } => year,
            YearLabel::Composed { .. } => NOMINAL_YEAR,
        }
    }
}

impl fmt::Display for YearLabel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Observed { year } => write!(f, "{year}"),
            Self::Composed { .. } => f.write_str("typical year"),
        }
    }
}

impl Coverage {
    /// Counts the hours of `series` in `[from, to)`.
    pub fn of(series: &Forecast, from: DateTime<Utc>, to: DateTime<Utc>) -> Self {
        let mut present = [0; Field::ALL.len()];
        for hour in series.hours_between(from, to) {
            for (count, field) in present.iter_mut().zip(Field::ALL) {
                *count += u32::from(hour.has(field));
            }
        }
        Self { hours: u32::try_from((to - from).num_hours()).unwrap_or(0), present }
    }

    /// Hours of the whole year.
    pub const fn hours(&self) -> u32 {
        self.hours
    }

    /// Hours that have `field`.
    pub fn present(&self, field: Field) -> u32 {
        let at = Field::ALL.iter().position(|other| *other == field);
        at.and_then(|at| self.present.get(at)).copied().unwrap_or(0)
    }

    /// Share of the hours that have `field`, 0 to 1.
    pub fn share(&self, field: Field) -> f64 {
        f64::from(self.present(field)) / f64::from(self.hours.max(1))
    }
}
