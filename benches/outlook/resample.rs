//! The seeded resampler: any number of sites and years out of two real ones.
//!
//! A year is put together of blocks of three days, each drawn from the real days within twelve days
//! of its date at the site's station, moved by up to a degree and a half; the cloud is drawn the same way, from the
//! days of O'Hare whose sky was told. Fronts, nights and storms stay those that were.

use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
use fairseam::units::{RainDepth, Temperature, WindSpeed};
use fairseam::weather::{Forecast, Hour, HourSum, Provenance};

use crate::dice::Dice;
use crate::real::{CloudDay, Real, RealDay};

/// Days of one drawing.
const BLOCK: usize = 3;
/// How far from its date a day may be drawn.
const REACH_DAYS: usize = 12;
/// How far a block's temperatures are moved, K.
const MOVED_K: f64 = 1.5;

/// One year's weather by columns, one value an hour from December 30 to January 2.
pub(crate) struct YearColumns {
    pub(crate) first: DateTime<Utc>,
    pub(crate) air_c: Vec<f64>,
    pub(crate) dew_point_c: Vec<f64>,
    pub(crate) wind_m_s: Vec<f64>,
    /// Not a number where none is told.
    pub(crate) gust_m_s: Vec<f64>,
    pub(crate) cloud_pct: Vec<f64>,
    pub(crate) sea_level_hpa: Vec<f64>,
    pub(crate) rain_mm: Vec<f64>,
}

/// The weather of one site in one year.
pub(crate) fn year(real: &Real, site: usize, year: i32) -> YearColumns {
    let mut dice = Dice::of(site, year);
    let station = &real.stations[site % 2];
    let first = NaiveDate::from_ymd_opt(year - 1, 12, 30).unwrap_or_default();
    let days = (NaiveDate::from_ymd_opt(year + 1, 1, 2).unwrap_or_default() - first).num_days() + 1;
    let days = usize::try_from(days).unwrap_or(0);
    let hours = days * 24;
    let column = || Vec::with_capacity(hours);
    let mut columns = YearColumns {
        first: first.and_time(chrono::NaiveTime::MIN).and_utc(),
        air_c: column(),
        dew_point_c: column(),
        wind_m_s: column(),
        gust_m_s: column(),
        cloud_pct: column(),
        sea_level_hpa: column(),
        rain_mm: column(),
    };
    let (mut from, mut sky, mut moved_k) = (0, 0, 0.0);
    for day in 0..days {
        if day % BLOCK == 0 {
            let date = first + TimeDelta::days(i64::try_from(day).unwrap_or(0));
            let ordinal = date.ordinal() as usize;
            from = drawn(&station.days, |day| day.ordinal, ordinal, &mut dice);
            sky = drawn(&real.clouds, |day| day.ordinal, ordinal, &mut dice);
            moved_k = MOVED_K * (2.0 * dice.share() - 1.0);
        }
        let weather: &RealDay = &station.days[(from + day % BLOCK) % station.days.len()];
        let cloud: &CloudDay = &real.clouds[(sky + day % BLOCK) % real.clouds.len()];
        for (hour, percent) in weather.hours.iter().zip(cloud.percent) {
            columns.air_c.push(hour.air_c + moved_k);
            columns.dew_point_c.push(hour.dew_point_c + moved_k);
            columns.wind_m_s.push(hour.wind_m_s);
            columns.gust_m_s.push(hour.gust_m_s);
            columns.cloud_pct.push(percent);
            columns.sea_level_hpa.push(hour.sea_level_hpa);
            columns.rain_mm.push(hour.rain_mm);
        }
    }
    columns
}

/// One of the days near `ordinal`, the year taken as a ring.
fn drawn<D>(days: &[D], of: impl Fn(&D) -> usize, ordinal: usize, dice: &mut Dice) -> usize {
    let near = |day: &D| {
        let apart = of(day).abs_diff(ordinal);
        apart.min(365_usize.abs_diff(apart)) <= REACH_DAYS
    };
    let count = days.iter().filter(|day| near(day)).count();
    let chosen = dice.one_of(count);
    days.iter().enumerate().filter(|(_, day)| near(day)).nth(chosen).map_or(0, |(index, _)| index)
}

impl YearColumns {
    /// Hours in them.
    pub(crate) fn hours(&self) -> usize {
        self.air_c.len()
    }

    /// Every column, in the order in which they are written for the peer.
    pub(crate) fn all(&self) -> [&[f64]; 7] {
        [
            &self.air_c,
            &self.dew_point_c,
            &self.wind_m_s,
            &self.gust_m_s,
            &self.cloud_pct,
            &self.sea_level_hpa,
            &self.rain_mm,
        ]
    }

    /// As a reader of weather files hands it on.
    pub(crate) fn forecast(&self) -> Forecast {
        let hour = |at: usize| Hour {
            air: Some(Temperature::from_celsius(self.air_c[at])),
            dew_point: Some(Temperature::from_celsius(self.dew_point_c[at])),
            wind: Some(WindSpeed::from_meters_per_second(self.wind_m_s[at])),
            gust: Some(self.gust_m_s[at])
                .filter(|gust| !gust.is_nan())
                .map(WindSpeed::from_meters_per_second),
            cloud_cover_pct: Some(self.cloud_pct[at]),
            sea_level_pressure_hpa: Some(self.sea_level_hpa[at]),
            rain: Some(HourSum::of_one_hour(RainDepth::from_millimeters(self.rain_mm[at]))),
            ..Hour::unknown(self.first + TimeDelta::hours(i64::try_from(at).unwrap_or(0)))
        };
        let provenance = Provenance {
            source: "bench".to_owned(),
            issued_at: None,
            fetched_at: self.first,
            stale: false,
            attribution: "drawn for a bench".to_owned(),
            time_zone: None,
        };
        let hours = (0..self.hours()).map(hour).collect();
        Forecast::from_hours(provenance, hours).unwrap_or_else(|error| unreachable!("{error}"))
    }
}
