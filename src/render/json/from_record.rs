//! From what the test-weld book says beside a plan to its JSON shape.

use super::from_plan::Show;
use super::wire_record::{KnownError, Learned, PassedOver};
use crate::plan;
use crate::render::record_words;
use crate::testweld;

impl Show {
    pub(super) fn learned(&self, estimate: &testweld::Estimate) -> Learned {
        Learned {
            middle: self.temperature(estimate.expected.middle),
            band: self.difference(estimate.expected.band),
            trials: estimate.trials,
            basis: estimate.basis.name().to_owned(),
            temperature: self.temperature(estimate.temperature),
            speed: estimate.speed.and_then(|speed| self.speed(speed)),
            mean_error: self.difference(estimate.errors.from_the_past),
            mean_error_carried_over: self.difference(estimate.errors.carried_over),
            within_heats: estimate.within_heats,
            text: record_words::learned(self.language, estimate, self.units),
        }
    }

    pub(super) fn passed_over(&self, trial: &testweld::PassedOver) -> PassedOver {
        PassedOver {
            when: self.time(trial.when),
            reason: trial.because.name().to_owned(),
            center: trial.center.and_then(|center| self.temperature(center)),
            text: record_words::why_passed_over(self.language, trial, self.units),
        }
    }

    pub(in crate::render) fn known_error(&self, known: &plan::KnownError) -> KnownError {
        let found = &known.site.found;
        KnownError {
            readings: found.readings,
            days: found.days,
            lead_from_hours: found.lead.from_hours,
            lead_to_hours: found.lead.to_hours,
            found_bias: self.difference(found.bias),
            found_spread: found.spread.and_then(|spread| self.difference(spread)),
            bias: self.difference(known.site.bias),
            spread: self.difference(known.spread),
            default_spread: self.difference(known.default_spread),
            in_likelihoods: known.in_likelihoods,
            text: record_words::known_error(self.language, known, self.units),
        }
    }
}
