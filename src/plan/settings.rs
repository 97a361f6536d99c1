//! The rule *what*: the speed and the heats that a trial starts from.

use chrono::{DateTime, Utc};

use super::center::{heat_per_foot_per_minute, middle_now};
use super::mandatory::{Heats, Setting, Trial};
use crate::site::{Rules, Site, Welder};
use crate::testweld::{
    Carry, Conditions as TrialConditions, EarlierWindow, EarlierWindows, PassedOver, WhyFullRange,
    WhyPassedOver,
};
use crate::units::{Temperature, TravelSpeed};

/// Nearer to a tie than this, in tens of °F, is a tie: room for unit conversions only.
const TIE_NOISE: f64 = 1e-7;

/// Most heats in one trial; a step too small for that is widened to fit.
const MOST_HEATS: usize = 100;

/// The trade's start speed: ambient to the nearest 10 °F, over ten, plus two, in ft/min.
///
/// A tie goes to the slower. Somewhere to start, no more; the welder's own range is not looked at
/// here, and far below zero the rule gives no usable speed. *Common practice*, no source.
///
/// ```
/// use fairseam::{plan::start_speed, units::Temperature};
/// assert_eq!(start_speed(Temperature::from_fahrenheit(80.0)).feet_per_minute(), 10.0);
/// assert_eq!(start_speed(Temperature::from_fahrenheit(45.0)).feet_per_minute(), 6.0);
/// ```
pub fn start_speed(ambient: Temperature) -> TravelSpeed {
    let tens = (ambient.fahrenheit() / 10.0 - 0.5 - TIE_NOISE).ceil();
    TravelSpeed::from_feet_per_minute(tens + 2.0)
}

/// A checkpoint as far as its settings depend on it.
#[derive(Clone, Copy)]
pub(super) struct Conditions {
    pub(super) at: DateTime<Utc>,
    pub(super) ambient: Temperature,
    pub(super) sheet: Option<Temperature>,
}

/// What `welder` starts from at a checkpoint.
pub(super) fn setting(
    site: &Site,
    welder: &Welder,
    earlier: &dyn EarlierWindows,
    conditions: &Conditions,
) -> Setting {
    let by_rule = start_speed(conditions.ambient);
    let start_speed = speed_without_record(welder, conditions.ambient);
    let speed_before_clamp = start_speed.filter(|kept| !kept.same_as(by_rule)).map(|_| by_rule);
    let (trial, window) = match earlier.carry(welder, conditions.at) {
        Carry::Bracket(window) => (bracket(&site.rules, welder, window, start_speed), Some(window)),
        Carry::FullRange(why) => (full_range(welder, why, start_speed), None),
    };
    let expected_center = window
        .and_then(|window| middle_now(site, welder, &window, trial.speed_held, conditions.sheet?));
    let heat_per_foot_per_minute = trial.speed_held.and_then(|speed| {
        let heat = window.map_or(welder.heat_max, |window| window.center);
        heat_per_foot_per_minute(site, welder, speed, heat, conditions.sheet?)
    });
    let asked = TrialConditions {
        ambient: conditions.ambient,
        sheet: conditions.sheet,
        speed: trial.speed_held,
    };
    Setting {
        welder: welder.name.clone(),
        start_speed,
        speed_before_clamp,
        trial,
        expected_center,
        heat_per_foot_per_minute,
        passed_over: worth_telling(earlier.passed_over(welder, conditions.at)),
        learned: earlier.estimate(welder, conditions.at, &asked),
    }
}

/// The speed that `welder` holds where nothing earlier says otherwise: the rule's, within its
/// range; `None` for a hand welder.
pub(crate) fn speed_without_record(welder: &Welder, ambient: Temperature) -> Option<TravelSpeed> {
    let by_rule = start_speed(ambient);
    welder.speed.map(|(slowest, fastest)| by_rule.clamp(slowest, fastest))
}

/// Of trials that are not used those on this welder, down to the first that is too old: what lies
/// behind that one changes nothing.
fn worth_telling(passed_over: Vec<PassedOver>) -> Vec<PassedOver> {
    let too_old = |trial: &PassedOver| matches!(trial.because, WhyPassedOver::TooOld { .. });
    let mut kept: Vec<PassedOver> = passed_over
        .into_iter()
        .filter(|trial| trial.because != WhyPassedOver::OtherWelder)
        .collect();
    let worth = kept.iter().position(too_old).map_or(kept.len(), |first| first + 1);
    kept.truncate(worth);
    kept
}

/// From the welder's lowest heat up by its step, the last one its maximum itself.
fn full_range(welder: &Welder, why: WhyFullRange, speed: Option<TravelSpeed>) -> Trial {
    let mut heats = Vec::new();
    let mut heat = welder.heat_low;
    while heat.is_below(welder.heat_max) && heats.len() < MOST_HEATS {
        heats.push(heat);
        heat += welder.heat_step;
    }
    heats.push(welder.heat_max);
    Trial { speed_held: speed, heats, kind: Heats::FullRange(why) }
}

/// The earlier center and one step to each side, kept within the welder's heats.
fn bracket(
    rules: &Rules,
    welder: &Welder,
    window: EarlierWindow,
    by_rule: Option<TravelSpeed>,
) -> Trial {
    let within = |heat: Temperature| heat.max(welder.heat_low).min(welder.heat_max);
    let mut heats = vec![
        within(window.center - welder.heat_step),
        within(window.center),
        within(window.center + welder.heat_step),
    ];
    heats.dedup_by(|next, before| !next.is_above(*before));
    let (speed_held, middle_moved) = match (window.speed, by_rule) {
        (Some(record), Some(rule)) if rule.is_further_than(record, rules.speed_drift) => {
            (Some(rule), true)
        }
        (Some(record), Some(_)) => (Some(record), false),
        (_, rule) => (rule, false),
    };
    let kind = Heats::Bracket {
        center: window.center,
        record_speed: window.speed,
        origin: window.origin,
        middle_moved,
    };
    Trial { speed_held, heats, kind }
}
