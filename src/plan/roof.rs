//! The roof through the day: sun, sky, sheet and the water on it, minute by minute.
//!
//! What the forecast does not carry stays unknown: no cloud and no radiation, no sheet temperature.

use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};

use super::roof_moment::{FilmMoment, FilmRun, RoofMoment};
use crate::physics::drying::FilmWeather;
use crate::physics::ephemeris::{Ephemeris, SunAngle, SunDay, Turned};
use crate::physics::optics::{Optics, Preset};
use crate::physics::pressure::Height;
use crate::physics::radiation::{Radiation, SunHour};
use crate::physics::surface::{self, Band, Range, Surroundings};
use crate::physics::{comfort, humidity, sky, sun};
use crate::site::{Color, Site};
use crate::units::{Length, Temperature, WindSpeed};
use crate::weather::{Forecast, Hour, HourLine, floor_hour};

/// Steps of the film's run. By the bucket of `physics::drying` is made for ten at most.
pub(crate) const FILM_STEP_MINUTES: i64 = 5;
/// The same, to calculate with.
pub(crate) const FILM_STEP: f64 = 5.0;
/// How long before the shift the film's run begins: from the evening before.
pub(crate) const FILM_RUN_UP: TimeDelta = TimeDelta::hours(14);

/// The roof of one site under one forecast.
pub struct Roof<'a> {
    forecast: &'a Forecast,
    ephemeris: Option<Arc<Ephemeris>>,
    place: Option<sun::Place>,
    height: Height,
    optics: Option<Optics>,
}

impl<'a> Roof<'a> {
    /// The roof of `site` for every moment from the evening before `from` to a day after `to`.
    pub fn new(
        site: &Site,
        forecast: &'a Forecast,
        from: DateTime<Utc>,
        to: DateTime<Utc>,
    ) -> Self {
        Self::under(site, forecast, Self::ephemeris(from, to))
    }

    /// The sun for every moment from the evening before `from` to a day after `to`, which roofs can
    /// share; `None` outside 1900 to 2100.
    pub fn ephemeris(from: DateTime<Utc>, to: DateTime<Utc>) -> Option<Arc<Ephemeris>> {
        let ends = (from - FILM_RUN_UP - TimeDelta::days(1), to + TimeDelta::days(1));
        Ephemeris::covering(ends.0, ends.1).ok().map(Arc::new)
    }

    /// The roof of `site` under a sun that is known already, by [`Roof::ephemeris`].
    pub fn under(site: &Site, forecast: &'a Forecast, sun: Option<Arc<Ephemeris>>) -> Self {
        let elevation = elevation_or_sea_level(site);
        Self {
            forecast,
            ephemeris: sun,
            place: sun::Place::new(site.latitude_deg, site.longitude_deg, elevation).ok(),
            height: Height::new(elevation),
            optics: sheet_optics(site),
        }
    }

    /// Reflectance and emittance of the sheet.
    pub const fn optics(&self) -> Option<Optics> {
        self.optics
    }

    /// Everything that is known of one moment.
    pub fn at(&self, time: DateTime<Utc>) -> RoofMoment {
        let hour = RoofHour::new(self, floor_hour(time));
        self.moment(time, &hour)
    }

    /// One moment for each minute of `[from, to)`.
    pub fn minutes(&self, from: DateTime<Utc>, to: DateTime<Utc>) -> Vec<RoofMoment> {
        let mut hour = RoofHour::new(self, floor_hour(from));
        (0..(to - from).num_minutes())
            .map(|minute| {
                let time = from + TimeDelta::minutes(minute);
                if !hour.holds(time) {
                    hour = RoofHour::new(self, floor_hour(time));
                }
                self.moment(time, &hour)
            })
            .collect()
    }

    /// The water on the sheet from the evening before `from` to `to`; see [`Roof::film_run`].
    pub fn film(
        &self,
        from: DateTime<Utc>,
        to: DateTime<Utc>,
        convection: Band,
    ) -> Vec<FilmMoment> {
        self.film_run(from, to).with(convection)
    }

    /// The weather of every step from the evening before `from` to `to`, over which films are run.
    pub fn film_run(&self, from: DateTime<Utc>, to: DateTime<Utc>) -> FilmRun {
        let start = (from - FILM_RUN_UP).max(self.forecast.first());
        let mut steps = Vec::new();
        let mut hour = RoofHour::new(self, floor_hour(start));
        let mut time = start;
        // A sheet of unknown optics has no film, so nobody asks for its steps.
        while time < to && self.optics.is_some() {
            let middle = time + TimeDelta::seconds(FILM_STEP_MINUTES * 30);
            if !hour.holds(middle) {
                hour = RoofHour::new(self, floor_hour(middle));
            }
            steps.push(hour.film_weather(hour.second(middle)));
            time += TimeDelta::minutes(FILM_STEP_MINUTES);
        }
        FilmRun { start, from, optics: self.optics, steps }
    }

    /// The hour that begins so many seconds after 1970, a whole hour of UTC.
    ///
    /// `sun` is [`Roof::sun_hour`] of the same hour.
    pub(crate) fn hour_under(&self, start_s: i64, sun: Option<SunHour>) -> RoofHour<'_> {
        RoofHour::under(self, start_s, sun)
    }

    /// The sun over that hour; `None` where it is not known.
    pub(crate) fn sun_hour(&self, start_s: i64) -> Option<SunHour> {
        let (ephemeris, place) = self.ephemeris.as_deref().zip(self.place.as_ref())?;
        SunHour::from_unix_ms(ephemeris, place, 1000 * start_s)
    }

    /// [`Roof::sun_hour`] where it is known how far the sun has turned by then.
    pub(crate) fn sun_hour_turned(&self, start_s: i64, turned: Turned<f64>) -> Option<SunHour> {
        let (day, of_day_ms, place) = self.sun_day(1000 * start_s)?;
        Some(SunHour::turned(&day, place, of_day_ms, 1000 * start_s, turned))
    }

    /// The day of an instant, how many milliseconds of it have passed, and the place that sees it.
    pub(crate) fn sun_day(&self, unix_ms: i64) -> Option<(SunDay, i64, &sun::Place)> {
        let (day, of_day_ms) = self.ephemeris.as_deref()?.day_of(unix_ms)?;
        Some((day, of_day_ms, self.place.as_ref()?))
    }

    /// The roof's height above sea level.
    pub(crate) const fn height(&self) -> Height {
        self.height
    }

    fn moment(&self, time: DateTime<Utc>, hour: &RoofHour<'_>) -> RoofMoment {
        let overhead = hour.overhead(hour.second(time));
        let Overhead { air, dew_point, wind, .. } = overhead;
        let humidity_pct =
            overhead.told_humidity.or_else(|| humidity::relative_humidity_pct(air?, dew_point?));
        let sheet = self.sheet(&overhead);
        let dew_margin =
            sheet.and_then(|sheet| Some(sheet.nominal - humidity::condensation(dew_point?)?.at()));
        RoofMoment {
            time,
            air,
            dew_point,
            humidity_pct,
            wind,
            cloud_cover_pct: overhead.cloud_cover_pct,
            surface_pressure_hpa: overhead.surface_pressure_hpa,
            sun_elevation_deg: overhead.angle.map(|angle| angle.elevation_deg()),
            radiation: overhead.radiation,
            sky_emissivity: overhead.sky_emissivity,
            sky: overhead.sky,
            convection_w_m2_k: wind.and_then(surface::convection_w_m2_k),
            sheet,
            dew_margin,
            heat_index: air.and_then(|air| comfort::heat_index(air, humidity_pct?)),
            wind_chill: air.and_then(|air| comfort::wind_chill(air, wind?)),
        }
    }

    fn sheet(&self, overhead: &Overhead) -> Option<Range<Temperature>> {
        surface::sheet_range(self.optics?, &overhead.surroundings()?, overhead.wind?)
    }
}

/// Air, sun and sky of one moment; see [`RoofMoment`] for each.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Overhead {
    pub(crate) air: Option<Temperature>,
    pub(crate) dew_point: Option<Temperature>,
    /// The forecast's own humidity.
    told_humidity: Option<f64>,
    pub(crate) wind: Option<WindSpeed>,
    pub(crate) cloud_cover_pct: Option<f64>,
    pub(crate) surface_pressure_hpa: Option<f64>,
    pub(crate) angle: Option<SunAngle>,
    pub(crate) radiation: Option<Radiation>,
    sky_emissivity: Option<f64>,
    pub(crate) sky: Option<Temperature>,
}

impl Overhead {
    fn surroundings(&self) -> Option<Surroundings> {
        let shortwave_w_m2 = self.radiation?.w_m2;
        Some(Surroundings { air: self.air?, sky: self.sky?, shortwave_w_m2 })
    }
}

/// One hour over a roof: how its weather runs and how the sun moves. What every minute of the hour
/// shares is worked out once.
pub(crate) struct RoofHour<'a> {
    pub(super) roof: &'a Roof<'a>,
    /// Seconds since 1970.
    start_s: i64,
    sun: Option<SunHour>,
    pub(super) air: HourLine,
    pub(super) dew_point: HourLine,
    humidity: HourLine,
    pub(super) wind: HourLine,
    pub(super) cloud: HourLine,
    pub(super) surface_pressure: HourLine,
    pub(super) sea_level_pressure: HourLine,
    pub(super) told_radiation: Option<f64>,
    pub(super) rain_mm_per_h: Option<f64>,
}

impl<'a> RoofHour<'a> {
    fn new(roof: &'a Roof<'_>, start: DateTime<Utc>) -> Self {
        let start_s = start.timestamp();
        Self::under(roof, start_s, roof.sun_hour(start_s))
    }

    fn under(roof: &'a Roof<'_>, start_s: i64, sun: Option<SunHour>) -> Self {
        let forecast = roof.forecast;
        // An hour before the series is as unknown as one after it.
        let since_first = (start_s - forecast.first().timestamp()).div_euclid(3600);
        let index = usize::try_from(since_first).unwrap_or(usize::MAX - 2);
        let line = |field: fn(&Hour) -> Option<f64>| forecast.line(index, field);
        let hour = forecast.hours().get(index);
        Self {
            roof,
            start_s,
            sun,
            air: line(|hour| hour.air.map(Temperature::celsius)),
            dew_point: line(|hour| hour.dew_point.map(Temperature::celsius)),
            humidity: line(|hour| hour.humidity_pct),
            wind: line(|hour| hour.wind.map(WindSpeed::meters_per_second)),
            cloud: line(|hour| hour.cloud_cover_pct),
            surface_pressure: line(|hour| hour.surface_pressure_hpa),
            sea_level_pressure: line(|hour| hour.sea_level_pressure_hpa),
            told_radiation: hour.and_then(|hour| hour.shortwave_w_m2),
            rain_mm_per_h: hour.and_then(|hour| Some(hour.rain?.share.millimeters())),
        }
    }

    /// The sun of the hour, where it is known.
    pub(crate) const fn sun(&self) -> Option<&SunHour> {
        self.sun.as_ref()
    }

    /// Seconds of the hour that have passed at `time`.
    fn second(&self, time: DateTime<Utc>) -> i64 {
        time.timestamp() - self.start_s
    }

    /// Whether `time` lies in it.
    fn holds(&self, time: DateTime<Utc>) -> bool {
        (0..3600).contains(&self.second(time))
    }

    /// What a film of water meets at a second of the hour.
    pub(crate) fn film_weather(&self, second: i64) -> Option<FilmWeather> {
        let rain_mm_per_h = self.rain_mm_per_h?;
        let overhead = self.overhead(second);
        Some(FilmWeather {
            around: overhead.surroundings()?,
            dew_point: overhead.dew_point?,
            wind: overhead.wind?,
            surface_pressure_hpa: overhead.surface_pressure_hpa?,
            rain_mm_per_h,
        })
    }

    /// Temperature of the dry sheet at a second of the hour: the nominal one of
    /// [`RoofMoment::sheet`].
    pub(crate) fn nominal_sheet(&self, second: i64) -> Option<Temperature> {
        let overhead = self.overhead(second);
        let convection = surface::convection_w_m2_k(overhead.wind?)?;
        let around = overhead.surroundings()?;
        surface::sheet_temperature(self.roof.optics?, &around, convection.nominal)
    }

    /// Air at a second of the hour.
    pub(crate) fn air(&self, second: i64) -> Option<Temperature> {
        self.air.at(second).map(Temperature::from_celsius)
    }

    /// Air, sun and sky at a second of the hour.
    pub(crate) fn overhead(&self, second: i64) -> Overhead {
        let air = self.air(second);
        let wind = self.wind.at(second).map(WindSpeed::from_meters_per_second);
        let told_humidity = self.humidity.at(second);
        let dew_point = self
            .dew_point
            .at(second)
            .map(Temperature::from_celsius)
            .or_else(|| humidity::dew_point(air?, told_humidity?));
        let cloud_cover_pct = self.cloud.at(second);
        let height = &self.roof.height;
        let surface_pressure_hpa = self
            .surface_pressure
            .at(second)
            .or_else(|| height.with_sea_level_hpa(self.sea_level_pressure.at(second)?))
            .or_else(|| height.standard_hpa());
        let angle = self.sun.as_ref().map(|sun| sun.sun_after(second * 1000));
        let radiation = self.sun.as_ref().zip(angle.as_ref()).and_then(|(sun, angle)| {
            sun.radiation_under(angle, self.told_radiation, cloud_cover_pct)
        });
        let sky_emissivity = clear_sky_emissivity(dew_point, angle, surface_pressure_hpa)
            .and_then(|clear| sky::with_cloud(clear, cloud_cover_pct?));
        let sky = sky_emissivity.and_then(|emissivity| sky::temperature(air?, emissivity));
        Overhead {
            air,
            dew_point,
            told_humidity,
            wind,
            cloud_cover_pct,
            surface_pressure_hpa,
            angle,
            radiation,
            sky_emissivity,
            sky,
        }
    }
}

fn clear_sky_emissivity(
    dew_point: Option<Temperature>,
    angle: Option<SunAngle>,
    surface_pressure_hpa: Option<f64>,
) -> Option<f64> {
    sky::clear_emissivity(dew_point?, angle?.cos_of_hour(), surface_pressure_hpa?)
}

/// Without an elevation the roof is taken at sea level: it moves the air's pressure only.
pub(super) fn elevation_or_sea_level(site: &Site) -> Length {
    site.elevation.unwrap_or(Length::from_meters(0.0))
}

/// The sheet's optical numbers: measured ones where the site gives them, else its color's.
pub(super) fn sheet_optics(site: &Site) -> Option<Optics> {
    let optics = site.sheet.optics;
    let preset = match optics.color {
        Color::White => Preset::White,
        Color::Gray => Preset::Gray,
        Color::Tan => Preset::Tan,
        Color::Black => Preset::Black,
    };
    Optics::of_sheet(preset, optics.aged, optics.solar_reflectance, optics.thermal_emittance)
}
