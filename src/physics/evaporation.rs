//! Water that leaves a wet sheet, or settles on it.

use super::humidity::WATER;
use super::lanes::Lanes;
use super::optics::Optics;
use super::surface::{STEFAN_BOLTZMANN, Surroundings};
use super::wet_balance::{Exchanges, WetSheets};
use crate::units::Temperature;

/// Specific heat of air, J/(kg K). Source: Allen1998, eq. 8.
const AIR_SPECIFIC_HEAT: f64 = 1013.0;
/// Molecular weight of water vapor against that of dry air. Source: Allen1998, eq. 8.
const WEIGHT_RATIO: f64 = 0.622;
/// The 2/3 power of the Lewis number of water vapor in air (0.85), which turns the transfer of heat
/// into that of vapor. Source: Incropera2007, eq. 6.60; the number from memory.
const LEWIS_FACTOR: f64 = 0.897_2;
/// Latent heat of fusion of ice, J/kg. Source: MurphyKoop2005.
const FUSION_J_PER_KG: f64 = 333_600.0;
/// Change of the latent heat of vaporization, J/(kg K). Source: Allen1998, annex 3, eq. 3-1.
const LATENT_SLOPE_J_PER_KG_K: f64 = -2361.0;
/// A film freezes over this many kelvin below 0 °C, so that its latent heat does not jump.
pub(super) const FREEZING_SPAN_K: f64 = 2.0;

/// A wet sheet and the air over it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WetSheet {
    /// Air, sky and sun.
    pub around: Surroundings,
    /// Dew point of the air, -80 to 50 °C; above the air counts as the air.
    pub dew_point: Temperature,
    /// Air pressure at the roof, 300 to 1100 hPa.
    pub surface_pressure_hpa: f64,
    /// Heat transfer to the air, above 0 to 500 W/(m² K).
    pub convection_w_m2_k: f64,
    /// Reflectance and emittance of the sheet, which a thin clear film hardly changes.
    pub optics: Optics,
}

/// What happens to water on a wet sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Water that leaves, mm/h (kg/(m² h)); negative where dew or frost settles.
    pub evaporation_mm_per_h: f64,
    /// Heat that goes with it, W/m².
    pub latent_w_m2: f64,
    /// Temperature of the wet sheet.
    pub sheet: Temperature,
}

/// The numbers of a combination of energy balance and vapor transfer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combination {
    /// Slope of the saturation curve at air temperature, hPa/K.
    pub slope_hpa_per_k: f64,
    /// Radiation gained by a surface at air temperature, less heat going down, W/m².
    pub available_w_m2: f64,
    /// Heat shed to the air, and by radiation, for each kelvin above the air, W/(m² K).
    pub heat_transfer_w_m2_k: f64,
    /// What the air's vapor pressure is short of saturation, hPa.
    pub deficit_hpa: f64,
    /// Psychrometric coefficient of this surface, hPa/K: heat transfer over vapor transfer.
    pub psychrometric_hpa_per_k: f64,
}

/// Latent heat of vaporization, J/kg. Source: Allen1998, annex 3, eq. 3-1.
pub fn latent_heat_j_per_kg(at: Temperature) -> f64 {
    vaporization_j_per_kg(at.celsius())
}

/// Psychrometric coefficient of air, hPa/K: `cp P / (0.622 L)`. Source: Allen1998, eq. 8.
///
/// Multiplied by 0.897 (the Lewis number's 2/3 power) it is that of a flat sheet. For pressures in
/// hPa and latent heats in J/kg, both positive.
pub fn psychrometric_hpa_per_k(surface_pressure_hpa: f64, latent_heat_j_per_kg: f64) -> f64 {
    AIR_SPECIFIC_HEAT * surface_pressure_hpa / (WEIGHT_RATIO * latent_heat_j_per_kg)
}

/// Latent heat flux of a wet surface, W/m², the saturation curve taken as straight from the air's
/// temperature to the surface's.
///
/// Source: Allen1998, eq. 3 (Penman-Monteith): `(D A + h (es - ea)) / (D + g)`, where h is the
/// `ρ cp / ra` and g the `γ (1 + rs / ra)` of that equation.
/// Negative: dew. Defined for a positive slope or coefficient; a surface far from air temperature
/// is off by the curve's bend, which [`exchange`] takes in full.
pub fn penman_monteith_w_m2(terms: &Combination) -> f64 {
    let Combination { slope_hpa_per_k: d, available_w_m2: a, psychrometric_hpa_per_k: g, .. } =
        *terms;
    (d * a + terms.heat_transfer_w_m2_k * terms.deficit_hpa) / (d + g)
}

/// The terms of [`penman_monteith_w_m2`] for a wet sheet, without any resistance of its own.
///
/// `None` outside the ranges of [`WetSheet`].
pub fn combination_of(wet: &WetSheet) -> Option<Combination> {
    if !wet.is_sound() {
        return None;
    }
    let Surroundings { air, sky, shortwave_w_m2 } = wet.around;
    let radiative = wet.optics.thermal_emittance() * STEFAN_BOLTZMANN;
    let gained = wet.optics.solar_absorptance() * shortwave_w_m2 + radiative * sky.kelvin().powi(4);
    let heat_transfer = wet.convection_w_m2_k + 4.0 * radiative * air.kelvin().powi(3);
    let of_the_air = psychrometric_hpa_per_k(wet.surface_pressure_hpa, latent_heat_j_per_kg(air));
    let saturation_hpa = WATER.pressure_hpa(air.celsius());
    Some(Combination {
        slope_hpa_per_k: WATER.slope_hpa_per_k(air.celsius()),
        available_w_m2: gained - radiative * air.kelvin().powi(4),
        heat_transfer_w_m2_k: heat_transfer,
        deficit_hpa: saturation_hpa
            - WATER.pressure_hpa(wet.dew_point.celsius().min(air.celsius())),
        psychrometric_hpa_per_k: of_the_air * LEWIS_FACTOR * heat_transfer / wet.convection_w_m2_k,
    })
}

/// What happens to water on a wet sheet: the sheet temperature at which sun, sky, air and latent
/// heat balance, and the vapor that goes with it.
///
/// Source: AstmE1980, eq. 1, with the latent term of Allen1998, eq. 3, vapor transfer from the heat
/// transfer by Incropera2007, eq. 6.60. Below 0 °C the film is ice; from 0 to -2 °C its latent heat
/// rises to that of ice. Dew or frost settles exactly where a dry sheet would be colder than the
/// dew or frost point. `None` outside the ranges of [`WetSheet`].
pub fn exchange(wet: &WetSheet) -> Option<Exchange> {
    if !wet.is_sound() {
        return None;
    }
    let Exchanges { vapor: [vapor], sheet_c: [sheet_c] } = wet.alone().balanced(wet.optics);
    Some(Exchange {
        evaporation_mm_per_h: 3600.0 * vapor,
        latent_w_m2: film_latent_heat(sheet_c) * vapor,
        sheet: Temperature::from_celsius(sheet_c),
    })
}

impl WetSheet {
    fn is_sound(&self) -> bool {
        self.around.is_sound()
            && (-80.0..=50.0).contains(&self.dew_point.celsius())
            && (300.0..=1100.0).contains(&self.surface_pressure_hpa)
            && self.convection_w_m2_k > 0.0
            && self.convection_w_m2_k <= 500.0
    }

    /// By columns of one.
    fn alone(&self) -> WetSheets<f64, 1> {
        WetSheets {
            air_c: [self.around.air.celsius()],
            sky_c: [self.around.sky.celsius()],
            shortwave_w_m2: [self.around.shortwave_w_m2],
            dew_point_c: [self.dew_point.celsius()],
            surface_pressure_hpa: [self.surface_pressure_hpa],
            convection_w_m2_k: [self.convection_w_m2_k],
        }
    }
}

/// Vapor that leaves for each hPa over the film above that of the air, kg/(m² s hPa).
#[inline(always)]
pub(super) fn vapor_transfer<L: Lanes>(convection_w_m2_k: L, surface_pressure_hpa: L) -> L {
    convection_w_m2_k * WEIGHT_RATIO / (surface_pressure_hpa * (AIR_SPECIFIC_HEAT * LEWIS_FACTOR))
}

/// Latent heat of a film of this temperature, °C, in J/kg: of water, and of ice the further it is
/// below 0 °C.
#[inline(always)]
pub(super) fn film_latent_heat<L: Lanes>(film_c: L) -> L {
    let frozen = (film_c * (-1.0 / FREEZING_SPAN_K)).greater(film_c.all(0.0));
    let frozen = frozen.lesser(film_c.all(1.0));
    vaporization_j_per_kg(film_c) + frozen * FUSION_J_PER_KG
}

/// Change of [`film_latent_heat`] with the film's temperature, J/(kg K).
#[inline(always)]
pub(super) fn film_latent_slope<L: Lanes>(film_c: L) -> L {
    let freezes = film_c.below(film_c.all(0.0)) & film_c.all(-FREEZING_SPAN_K).below(film_c);
    let freezing = film_c.all(LATENT_SLOPE_J_PER_KG_K - FUSION_J_PER_KG / FREEZING_SPAN_K);
    L::pick(freezes, freezing, film_c.all(LATENT_SLOPE_J_PER_KG_K))
}

#[inline(always)]
fn vaporization_j_per_kg<L: Lanes>(at_c: L) -> L {
    at_c * LATENT_SLOPE_J_PER_KG_K + 2.501e6
}
