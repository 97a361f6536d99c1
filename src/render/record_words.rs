//! What the test-weld book says beside a plan: trials passed over, what was learned, how far the
//! forecast is off.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::figures;
use super::trial::setting_words::why_not;
use crate::plan::{Heats, KnownError, Setting};
use crate::testweld::{Basis, Estimate, LeadRange, PassedOver, WhyPassedOver};
use crate::units::{Temperature, UnitSystem};

/// Most trials that are named in a sentence.
const MOST_NAMED: usize = 3;

/// Trials newer than the one that the heats start from: `passed over: Apr 20 07:10, it proved
/// nothing`. Where the heats are the full range, the reason for that names the first of them.
pub fn passed_over(setting: &Setting, zone: Tz, units: UnitSystem) -> Option<String> {
    let named = match setting.trial.kind {
        Heats::FullRange(_) => setting.passed_over.get(1..).unwrap_or_default(),
        Heats::Bracket { .. } => &setting.passed_over,
    };
    let told: Vec<String> = named
        .iter()
        .take(MOST_NAMED)
        .map(|trial| {
            let when = day_and_time(trial.when, zone);
            format!("{when}, {}", why_passed_over(trial, units))
        })
        .collect();
    let more = match named.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    (!told.is_empty()).then(|| format!("passed over: {}{more}", told.join("; ")))
}

/// Why a trial is no starting point.
pub fn why_passed_over(trial: &PassedOver, units: UnitSystem) -> String {
    match trial.because {
        WhyPassedOver::OtherWelder => "it was made on another welder".to_owned(),
        WhyPassedOver::OtherSheet => "it was made on another sheet".to_owned(),
        WhyPassedOver::NotConclusive => "it proved nothing".to_owned(),
        WhyPassedOver::DoNotWeld(why) => format!("it found no setting: {}", why_not(why)),
        WhyPassedOver::TooOld { days } => format!("it is {days} days old"),
        WhyPassedOver::CenterOutsideHeats => {
            let center = trial.center.map_or_else(String::new, |center| {
                format!(", {},", figures::temperature(center, units))
            });
            format!("its center{center} lies outside this welder's heats")
        }
    }
}

/// `12 trials at this welder expect the middle near 1010 °F, give or take 40 (nine in ten), with the
/// sheet at 92 °F and 8 ft/min`.
pub fn learned(estimate: &Estimate, units: UnitSystem) -> String {
    let what = match estimate.basis {
        Basis::Sheet => "the sheet",
        Basis::Ambient => "the air",
    };
    let temperature = figures::temperature(estimate.temperature, units);
    let speed = estimate
        .speed
        .map_or_else(String::new, |speed| format!(" and {}", figures::travel_speed(speed, units)));
    let outside = if estimate.within_heats { "" } else { "; outside this welder's heats" };
    format!(
        "{} trials at this welder expect the middle near {}, give or take {} (nine in ten), with \
         {what} at {temperature}{speed}{outside}; test all the same",
        estimate.trials,
        middle(estimate.expected.middle, units),
        figures::whole(estimate.expected.band.in_units(units))
    )
}

/// To the nearest ten: more would promise too much.
fn middle(heat: Temperature, units: UnitSystem) -> String {
    let ten = figures::round_to(heat.in_units(units), 0.1);
    format!("{} {}", figures::whole(ten), units.temperature())
}

/// `The book's 23 readings on 12 days put such a forecast 1.2 °F low here, give or take 2.1 °F …`.
pub fn known_error(known: &KnownError, units: UnitSystem) -> String {
    let found = &known.site.found;
    let goes_by =
        if known.in_likelihoods { "goes by that" } else { "goes by the forecast's own ensemble" };
    format!(
        "The book's {} readings on {} days put a forecast of {} ahead {} here, give or take {} (two \
         days in three). The planned times stand on the forecast as it is; how sure they are \
         {goes_by}.",
        found.readings,
        found.days,
        lead(found.lead),
        bias(known, units),
        figures::difference(known.spread, units)
    )
}

/// `12 to 24 h`, `72 h or more`.
pub fn lead(range: LeadRange) -> String {
    match range.to_hours {
        Some(to) => format!("{} to {to} h", range.from_hours),
        None => format!("{} h or more", range.from_hours),
    }
}

/// `1.2 °F low`, `2.0 °F high`, `right on average`.
fn bias(known: &KnownError, units: UnitSystem) -> String {
    let bias = known.site.bias;
    if figures::round_to(bias.in_units(units), 10.0) == 0.0 {
        return "right on average".to_owned();
    }
    let way = if bias.kelvin() > 0.0 { "low" } else { "high" };
    format!("{} {way}", figures::difference(bias, units))
}

fn day_and_time(at: DateTime<Utc>, zone: Tz) -> String {
    let day = at.with_timezone(&zone).format("%b %-d");
    format!("{day} {}", figures::clock(at, zone))
}
