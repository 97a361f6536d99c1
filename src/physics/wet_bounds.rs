//! What a wet sheet can lose at most, without working out its temperature.

use super::evaporation::{film_latent_heat, vapor_transfer};
use super::humidity::{WATER, over_film};
use super::optics::Optics;
use super::surface::{DryBalance, Surroundings};

/// Share of a loss that is left for rounding.
const ROUNDING: f64 = 1e-6;

/// Between what a wet sheet's surroundings stay.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WetBounds {
    /// The warmest.
    pub(crate) warm: Surroundings,
    /// Least and most dew point, neither above the air's, °C.
    pub(crate) dew_point_c: (f64, f64),
    /// Least and most heat transfer to the air, W/(m² K).
    pub(crate) convection_w_m2_k: (f64, f64),
    /// Least and most air pressure at the roof, hPa.
    pub(crate) surface_pressure_hpa: (f64, f64),
}

impl WetBounds {
    /// Whether a wet sheet surely loses less than this all the time, mm/h above 0; for values in the
    /// ranges of [`super::evaporation::WetSheet`].
    ///
    /// At the strongest transfer into the driest air, so much leaves at one temperature of the
    /// sheet. Where the balance already loses at that temperature, the surroundings being the
    /// warmest and the air the moistest, the sheet is colder and less leaves. In the transfer the
    /// balance runs straight, so that the ends of its range are enough. `sure_w_m2` is how clearly
    /// the balance has to lose.
    pub(crate) fn loses_less_than(&self, optics: Optics, mm_per_h: f64, sure_w_m2: f64) -> bool {
        let (calm, windy) = self.convection_w_m2_k;
        let (thin, dense) = self.surface_pressure_hpa;
        let (driest, moistest) =
            (WATER.pressure_hpa(self.dew_point_c.0), WATER.pressure_hpa(self.dew_point_c.1));
        let vapor = mm_per_h / 3600.0 * (1.0 - ROUNDING);
        // Over ice there is less vapor than over water of the same temperature.
        let sheet_c = WATER.temperature_c(driest + vapor / vapor_transfer(windy, thin));
        let surplus_hpa = over_film(sheet_c).hpa - moistest;
        let hpa = if surplus_hpa > 0.0 { dense } else { thin };
        [calm, windy].into_iter().all(|convection| {
            let dry = DryBalance::new(optics, &self.warm, convection).excess(sheet_c);
            let latent = film_latent_heat(sheet_c) * vapor_transfer(convection, hpa) * surplus_hpa;
            dry + latent > sure_w_m2
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::evaporation::{WetSheet, exchange};
    use super::super::optics::Preset;
    use super::*;
    use crate::units::Temperature;

    /// Against the balance itself at every corner of the bounds: never less than what is lost, and
    /// no more than a tenth of a millimeter an hour above it where the corners lie close.
    #[test]
    fn what_is_lost_at_most_bounds_the_balance() {
        for (air_c, dew_c, sun) in
            [(18.0, 16.0, 0.0), (3.0, -6.0, 150.0), (-4.0, -5.0, 40.0), (28.0, 15.0, 700.0)]
        {
            let corners = |wide: f64| WetBounds {
                warm: around(air_c + wide, sun + 50.0 * wide),
                dew_point_c: (dew_c - wide, dew_c),
                convection_w_m2_k: (12.0, 12.0 + 5.0 * wide),
                surface_pressure_hpa: (1000.0 - wide, 1000.0 + wide),
            };
            for wide in [0.0, 0.01, 1.0] {
                let within = corners(wide);
                let mut most = f64::NEG_INFINITY;
                for number in 0..16 {
                    let end = |bit: i32, low: f64, high: f64| {
                        if number >> bit & 1 == 0 { low } else { high }
                    };
                    let wet = WetSheet {
                        around: around(end(0, air_c, air_c + wide), end(0, sun, sun + 50.0 * wide)),
                        dew_point: Temperature::from_celsius(end(1, dew_c - wide, dew_c)),
                        surface_pressure_hpa: end(2, 1000.0 - wide, 1000.0 + wide),
                        convection_w_m2_k: end(3, 12.0, 12.0 + 5.0 * wide),
                        optics: optics(),
                    };
                    most = exchange(&wet).unwrap().evaporation_mm_per_h.max(most);
                }
                let is_less = |mm_per_h: f64| within.loses_less_than(optics(), mm_per_h, 1e-3);
                assert!(most <= 0.0 || !is_less(most), "{air_c} {wide}: {most}");
                if wide < 0.1 {
                    assert!(is_less(most.max(0.0) + 0.1), "{air_c} {wide}: {most}");
                }
            }
        }
    }

    fn optics() -> Optics {
        Preset::Gray.optics(false)
    }

    fn around(air_c: f64, shortwave_w_m2: f64) -> Surroundings {
        let air = Temperature::from_celsius(air_c);
        Surroundings { air, sky: Temperature::from_celsius(air_c - 3.0), shortwave_w_m2 }
    }
}
