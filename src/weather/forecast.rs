//! The hourly series that every source is turned into.

use chrono::{DateTime, TimeDelta, Timelike, Utc};
use chrono_tz::Tz;

use super::hour::Hour;
use super::hour_line::HourLine;
use crate::units::{Temperature, WindSpeed};

/// Longest series held, in hours: three years. A file whose stamps span more is a broken file.
const LONGEST_HOURS: i64 = 3 * 366 * 24;

/// An hourly forecast or record: one row for each UTC hour, from the first to the last.
///
/// A row that the source left out is there all the same, with every value `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// Where it comes from and how old it is.
    pub provenance: Provenance,
    first: DateTime<Utc>,
    hours: Vec<Hour>,
    /// Air of each member of an ensemble, aligned with `hours`.
    members: Vec<Vec<Option<Temperature>>>,
}

/// Where a forecast comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Provenance {
    /// Name as in the site file: `nws`, `met-norway`, `open-meteo`, `file`.
    pub source: String,
    /// When the service issued it; `None` where it does not say.
    pub issued_at: Option<DateTime<Utc>>,
    /// When it was fetched, or for a file when it was read.
    pub fetched_at: DateTime<Utc>,
    /// True when the service could not be asked and an earlier reply stands in.
    pub stale: bool,
    /// The credit that the license asks for, shown in every output.
    pub attribution: String,
    /// The zone that the service names for the place, if it names one.
    pub time_zone: Option<Tz>,
}

/// How the air temperature covers a stretch of time.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AirCover {
    /// Hours without a value that no neighbors bridge.
    pub missing: Vec<DateTime<Utc>>,
    /// Single missing hours bridged by the value before and the value after.
    pub bridged: Vec<DateTime<Utc>>,
}

impl Forecast {
    /// Gathers rows in any order into a series without holes.
    ///
    /// Each row's time is cut to its hour. Where two rows share an hour, the later one in `rows`
    /// adds the values that the earlier one lacks.
    ///
    /// # Errors
    /// [`ForecastSpan::Empty`] when there is no row, [`ForecastSpan::TooLong`] when the first and
    /// the last are more than three years apart.
    pub fn from_hours(provenance: Provenance, rows: Vec<Hour>) -> Result<Self, ForecastSpan> {
        let first = rows.iter().map(|row| floor_hour(row.time)).min().ok_or(ForecastSpan::Empty)?;
        let last = rows.iter().map(|row| floor_hour(row.time)).max().ok_or(ForecastSpan::Empty)?;
        let count = (last - first).num_hours() + 1;
        if count > LONGEST_HOURS {
            return Err(ForecastSpan::TooLong { first, last });
        }
        let mut hours: Vec<Hour> =
            (0..count).map(|n| Hour::unknown(first + TimeDelta::hours(n))).collect();
        for row in rows {
            let index = usize::try_from((floor_hour(row.time) - first).num_hours()).unwrap_or(0);
            if let Some(held) = hours.get_mut(index) {
                held.fill_from(&row);
            }
        }
        Ok(Self { provenance, first, hours, members: Vec::new() })
    }

    /// The same series with the air of an ensemble's members beside it.
    ///
    /// Each member is a list of instants, in any order; what lies outside the series is left out.
    #[must_use]
    pub fn with_members(
        mut self,
        members: impl IntoIterator<Item = Vec<(DateTime<Utc>, Temperature)>>,
    ) -> Self {
        let place = |member: Vec<(DateTime<Utc>, Temperature)>| {
            let mut air = vec![None; self.hours.len()];
            for (at, value) in member {
                let index = usize::try_from((at - self.first).num_seconds().div_euclid(3600)).ok();
                if let Some(slot) = index.and_then(|index| air.get_mut(index)) {
                    *slot = Some(value);
                }
            }
            air
        };
        self.members = members.into_iter().map(place).collect();
        self
    }

    /// How many members of an ensemble there are; 0 where the source sends none.
    pub const fn members(&self) -> usize {
        self.members.len()
    }

    /// Air of one member at `at`; see [`Forecast::air_at`].
    pub fn member_air_at(&self, member: usize, at: DateTime<Utc>) -> Option<Temperature> {
        let air = self.members.get(member)?;
        let value = |index: usize| air.get(index).copied().flatten().map(Temperature::celsius);
        let seconds = (at - self.first).num_seconds();
        let hour = usize::try_from(seconds.div_euclid(3600)).ok()?;
        HourLine::new(hour, value).at(seconds.rem_euclid(3600)).map(Temperature::from_celsius)
    }

    /// Start of the first hour.
    pub const fn first(&self) -> DateTime<Utc> {
        self.first
    }

    /// Start of the last hour.
    pub fn last(&self) -> DateTime<Utc> {
        self.hours.last().map_or(self.first, |hour| hour.time)
    }

    /// Every hour, ascending, without holes.
    pub fn hours(&self) -> &[Hour] {
        &self.hours
    }

    /// The hour that `at` lies in, if the series reaches it.
    pub fn hour_of(&self, at: DateTime<Utc>) -> Option<&Hour> {
        let index = usize::try_from((at - self.first).num_seconds().div_euclid(3600)).ok()?;
        self.hours.get(index)
    }

    /// The hours that overlap `[from, to)`.
    pub fn hours_between(
        &self,
        from: DateTime<Utc>,
        to: DateTime<Utc>,
    ) -> impl Iterator<Item = &Hour> {
        self.hours
            .iter()
            .skip_while(move |hour| hour.time + TimeDelta::hours(1) <= from)
            .take_while(move |hour| hour.time < to)
    }

    /// Air temperature at `at`, linear between hourly values.
    ///
    /// One missing hour is bridged; `None` in a longer gap and outside the series.
    pub fn air_at(&self, at: DateTime<Utc>) -> Option<Temperature> {
        self.instant_at(at, |hour| hour.air.map(Temperature::celsius))
            .map(Temperature::from_celsius)
    }

    /// Dew point at `at`; see [`Forecast::air_at`].
    pub fn dew_point_at(&self, at: DateTime<Utc>) -> Option<Temperature> {
        self.instant_at(at, |hour| hour.dew_point.map(Temperature::celsius))
            .map(Temperature::from_celsius)
    }

    /// Mean wind at `at`; see [`Forecast::air_at`].
    pub fn wind_at(&self, at: DateTime<Utc>) -> Option<WindSpeed> {
        self.instant_at(at, |hour| hour.wind.map(WindSpeed::meters_per_second))
            .map(WindSpeed::from_meters_per_second)
    }

    /// Any value that holds at an instant, by `field`, linear between hours; see
    /// [`Forecast::air_at`].
    pub fn instant_at(
        &self,
        at: DateTime<Utc>,
        field: impl Fn(&Hour) -> Option<f64>,
    ) -> Option<f64> {
        let seconds = (at - self.first).num_seconds();
        let hour = usize::try_from(seconds.div_euclid(3600)).ok()?;
        self.line(hour, field).at(seconds.rem_euclid(3600))
    }

    /// How a value that holds at an instant, by `field`, runs through an hour, counted from the
    /// first of the series.
    pub fn line(&self, hour: usize, field: impl Fn(&Hour) -> Option<f64>) -> HourLine {
        HourLine::new(hour, |index| self.hours.get(index).and_then(&field))
    }

    /// Which hourly air temperatures a walk over `[from, to]` needs and does not have.
    pub fn air_cover(&self, from: DateTime<Utc>, to: DateTime<Utc>) -> AirCover {
        let mut cover = AirCover::default();
        let mut at = floor_hour(from);
        let last = if floor_hour(to) == to { to } else { floor_hour(to) + TimeDelta::hours(1) };
        while at <= last {
            if self.hour_of(at).is_none_or(|hour| hour.air.is_none()) {
                match self.air_at(at) {
                    Some(_) => cover.bridged.push(at),
                    None => cover.missing.push(at),
                }
            }
            at += TimeDelta::hours(1);
        }
        cover
    }
}

/// Why rows do not make a series.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ForecastSpan {
    /// There is not one row.
    #[error("it holds no hours at all")]
    Empty,
    /// First and last row are too far apart to be one record.
    #[error("its hours run from {first} to {last}; expected at most three years in one file")]
    TooLong {
        /// The first hour.
        first: DateTime<Utc>,
        /// The last hour.
        last: DateTime<Utc>,
    },
}

/// The start of the hour that `at` lies in.
pub fn floor_hour(at: DateTime<Utc>) -> DateTime<Utc> {
    let into = i64::from(at.minute()) * 60 + i64::from(at.second());
    at - TimeDelta::seconds(into) - TimeDelta::nanoseconds(i64::from(at.nanosecond()))
}
