//! The hourly series that every source is turned into.

use chrono::{DateTime, TimeDelta, Timelike, Utc};
use chrono_tz::Tz;

use crate::units::{RainDepth, Temperature, WindSpeed};

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

/// The weather of one UTC hour, `[time, time + 1 h)`. `None` is unknown, never zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// Start of the hour.
    pub time: DateTime<Utc>,
    // Instants: what holds at `time` itself.
    /// Air temperature, 2 m above ground.
    pub air: Option<Temperature>,
    /// Dew point, 2 m above ground.
    pub dew_point: Option<Temperature>,
    /// Relative humidity, 0 to 100 %.
    pub humidity_pct: Option<f64>,
    /// Mean wind, 10 m above ground.
    pub wind: Option<WindSpeed>,
    /// Share of the sky under cloud, 0 to 100 %.
    pub cloud_cover_pct: Option<f64>,
    /// Air pressure at the ground, hPa.
    pub surface_pressure_hpa: Option<f64>,
    /// Air pressure reduced to sea level, hPa.
    pub sea_level_pressure_hpa: Option<f64>,
    // Of the hour: what falls, blows or shines between `time` and `time + 1 h`.
    /// Precipitation as water: rain, showers and melted snow.
    pub rain: Option<HourSum>,
    /// Depth of fresh snow.
    pub snow: Option<HourSum>,
    /// Strongest gust of the hour.
    pub gust: Option<WindSpeed>,
    /// Shortwave radiation on the level, mean of the hour, W/m².
    pub shortwave_w_m2: Option<f64>,
    /// Chance of precipitation, 0 to 100 %.
    pub precipitation_probability_pct: Option<f64>,
    /// Chance of thunder, 0 to 100 %.
    pub thunder_probability_pct: Option<f64>,
    /// Whether the source's own weather word or code for the hour names thunder.
    pub thunder_named: Option<bool>,
}

/// An hour's share of a total that the source gives for one hour or for several together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourSum {
    /// This hour's even share of `total`.
    pub share: RainDepth,
    /// The total as the source states it.
    pub total: RainDepth,
    /// Hours that the total covers; 1 where the source is hourly.
    pub over_hours: u32,
}

/// A kind of value in an hour, by the name that the plan's JSON uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Field {
    /// Air temperature.
    Air,
    /// Dew point.
    DewPoint,
    /// Relative humidity.
    Humidity,
    /// Mean wind.
    Wind,
    /// Gust.
    Gust,
    /// Rain and melted snow.
    Rain,
    /// Fresh snow.
    Snow,
    /// Cloud cover.
    CloudCover,
    /// Shortwave radiation.
    Shortwave,
    /// Chance of precipitation.
    PrecipitationProbability,
    /// Thunder, by chance or by name.
    Thunder,
    /// Air pressure, at the ground or at sea level.
    Pressure,
}

/// How the air temperature covers a stretch of time.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AirCover {
    /// Hours without a value that no neighbors bridge.
    pub missing: Vec<DateTime<Utc>>,
    /// Single missing hours bridged by the value before and the value after.
    pub bridged: Vec<DateTime<Utc>>,
}

impl Hour {
    /// An hour of which nothing is known.
    pub const fn unknown(time: DateTime<Utc>) -> Self {
        Self {
            time,
            air: None,
            dew_point: None,
            humidity_pct: None,
            wind: None,
            cloud_cover_pct: None,
            surface_pressure_hpa: None,
            sea_level_pressure_hpa: None,
            rain: None,
            snow: None,
            gust: None,
            shortwave_w_m2: None,
            precipitation_probability_pct: None,
            thunder_probability_pct: None,
            thunder_named: None,
        }
    }

    /// Whether `field` has a value in this hour.
    pub const fn has(&self, field: Field) -> bool {
        match field {
            Field::Air => self.air.is_some(),
            Field::DewPoint => self.dew_point.is_some(),
            Field::Humidity => self.humidity_pct.is_some(),
            Field::Wind => self.wind.is_some(),
            Field::Gust => self.gust.is_some(),
            Field::Rain => self.rain.is_some(),
            Field::Snow => self.snow.is_some(),
            Field::CloudCover => self.cloud_cover_pct.is_some(),
            Field::Shortwave => self.shortwave_w_m2.is_some(),
            Field::PrecipitationProbability => self.precipitation_probability_pct.is_some(),
            Field::Thunder => {
                self.thunder_probability_pct.is_some() || self.thunder_named.is_some()
            }
            Field::Pressure => {
                self.surface_pressure_hpa.is_some() || self.sea_level_pressure_hpa.is_some()
            }
        }
    }
}

impl HourSum {
    /// A sum that the source gives for this one hour.
    pub const fn of_one_hour(amount: RainDepth) -> Self {
        Self { share: amount, total: amount, over_hours: 1 }
    }

    /// This hour's even share of a total over `hours` hours (at least one).
    pub fn share_of(total: RainDepth, hours: u32) -> Self {
        let over_hours = hours.max(1);
        let share = RainDepth::from_millimeters(total.millimeters() / f64::from(over_hours));
        Self { share, total, over_hours }
    }
}

impl Field {
    /// Every kind, in the order in which outputs list them.
    pub const ALL: [Self; 12] = [
        Self::Air,
        Self::DewPoint,
        Self::Humidity,
        Self::Wind,
        Self::Gust,
        Self::Rain,
        Self::Snow,
        Self::CloudCover,
        Self::Shortwave,
        Self::PrecipitationProbability,
        Self::Thunder,
        Self::Pressure,
    ];

    /// The name in the plan's JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Air => "air",
            Self::DewPoint => "dew_point",
            Self::Humidity => "humidity",
            Self::Wind => "wind",
            Self::Gust => "gust",
            Self::Rain => "rain",
            Self::Snow => "snow",
            Self::CloudCover => "cloud_cover",
            Self::Shortwave => "shortwave_radiation",
            Self::PrecipitationProbability => "precipitation_probability",
            Self::Thunder => "thunder",
            Self::Pressure => "pressure",
        }
    }
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

impl Hour {
    fn fill_from(&mut self, other: &Self) {
        self.air = self.air.or(other.air);
        self.dew_point = self.dew_point.or(other.dew_point);
        self.humidity_pct = self.humidity_pct.or(other.humidity_pct);
        self.wind = self.wind.or(other.wind);
        self.cloud_cover_pct = self.cloud_cover_pct.or(other.cloud_cover_pct);
        self.surface_pressure_hpa = self.surface_pressure_hpa.or(other.surface_pressure_hpa);
        self.sea_level_pressure_hpa = self.sea_level_pressure_hpa.or(other.sea_level_pressure_hpa);
        self.rain = self.rain.or(other.rain);
        self.snow = self.snow.or(other.snow);
        self.gust = self.gust.or(other.gust);
        self.shortwave_w_m2 = self.shortwave_w_m2.or(other.shortwave_w_m2);
        self.precipitation_probability_pct =
            self.precipitation_probability_pct.or(other.precipitation_probability_pct);
        self.thunder_probability_pct =
            self.thunder_probability_pct.or(other.thunder_probability_pct);
        self.thunder_named = self.thunder_named.or(other.thunder_named);
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

/// How one kind of value runs through one hour: straight from its start to its end.
///
/// One missing hour is bridged by its neighbors; two side by side are a gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourLine {
    /// The hour's own value; not a number where it has none.
    here: f64,
    // From the known value before to the known value after; not a number in a gap.
    before: f64,
    rise: f64,
    /// Seconds from the value before to the start of the hour.
    lead_s: i64,
    /// Seconds from the value before to the value after.
    length_s: f64,
}

impl HourLine {
    fn new(hour: usize, value: impl Fn(usize) -> Option<f64>) -> Self {
        const GAP: f64 = f64::NAN;
        let known = |index: Option<usize>| index.and_then(&value).unwrap_or(GAP);
        let (here, next) = (known(Some(hour)), known(Some(hour + 1)));
        let (before, after, lead_s, length_s) = if here.is_nan() {
            (known(hour.checked_sub(1)), next, 3600, 7200.0)
        } else if next.is_nan() {
            (here, known(Some(hour + 2)), 0, 7200.0)
        } else {
            (here, next, 0, 3600.0)
        };
        Self { here, before, rise: after - before, lead_s, length_s }
    }

    /// The hour's own value and how far it is from there to the next, where both are known.
    pub(crate) fn straight(&self) -> Option<(f64, f64)> {
        let is_straight = self.length_s <= 3600.0 && !self.rise.is_nan();
        is_straight.then_some((self.before, self.rise))
    }

    /// Whether nothing is known but perhaps the hour's own value.
    pub(crate) const fn is_gap(&self) -> bool {
        self.rise.is_nan()
    }

    /// The value `second` seconds into the hour, 0 to 3599.
    pub fn at(&self, second: i64) -> Option<f64> {
        if second == 0 && !self.here.is_nan() {
            return Some(self.here);
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 7200 seconds")]
        let since_before_s = (second + self.lead_s) as f64;
        let value = self.before + self.rise * (since_before_s / self.length_s);
        (!value.is_nan()).then_some(value)
    }
}
