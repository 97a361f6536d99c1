//! The sheet's own temperature, from the balance of sun, sky and air.

use super::balance::zeros_of_increasing;
use super::optics::Optics;
use crate::units::{Temperature, WindSpeed};

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
pub(crate) fn nominal_convection_w_m2_k(wind_m_s: f64) -> f64 {
    4.0 + 2.6 * wind_m_s
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
pub(crate) fn sheet_temperatures<const N: usize>(
    optics: Optics,
    [air_c, sky_c, shortwave_w_m2, convection_w_m2_k]: [&[f64; N]; 4],
) -> [f64; N] {
    let (mut low, mut high, mut start) = ([0.0; N], [0.0; N], [0.0; N]);
    let mut balances = [DryBalance::default(); N];
    for n in 0..N {
        let around = Surroundings {
            air: Temperature::from_celsius(air_c[n]),
            sky: Temperature::from_celsius(sky_c[n]),
            shortwave_w_m2: shortwave_w_m2[n],
        };
        balances[n] = DryBalance::new(optics, &around, convection_w_m2_k[n]);
        (low[n], high[n]) = bracket(optics, &around, convection_w_m2_k[n]);
        start[n] = around.air.kelvin();
    }
    // Curvature over slope is at most 3/T, a fiftieth per kelvin.
    let gain = |n: usize, t: f64| balances[n].excess(t);
    zeros_of_increasing(low, high, start, gain, |_, _| true)
        .map(|kelvin| Temperature::from_kelvin(kelvin).celsius())
}

/// Between what temperatures a dry sheet is, in kelvin.
#[inline(always)]
fn bracket(optics: Optics, around: &Surroundings, convection_w_m2_k: f64) -> (f64, f64) {
    let (air, sky) = (around.air.kelvin(), around.sky.kelvin());
    let by_sun = optics.solar_absorptance() * around.shortwave_w_m2 / convection_w_m2_k;
    (air.min(sky), air.max(sky) + by_sun)
}

/// The balance of [`sheet_temperature`], to be asked what it comes to at a temperature.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct DryBalance {
    radiative: f64,
    gained: f64,
    convection: f64,
    air: f64,
}

impl DryBalance {
    /// For surroundings and a convection that are in their ranges.
    #[inline(always)]
    pub(crate) fn new(optics: Optics, around: &Surroundings, convection_w_m2_k: f64) -> Self {
        let radiative = optics.thermal_emittance() * STEFAN_BOLTZMANN;
        let sun = optics.solar_absorptance() * around.shortwave_w_m2;
        let gained = sun + radiative * around.sky.kelvin().powi(4);
        Self { radiative, gained, convection: convection_w_m2_k, air: around.air.kelvin() }
    }

    /// What a sheet of `t` kelvin loses less what it gains, W/m², and its slope, W/(m² K). Above 0
    /// the sheet is warmer than in balance.
    #[inline(always)]
    pub(crate) fn excess(&self, t: f64) -> (f64, f64) {
        let cubed = t * t * t;
        let lost = self.radiative * cubed * t + self.convection * (t - self.air);
        (lost - self.gained, 4.0 * self.radiative * cubed + self.convection)
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
