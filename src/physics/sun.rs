//! Where the sun stands, and when it rises and sets.

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use solar_positioning::{
    Horizon, Location, RefractionCorrection, SolarEvents, SolarPositions, delta_t,
};

use crate::units::{Length, Temperature};

/// First and last year for which the difference of clock and Earth rotation is known well enough.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2100;
/// Longest stretch searched for rises and sets: a local day of 25 hours and its neighbors.
const LONGEST_SEARCH: TimeDelta = TimeDelta::hours(72);

/// A place on the ground, checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    sin_latitude: f64,
    cos_latitude: f64,
}

/// Where the center of the sun stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Angle above the level horizon; negative below it. -90 to 90°.
    pub elevation_deg: f64,
    /// From true north over east. 0 to 360°.
    pub azimuth_deg: f64,
}

/// A line that the sun's center crosses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// Sunrise and sunset: 50 arc minutes below the level horizon, for the sun's upper rim and the
    /// air's refraction. Source: USNO2024, "Rise, Set, and Twilight Definitions".
    Horizon,
    /// Begin and end of civil twilight: 6° below the horizon. Its source is that of `Horizon`.
    CivilTwilight,
}

/// How the sun meets a line in a stretch of time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Crossings {
    /// The sun stays above it: polar day, or the white nights where the line is civil twilight.
    AlwaysAbove,
    /// The sun stays below it: polar night.
    AlwaysBelow,
    /// It crosses at least once. Near a polar season there can be a rise without a set, or two
    /// sets in one local day.
    RisesAndSets {
        /// Ascending.
        rises: Vec<DateTime<Utc>>,
        /// Ascending.
        sets: Vec<DateTime<Utc>>,
    },
}

/// Why there is no sun to tell of.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SunError {
    /// Not a place on Earth.
    #[error(
        "expected a latitude from -90 to 90°, a longitude from -180 to 180° and an elevation from \
         -500 to 9000 m, found {latitude_deg}°, {longitude_deg}° and {elevation_m} m"
    )]
    Place {
        /// As given.
        latitude_deg: f64,
        /// As given.
        longitude_deg: f64,
        /// As given.
        elevation_m: f64,
    },
    /// Too far from today.
    #[error("expected a year from 1900 to 2100, found {year}")]
    Year {
        /// As given.
        year: i32,
    },
    /// Air in which refraction cannot be worked out.
    #[error(
        "expected air of 300 to 1100 hPa and -90 to 60 °C, found {surface_pressure_hpa} hPa and \
         {air_c} °C"
    )]
    Air {
        /// As given.
        surface_pressure_hpa: f64,
        /// As given.
        air_c: f64,
    },
    /// A stretch that runs backwards or is too long.
    #[error("expected a stretch of more than 0 and at most {longest_hours} hours, found {hours}")]
    Stretch {
        /// As given.
        hours: i64,
        /// What is allowed.
        longest_hours: i64,
    },
}

impl Place {
    /// A place on the ground: north and east positive, elevation above sea level.
    ///
    /// # Errors
    /// [`SunError::Place`] outside ±90°, ±180° and -500 to 9000 m, and for a value that is not a
    /// number.
    pub fn new(latitude_deg: f64, longitude_deg: f64, elevation: Length) -> Result<Self, SunError> {
        let elevation_m = elevation.meters();
        let sound = (-90.0..=90.0).contains(&latitude_deg)
            && (-180.0..=180.0).contains(&longitude_deg)
            && (-500.0..=9000.0).contains(&elevation_m);
        if !sound {
            return Err(SunError::Place { latitude_deg, longitude_deg, elevation_m });
        }
        let (sin_latitude, cos_latitude) = latitude_deg.to_radians().sin_cos();
        Ok(Self { latitude_deg, longitude_deg, elevation_m, sin_latitude, cos_latitude })
    }

    /// North positive.
    pub const fn latitude_deg(&self) -> f64 {
        self.latitude_deg
    }

    /// East positive.
    pub const fn longitude_deg(&self) -> f64 {
        self.longitude_deg
    }

    /// Sine of the latitude.
    pub(super) const fn sin_latitude(&self) -> f64 {
        self.sin_latitude
    }

    /// Cosine of the latitude, never negative.
    pub(super) const fn cos_latitude(&self) -> f64 {
        self.cos_latitude
    }

    /// Above sea level.
    pub const fn elevation(&self) -> Length {
        Length::from_meters(self.elevation_m)
    }

    const fn location(&self) -> Location {
        Location { latitude: self.latitude_deg, longitude: self.longitude_deg }
    }
}

/// True position of the sun's center, without the air's refraction.
///
/// Source: RedaAndreas2004, the solar position algorithm, ±0.0003°, by the crate
/// `solar-positioning`; the difference of clock and Earth rotation by EspenakMeeus2006.
///
/// # Errors
/// [`SunError::Year`] outside 1900 to 2100.
pub fn position(at: DateTime<Utc>, place: &Place) -> Result<SunPosition, SunError> {
    locate(at, place, clock_lag_s(at)?, None)
}

/// Position of the sun's center as seen through air of this pressure and temperature.
///
/// Source: RedaAndreas2004, eq. 42. The refraction ends where the sun's upper rim is below the
/// horizon.
///
/// # Errors
/// [`SunError::Year`] outside 1900 to 2100, [`SunError::Air`] outside 300 to 1100 hPa and -90 to
/// 60 °C.
pub fn apparent_position(
    at: DateTime<Utc>,
    place: &Place,
    surface_pressure_hpa: f64,
    air: Temperature,
) -> Result<SunPosition, SunError> {
    let wrong = SunError::Air { surface_pressure_hpa, air_c: air.celsius() };
    if !(300.0..=1100.0).contains(&surface_pressure_hpa) || !(-90.0..=60.0).contains(&air.celsius())
    {
        return Err(wrong);
    }
    let refraction =
        RefractionCorrection::new(surface_pressure_hpa, air.celsius()).map_err(|_| wrong)?;
    locate(at, place, clock_lag_s(at)?, Some(refraction))
}

/// When the sun crosses `line` in `[from, to)`, which for a day are two local midnights.
///
/// The times are those of a level horizon at sea level; hills and air of an unusual density move
/// them by minutes. Source: USNO2024 for the lines, RedaAndreas2004 for the sun.
///
/// # Errors
/// [`SunError::Year`] outside 1900 to 2100, [`SunError::Stretch`] unless the stretch is longer
/// than nothing and at most 72 hours.
pub fn crossings(
    from: DateTime<Utc>,
    to: DateTime<Utc>,
    place: &Place,
    line: Line,
) -> Result<Crossings, SunError> {
    if to <= from || to - from > LONGEST_SEARCH {
        let longest_hours = LONGEST_SEARCH.num_hours();
        return Err(SunError::Stretch { hours: (to - from).num_hours(), longest_hours });
    }
    let lag_s = clock_lag_s(from)?;
    // The search looks in (start, end]; one millisecond less at both ends makes it [from, to).
    let from_just_before = from - TimeDelta::milliseconds(1);
    let to_just_before = to - TimeDelta::milliseconds(1);
    let events = SolarEvents::new();
    let horizon = line.horizon();
    let out_of_years = |_| SunError::Year { year: from.year() };
    let all = |next: &dyn Fn(DateTime<Utc>) -> solar_positioning::Result<Option<DateTime<Utc>>>| {
        let mut found = Vec::new();
        let mut start = from_just_before;
        while let Some(event) = next(start).map_err(out_of_years)? {
            found.push(event);
            // A step of a second keeps the search from finding the same crossing again.
            start = event + TimeDelta::seconds(1);
            if start >= to_just_before {
                break;
            }
        }
        Ok::<_, SunError>(found)
    };
    let place_at = place.location();
    let rises = all(&|start| events.next_rise(&start, &to_just_before, place_at, lag_s, horizon))?;
    let sets = all(&|start| events.next_set(&start, &to_just_before, place_at, lag_s, horizon))?;
    if rises.is_empty() && sets.is_empty() {
        let above = position(from, place)?.elevation_deg > horizon.elevation_angle();
        return Ok(if above { Crossings::AlwaysAbove } else { Crossings::AlwaysBelow });
    }
    Ok(Crossings::RisesAndSets { rises, sets })
}

impl Line {
    /// The sun's elevation on the line, without refraction.
    pub const fn elevation_deg(self) -> f64 {
        self.horizon().elevation_angle()
    }

    const fn horizon(self) -> Horizon {
        match self {
            Self::Horizon => Horizon::SunriseSunset,
            Self::CivilTwilight => Horizon::CivilTwilight,
        }
    }
}

/// How far the clock lags behind uniform time, in seconds.
fn clock_lag_s(at: DateTime<Utc>) -> Result<f64, SunError> {
    let wrong = SunError::Year { year: at.year() };
    if !YEARS.contains(&at.year()) {
        return Err(wrong);
    }
    delta_t::estimate_from_date_like(&at).map_err(|_| wrong)
}

fn locate(
    at: DateTime<Utc>,
    place: &Place,
    clock_lag_s: f64,
    refraction: Option<RefractionCorrection>,
) -> Result<SunPosition, SunError> {
    SolarPositions::new()
        .at(&at, place.location(), place.elevation_m, clock_lag_s, refraction)
        .map(|sun| SunPosition { elevation_deg: sun.elevation_angle(), azimuth_deg: sun.azimuth() })
        .map_err(|_| SunError::Year { year: at.year() })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RedaAndreas2004, table A5.1, with the example's own clock lag of 67 s.
    #[test]
    fn the_worked_example_of_the_algorithm() {
        let at = DateTime::parse_from_rfc3339("2003-10-17T12:30:30-07:00").unwrap().to_utc();
        let place = Place::new(39.742_476, -105.178_6, Length::from_meters(1830.14)).unwrap();
        let air = RefractionCorrection::new(820.0, 11.0).unwrap();
        let seen = locate(at, &place, 67.0, Some(air)).unwrap();
        assert!((90.0 - seen.elevation_deg - 50.111_62).abs() < 1e-5, "{seen:?}");
        assert!((seen.azimuth_deg - 194.340_241).abs() < 1e-5, "{seen:?}");
        let true_one = locate(at, &place, 67.0, None).unwrap();
        assert!((true_one.elevation_deg - 39.872_046).abs() < 1e-5, "{true_one:?}");
    }
}
