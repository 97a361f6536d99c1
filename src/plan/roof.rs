//! The roof through the day: sun, sky, sheet and the water on it, minute by minute.
//!
//! What the forecast does not carry stays unknown: no cloud and no radiation, no sheet temperature.

use chrono::{DateTime, TimeDelta, Utc};

use crate::physics::drying::{
    Film, FilmSheet, FilmState, FilmStep, FilmWeather, SMOOTH_SHEET_HOLDS,
};
use crate::physics::ephemeris::Ephemeris;
use crate::physics::optics::{Optics, Preset};
use crate::physics::radiation::{Radiation, SunHour};
use crate::physics::surface::{self, Band, Range, Surroundings};
use crate::physics::{comfort, humidity, pressure, sky, sun};
use crate::site::{Color, Site};
use crate::units::{Length, RainDepth, Temperature, TemperatureDifference, WindSpeed};
use crate::weather::{Forecast, Hour, floor_hour};

/// Steps of the film's run. By the bucket of `physics::drying` is made for ten at most.
const FILM_STEP_MINUTES: i64 = 5;
/// How long before the shift the film's run begins: from the evening before.
const FILM_RUN_UP: TimeDelta = TimeDelta::hours(14);

/// Every number behind one moment on the roof. `None` is unknown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoofMoment {
    /// Which moment.
    pub time: DateTime<Utc>,
    /// Air temperature.
    pub air: Option<Temperature>,
    /// Dew point, from the forecast or from its humidity.
    pub dew_point: Option<Temperature>,
    /// Relative humidity, from the forecast or from its dew point.
    pub humidity_pct: Option<f64>,
    /// Mean wind, 10 m above ground.
    pub wind: Option<WindSpeed>,
    /// Share of the sky under cloud.
    pub cloud_cover_pct: Option<f64>,
    /// Air pressure at the roof.
    pub surface_pressure_hpa: Option<f64>,
    /// Elevation of the sun's center, without refraction.
    pub sun_elevation_deg: Option<f64>,
    /// Shortwave radiation on the level, and where it came from.
    pub radiation: Option<Radiation>,
    /// Emissivity of the sky with its cloud.
    pub sky_emissivity: Option<f64>,
    /// Temperature at which the sky radiates.
    pub sky: Option<Temperature>,
    /// Heat transfer from sheet to air, W/(m² K).
    pub convection_w_m2_k: Option<Range<f64>>,
    /// Temperature of the dry sheet.
    pub sheet: Option<Range<Temperature>>,
    /// Sheet less the dew or frost point.
    pub dew_margin: Option<TemperatureDifference>,
    /// Heat index.
    pub heat_index: Option<Temperature>,
    /// Wind chill, where it is defined.
    pub wind_chill: Option<Temperature>,
}

/// Water on the sheet at the end of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmMoment {
    /// End of the step.
    pub time: DateTime<Utc>,
    /// Water left.
    pub depth: RainDepth,
    /// What the air takes from a wet sheet, mm/h; negative where dew or frost settles.
    pub evaporation_mm_per_h: f64,
    /// It is frozen.
    pub frost: bool,
}

/// The weather of a film's steps, worked out once for every convection that it is run with.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmRun {
    start: DateTime<Utc>,
    /// Start of the shift.
    from: DateTime<Utc>,
    optics: Option<Optics>,
    /// `None` where the forecast lacks what a film needs.
    steps: Vec<Option<FilmWeather>>,
}

impl FilmRun {
    /// The water on the sheet, dry at the start of the run, which is the first step that the
    /// forecast carries.
    ///
    /// It ends where the forecast no longer carries it: an unknown rain may have wetted the sheet.
    pub fn with(&self, convection: Band) -> Vec<FilmMoment> {
        let Some(mut film) = self.optics.and_then(|optics| {
            Film::dry(FilmSheet { optics, holds: SMOOTH_SHEET_HOLDS, convection })
        }) else {
            return Vec::new();
        };
        let mut moments = Vec::new();
        let mut time = self.start;
        for weather in &self.steps {
            let step = weather.as_ref().and_then(|weather| film.step(weather, 5.0));
            time += TimeDelta::minutes(FILM_STEP_MINUTES);
            let Some(FilmStep { depth, evaporation_mm_per_h, state, .. }) = step else {
                // A forecast often opens with an hour of rain and nothing else.
                if moments.is_empty() && time < self.from {
                    continue;
                }
                break;
            };
            let frost = state == FilmState::Frost;
            moments.push(FilmMoment { time, depth, evaporation_mm_per_h, frost });
        }
        moments
    }
}

/// The roof of one site under one forecast.
pub struct Roof<'a> {
    forecast: &'a Forecast,
    ephemeris: Option<Ephemeris>,
    place: Option<sun::Place>,
    elevation: Length,
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
        let elevation = elevation_or_sea_level(site);
        let ends = (from - FILM_RUN_UP - TimeDelta::days(1), to + TimeDelta::days(1));
        Self {
            forecast,
            ephemeris: Ephemeris::covering(ends.0, ends.1).ok(),
            place: sun::Place::new(site.latitude_deg, site.longitude_deg, elevation).ok(),
            elevation,
            optics: sheet_optics(site),
        }
    }

    /// Reflectance and emittance of the sheet.
    pub const fn optics(&self) -> Option<Optics> {
        self.optics
    }

    /// Everything that is known of one moment.
    pub fn at(&self, time: DateTime<Utc>) -> RoofMoment {
        let hour = SunOfHour::new(self, floor_hour(time));
        self.moment(time, &hour)
    }

    /// One moment for each minute of `[from, to)`.
    pub fn minutes(&self, from: DateTime<Utc>, to: DateTime<Utc>) -> Vec<RoofMoment> {
        let mut hour = SunOfHour::new(self, floor_hour(from));
        (0..(to - from).num_minutes())
            .map(|minute| {
                let time = from + TimeDelta::minutes(minute);
                if floor_hour(time) != hour.start {
                    hour = SunOfHour::new(self, floor_hour(time));
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
        let mut hour = SunOfHour::new(self, floor_hour(start));
        let mut time = start;
        // A sheet of unknown optics has no film, so nobody asks for its steps.
        while time < to && self.optics.is_some() {
            let middle = time + TimeDelta::seconds(FILM_STEP_MINUTES * 30);
            if floor_hour(middle) != hour.start {
                hour = SunOfHour::new(self, floor_hour(middle));
            }
            steps.push(self.film_weather(middle, &hour));
            time += TimeDelta::minutes(FILM_STEP_MINUTES);
        }
        FilmRun { start, from, optics: self.optics, steps }
    }

    fn film_weather(&self, at: DateTime<Utc>, sun_hour: &SunOfHour<'_>) -> Option<FilmWeather> {
        let moment = self.moment(at, sun_hour);
        let hour = self.forecast.hour_of(at)?;
        Some(FilmWeather {
            around: Surroundings {
                air: moment.air?,
                sky: moment.sky?,
                shortwave_w_m2: moment.radiation?.w_m2,
            },
            dew_point: moment.dew_point?,
            wind: moment.wind?,
            surface_pressure_hpa: moment.surface_pressure_hpa?,
            rain_mm_per_h: hour.rain?.share.millimeters(),
        })
    }

    fn moment(&self, time: DateTime<Utc>, sun_hour: &SunOfHour<'_>) -> RoofMoment {
        let forecast = self.forecast;
        let instant = |field: fn(&Hour) -> Option<f64>| forecast.instant_at(time, field);
        let air = forecast.air_at(time);
        let wind = forecast.wind_at(time);
        let told_humidity = instant(|hour| hour.humidity_pct);
        let dew_point =
            forecast.dew_point_at(time).or_else(|| humidity::dew_point(air?, told_humidity?));
        let humidity_pct =
            told_humidity.or_else(|| humidity::relative_humidity_pct(air?, dew_point?));
        let cloud_cover_pct = instant(|hour| hour.cloud_cover_pct);
        let surface_pressure_hpa = instant(|hour| hour.surface_pressure_hpa)
            .or_else(|| {
                let at_sea = instant(|hour| hour.sea_level_pressure_hpa)?;
                pressure::at_elevation_hpa(at_sea, self.elevation)
            })
            .or_else(|| pressure::standard_hpa(self.elevation));
        let angle = sun_hour.sun.as_ref().and_then(|sun| sun.sun_at(time));
        let told_radiation = forecast.hour_of(time).and_then(|hour| hour.shortwave_w_m2);
        let radiation = sun_hour
            .sun
            .as_ref()
            .and_then(|sun| sun.radiation(time, told_radiation, cloud_cover_pct));
        let sky_emissivity = clear_sky_emissivity(dew_point, angle, surface_pressure_hpa)
            .and_then(|clear| sky::with_cloud(clear, cloud_cover_pct?));
        let sky = sky_emissivity.and_then(|emissivity| sky::temperature(air?, emissivity));
        let sheet = self.sheet(air, sky, radiation, wind);
        let dew_margin =
            sheet.and_then(|sheet| Some(sheet.nominal - humidity::condensation(dew_point?)?.at()));
        RoofMoment {
            time,
            air,
            dew_point,
            humidity_pct,
            wind,
            cloud_cover_pct,
            surface_pressure_hpa,
            sun_elevation_deg: angle.map(|angle| angle.elevation_deg()),
            radiation,
            sky_emissivity,
            sky,
            convection_w_m2_k: wind.and_then(surface::convection_w_m2_k),
            sheet,
            dew_margin,
            heat_index: air.and_then(|air| comfort::heat_index(air, humidity_pct?)),
            wind_chill: air.and_then(|air| comfort::wind_chill(air, wind?)),
        }
    }

    fn sheet(
        &self,
        air: Option<Temperature>,
        sky: Option<Temperature>,
        radiation: Option<Radiation>,
        wind: Option<WindSpeed>,
    ) -> Option<Range<Temperature>> {
        let around = Surroundings { air: air?, sky: sky?, shortwave_w_m2: radiation?.w_m2 };
        surface::sheet_range(self.optics?, &around, wind?)
    }
}

/// The sun of one hour: what every minute of the hour shares.
struct SunOfHour<'a> {
    start: DateTime<Utc>,
    sun: Option<SunHour<'a>>,
}

impl<'a> SunOfHour<'a> {
    fn new(roof: &'a Roof<'_>, start: DateTime<Utc>) -> Self {
        let sun = roof
            .ephemeris
            .as_ref()
            .zip(roof.place.as_ref())
            .and_then(|(ephemeris, place)| SunHour::new(ephemeris, place, start));
        Self { start, sun }
    }
}

fn clear_sky_emissivity(
    dew_point: Option<Temperature>,
    angle: Option<crate::physics::ephemeris::SunAngle>,
    surface_pressure_hpa: Option<f64>,
) -> Option<f64> {
    sky::martin_berdahl1984(dew_point?, angle?.solar_hour, surface_pressure_hpa?)
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
