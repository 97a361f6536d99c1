//! The balance of sun, sky, air and latent heat on wet sheets, several at once.
//!
//! One sheet is worked out by the very steps of many, so that a plan and years of plans give the
//! same digits. Loops without branches over plain columns: vector instructions for the compiler.

use super::balance::zeros_of_increasing;
use super::evaporation::{
    Combination, FREEZING_SPAN_K, LATENT_SLOPE_J_PER_KG_K, LEWIS_FACTOR, film_latent_heat,
    latent_heat_j_per_kg, penman_monteith_w_m2, psychrometric_hpa_per_k, vapor_transfer,
};
use super::humidity::{WATER, over_film_hpa, settles_no_higher_than};
use super::lanes::widest;
use super::optics::Optics;
use super::surface::{STEFAN_BOLTZMANN, sheet_temperatures};
use crate::units::Temperature;

/// `N` wet sheets of the same optics, by columns. See [`super::evaporation::WetSheet`] for each and
/// its range; [`super::evaporation::exchange`] is the one that looks at ranges.
#[derive(Debug, Clone)]
pub struct WetSheets<const N: usize> {
    /// Air temperature, °C.
    pub air_c: [f64; N],
    /// Sky temperature, °C.
    pub sky_c: [f64; N],
    /// Shortwave radiation on the level, W/m².
    pub shortwave_w_m2: [f64; N],
    /// Dew point, °C; above the air counts as the air.
    pub dew_point_c: [f64; N],
    /// Air pressure at the roof, hPa.
    pub surface_pressure_hpa: [f64; N],
    /// Heat transfer to the air, W/(m² K).
    pub convection_w_m2_k: [f64; N],
}

/// What leaves them and how warm they are.
#[derive(Debug, Clone)]
pub struct Exchanges<const N: usize> {
    /// Water that leaves, kg/(m² s); negative where dew or frost settles.
    pub vapor: [f64; N],
    /// Temperature of the wet sheet, °C.
    pub sheet_c: [f64; N],
}

/// What does not change while a sheet's temperature is searched.
#[derive(Clone, Copy, Default)]
struct Fixed {
    /// Of the air, hPa.
    vapor_hpa: f64,
    /// Vapor that leaves for each hPa over the film above that of the air, kg/(m² s hPa).
    transfer: f64,
    /// By sun and sky, W/m².
    gained: f64,
}

impl<const N: usize> Default for WetSheets<N> {
    fn default() -> Self {
        let column = [0.0; N];
        Self {
            air_c: column,
            sky_c: column,
            shortwave_w_m2: column,
            dew_point_c: column,
            surface_pressure_hpa: column,
            convection_w_m2_k: column,
        }
    }
}

impl<const N: usize> WetSheets<N> {
    /// The temperature at which each balances, and the vapor that goes with it.
    ///
    /// By the sources of [`super::evaporation::exchange`]. Every value must be in its range: what
    /// comes of others has no meaning.
    pub fn exchanges(&self, optics: Optics) -> Exchanges<N> {
        widest(
            #[inline(always)]
            || self.balanced(optics),
        )
    }

    #[inline(always)]
    fn balanced(&self, optics: Optics) -> Exchanges<N> {
        let radiative = optics.thermal_emittance() * STEFAN_BOLTZMANN;
        let absorptance = optics.solar_absorptance();
        let mut fixed = [Fixed::default(); N];
        let (mut low, mut high, mut start) = ([0.0; N], [0.0; N], [0.0; N]);
        for n in 0..N {
            let (air, convection) = (self.air_c[n], self.convection_w_m2_k[n]);
            let sun = absorptance * self.shortwave_w_m2[n];
            fixed[n] = self.fixed(n, radiative, sun);
            let linear = self.linear(n, radiative, &fixed[n]);
            let latent = penman_monteith_w_m2(&linear);
            start[n] = air + (linear.available_w_m2 - latent) / linear.heat_transfer_w_m2_k;
            low[n] = least(least(air, self.sky_c[n]), self.dew_point_c[n]);
            // In cold moist air frost may settle on a sheet warmer than the air.
            let dew_point = Temperature::from_celsius(least(self.dew_point_c[n], air));
            let settles_below = settles_no_higher_than(dew_point).celsius();
            high[n] = most(most(air, self.sky_c[n]), settles_below) + sun / convection;
        }
        let balance = |n: usize, t: f64| {
            let Fixed { vapor_hpa, transfer, gained } = fixed[n];
            let convection = self.convection_w_m2_k[n];
            let kelvin = Temperature::from_celsius(t).kelvin();
            let cubed = kelvin * kelvin * kelvin;
            let (saturation, slope) = over_film_hpa(t);
            let vapor = transfer * (saturation - vapor_hpa);
            let latent = film_latent_heat(t);
            let lost =
                radiative * cubed * kelvin + convection * (t - self.air_c[n]) + latent * vapor;
            // The whole derivative outside of freezing: a short step is judged by it.
            let latent_slope = latent * (transfer * slope) + LATENT_SLOPE_J_PER_KG_K * vapor;
            (lost - gained, 4.0 * radiative * cubed + convection + latent_slope)
        };
        // While a film freezes its balance has kinks. Elsewhere the curvature of the vapor curve,
        // less than 0.08 of its slope per kelvin, is the strongest.
        let is_smooth = |from: f64, to: f64| {
            ((from > 0.0) & (to > 0.0)) | ((from < -FREEZING_SPAN_K) & (to < -FREEZING_SPAN_K))
        };
        let sheet_c = zeros_of_increasing(low, high, start, balance, is_smooth);
        let mut vapor = [0.0; N];
        for n in 0..N {
            let (saturation, _) = over_film_hpa(sheet_c[n]);
            vapor[n] = fixed[n].transfer * (saturation - fixed[n].vapor_hpa);
        }
        Exchanges { vapor, sheet_c }
    }

    /// The temperature of each, °C, were it dry: see [`super::surface::sheet_temperature`].
    #[inline(always)]
    pub(crate) fn dry(&self, optics: Optics) -> [f64; N] {
        let Self { air_c, sky_c, shortwave_w_m2, convection_w_m2_k, .. } = self;
        sheet_temperatures(optics, [air_c, sky_c, shortwave_w_m2, convection_w_m2_k])
    }

    #[inline(always)]
    fn fixed(&self, n: usize, radiative: f64, sun: f64) -> Fixed {
        let sky = Temperature::from_celsius(self.sky_c[n]).kelvin();
        let squared = sky * sky;
        let transfer = vapor_transfer(self.convection_w_m2_k[n], self.surface_pressure_hpa[n]);
        Fixed {
            vapor_hpa: WATER.pressure_hpa(least(self.dew_point_c[n], self.air_c[n])),
            transfer,
            gained: sun + radiative * (squared * squared),
        }
    }

    /// The straight-line form around the air's temperature.
    #[inline(always)]
    pub(super) fn combination(&self, n: usize, optics: Optics) -> Combination {
        let radiative = optics.thermal_emittance() * STEFAN_BOLTZMANN;
        let sun = optics.solar_absorptance() * self.shortwave_w_m2[n];
        self.linear(n, radiative, &self.fixed(n, radiative, sun))
    }

    #[inline(always)]
    fn linear(&self, n: usize, radiative: f64, fixed: &Fixed) -> Combination {
        let air = Temperature::from_celsius(self.air_c[n]);
        let kelvin = air.kelvin();
        let radiated = radiative * (kelvin * kelvin * kelvin);
        let convection = self.convection_w_m2_k[n];
        let heat_transfer = convection + 4.0 * radiated;
        let sheet_coefficient =
            psychrometric_hpa_per_k(self.surface_pressure_hpa[n], latent_heat_j_per_kg(air))
                * LEWIS_FACTOR;
        let saturation_hpa = WATER.pressure_hpa(air.celsius());
        Combination {
            slope_hpa_per_k: WATER.slope_at_hpa(air.celsius(), saturation_hpa),
            available_w_m2: fixed.gained - radiated * kelvin,
            heat_transfer_w_m2_k: heat_transfer,
            deficit_hpa: saturation_hpa - fixed.vapor_hpa,
            psychrometric_hpa_per_k: sheet_coefficient * heat_transfer / convection,
        }
    }
}

/// The lesser of two numbers; without the care for what is none that costs a branch.
#[inline(always)]
fn least(one: f64, other: f64) -> f64 {
    if one < other { one } else { other }
}

#[inline(always)]
fn most(one: f64, other: f64) -> f64 {
    if one > other { one } else { other }
}

#[cfg(test)]
mod tests {
    use super::super::optics::Preset;
    use super::*;

    /// The plain form is what a machine without the wider vectors runs.
    #[test]
    fn the_wide_form_the_plain_one_and_one_by_one_agree_to_the_last_bit() {
        let optics = Preset::Gray.optics(false);
        for air_c in [-35.0, -8.0, -1.0, 0.5, 17.0, 41.0] {
            let mut sheets = WetSheets::<12>::default();
            let mut spread = 0.5;
            for n in 0..12 {
                spread = (spread * 7.31 + 0.123) % 1.0;
                sheets.air_c[n] = air_c + spread;
                sheets.sky_c[n] = air_c - 30.0 * spread;
                sheets.shortwave_w_m2[n] = 900.0 * (spread * 3.7 % 1.0);
                sheets.dew_point_c[n] = air_c - 12.0 * (spread * 5.3 % 1.0);
                sheets.surface_pressure_hpa[n] = 990.0 + 30.0 * spread;
                sheets.convection_w_m2_k[n] = 4.0 + 40.0 * (spread * 9.1 % 1.0);
            }
            let (wide, plain) = (sheets.exchanges(optics), sheets.balanced(optics));
            for n in 0..12 {
                let alone = WetSheets {
                    air_c: [sheets.air_c[n]],
                    sky_c: [sheets.sky_c[n]],
                    shortwave_w_m2: [sheets.shortwave_w_m2[n]],
                    dew_point_c: [sheets.dew_point_c[n]],
                    surface_pressure_hpa: [sheets.surface_pressure_hpa[n]],
                    convection_w_m2_k: [sheets.convection_w_m2_k[n]],
                }
                .balanced(optics);
                for other in [plain.sheet_c[n], alone.sheet_c[0]] {
                    assert_eq!(wide.sheet_c[n].to_bits(), other.to_bits(), "{air_c} {n}");
                }
                for other in [plain.vapor[n], alone.vapor[0]] {
                    assert_eq!(wide.vapor[n].to_bits(), other.to_bits(), "{air_c} {n}");
                }
            }
        }
    }
}
