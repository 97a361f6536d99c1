//! What the test-weld book says beside a plan: trials passed over, what was learned, how far the
//! forecast is off.

use chrono_tz::Tz;

use super::figures;
use super::trial::setting_words::why_not;
use crate::plan::{Heats, KnownError, Setting};
use crate::testweld::{Basis, Estimate, LeadRange, PassedOver, WhyPassedOver};
use crate::units::{Temperature, UnitSystem};
use crate::words::{Language, short_date, tell};

/// Most trials that are named in a sentence.
const MOST_NAMED: usize = 3;

/// Trials newer than the one that the heats start from: `passed over: Apr 20 07:10, it proved
/// nothing`. Where the heats are the full range, the reason for that names the first of them.
pub fn passed_over(
    language: Language,
    setting: &Setting,
    zone: Tz,
    units: UnitSystem,
) -> Option<String> {
    let named = match setting.trial.kind {
        Heats::FullRange(_) => setting.passed_over.get(1..).unwrap_or_default(),
        Heats::Bracket { .. } => &setting.passed_over,
    };
    let mut told: Vec<String> = named
        .iter()
        .take(MOST_NAMED)
        .map(|trial| {
            let day = short_date(language, trial.when.with_timezone(&zone).date_naive());
            let when = format!("{day} {}", figures::clock(trial.when, zone));
            let why = why_passed_over(language, trial, units);
            tell!(language, "passed-over-trial", when, why)
        })
        .collect();
    if told.is_empty() {
        return None;
    }
    if named.len() > MOST_NAMED {
        told.push(tell!(language, "passed-over-more", count = named.len() - MOST_NAMED));
    }
    Some(tell!(language, "passed-over", trials = told.join("; ")))
}

/// Why a trial is no starting point.
pub fn why_passed_over(language: Language, trial: &PassedOver, units: UnitSystem) -> String {
    match trial.because {
        WhyPassedOver::OtherWelder => tell!(language, "why-other-welder"),
        WhyPassedOver::OtherSheet => tell!(language, "why-other-sheet"),
        WhyPassedOver::NotConclusive => tell!(language, "why-not-conclusive"),
        WhyPassedOver::DoNotWeld(why) => {
            tell!(language, "why-no-setting", why = why_not(language, why))
        }
        WhyPassedOver::TooOld { days } => tell!(language, "why-too-old", days),
        WhyPassedOver::CenterOutsideHeats => match trial.center {
            Some(center) => {
                let heat = figures::temperature(center, units);
                tell!(language, "why-outside-heats-at", heat)
            }
            None => tell!(language, "why-outside-heats"),
        },
    }
}

/// `12 trials at this welder expect the middle near 1010 °F, give or take 40 (nine in ten), with the
/// sheet at 92 °F and 8 ft/min`.
pub fn learned(language: Language, estimate: &Estimate, units: UnitSystem) -> String {
    let temperature = figures::temperature(estimate.temperature, units);
    let speed = estimate.speed.map(|speed| figures::travel_speed(speed, units));
    let conditions = match (estimate.basis, speed) {
        (Basis::Sheet, None) => tell!(language, "learned-sheet", temperature),
        (Basis::Ambient, None) => tell!(language, "learned-air", temperature),
        (Basis::Sheet, Some(speed)) => tell!(language, "learned-sheet-speed", temperature, speed),
        (Basis::Ambient, Some(speed)) => tell!(language, "learned-air-speed", temperature, speed),
    };
    let (trials, middle) = (estimate.trials, middle(estimate.expected.middle, units));
    let band = figures::whole(estimate.expected.band.in_units(units));
    if estimate.within_heats {
        tell!(language, "learned", trials, middle, band, conditions)
    } else {
        tell!(language, "learned-outside", trials, middle, band, conditions)
    }
}

/// To the nearest ten: more would promise too much.
fn middle(heat: Temperature, units: UnitSystem) -> String {
    let ten = figures::round_to(heat.in_units(units), 0.1);
    format!("{} {}", figures::whole(ten), units.temperature())
}

/// `The book's 23 readings on 12 days put such a forecast 1.2 °F low here, give or take 2.1 °F …`.
pub fn known_error(language: Language, known: &KnownError, units: UnitSystem) -> String {
    let found = &known.site.found;
    let by = if known.in_likelihoods {
        tell!(language, "known-error-by-that")
    } else {
        tell!(language, "known-error-by-ensemble")
    };
    tell!(
        language,
        "known-error",
        readings = found.readings,
        days = found.days,
        lead = lead(language, found.lead),
        bias = bias(language, known, units),
        spread = figures::difference(known.spread, units),
        by,
    )
}

/// `12 to 24 h`, `72 h or more`.
pub fn lead(language: Language, range: LeadRange) -> String {
    let from = range.from_hours;
    match range.to_hours {
        Some(to) => tell!(language, "lead-between", from, to),
        None => tell!(language, "lead-or-more", from),
    }
}

/// `1.2 °F low`, `2.0 °F high`, `right on average`.
fn bias(language: Language, known: &KnownError, units: UnitSystem) -> String {
    let bias = known.site.bias;
    if figures::round_to(bias.in_units(units), 10.0) == 0.0 {
        return tell!(language, "known-error-right");
    }
    let by = figures::difference(bias, units);
    if bias.kelvin() > 0.0 {
        tell!(language, "known-error-low", by)
    } else {
        tell!(language, "known-error-high", by)
    }
}
