//! The balance of sun, sky, air and latent heat on wet sheets, several at once.
//!
//! One sheet is worked out by the very steps of many, so that a plan and years of plans give the
//! same digits. Loops without branches over plain columns: vector instructions for the compiler.

use fearless_simd::Simd;

use super::balance::{Bent, CLOSE_K, zeros_of_increasing};
use super::evaporation::{FREEZING_SPAN_K, film_latent_heat, film_latent_slope, vapor_transfer};
use super::humidity::{CURVES_CROSS_C, WATER, over_film, settles_no_higher_than};
use super::lanes::{Lanes, OnFour, by_fours, in_a_row, inlined, widest};
use super::optics::Optics;
use super::surface::{DryBalance, sheet_temperatures};

/// A step of the search after which a wet sheet's temperature is close enough, if no kink lies in
/// between: curvature over slope is at most a twelfth per kelvin, that of the vapor curve, which
/// leaves a five-hundredth of the step's cube.
const CLOSE_AFTER_K: f64 = 0.007;

/// Wet sheets of the same optics, by columns of single numbers or of several side by side. See
/// [`super::evaporation::WetSheet`] for each and its range; [`super::evaporation::exchange`] is the
/// one that looks at ranges.
#[derive(Debug, Clone)]
pub struct WetSheets<L, const N: usize> {
    /// Air temperature, °C.
    pub air_c: [L; N],
    /// Sky temperature, °C.
    pub sky_c: [L; N],
    /// Shortwave radiation on the level, W/m².
    pub shortwave_w_m2: [L; N],
    /// Dew point, °C; above the air counts as the air.
    pub dew_point_c: [L; N],
    /// Air pressure at the roof, hPa.
    pub surface_pressure_hpa: [L; N],
    /// Heat transfer to the air, W/(m² K).
    pub convection_w_m2_k: [L; N],
}

/// What leaves them and how warm they are.
#[derive(Debug, Clone)]
pub struct Exchanges<L, const N: usize> {
    /// Water that leaves, kg/(m² s); negative where dew or frost settles.
    pub vapor: [L; N],
    /// Temperature of the wet sheet, °C.
    pub sheet_c: [L; N],
}

/// What does not change while a sheet's temperature is searched.
#[derive(Clone, Copy)]
struct Fixed<L> {
    dry: DryBalance<L>,
    /// Of the air, hPa.
    vapor_hpa: L,
    /// Vapor that leaves for each hPa over the film above that of the air, kg/(m² s hPa).
    transfer: L,
}

impl WetSheets<f64, 12> {
    /// The temperature at which each balances, and the vapor that goes with it.
    ///
    /// By the sources of [`super::evaporation::exchange`]. Every value must be in its range: what
    /// comes of others has no meaning.
    pub fn exchanges(&self, optics: Optics) -> Exchanges<f64, 12> {
        widest(Balanced { sheets: self, optics })
    }
}

struct Balanced<'a> {
    sheets: &'a WetSheets<f64, 12>,
    optics: Optics,
}

impl OnFour for Balanced<'_> {
    type Output = Exchanges<f64, 12>;

    #[inline(always)]
    fn on<S: Simd>(self, simd: S) -> Exchanges<f64, 12> {
        let of = inlined(
            #[inline(always)]
            |column| by_fours(simd, column),
        );
        let sheets = WetSheets {
            air_c: of(&self.sheets.air_c),
            sky_c: of(&self.sheets.sky_c),
            shortwave_w_m2: of(&self.sheets.shortwave_w_m2),
            dew_point_c: of(&self.sheets.dew_point_c),
            surface_pressure_hpa: of(&self.sheets.surface_pressure_hpa),
            convection_w_m2_k: of(&self.sheets.convection_w_m2_k),
        };
        let Exchanges { vapor, sheet_c } = sheets.balanced(self.optics);
        Exchanges { vapor: in_a_row(vapor), sheet_c: in_a_row(sheet_c) }
    }
}

impl<L: Lanes> WetSheets<L, 3> {
    /// Three of one as one of three.
    #[inline(always)]
    pub(crate) fn side_by_side([one, two, three]: [WetSheets<L, 1>; 3]) -> Self {
        let of = inlined(
            #[inline(always)]
            |[one]: [L; 1], [two]: [L; 1], [three]: [L; 1]| [one, two, three],
        );
        Self {
            air_c: of(one.air_c, two.air_c, three.air_c),
            sky_c: of(one.sky_c, two.sky_c, three.sky_c),
            shortwave_w_m2: of(one.shortwave_w_m2, two.shortwave_w_m2, three.shortwave_w_m2),
            dew_point_c: of(one.dew_point_c, two.dew_point_c, three.dew_point_c),
            surface_pressure_hpa: of(
                one.surface_pressure_hpa,
                two.surface_pressure_hpa,
                three.surface_pressure_hpa,
            ),
            convection_w_m2_k: of(
                one.convection_w_m2_k,
                two.convection_w_m2_k,
                three.convection_w_m2_k,
            ),
        }
    }
}

impl<L: Lanes, const N: usize> WetSheets<L, N> {
    /// The temperature at which each balances, and the vapor that goes with it; see
    /// [`WetSheets::exchanges`].
    #[inline(always)]
    pub(crate) fn balanced(&self, optics: Optics) -> Exchanges<L, N> {
        let mut fixed = [self.fixed(0, optics); N];
        for (n, fixed) in fixed.iter_mut().enumerate().skip(1) {
            *fixed = self.fixed(n, optics);
        }
        let (mut low, mut high) = (self.air_c, self.air_c);
        for n in 0..N {
            let (air, sky, dew_point) = (self.air_c[n], self.sky_c[n], self.dew_point_c[n]);
            let by_sun =
                self.shortwave_w_m2[n] * optics.solar_absorptance() / self.convection_w_m2_k[n];
            low[n] = air.lesser(sky).lesser(dew_point);
            // In cold moist air frost may settle on a sheet warmer than the air.
            let settles_below = settles_no_higher_than(dew_point.lesser(air));
            high[n] = air.greater(sky).greater(settles_below) + by_sun;
        }
        let balance = inlined(
            #[inline(always)]
            |n: usize, t: L| {
                let Fixed { dry, vapor_hpa, transfer } = fixed[n];
                let (dry, over) = (dry.bent(t), over_film(t));
                let vapor = transfer * (over.hpa - vapor_hpa);
                let (latent, latent_slope) = (film_latent_heat(t), film_latent_slope(t));
                let vapor_slope = transfer * over.slope_hpa_per_k;
                let bend = latent * (transfer * over.curvature_hpa_per_k2);
                Bent {
                    value: dry.value + latent * vapor,
                    slope: dry.slope + latent * vapor_slope + latent_slope * vapor,
                    curvature: dry.curvature + bend + latent_slope * vapor_slope * 2.0,
                }
            },
        );
        let close_after = inlined(
            #[inline(always)]
            |from, to| close_after(from, to),
        );
        let sheet_c = zeros_of_increasing(low, high, self.air_c, balance, close_after);
        let mut vapor = sheet_c;
        for n in 0..N {
            // What is left of the balance goes with the vapor.
            vapor[n] = -fixed[n].dry.excess(sheet_c[n]) / film_latent_heat(sheet_c[n]);
        }
        Exchanges { vapor, sheet_c }
    }

    /// The temperature of each, °C, were it dry: see [`super::surface::sheet_temperature`].
    #[inline(always)]
    pub(crate) fn dry(&self, optics: Optics) -> [L; N] {
        let Self { air_c, sky_c, shortwave_w_m2, convection_w_m2_k, .. } = self;
        sheet_temperatures(optics, [air_c, sky_c, shortwave_w_m2, convection_w_m2_k])
    }

    /// What each gains from sun and sky, W/m².
    #[inline(always)]
    pub(crate) fn gained_w_m2(&self, optics: Optics) -> [L; N] {
        let mut gained = self.air_c;
        for (n, gained) in gained.iter_mut().enumerate() {
            let (sun, convection) = (self.shortwave_w_m2[n], self.convection_w_m2_k[n]);
            let balance = DryBalance::of(optics, self.air_c[n], self.sky_c[n], sun, convection);
            *gained = balance.gained_w_m2();
        }
        gained
    }

    #[inline(always)]
    fn fixed(&self, n: usize, optics: Optics) -> Fixed<L> {
        let (air, convection) = (self.air_c[n], self.convection_w_m2_k[n]);
        Fixed {
            dry: DryBalance::of(optics, air, self.sky_c[n], self.shortwave_w_m2[n], convection),
            vapor_hpa: WATER.pressure_hpa(self.dew_point_c[n].lesser(air)),
            transfer: vapor_transfer(convection, self.surface_pressure_hpa[n]),
        }
    }
}

/// A step of the search after which a wet sheet's temperature is close enough. Kinks are where a film
/// begins to freeze, where it is frozen and where the curves over water and ice meet.
#[inline(always)]
fn close_after<L: Lanes>(from: L, to: L) -> L {
    let zero = from.all(0.0);
    let (crossing, frozen) = (from.all(CURVES_CROSS_C), from.all(-FREEZING_SPAN_K));
    let (colder, warmer) = (from.lesser(to), from.greater(to));
    let smooth =
        zero.below(colder) | warmer.below(frozen) | (frozen.below(colder) & warmer.below(crossing));
    L::pick(smooth, from.all(CLOSE_AFTER_K), from.all(CLOSE_K))
}

#[cfg(test)]
mod tests {
    use super::super::lanes::on_every_machine;
    use super::super::optics::Preset;
    use super::*;

    /// The baseline's form is what a machine without the wider vectors runs.
    #[test]
    fn the_widest_form_that_of_every_machine_and_one_by_one_agree_to_the_last_bit() {
        let optics = Preset::Gray.optics(false);
        for air_c in [-35.0, -8.0, -1.0, 0.5, 17.0, 41.0] {
            let none = [0.0; 12];
            let mut sheets = WetSheets {
                air_c: none,
                sky_c: none,
                shortwave_w_m2: none,
                dew_point_c: none,
                surface_pressure_hpa: none,
                convection_w_m2_k: none,
            };
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
            let wide = sheets.exchanges(optics);
            let plain = on_every_machine(Balanced { sheets: &sheets, optics });
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
