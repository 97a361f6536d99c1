//! How a sheet takes up sun and sheds heat.

/// A sheet's two optical numbers, checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Optics {
    solar_reflectance: f64,
    thermal_emittance: f64,
}

/// A named sheet color.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Preset {
    /// White.
    White,
    /// Light to mid gray.
    Gray,
    /// Tan.
    Tan,
    /// Black.
    Black,
}

impl Preset {
    /// Every color.
    pub const ALL: [Self; 4] = [Self::White, Self::Gray, Self::Tan, Self::Black];

    /// The numbers of a new sheet of this color, or of an aged one. Emittance does not age.
    ///
    /// Sources: white and black, Lbnl2000 (measured single-ply sheets); gray and tan, from
    /// memory of the usual range of generic sheets, middle taken. Single sheets lie up to 0.1 to
    /// either side, which is why a site may give its own numbers.
    pub fn optics(self, aged: bool) -> Optics {
        let (new, thermal_emittance) = match self {
            Self::White => (0.83, 0.92),
            Self::Gray => (0.42, 0.90),
            Self::Tan => (0.58, 0.90),
            Self::Black => (0.06, 0.86),
        };
        let solar_reflectance = if aged { aged_reflectance(new) } else { new };
        Optics { solar_reflectance, thermal_emittance }
    }
}

impl Optics {
    /// Two numbers from 0 to 1; `None` for anything else.
    pub fn new(solar_reflectance: f64, thermal_emittance: f64) -> Option<Self> {
        let sound =
            (0.0..=1.0).contains(&solar_reflectance) && (0.0..=1.0).contains(&thermal_emittance);
        sound.then_some(Self { solar_reflectance, thermal_emittance })
    }

    /// A preset in which a measured number, where there is one, takes the preset's place.
    ///
    /// A measured number is that of the sheet as it lies there, so it is not aged once more.
    /// `None` when a measured number is not from 0 to 1.
    pub fn of_sheet(
        preset: Preset,
        aged: bool,
        solar_reflectance: Option<f64>,
        thermal_emittance: Option<f64>,
    ) -> Option<Self> {
        let preset = preset.optics(aged);
        Self::new(
            solar_reflectance.unwrap_or(preset.solar_reflectance),
            thermal_emittance.unwrap_or(preset.thermal_emittance),
        )
    }

    /// Share of the sun's radiation that is thrown back, 0 to 1.
    pub const fn solar_reflectance(self) -> f64 {
        self.solar_reflectance
    }

    /// Share of the sun's radiation that heats the sheet, 0 to 1.
    pub const fn solar_absorptance(self) -> f64 {
        1.0 - self.solar_reflectance
    }

    /// Heat shed by radiation against that of a perfect radiator, 0 to 1.
    pub const fn thermal_emittance(self) -> f64 {
        self.thermal_emittance
    }
}

/// Reflectance after three years on a roof, from that of the new sheet.
///
/// Source: Cec2022, section 110.8(i): `0.2 + 0.7 (new - 0.2)`, the factor for what is not a coating
/// put on in the field. Soiling darkens what is bright and brightens what is dark.
fn aged_reflectance(new: f64) -> f64 {
    0.2 + 0.7 * (new - 0.2)
}
