//! How far air and sheet may be from those of the last test before they ask for another.

use super::bounds::SURE_W_M2;
use crate::physics::surface::DryBalance;
use crate::plan::{DryMinutes, LastTest, Limits};

/// Room for the rounding of a screen against the plan's own numbers, in kelvin.
const ROUNDING_K: f64 = 1e-4;

/// Within what air and sheet surely ask for no test.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nearness {
    air_c: f64,
    most_k: f64,
    /// `None` where the last test does not tell the sheet.
    pub(super) sheet: Option<NearSheet>,
}

/// Least and most of the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct NearSheet {
    pub(super) celsius: [f64; 2],
    /// What a sheet of these temperatures radiates, W/m².
    pub(super) radiated_w_m2: [f64; 2],
}

impl Nearness {
    /// `None` where every moment asks for a look.
    pub(super) fn to(last: &LastTest, limits: &Limits<'_>, emittance: Option<f64>) -> Option<Self> {
        let most_k = limits.rules.ambient_change.kelvin() - ROUNDING_K;
        let sheet = match last.sheet.zip(last.rise_per_sheet_drop) {
            None => None,
            Some((sheet, rise)) => {
                let reach = limits.center.limit.kelvin() / rise.abs() - ROUNDING_K;
                let emittance = emittance.filter(|_| reach > 0.0)?;
                let celsius = [sheet.celsius() - reach, sheet.celsius() + reach];
                let radiated_w_m2 = celsius.map(|at| DryBalance::radiated_w_m2(emittance, at));
                Some(NearSheet { celsius, radiated_w_m2 })
            }
        };
        Some(Self { air_c: last.air.celsius(), most_k, sheet })
    }

    /// Whether this air asks for no test.
    pub(super) fn is_air(&self, air_c: f64) -> bool {
        (air_c - self.air_c).abs() < self.most_k
    }

    /// Whether this minute surely asks for none.
    pub(super) fn is_minute(&self, minutes: &DryMinutes, number: usize) -> bool {
        let (air_c, gained) = (minutes.air_c[number], minutes.gained_w_m2[number]);
        let convection = minutes.convection_w_m2_k[number];
        self.is_air(air_c)
            && self.sheet.is_none_or(|sheet| {
                let lost = |end: usize| {
                    sheet.radiated_w_m2[end] + convection * (sheet.celsius[end] - air_c)
                };
                lost(0) - gained < -SURE_W_M2 && lost(1) - gained > SURE_W_M2
            })
    }
}
