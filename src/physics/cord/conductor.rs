//! Resistance of the stranded copper in a cord.

use crate::units::Temperature;

/// The temperature at which the code's table gives resistances; a loaded cord in the sun may come
/// near it, a cool one drops about a fifth less. Source: NEC2023, chapter 9, table 8.
pub const NEC_CONDUCTOR_TEMPERATURE: Temperature = Temperature::from_celsius(75.0);

/// Annealed copper, Ω·cmil/ft at 20 °C. Source: NBS100, the international annealed copper standard.
const COPPER_OHM_CMIL_FT: f64 = 10.371;
/// Rise of copper's resistance, share of that at 20 °C for each kelvin. Source: NBS100.
const COPPER_RISE_PER_K: f64 = 0.003_93;
/// Strands run in a helix: so much longer than the cord. Source: NEC2023, chapter 9, table 8, the
/// ratio of its stranded to its solid column.
const STRANDING: f64 = 1.02;
const METERS_PER_KILOFOOT: f64 = 304.8;

/// (nominal mm², greatest Ω/km at 20 °C) of plain copper, class 5. Source: IEC60228, table 3.
const CLASS_5: [(f64, f64); 6] =
    [(1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30), (10.0, 1.91), (16.0, 1.21)];

/// The size of one conductor of a cord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Conductor {
    /// American wire gauge, 18 (thin) to 0.
    Awg(u32),
    /// Nominal cross-section in mm², 1.5 to 16.
    SquareMillimeters(f64),
}

impl Conductor {
    /// Resistance of one stranded copper conductor at the temperature `at`, Ω/km.
    ///
    /// Gauge: from the copper standard, 2 % longer strands; within 0.8 % of NEC2023, chapter 9,
    /// table 8 (uncoated, stranded). Square millimeters: the greatest that IEC60228 allows for the
    /// flexible class 5; a size between two nominal ones counts as the smaller, which errs high.
    ///
    /// `None` outside the sizes named at [`Conductor`], or when `at` is outside −40 to 90 °C.
    pub fn ohms_per_km(self, at: Temperature) -> Option<f64> {
        let warmth = 1.0 + COPPER_RISE_PER_K * (at.celsius() - 20.0);
        (-40.0..=90.0).contains(&at.celsius()).then_some(())?;
        Some(self.ohms_per_km_at_20()? * warmth)
    }

    fn ohms_per_km_at_20(self) -> Option<f64> {
        match self {
            Self::Awg(gauge) => {
                let ohms_per_foot = COPPER_OHM_CMIL_FT * STRANDING / circular_mils(gauge)?;
                Some(ohms_per_foot * 1000.0 * 1000.0 / METERS_PER_KILOFOOT)
            }
            Self::SquareMillimeters(area) => {
                (area <= 16.0).then_some(())?;
                CLASS_5.into_iter().rev().find(|(size, _)| *size <= area).map(|(_, ohms)| ohms)
            }
        }
    }
}

/// Cross-section of a gauge in circular mils: each of 39 steps from 36 (5 mil) to 0000 (460 mil)
/// is the same ratio. Source: ASTMB258.
fn circular_mils(gauge: u32) -> Option<f64> {
    (gauge <= 18).then(|| {
        let diameter_mils = 5.0 * 92.0_f64.powf((36.0 - f64::from(gauge)) / 39.0);
        diameter_mils * diameter_mils
    })
}
