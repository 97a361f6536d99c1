//! A thick solid whose face meets hot air.

use crate::physics::error_function::erfcx;

/// What a material does with heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solid {
    /// Thermal conductivity, W/(m·K).
    pub conductivity_w_mk: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Heat capacity, J/(kg·K).
    pub heat_capacity_j_kgk: f64,
}

/// A kind of sheet, with how readily it draws heat away from its face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plastic {
    /// Draws least: the face heats fastest.
    pub least: Solid,
    /// The middle of what is published.
    pub nominal: Solid,
    /// Draws most: the face heats slowest.
    pub most: Solid,
}

/// Plasticized PVC; also stands in for KEE sheets, which are PVC with another plasticizer.
///
/// An assumption. Conductivity 0.14 to 0.17 W/(m·K), density 1300 to 1700 kg/m³ with fillers, heat
/// capacity 1400 J/(kg·K) cold and 1500 hot. Source: PlasticData; the heat capacity when hot is
/// an estimate.
pub const PVC: Plastic = Plastic {
    least: Solid { conductivity_w_mk: 0.14, density_kg_m3: 1300.0, heat_capacity_j_kgk: 1400.0 },
    nominal: Solid { conductivity_w_mk: 0.17, density_kg_m3: 1300.0, heat_capacity_j_kgk: 1500.0 },
    most: Solid { conductivity_w_mk: 0.17, density_kg_m3: 1700.0, heat_capacity_j_kgk: 1500.0 },
};

/// Polypropylene-based sheets such as TPO.
///
/// An assumption. Conductivity 0.20 to 0.22 W/(m·K), heat capacity 1680 J/(kg·K) at 20 °C to 2350
/// at 100 °C, density 900 to 1050 kg/m³ (from memory). Source: PlasticData. The heat that melting
/// takes up is left out.
pub const PP_BASED: Plastic = Plastic {
    least: Solid { conductivity_w_mk: 0.20, density_kg_m3: 900.0, heat_capacity_j_kgk: 1680.0 },
    nominal: Solid { conductivity_w_mk: 0.22, density_kg_m3: 950.0, heat_capacity_j_kgk: 2000.0 },
    most: Solid { conductivity_w_mk: 0.22, density_kg_m3: 1050.0, heat_capacity_j_kgk: 2350.0 },
};

impl Solid {
    /// √(kρc), W·√s/(m²·K): how readily it draws heat from a face.
    pub fn effusivity(self) -> f64 {
        (self.conductivity_w_mk * self.density_kg_m3 * self.heat_capacity_j_kgk).sqrt()
    }

    /// k/(ρc), m²/s: how fast warmth travels in it.
    pub fn diffusivity(self) -> f64 {
        self.conductivity_w_mk / (self.density_kg_m3 * self.heat_capacity_j_kgk)
    }
}

/// Share of the step from the solid's temperature to the air's that is reached at `depth_m` after
/// `seconds` of air at a film coefficient of `film_w_m2k`; 0 to 1.
///
/// Source: CarslawJaeger1959, section 2.7 (a semi-infinite solid, convection at its face):
/// θ = erfc(ξ) − exp(hx/k + b²)·erfc(ξ + b) with ξ = x/(2√(αt)) and b = h√(αt)/k, worked as
/// exp(−ξ²)·(erfcx(ξ) − erfcx(ξ + b)), which is the same and cannot overflow.
///
/// `None` unless the solid's values, the film and the time are above 0 and finite and the depth is
/// 0 or more. Holds while the heat has not come back from the far side: see [`super::face_share`].
pub fn heated_fraction(solid: Solid, film_w_m2k: f64, seconds: f64, depth_m: f64) -> Option<f64> {
    let above_zero = |value: f64| value > 0.0 && value.is_finite();
    let reach_m = (solid.diffusivity() * seconds).sqrt();
    let b = film_w_m2k * reach_m / solid.conductivity_w_mk;
    let sound = [solid.conductivity_w_mk, film_w_m2k, seconds, reach_m, b];
    (sound.into_iter().all(above_zero) && depth_m.is_finite() && depth_m >= 0.0).then_some(())?;
    let xi = depth_m / (2.0 * reach_m);
    Some(libm::exp(-xi * xi) * (erfcx(xi) - erfcx(xi + b)))
}
