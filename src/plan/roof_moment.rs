//! What is known of one moment on the roof, and of the water on it from step to step.

use chrono::{DateTime, TimeDelta, Utc};

use super::roof::{FILM_STEP, FILM_STEP_MINUTES};
use crate::physics::drying::{Film, FilmChange, FilmSheet, FilmWeather, SMOOTH_SHEET_HOLDS};
use crate::physics::optics::Optics;
use crate::physics::radiation::Radiation;
use crate::physics::surface::{Band, Range};
use crate::units::{RainDepth, Temperature, TemperatureDifference, WindSpeed};

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

impl RoofMoment {
    /// A moment of which nothing is known.
    pub(crate) const fn unknown(time: DateTime<Utc>) -> Self {
        Self {
            time,
            air: None,
            dew_point: None,
            humidity_pct: None,
            wind: None,
            cloud_cover_pct: None,
            surface_pressure_hpa: None,
            sun_elevation_deg: None,
            radiation: None,
            sky_emissivity: None,
            sky: None,
            convection_w_m2_k: None,
            sheet: None,
            dew_margin: None,
            heat_index: None,
            wind_chill: None,
        }
    }
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
    pub(super) start: DateTime<Utc>,
    /// Start of the shift.
    pub(super) from: DateTime<Utc>,
    pub(super) optics: Option<Optics>,
    /// `None` where the forecast lacks what a film needs.
    pub(super) steps: Vec<Option<FilmWeather>>,
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
            let step = weather.as_ref().and_then(|weather| film.pass(weather, FILM_STEP));
            time += TimeDelta::minutes(FILM_STEP_MINUTES);
            let Some(FilmChange { depth, evaporation_mm_per_h, is_frozen, .. }) = step else {
                // A forecast often opens with an hour of rain and nothing else.
                if moments.is_empty() && time < self.from {
                    continue;
                }
                break;
            };
            moments.push(FilmMoment { time, depth, evaporation_mm_per_h, frost: is_frozen });
        }
        moments
    }
}
