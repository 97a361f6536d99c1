//! The sheet's own temperature, from the balance of sun, sky and air.

use super::balance::{Bent, zeros_of_increasing};
use super::lanes::{Lanes, inlined};
use super::optics::Optics;
use crate::units::{Temperature, WindSpeed, ZERO_CELSIUS_K};

/// W/(m² K⁴). Source: CODATA2018.
pub(super) const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// How far the convection may be below and above its nominal value. An assumption: published formulas
/// differ by this much (see docs/physics.md).
const CONVECTION_LOW: f64 = 0.6;
const CONVECTION_HIGH: f64 = 1.5;
/// Strongest wind of the formulas, m/s.
pub(crate) const MOST_WIND_M_S: f64 = 60.0;
/// Most shortwave radiation on the level that is believed, W/m².
pub(crate) const MOST_SHORTWAVE_W_M2: f64 = 1500.0;

/// A step of the search after which a dry sheet's temperature is close enough. Curvature over slope
/// is at most 3/T, a sixtieth per kelvin, which leaves a ten-thousandth of the step's cube.
const CLOSE_AFTER_K: f64 = 0.02;

/// A value that is not known well: what it is taken to be, and how far it may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range<T> {
    /// The lowest.
    pub low: T,
    /// The one to plan with.
    pub nominal: T,
    /// The highest.
    pub high: T,
}

/// One of the three values of a [`Range`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// The lowest.
    Low,
    /// The one to plan with.
    Nominal,
    /// The highest.
    High,
}

/// What a level roof sees and feels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Air temperature, -90 to 60 °C.
    pub air: Temperature,
    /// Sky temperature, see [`super::sky::temperature`]; -200 to 60 °C.
    pub sky: Temperature,
    /// Shortwave radiation on the level, 0 to 1500 W/m².
    pub shortwave_w_m2: f64,
}

impl<T: Copy> Range<T> {
    /// The value of this band.
    pub const fn of(&self, band: Band) -> T {
        match band {
            Band::Low => self.low,
            Band::Nominal => self.nominal,
            Band::High => self.high,
        }
    }
}

/// Heat that wind takes off or brings to the sheet, in W/(m² K), from the wind 10 m above ground.
///
/// Source: Iso6946, annex C (`4 + 4 v`), with a wind at the roof of 0.65 of that at 10 m, an
/// assumption: `4 + 2.6 v`. Known to a factor of 0.6 to 1.5 at best, hence the range, which takes in
/// the 5, 12 and 30 W/(m² K) of AstmE1980 at the middle of their winds. `None` unless the wind is from 0 to 60 m/s.
pub fn convection_w_m2_k(wind: WindSpeed) -> Option<Range<f64>> {
    let v = wind.meters_per_second();
    if !(0.0..=MOST_WIND_M_S).contains(&v) {
        return None;
    }
    let nominal = nominal_convection_w_m2_k(v);
    Some(Range { low: CONVECTION_LOW * nominal, nominal, high: CONVECTION_HIGH * nominal })
}

/// The nominal one of [`convection_w_m2_k`] for a wind in its range, m/s.
#[inline(always)]
pub(crate) fn nominal_convection_w_m2_k<L: Lanes>(wind_m_s: L) -> L {
    wind_m_s * 2.6 + 4.0
}

/// Temperature of a dry sheet in balance with its surroundings.
///
/// Source: AstmE1980, eq. 1: `a G = e σ (T⁴ - Tsky⁴) + hc (T - Tair)`, no heat going down, as over
/// insulation. The sheet follows within minutes, so that each instant can be taken as steady;
/// flicker between clouds cannot be resolved. For a roof of less than 9.5° slope, in the open.
/// `None` outside the ranges of [`Surroundings`] and unless `convection_w_m2_k` is above 0 and at
/// most 500.
pub fn sheet_temperature(
    optics: Optics,
    around: &Surroundings,
    convection_w_m2_k: f64,
) -> Option<Temperature> {
    let sound = around.is_sound() && convection_w_m2_k > 0.0 && convection_w_m2_k <= 500.0;
    if !sound {
        return None;
    }
    let (air, sky) = (around.air.celsius(), around.sky.celsius());
    let columns = [&[air], &[sky], &[around.shortwave_w_m2], &[convection_w_m2_k]];
    let [celsius] = sheet_temperatures(optics, columns);
    Some(Temperature::from_celsius(celsius))
}

/// [`sheet_temperature`] of several sheets, in °C: air and sky in °C, every value in its range.
#[inline(always)]
pub(crate) fn sheet_temperatures<L: Lanes, const N: usize>(
    optics: Optics,
    [air_c, sky_c, shortwave_w_m2, convection_w_m2_k]: [&[L; N]; 4],
) -> [L; N] {
    let balance = inlined(
        #[inline(always)]
        |n: usize| {
            DryBalance::of(optics, air_c[n], sky_c[n], shortwave_w_m2[n], convection_w_m2_k[n])
        },
    );
    let mut balances = [balance(0); N];
    let (mut low, mut high) = (*air_c, *air_c);
    for n in 0..N {
        let by_sun = shortwave_w_m2[n] * optics.solar_absorptance() / convection_w_m2_k[n];
        low[n] = air_c[n].lesser(sky_c[n]);
        high[n] = air_c[n].greater(sky_c[n]) + by_sun;
        balances[n] = balance(n);
    }
    zeros_of_increasing(
        low,
        high,
        *air_c,
        #[inline(always)]
        |n, at| balances[n].bent(at),
        #[inline(always)]
        |from, _| from.all(CLOSE_AFTER_K),
    )
}

/// The balance of [`sheet_temperature`], to be asked what it comes to at a temperature.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DryBalance<L> {
    radiative: f64,
    gained: L,
    convection: L,
    air_c: L,
}

impl DryBalance<f64> {
    /// What a sheet of `t` °C radiates, W/m².
    pub(crate) fn radiated_w_m2(thermal_emittance: f64, t: f64) -> f64 {
        let kelvin = t + ZERO_CELSIUS_K;
        kelvin * kelvin * (thermal_emittance * STEFAN_BOLTZMANN) * kelvin * kelvin
    }

    /// For surroundings and a convection that are in their ranges.
    pub(crate) fn new(optics: Optics, around: &Surroundings, convection_w_m2_k: f64) -> Self {
        let Surroundings { air, sky, shortwave_w_m2 } = *around;
        Self::of(optics, air.celsius(), sky.celsius(), shortwave_w_m2, convection_w_m2_k)
    }
}

impl<L: Lanes> DryBalance<L> {
    /// For values that are in their ranges.
    #[inline(always)]
    pub(crate) fn of(
        optics: Optics,
        air_c: L,
        sky_c: L,
        shortwave_w_m2: L,
        convection_w_m2_k: L,
    ) -> Self {
        let radiative = optics.thermal_emittance() * STEFAN_BOLTZMANN;
        let sun = shortwave_w_m2 * optics.solar_absorptance();
        let sky = sky_c + ZERO_CELSIUS_K;
        let squared = sky * sky;
        let gained = sun + squared * squared * radiative;
        Self { radiative, gained, convection: convection_w_m2_k, air_c }
    }

    /// From sun and sky, W/m².
    #[inline(always)]
    pub(crate) fn gained_w_m2(&self) -> L {
        self.gained
    }

    /// What a sheet of `t` °C loses less what it gains, W/m². Above 0 the sheet is warmer than in
    /// balance.
    #[inline(always)]
    pub(crate) fn excess(&self, t: L) -> L {
        self.bent(t).value
    }

    /// [`DryBalance::excess`] with its derivatives.
    #[inline(always)]
    pub(super) fn bent(&self, t: L) -> Bent<L> {
        let kelvin = t + ZERO_CELSIUS_K;
        let squared = kelvin * kelvin * self.radiative;
        let cubed = squared * kelvin;
        let lost = cubed * kelvin + self.convection * (t - self.air_c);
        Bent {
            value: lost - self.gained,
            slope: cubed * 4.0 + self.convection,
            curvature: squared * 12.0,
        }
    }
}

/// Temperature of a dry sheet in this wind, low and high over what the convection may be.
///
/// In the sun, little convection makes the sheet hot and much keeps it cool; under a clear night
/// sky it is the other way round. `low` and `high` are the temperatures, in that order.
/// Ranges as for [`sheet_temperature`] and [`convection_w_m2_k`].
pub fn sheet_range(
    optics: Optics,
    around: &Surroundings,
    wind: WindSpeed,
) -> Option<Range<Temperature>> {
    let convection = convection_w_m2_k(wind)?;
    let calm = sheet_temperature(optics, around, convection.low)?;
    let nominal = sheet_temperature(optics, around, convection.nominal)?;
    let windy = sheet_temperature(optics, around, convection.high)?;
    Some(Range { low: calm.min(windy), nominal, high: calm.max(windy) })
}

impl Surroundings {
    /// Whether every value is in its range.
    pub(super) fn is_sound(&self) -> bool {
        (-90.0..=60.0).contains(&self.air.celsius())
            && (-200.0..=60.0).contains(&self.sky.celsius())
            && (0.0..=MOST_SHORTWAVE_W_M2).contains(&self.shortwave_w_m2)
    }
}
