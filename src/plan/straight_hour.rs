//! An hour of which everything is told, so that every value runs straight from its start to its end:
//! many of its moments at once.

use fearless_simd::prelude::*;
use fearless_simd::{Simd, f64x4};

use super::roof::{FILM_STEP, FILM_STEP_MINUTES};
use crate::physics::lanes::{Lanes, OnFour, each, in_a_row, inlined, widest};
use crate::physics::optics::Optics;
use crate::physics::pressure::Height;
use crate::physics::radiation::SunHour;
use crate::physics::sky;
use crate::physics::surface::{MOST_SHORTWAVE_W_M2, MOST_WIND_M_S, nominal_convection_w_m2_k};
use crate::physics::wet_balance::WetSheets;
use crate::units::Temperature;

/// Steps of an hour.
pub(crate) const HOUR_STEPS: usize = 60 / FILM_STEP_MINUTES as usize;
/// Minutes whose dry sheets are worked out together.
pub(crate) const MINUTES_AT_ONCE: usize = 4;
/// Seconds of a step.
pub(crate) const STEP_S: f64 = 60.0 * FILM_STEP;

/// A value that runs straight from one known hour to the next.
#[derive(Clone, Copy)]
struct Straight {
    begins: f64,
    rise: f64,
}

/// Where a pressure is told for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum PressureAt {
    /// At the roof.
    Roof,
    /// At sea level.
    SeaLevel,
    /// Not at all: a standard one is taken.
    #[default]
    Nowhere,
}

/// What the balance of a sheet needs of the weather at a whole hour. Not a number is unknown.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Node {
    pub(crate) air_c: f64,
    pub(crate) dew_point_c: f64,
    pub(crate) wind_m_s: f64,
    pub(crate) cloud_pct: f64,
    /// As it is told.
    pub(crate) hpa: f64,
    pub(crate) pressure: PressureAt,
}

impl PressureAt {
    /// What a pressure told for there is multiplied by to be that at the roof.
    pub(crate) fn share(self, height: &Height) -> f64 {
        match self {
            Self::SeaLevel => height.share_of_sea_level().unwrap_or(f64::NAN),
            Self::Roof | Self::Nowhere => 1.0,
        }
    }
}

impl Node {
    /// The pressure at the roof, hPa.
    pub(crate) fn roof_hpa(&self, height: &Height) -> f64 {
        self.told_hpa(height) * self.pressure.share(height)
    }

    /// The pressure that is told, or a standard one where none is.
    fn told_hpa(&self, height: &Height) -> f64 {
        match self.pressure {
            PressureAt::Roof | PressureAt::SeaLevel => self.hpa,
            PressureAt::Nowhere => height.standard_hpa().unwrap_or(f64::NAN),
        }
    }

    /// Whether everything is known and in the range of its formula.
    pub(crate) fn is_in_range(&self, height: &Height) -> bool {
        let is_pressure = match self.pressure {
            PressureAt::Roof => (300.0..=1100.0).contains(&self.hpa),
            PressureAt::SeaLevel => (850.0..=1100.0).contains(&self.hpa),
            PressureAt::Nowhere => true,
        };
        (-90.0..=60.0).contains(&self.air_c)
            && (-80.0..=50.0).contains(&self.dew_point_c)
            && (0.0..=MOST_WIND_M_S).contains(&self.wind_m_s)
            && (0.0..=100.0).contains(&self.cloud_pct)
            && is_pressure
            && height.share_of_sea_level().is_some()
    }
}

/// An hour of which everything is told and in the range of its formula.
pub(crate) struct WholeHour<'a> {
    pub(crate) begins: Node,
    pub(crate) ends: Node,
    pub(crate) height: Height,
    pub(crate) sun: &'a SunHour,
    /// The service's radiation, W/m².
    pub(crate) told: Option<f64>,
    pub(crate) optics: Optics,
}

/// An hour in which everything runs straight.
#[derive(Clone, Copy)]
pub(crate) struct StraightHour<'a> {
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

/// What the balances of twenty of its minutes are made of.
struct Balances<'a> {
    hour: StraightHour<'a>,
    first: i64,
}

/// What bears on a dry sheet in twenty minutes that follow each other.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DryMinutes {
    pub(crate) air_c: [f64; 20],
    /// From sun and sky, W/m².
    pub(crate) gained_w_m2: [f64; 20],
    pub(crate) convection_w_m2_k: [f64; 20],
}

impl OnFour for Steps<'_> {
    type Output = Option<[f64; HOUR_STEPS]>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let four = from_second(simd, self.first, STEP_S);
        let seconds = [four, four + 4.0 * STEP_S, four + 8.0 * STEP_S];
        let sheets = self.hour.sheets(seconds)?;
        Some(in_a_row(sheets.balanced(self.hour.optics).vapor))
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

impl OnFour for Balances<'_> {
    type Output = Option<DryMinutes>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Self::Output {
        let four = from_second(simd, self.first, 60.0);
        let seconds = [four, four + 240.0, four + 480.0, four + 720.0, four + 960.0];
        let sheets = self.hour.sheets(seconds)?;
        Some(DryMinutes {
            gained_w_m2: in_a_row(sheets.gained_w_m2(self.hour.optics)),
            air_c: in_a_row(sheets.air_c),
            convection_w_m2_k: in_a_row(sheets.convection_w_m2_k),
        })
    }
}

/// Four moments of an hour, so many seconds apart.
#[expect(clippy::cast_precision_loss, reason = "seconds of an hour")]
#[inline(always)]
fn from_second<S: Simd>(simd: S, first: i64, apart: f64) -> f64x4<S> {
    f64x4::simd_from(simd, [0.0, apart, 2.0 * apart, 3.0 * apart]) + first as f64
}

impl<'a> StraightHour<'a> {
    /// Of an hour of which everything is in its range.
    pub(crate) fn of(hour: &WholeHour<'a>) -> Self {
        let WholeHour { begins, ends, height, sun, told, optics } = hour;
        let along = |at: fn(&Node) -> f64| Straight::between(at(begins), at(ends));
        Self {
            air: along(|node| node.air_c),
            dew_point: along(|node| node.dew_point_c),
            wind: along(|node| node.wind_m_s),
            cloud: along(|node| node.cloud_pct),
            pressure: Straight::between(begins.told_hpa(height), ends.told_hpa(height)),
            share_of_it: begins.pressure.share(height),
            sun,
            told: *told,
            optics: *optics,
        }
    }

    /// How the sheet takes up sun and sheds heat.
    pub(crate) const fn optics(&self) -> Optics {
        self.optics
    }

    /// What leaves a wet sheet in twelfths of the hour from `first` seconds into it, kg/(m² s);
    /// `None` where more sun is told than is believed.
    pub(crate) fn vapor(self, first: i64) -> Option<[f64; HOUR_STEPS]> {
        widest(Steps { hour: self, first })
    }

    /// The dry sheet of some minutes, the first `first` seconds into the hour.
    pub(crate) fn sheets_from(self, first: i64) -> Option<[Temperature; MINUTES_AT_ONCE]> {
        let celsius = widest(Minutes { hour: self, first })?;
        Some(celsius.map(Temperature::from_celsius))
    }

    /// What bears on a dry sheet in twenty minutes, the first `first` seconds into the hour; what
    /// would be beyond it has no meaning.
    pub(crate) fn minutes_from(self, first: i64) -> Option<DryMinutes> {
        widest(Balances { hour: self, first })
    }

    /// These seconds of it, none beyond its last; `None` where more sun is told than is believed.
    #[inline(always)]
    pub(crate) fn sheets<L: Lanes, const N: usize>(
        &self,
        seconds: [L; N],
    ) -> Option<WetSheets<L, N>> {
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
            let hpa = surface_pressure_hpa[n];
            sky_c[n] = sky::seen_c(air_c[n], dew_point_c[n], cos_of_hour, hpa, cloud_pct[n]);
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
    fn between(begins: f64, ends: f64) -> Self {
        Self { begins, rise: ends - begins }
    }
}
