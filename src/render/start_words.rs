//! What a test weld starts from, in words.

use super::figures;
use crate::plan::{Heats, Setting};
use crate::testweld::{Origin, WhyFullRange};
use crate::units::{TravelSpeed, UnitSystem};
use crate::words::{Language, short_date, tell};

/// Speed and heats in one line: `7 ft/min, heats 700, 800, 900, 1000, 1100 °F`.
pub fn trial(language: Language, setting: &Setting, units: UnitSystem) -> String {
    let heats = figures::heats(&setting.trial.heats, units);
    match setting.trial.speed_held {
        Some(speed) => {
            let speed = figures::travel_speed(speed, units);
            tell!(language, "trial-at-speed", speed, heats)
        }
        None => tell!(language, "trial-by-hand", heats),
    }
}

/// `full range` or `bracket`.
pub fn trial_kind(language: Language, heats: &Heats) -> String {
    match heats {
        Heats::FullRange(_) => tell!(language, "trial-full-range"),
        Heats::Bracket { .. } => tell!(language, "trial-bracket"),
    }
}

/// Why those heats and that speed.
pub fn trial_because(language: Language, setting: &Setting, units: UnitSystem) -> String {
    let short = |day| short_date(language, day);
    match setting.trial.kind {
        Heats::FullRange(WhyFullRange::NoRecord { carry_days }) => {
            tell!(language, "start-no-record", days = carry_days)
        }
        Heats::FullRange(WhyFullRange::CenterOutsideHeats) => {
            tell!(language, "start-outside-heats")
        }
        Heats::FullRange(WhyFullRange::BookUnreadable) => {
            tell!(language, "start-book-unreadable")
        }
        Heats::FullRange(WhyFullRange::TooOld { day, carry_days }) => {
            tell!(language, "start-too-old", day = short(day), days = carry_days)
        }
        Heats::FullRange(WhyFullRange::OtherSheet { day }) => {
            tell!(language, "start-other-sheet", day = short(day))
        }
        Heats::FullRange(WhyFullRange::NotConclusive { day }) => {
            tell!(language, "start-proved-nothing", day = short(day))
        }
        Heats::FullRange(WhyFullRange::DoNotWeld { day }) => {
            tell!(language, "start-no-setting", day = short(day))
        }
        Heats::Bracket { center, record_speed, origin, middle_moved } => {
            let heat = figures::temperature(center, units);
            let origin = match origin {
                Origin::ByHand => tell!(language, "start-given-by-hand"),
                Origin::Book { day } => tell!(language, "start-of-day", day = short(day)),
            };
            let center = match record_speed {
                Some(speed) => {
                    let speed = figures::travel_speed(speed, units);
                    tell!(language, "start-center-at-speed", heat, speed, origin)
                }
                None => tell!(language, "start-center", heat, origin),
            };
            match other_speed(language, setting, record_speed, middle_moved, units) {
                Some(differs) => format!("{center}; {differs}"),
                None => center,
            }
        }
    }
}

/// What is held where the rule's speed is not the record's.
fn other_speed(
    language: Language,
    setting: &Setting,
    record: Option<TravelSpeed>,
    middle_moved: bool,
    units: UnitSystem,
) -> Option<String> {
    let (rule, record) = (setting.start_speed?, record?);
    if rule.same_as(record) {
        return None;
    }
    let speed = figures::travel_speed(rule, units);
    Some(if middle_moved {
        tell!(language, "start-speed-middle-moved", speed)
    } else {
        tell!(language, "start-speed-near-enough", speed)
    })
}

/// What the sheet says beside a trial: where the middle is expected, what slowing down is worth.
pub fn trial_hints(language: Language, setting: &Setting, units: UnitSystem) -> Vec<String> {
    let middle = setting.expected_center.map(|center| {
        // A bracket finds the middle no finer than that.
        let ten = figures::round_to(center.in_units(units), 0.1);
        let heat = format!("{} {}", figures::whole(ten), units.temperature());
        tell!(language, "hint-middle", heat)
    });
    let worth = setting.heat_per_foot_per_minute.map(|heat| {
        let (step, per_step) = match units {
            UnitSystem::Us => ("1 ft/min", heat),
            UnitSystem::Metric => ("0.1 m/min", heat * FEET_PER_METER / 10.0),
        };
        tell!(language, "hint-slower", step, heat = figures::difference_whole(per_step, units))
    });
    middle.into_iter().chain(worth).collect()
}

/// Feet in a meter, for a speed step. Source: NIST811, appendix B.8.
const FEET_PER_METER: f64 = 1.0 / 0.3048;
