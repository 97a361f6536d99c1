//! From a trial to its JSON shape: units, rounding, offsets. Nothing else.

use chrono::{DateTime, SecondsFormat, Utc};
use chrono_tz::Tz;

use super::wire::{
    HeatJson, KindWord, PartedWord, PeeledWord, PolymerWord, RanJson, SignWord, StripJson,
    TrialJson, UnitsWord,
};
use crate::render::json::Figure;
use crate::site::{Kind, Polymer};
use crate::testweld::{HeatTrial, Parted, Peeled, Sign, Strip, Trial};
use crate::units::{Temperature, TravelSpeed, UnitSystem};
use crate::words::Language;

/// Finer than anything on a roof, coarser than the rounding of a unit conversion.
pub(super) const DECIMALS: i32 = 6;

/// How instants and amounts are written.
#[derive(Debug, Clone, Copy)]
pub struct Show {
    /// Of the sentences; keys and the words that programs go by are the same in every language.
    pub language: Language,
    /// The site's.
    pub zone: Tz,
    /// The site's.
    pub units: UnitSystem,
}

impl Show {
    /// A trial in its JSON shape, with the setting really run where that is known; which checkpoint
    /// it was made for is not part of it.
    ///
    /// `None` where a number is none: JSON has no word for it, and [`accept`] lets none in.
    ///
    /// [`accept`]: crate::testweld::accept
    pub fn trial(
        self,
        trial: &Trial,
        ran: Option<(Temperature, Option<TravelSpeed>)>,
    ) -> Option<TrialJson> {
        let ran = match ran {
            Some((heat, speed)) => {
                Some(RanJson { heat: self.temperature(heat)?, speed: self.maybe_speed(speed) })
            }
            None => None,
        };
        Some(TrialJson {
            units: Some(self.units_word()),
            at: Some(self.instant(trial.when)),
            who: trial.who.clone(),
            checkpoint: None,
            welder: Some(trial.welder.clone()),
            kind: Some(match trial.welder_kind {
                Kind::Automatic => KindWord::Automatic,
                Kind::Hand => KindWord::Hand,
            }),
            polymer: Some(match trial.polymer {
                Polymer::Pvc => PolymerWord::Pvc,
                Polymer::Tpo => PolymerWord::Tpo,
                Polymer::Kee => PolymerWord::Kee,
            }),
            thickness: Figure::rounded(trial.thickness.in_units(self.units), DECIMALS),
            lot: trial.lot.clone(),
            roll: trial.roll.clone(),
            air: self.temperature(trial.ambient)?,
            sheet_temperature: trial.sheet.and_then(|sheet| self.temperature(sheet)),
            weights: trial.weights.clone(),
            air_flow: trial.air_flow.clone(),
            speed: self.maybe_speed(trial.speed),
            heats: trial.heats.iter().map(|heat| self.heat(heat)).collect::<Option<_>>()?,
            note: trial.note.clone(),
            ran,
        })
    }

    /// The word for the units of all numbers.
    pub(super) const fn units_word(self) -> UnitsWord {
        match self.units {
            UnitSystem::Us => UnitsWord::Us,
            UnitSystem::Metric => UnitsWord::Metric,
        }
    }

    fn heat(self, heat: &HeatTrial) -> Option<HeatJson> {
        Some(HeatJson {
            heat: self.temperature(heat.heat)?,
            speed: self.maybe_speed(heat.speed),
            weights: heat.weights.clone(),
            air_flow: heat.air_flow.clone(),
            strips: heat.strips.iter().map(|strip| self.strip(strip)).collect::<Option<_>>()?,
        })
    }

    fn strip(self, strip: &Strip) -> Option<StripJson> {
        Some(StripJson {
            width: Figure::rounded(strip.bond_width.in_units(self.units), DECIMALS)?,
            parted: match strip.parted {
                Parted::FilmTear => PartedWord::FilmTear,
                Parted::Cold => PartedWord::Cold,
                Parted::Mixed => PartedWord::Mixed,
            },
            signs: strip.signs.iter().map(|sign| sign_word(*sign)).collect(),
            peeled: Some(match strip.peeled {
                Peeled::Across => PeeledWord::Across,
                Peeled::Along => PeeledWord::Along,
            }),
        })
    }

    /// RFC 3339 with the site's offset.
    pub(super) fn instant(self, at: DateTime<Utc>) -> String {
        at.with_timezone(&self.zone).to_rfc3339_opts(SecondsFormat::Secs, false)
    }

    /// A temperature, where it is a number.
    pub(super) fn temperature(self, value: Temperature) -> Option<Figure> {
        Figure::rounded(value.in_units(self.units), DECIMALS)
    }

    /// A speed, where it is known.
    pub(super) fn maybe_speed(self, value: Option<TravelSpeed>) -> Option<Figure> {
        Figure::rounded(value?.in_units(self.units), DECIMALS)
    }
}

const fn sign_word(sign: Sign) -> SignWord {
    match sign {
        Sign::Browning => SignWord::Browning,
        Sign::Yellowing => SignWord::Yellowing,
        Sign::Char => SignWord::Char,
        Sign::HeavyBleedOut => SignWord::HeavyBleedOut,
        Sign::Void => SignWord::Void,
        Sign::ScrimNotReached => SignWord::ScrimNotReached,
    }
}
