//! What a film meets in the twelve steps of an hour, and the sheet of some minutes, all at once: the
//! same numbers as [`RoofHour::film_weather`] and [`RoofHour::nominal_sheet`] give one by one, for an
//! hour in which everything is plainly known.

use fearless_simd::prelude::*;
use fearless_simd::{Simd, f64x4};

use super::roof::{FILM_STEP_MINUTES, RoofHour};
use crate::physics::lanes::{Lanes, OnFour, each, inlined, twelve, widest};
use crate::physics::optics::Optics;
use crate::physics::radiation::SunHour;
use crate::physics::sky;
use crate::physics::surface::{MOST_SHORTWAVE_W_M2, nominal_convection_w_m2_k};
use crate::physics::wet_balance::WetSheets;
use crate::units::Temperature;
use crate::weather::HourLine;

/// Steps of an hour.
pub(crate) const HOUR_STEPS: usize = 60 / FILM_STEP_MINUTES as usize;
/// Minutes whose dry sheets are worked out together.
pub(crate) const MINUTES_AT_ONCE: usize = 4;
const STEP_S: f64 = 300.0;

/// What leaves a wet sheet in the steps of an hour, and the rain that falls on them.
pub(crate) struct FilmSteps {
    /// kg/(m² s), negative where it settles.
    pub(crate) vapor: [f64; HOUR_STEPS],
    pub(crate) rain_mm_per_h: f64,
}

/// A value that runs straight from one known hour to the next.
#[derive(Clone, Copy)]
struct Straight {
    begins: f64,
    rise: f64,
}

impl RoofHour<'_> {
    /// Every twelfth of the hour from `first` seconds into it; `None` where a value is missing,
    /// bridged or out of the range of its formula: then step by step.
    pub(crate) fn film_steps(&self, first: i64) -> Option<FilmSteps> {
        let rain_mm_per_h = self.rain_mm_per_h.filter(|rain| (0.0..=500.0).contains(rain))?;
        let vapor = widest(Steps { hour: self.straight()?, first })?;
        Some(FilmSteps { vapor, rain_mm_per_h })
    }

    /// [`RoofHour::nominal_sheet`] of some minutes, the first `first` seconds into the hour; what
    /// would be beyond it has no meaning. `None` as for [`RoofHour::film_steps`].
    pub(crate) fn nominal_sheets(&self, first: i64) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        let celsius = widest(Minutes { hour: self.straight()?, first })?;
        Some(celsius.map(Temperature::from_celsius))
    }

    /// The hour, where everything runs straight through it.
    fn straight(&self) -> Option<StraightHour<'_>> {
        let air = Straight::within(&self.air, -90.0, 60.0)?;
        let dew_point = Straight::within(&self.dew_point, -80.0, 50.0)?;
        let wind = Straight::within(&self.wind, 0.0, 60.0)?;
        let cloud = Straight::within(&self.cloud, 0.0, 100.0)?;
        let (pressure, share_of_it) = self.pressure()?;
        let (sun, told, optics) = (self.sun()?, self.told_radiation, self.roof.optics()?);
        Some(StraightHour { air, dew_point, wind, cloud, pressure, share_of_it, sun, told, optics })
    }

    /// A pressure, and what it is multiplied by: that at the roof, at sea level, or a standard one.
    fn pressure(&self) -> Option<(Straight, f64)> {
        let height = self.roof.height();
        if !self.surface_pressure.is_gap() {
            Some((Straight::within(&self.surface_pressure, 300.0, 1100.0)?, 1.0))
        } else if !self.sea_level_pressure.is_gap() {
            let at_sea = Straight::within(&self.sea_level_pressure, 850.0, 1100.0)?;
            Some((at_sea, height.share_of_sea_level()?))
        } else {
            Some((Straight { begins: height.standard_hpa()?, rise: 0.0 }, 1.0))
        }
    }
}

/// An hour in which everything runs straight.
struct StraightHour<'a> {
    air: Straight,
    dew_point: Straight,
    wind: Straight,
    cloud: Straight,
    pressure: Straight,
    share_of_it: f64,
    sun: &'a SunHour,
    told: Option<f64>,
    optics: Optics,
}

/// The vapor of its twelve steps.
struct Steps<'a> {
    hour: StraightHour<'a>,
    first: i64,
}

/// The dry sheets of four of its minutes.
struct Minutes<'a> {
    hour: StraightHour<'a>,
    first: i64,
}

impl OnFour for Steps<'_> {
    type Output = Option<[f64; HOUR_STEPS]>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let four = from_second(simd, self.first, STEP_S);
        let seconds = [four, four + 4.0 * STEP_S, four + 8.0 * STEP_S];
        let sheets = self.hour.sheets(seconds)?;
        Some(twelve(sheets.balanced(self.hour.optics).vapor))
    }
}

impl OnFour for Minutes<'_> {
    type Output = Option<[f64; MINUTES_AT_ONCE]>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let sheets = self.hour.sheets([from_second(simd, self.first, 60.0)])?;
        let [celsius] = sheets.dry(self.hour.optics);
        Some(celsius.to_array())
    }
}

/// Four moments of an hour, so many seconds apart.
#[expect(clippy::cast_precision_loss, reason = "seconds of an hour")]
#[inline(always)]
fn from_second<S: Simd>(simd: S, first: i64, apart: f64) -> f64x4<S> {
    f64x4::simd_from(simd, [0.0, apart, 2.0 * apart, 3.0 * apart]) + first as f64
}

impl StraightHour<'_> {
    /// These seconds of it, none beyond its last; `None` where more sun is told than is believed.
    #[inline(always)]
    fn sheets<L: Lanes, const N: usize>(&self, seconds: [L; N]) -> Option<WetSheets<L, N>> {
        let seconds = each(
            &seconds,
            #[inline(always)]
            |second| second.lesser(second.all(3599.0)),
        );
        let along = inlined(
            #[inline(always)]
            |straight: Straight| {
                each(
                    &seconds,
                    #[inline(always)]
                    |second| second / 3600.0 * straight.rise + straight.begins,
                )
            },
        );
        let angles = each(
            &seconds,
            #[inline(always)]
            |second| self.sun.sun_after_ms(second * 1000.0),
        );
        let sin_elevation = each(
            &angles,
            #[inline(always)]
            |angle| angle.sin_elevation,
        );
        let (air_c, cloud_pct, dew_point_c) =
            (along(self.air), along(self.cloud), along(self.dew_point));
        let surface_pressure_hpa = each(
            &along(self.pressure),
            #[inline(always)]
            |hpa| hpa * self.share_of_it,
        );
        let convection_w_m2_k = each(
            &along(self.wind),
            #[inline(always)]
            |wind| nominal_convection_w_m2_k(wind),
        );
        let shortwave_w_m2 = self.sun.radiations(&sin_elevation, self.told, &cloud_pct);
        let mut sky_c = air_c;
        let mut is_beyond_belief = false;
        for n in 0..N {
            let cos_of_hour = angles[n].cos_of_hour();
            let clear = sky::clear(dew_point_c[n], cos_of_hour, surface_pressure_hpa[n]);
            sky_c[n] = sky::radiating_c(air_c[n], sky::clouded(clear, cloud_pct[n]));
            let most = air_c[n].all(MOST_SHORTWAVE_W_M2);
            is_beyond_belief |= L::any(most.below(shortwave_w_m2[n]));
        }
        let sheets = WetSheets {
            air_c,
            sky_c,
            shortwave_w_m2,
            dew_point_c,
            surface_pressure_hpa,
            convection_w_m2_k,
        };
        (!is_beyond_belief).then_some(sheets)
    }
}

impl Straight {
    /// Between two known hours whose values are both in this range, as is then all between.
    fn within(line: &HourLine, least: f64, most: f64) -> Option<Self> {
        let (begins, rise) = line.straight()?;
        let ends = begins + rise;
        let sound = begins >= least && ends >= least && begins <= most && ends <= most;
        sound.then_some(Self { begins, rise })
    }
}
