//! The film of water on a smooth sheet: rain, dew and frost fill it, sun and wind dry it.

use super::evaporation::{Exchange, WetSheet, exchange};
use super::optics::Optics;
use super::surface::{Band, Surroundings, convection_w_m2_k, sheet_temperature};
use crate::units::{RainDepth, Temperature, WindSpeed};

/// What a smooth level sheet holds between its drops before water runs to the drain: 0.3 mm, an
/// assumption; films of 0.1 to 0.3 mm stay on smooth sheet. Ponds hold more and are not followed.
pub const SMOOTH_SHEET_HOLDS: RainDepth = RainDepth::from_millimeters(0.3);

/// A sheet on which water can stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmSheet {
    /// How it takes up sun and sheds heat.
    pub optics: Optics,
    /// Most water that it holds, 0 to 10 mm; see [`SMOOTH_SHEET_HOLDS`].
    pub holds: RainDepth,
    /// Which end of the convection's range to take.
    pub convection: Band,
}

/// The weather of one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmWeather {
    /// Air, sky and sun.
    pub around: Surroundings,
    /// Dew point of the air, -80 to 50 °C.
    pub dew_point: Temperature,
    /// Wind 10 m above ground, 0 to 60 m/s.
    pub wind: WindSpeed,
    /// Air pressure at the roof, 300 to 1100 hPa.
    pub surface_pressure_hpa: f64,
    /// Rain and melted snow, 0 to 500 mm/h.
    pub rain_mm_per_h: f64,
}

/// The film on a sheet, run by steps of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    sheet: FilmSheet,
    water_mm: f64,
}

/// What a step came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmStep {
    /// Water on the sheet at the end of the step.
    pub depth: RainDepth,
    /// What the air takes from a wet sheet, mm/h; negative where dew or frost settles.
    pub evaporation_mm_per_h: f64,
    /// The sheet's temperature: wet while it holds water or takes it up, else dry.
    pub sheet: Temperature,
    /// How the sheet is at the end of the step.
    pub state: FilmState,
    /// Minutes into the step at which the last water went, if it went in this step.
    pub dry_after_minutes: Option<f64>,
}

/// What happened to the water in a step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FilmChange {
    /// Water on the sheet at the end of the step.
    pub(crate) depth: RainDepth,
    /// See [`FilmStep`].
    pub(crate) evaporation_mm_per_h: f64,
    /// Temperature of the sheet where it is wet.
    wet_sheet: Temperature,
    /// There is water on the sheet, and it is frozen.
    pub(crate) is_frozen: bool,
    /// See [`FilmStep`].
    dry_after_minutes: Option<f64>,
}

/// How a sheet is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmState {
    /// No water on it.
    Dry,
    /// Water on it.
    Wet,
    /// Frost or ice on it: water on a sheet below 0 °C.
    Frost,
}

impl Film {
    /// A dry sheet; `None` unless it holds 0 to 10 mm.
    pub fn dry(sheet: FilmSheet) -> Option<Self> {
        let holds = (0.0..=10.0).contains(&sheet.holds.millimeters());
        holds.then_some(Self { sheet, water_mm: 0.0 })
    }

    /// A sheet that holds all it can; `None` unless that is 0 to 10 mm.
    pub fn full(sheet: FilmSheet) -> Option<Self> {
        Self::dry(sheet).map(|film| Self { water_mm: sheet.holds.millimeters(), ..film })
    }

    /// Water on the sheet now; never negative, never more than the sheet holds.
    pub const fn depth(&self) -> RainDepth {
        RainDepth::from_millimeters(self.water_mm)
    }

    /// Lets `minutes` pass in this weather, which is taken to hold all through the step.
    ///
    /// A bucket: rain and dew fill it up to what the sheet holds, the rest runs off; sun, air and
    /// wind empty it down to nothing (see [`exchange`]). Made for steps of 10 minutes or less.
    /// `None`, with the film left as it was, where a value of the weather is outside its range or
    /// the step is not above 0 and at most 60 minutes.
    pub fn step(&mut self, weather: &FilmWeather, minutes: f64) -> Option<FilmStep> {
        let change = self.pass(weather, minutes)?;
        let is_dry = self.water_mm <= 0.0;
        let sheet = if is_dry {
            let convection = convection_w_m2_k(weather.wind)?.of(self.sheet.convection);
            sheet_temperature(self.sheet.optics, &weather.around, convection)?
        } else {
            change.wet_sheet
        };
        let state = match (is_dry, change.is_frozen) {
            (true, _) => FilmState::Dry,
            (false, true) => FilmState::Frost,
            (false, false) => FilmState::Wet,
        };
        Some(FilmStep {
            depth: change.depth,
            evaporation_mm_per_h: change.evaporation_mm_per_h,
            sheet,
            state,
            dry_after_minutes: change.dry_after_minutes,
        })
    }

    /// [`Film::step`] without the temperature of a sheet that is dry, which the water needs not.
    pub(crate) fn pass(&mut self, weather: &FilmWeather, minutes: f64) -> Option<FilmChange> {
        let sound =
            minutes > 0.0 && minutes <= 60.0 && (0.0..=500.0).contains(&weather.rain_mm_per_h);
        if !sound {
            return None;
        }
        let wet = wet_sheet(&self.sheet, weather)?;
        let Exchange { evaporation_mm_per_h, sheet: wet_sheet, .. } = exchange(&wet)?;
        let before_mm = self.water_mm;
        let gain_mm_per_h = weather.rain_mm_per_h - evaporation_mm_per_h;
        self.take_up(gain_mm_per_h, minutes);
        let is_dry = self.water_mm <= 0.0;
        let dry_after_minutes =
            (is_dry && before_mm > 0.0).then(|| -before_mm / gain_mm_per_h * 60.0);
        Some(FilmChange {
            depth: self.depth(),
            evaporation_mm_per_h,
            wet_sheet,
            is_frozen: !is_dry && wet_sheet.celsius() < 0.0,
            dry_after_minutes,
        })
    }

    /// [`Film::pass`] through steps that follow each other, for the vapor that leaves a wet sheet in
    /// each, kg/(m² s); `on_step` gets the depth at the end of each, mm.
    pub(crate) fn pass_all(
        &mut self,
        vapor: &[f64],
        rain_mm_per_h: f64,
        minutes: f64,
        mut on_step: impl FnMut(f64),
    ) {
        for vapor in vapor {
            self.take_up(rain_mm_per_h - 3600.0 * vapor, minutes);
            on_step(self.water_mm);
        }
    }

    fn take_up(&mut self, gain_mm_per_h: f64, minutes: f64) {
        let reached_mm = self.water_mm + gain_mm_per_h * minutes / 60.0;
        self.water_mm = reached_mm.clamp(0.0, self.sheet.holds.millimeters());
    }
}

/// What the air takes from this sheet while it is wet, mm/h; negative where dew or frost settles.
///
/// By [`exchange`], whose sources hold. `None` where a value of the weather is outside its range.
pub fn evaporation_mm_per_h(sheet: &FilmSheet, weather: &FilmWeather) -> Option<f64> {
    exchange(&wet_sheet(sheet, weather)?).map(|exchange| exchange.evaporation_mm_per_h)
}

fn wet_sheet(sheet: &FilmSheet, weather: &FilmWeather) -> Option<WetSheet> {
    Some(WetSheet {
        around: weather.around,
        dew_point: weather.dew_point,
        surface_pressure_hpa: weather.surface_pressure_hpa,
        convection_w_m2_k: convection_w_m2_k(weather.wind)?.of(sheet.convection),
        optics: sheet.optics,
    })
}
