//! What a film meets in the twelve steps of an hour, and the sheet of some minutes, all at once: the
//! same numbers as [`RoofHour::film_weather`] and [`RoofHour::nominal_sheet`] give one by one, for an
//! hour in which everything is plainly known.

use super::roof::{FILM_STEP_MINUTES, RoofHour};
use crate::physics::lanes::widest;
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
const STEP_S: i64 = FILM_STEP_MINUTES * 60;

/// The steps of an hour and the rain that falls on them.
pub(crate) struct FilmSteps {
    pub(crate) sheets: WetSheets<HOUR_STEPS>,
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
    #[expect(clippy::cast_precision_loss, reason = "parts of an hour")]
    pub(crate) fn film_steps(&self, first: i64) -> Option<FilmSteps> {
        let rain_mm_per_h = self.rain_mm_per_h.filter(|rain| (0.0..=500.0).contains(rain))?;
        let (straight, sun) = (self.straight()?, self.sun()?);
        let sheets = widest(
            #[inline(always)]
            || straight.sheets(first as f64, STEP_S as f64, sun, self.told_radiation),
        );
        is_sun_in_range(&sheets).then_some(FilmSteps { sheets, rain_mm_per_h })
    }

    /// [`RoofHour::nominal_sheet`] of some minutes, the first `first` seconds into the hour; what
    /// would be beyond it has no meaning. `None` as for [`RoofHour::film_steps`].
    #[expect(clippy::cast_precision_loss, reason = "parts of an hour")]
    pub(crate) fn nominal_sheets(&self, first: i64) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        let (straight, sun, optics) = (self.straight()?, self.sun()?, self.roof.optics()?);
        let (sheets, celsius) = widest(
            #[inline(always)]
            || {
                let sheets = straight.sheets(first as f64, 60.0, sun, self.told_radiation);
                let celsius = sheets.dry(optics);
                (sheets, celsius)
            },
        );
        is_sun_in_range(&sheets).then(|| celsius.map(Temperature::from_celsius))
    }

    /// The hour, where everything runs straight through it.
    fn straight(&self) -> Option<StraightHour> {
        let air = Straight::within(&self.air, -90.0, 60.0)?;
        let dew_point = Straight::within(&self.dew_point, -80.0, 50.0)?;
        let wind = Straight::within(&self.wind, 0.0, 60.0)?;
        let cloud = Straight::within(&self.cloud, 0.0, 100.0)?;
        let (pressure, share_of_it) = self.pressure()?;
        Some(StraightHour { air, dew_point, wind, cloud, pressure, share_of_it })
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
struct StraightHour {
    air: Straight,
    dew_point: Straight,
    wind: Straight,
    cloud: Straight,
    pressure: Straight,
    share_of_it: f64,
}

impl StraightHour {
    /// Moments of it from `first` seconds on and so many seconds apart, none beyond its last
    /// second: loops without branches over plain columns.
    #[expect(clippy::cast_precision_loss, reason = "parts of an hour")]
    #[inline(always)]
    fn sheets<const N: usize>(
        &self,
        first: f64,
        apart: f64,
        sun: &SunHour,
        told: Option<f64>,
    ) -> WetSheets<N> {
        let mut sheets = WetSheets::<N>::default();
        let mut cloud_pct = [0.0; N];
        let (mut sin_elevation, mut cos_of_hour) = ([0.0; N], [0.0; N]);
        for n in 0..N {
            let second = (first + apart * n as f64).min(3599.0);
            let share = second / 3600.0;
            sheets.air_c[n] = self.air.at(share);
            sheets.dew_point_c[n] = self.dew_point.at(share);
            sheets.surface_pressure_hpa[n] = self.pressure.at(share) * self.share_of_it;
            sheets.convection_w_m2_k[n] = nominal_convection_w_m2_k(self.wind.at(share));
            cloud_pct[n] = self.cloud.at(share);
            let angle = sun.sun_after_ms(1000.0 * second);
            sin_elevation[n] = angle.sin_elevation;
            cos_of_hour[n] = angle.cos_of_hour();
        }
        sheets.shortwave_w_m2 = sun.radiations(&sin_elevation, told, &cloud_pct);
        for n in 0..N {
            let (dew_point_c, hpa) = (sheets.dew_point_c[n], sheets.surface_pressure_hpa[n]);
            let emissivity =
                sky::clouded(sky::clear(dew_point_c, cos_of_hour[n], hpa), cloud_pct[n]);
            let air = Temperature::from_celsius(sheets.air_c[n]);
            sheets.sky_c[n] = sky::radiating(air, emissivity).celsius();
        }
        sheets
    }
}

fn is_sun_in_range<const N: usize>(sheets: &WetSheets<N>) -> bool {
    sheets.shortwave_w_m2.iter().all(|w_m2| *w_m2 <= MOST_SHORTWAVE_W_M2)
}

impl Straight {
    /// Between two known hours whose values are both in this range, as is then all between.
    fn within(line: &HourLine, least: f64, most: f64) -> Option<Self> {
        let (begins, rise) = line.straight()?;
        let ends = begins + rise;
        let sound = begins >= least && ends >= least && begins <= most && ends <= most;
        sound.then_some(Self { begins, rise })
    }

    #[inline(always)]
    fn at(self, share: f64) -> f64 {
        self.begins + self.rise * share
    }
}
