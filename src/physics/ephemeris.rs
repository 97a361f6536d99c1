//! The sun for many instants and many places at little cost.

use chrono::{DateTime, NaiveTime, TimeDelta, Utc};

use super::circle::{sin_cos_of_degrees, sin_cos_of_small};
use super::lanes::{Lanes, inlined};
use super::sun::{self, Place, SunError};
use crate::units::Length;

/// Longest stretch held: sixty years of daily rows.
const MOST_DAYS: i64 = 60 * 366;
const DAY_MS: i64 = 86_400_000;
const RADIANS_PER_DEGREE: f64 = std::f64::consts::PI / 180.0;

/// The sun's declination and the equation of time, one row a day, for every place on Earth.
///
/// Each row is a true position (see [`sun::position`]); between two midnights all values run nearly
/// straight (the declination turns by 0.4° at most), so that an elevation is within 0.01° of the
/// true one and costs one cosine.
#[derive(Debug, Clone, PartialEq)]
pub struct Ephemeris {
    first: DateTime<Utc>,
    days: Vec<DayRow>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct DayRow {
    sin_declination: f64,
    cos_declination: f64,
    /// Equation of time as an angle: how far west of the mean sun the true sun is behind.
    lead_deg: f64,
}

/// The sun in the sky of one place at one instant, or at several side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunAngle<L = f64> {
    /// Sine of the elevation of the sun's center, without refraction; the cosine of the zenith
    /// angle. Negative below the horizon.
    pub sin_elevation: L,
    hour_angle_deg: L,
    cos_hour_angle: L,
}

impl Ephemeris {
    /// Rows for every instant in `[from, to]`.
    ///
    /// # Errors
    /// [`SunError::Year`] outside 1900 to 2100; [`SunError::Stretch`] when `to` is before `from`
    /// or more than sixty years after it.
    pub fn covering(from: DateTime<Utc>, to: DateTime<Utc>) -> Result<Self, SunError> {
        let first = midnight(from);
        let count = (to - first).num_days() + 2;
        if to < from || count > MOST_DAYS {
            let longest_hours = MOST_DAYS * 24;
            return Err(SunError::Stretch { hours: (to - from).num_hours(), longest_hours });
        }
        let days = (0..count)
            .map(|day| DayRow::at(first + TimeDelta::days(day)))
            .collect::<Result<_, _>>()?;
        Ok(Self { first, days })
    }

    /// The sun over `place` at `at`; `None` outside the stretch that the rows cover.
    pub fn sun_at(&self, at: DateTime<Utc>, place: &Place) -> Option<SunAngle> {
        self.sun_at_unix_ms(at.timestamp_millis(), place)
    }

    /// [`Ephemeris::sun_at`] at an instant in milliseconds since 1970.
    pub(crate) fn sun_at_unix_ms(&self, unix_ms: i64, place: &Place) -> Option<SunAngle> {
        let (day, of_day_ms) = self.day_of(unix_ms)?;
        Some(day.sun_at(of_day_ms, place))
    }

    /// The day of an instant in milliseconds since 1970, and how many of that day have passed.
    pub(crate) fn day_of(&self, unix_ms: i64) -> Option<(SunDay, i64)> {
        let since_first_ms = unix_ms - self.first.timestamp_millis();
        let index = usize::try_from(since_first_ms.div_euclid(DAY_MS)).ok()?;
        let day = SunDay { before: *self.days.get(index)?, after: *self.days.get(index + 1)? };
        Some((day, since_first_ms.rem_euclid(DAY_MS)))
    }
}

/// The sun from one midnight to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SunDay {
    before: DayRow,
    after: DayRow,
}

impl SunDay {
    /// The sun over `place` when this many milliseconds of the day have passed.
    pub(super) fn sun_at(&self, of_day_ms: i64, place: &Place) -> SunAngle {
        self.seen_at(whole(of_day_ms), place).0
    }

    /// [`SunDay::sun_at`] for whole milliseconds that are counted in numbers side by side, and how
    /// far the sun has turned.
    #[inline(always)]
    pub(crate) fn seen_at<L: Lanes>(
        &self,
        of_day_ms: L,
        place: &Place,
    ) -> (SunAngle<L>, Turned<L>) {
        let mut sin = of_day_ms;
        let angle = self.seen(
            of_day_ms,
            place,
            #[inline(always)]
            |hour_angle_deg| {
                let (sine, cosine) = sin_cos_of_degrees(hour_angle_deg);
                sin = sine;
                cosine
            },
        );
        (angle, Turned { deg: angle.hour_angle_deg, sin, cos: angle.cos_hour_angle })
    }

    /// [`SunDay::sun_at`] through an hour from `start_ms` on, by turning from its start.
    pub(super) fn turn_from(&self, start_ms: i64, place: &Place) -> Turning {
        let (_, turned) = self.seen_at(whole(start_ms), place);
        self.turning(start_ms, place, turned)
    }

    /// [`SunDay::turn_from`] where it is known how far the sun has turned by then.
    pub(super) fn turning(&self, start_ms: i64, place: &Place, turned: Turned<f64>) -> Turning {
        Turning { day: *self, place: *place, start_ms: whole(start_ms), turned }
    }

    /// Of whole milliseconds of the day, so that the first row held does not tell in the last digit:
    /// two stretches give one instant the same sun.
    #[inline(always)]
    fn seen<L: Lanes>(
        &self,
        of_day_ms: L,
        place: &Place,
        cosine: impl FnOnce(L) -> L,
    ) -> SunAngle<L> {
        let (before, after) = (&self.before, &self.after);
        let within = of_day_ms / whole(DAY_MS);
        let between = inlined(
            #[inline(always)]
            |before: f64, after: f64| within * (after - before) + before,
        );
        let sin_declination = between(before.sin_declination, after.sin_declination);
        let cos_declination = between(before.cos_declination, after.cos_declination);
        let lead = between(before.lead_deg, after.lead_deg);
        let hour_angle_deg = within * 360.0 + place.longitude_deg() + lead - 180.0;
        let cos_hour_angle = cosine(hour_angle_deg);
        let sin_elevation = sin_declination * place.sin_latitude()
            + cos_declination * place.cos_latitude() * cos_hour_angle;
        let sin_elevation = within_one(sin_elevation);
        SunAngle { sin_elevation, hour_angle_deg, cos_hour_angle }
    }
}

/// The sun of one hour over one place, by the turn that it has made since the hour's start.
///
/// The addition theorem in place of a cosine for each instant: within 1e-12 of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Turning {
    day: SunDay,
    place: Place,
    start_ms: f64,
    turned: Turned<f64>,
}

/// How far the sun has turned from due south, degrees, with sine and cosine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turned<L> {
    pub(crate) deg: L,
    pub(crate) sin: L,
    pub(crate) cos: L,
}

impl Turning {
    /// The sun this many milliseconds into the hour, 0 to 3 600 000.
    pub(super) fn sun_after(&self, into_hour_ms: i64) -> SunAngle {
        self.sun_after_ms(whole(into_hour_ms))
    }

    /// Whether the sun may pass noon or midnight within the hour, a degree around it included.
    pub(super) fn passes_noon_or_midnight(&self) -> bool {
        let since_half_turn = (self.turned.deg + 1.0).rem_euclid(180.0);
        since_half_turn <= 2.0 || since_half_turn + 15.1 + 1.0 >= 180.0
    }

    /// [`Turning::sun_after`] for whole milliseconds that are counted in a column of numbers.
    #[inline(always)]
    pub(super) fn sun_after_ms<L: Lanes>(&self, into_hour_ms: L) -> SunAngle<L> {
        self.day.seen(
            into_hour_ms + self.start_ms,
            &self.place,
            #[inline(always)]
            |hour_angle_deg: L| {
                let further = (hour_angle_deg - self.turned.deg) * RADIANS_PER_DEGREE;
                let (sin, cos) = sin_cos_of_small(further);
                within_one(cos * self.turned.cos - sin * self.turned.sin)
            },
        )
    }
}

/// A sine or cosine that rounding may have carried beyond 1.
#[inline(always)]
fn within_one<L: Lanes>(value: L) -> L {
    value.greater(value.all(-1.0)).lesser(value.all(1.0))
}

impl SunAngle {
    /// Elevation of the sun's center, without refraction. -90 to 90°.
    pub fn elevation_deg(&self) -> f64 {
        self.sin_elevation.asin().to_degrees()
    }

    /// True solar time: 12 when the sun is due south (north of the equator). 0 to 24.
    pub fn solar_hour(&self) -> f64 {
        (self.hour_angle_deg / 15.0 + 12.0).rem_euclid(24.0)
    }

    /// How far west of due south the sun has turned, degrees; any number of full turns may be added.
    pub(crate) const fn hour_angle_deg(&self) -> f64 {
        self.hour_angle_deg
    }
}

impl<L: Lanes> SunAngle<L> {
    /// `cos(2π t / 24)` of the true solar time t: 1 at midnight, -1 at noon.
    pub(crate) fn cos_of_hour(&self) -> L {
        -self.cos_hour_angle
    }
}

impl DayRow {
    /// The sun at a midnight, read off its position in the sky of 0° N 0° E.
    fn at(midnight: DateTime<Utc>) -> Result<Self, SunError> {
        let origin = Place::new(0.0, 0.0, Length::from_meters(0.0))?;
        let seen = sun::position(midnight, &origin)?;
        let (up, level) = seen.elevation_deg.to_radians().sin_cos();
        let (east, north) = seen.azimuth_deg.to_radians().sin_cos();
        // Up, east and north at the origin are the Earth's own three axes.
        let overhead_longitude_deg = (level * east).atan2(up).to_degrees();
        let lead_deg = (180.0 - overhead_longitude_deg + 180.0).rem_euclid(360.0) - 180.0;
        let sin_declination = level * north;
        let cos_declination = (1.0 - sin_declination * sin_declination).sqrt();
        Ok(Self { sin_declination, cos_declination, lead_deg })
    }
}

#[expect(clippy::cast_precision_loss, reason = "a day's milliseconds fit in 2^53")]
#[inline(always)]
const fn whole(of_day_ms: i64) -> f64 {
    of_day_ms as f64
}

fn midnight(at: DateTime<Utc>) -> DateTime<Utc> {
    at.date_naive().and_time(NaiveTime::MIN).and_utc()
}
