//! What a test weld starts from, in words.

use super::figures;
use crate::plan::{Heats, Setting};
use crate::testweld::{Origin, WhyFullRange};
use crate::units::{TravelSpeed, UnitSystem};

/// Speed and heats in one line: `7 ft/min, heats 700, 800, 900, 1000, 1100 °F`.
pub fn trial(setting: &Setting, units: UnitSystem) -> String {
    let heats = figures::heats(&setting.trial.heats, units);
    match setting.trial.speed_held {
        Some(speed) => format!("{}, heats {heats}", figures::travel_speed(speed, units)),
        None => format!("heats {heats}"),
    }
}

/// `full range` or `bracket`.
pub const fn trial_kind(heats: &Heats) -> &'static str {
    match heats {
        Heats::FullRange(_) => "full-range",
        Heats::Bracket { .. } => "bracket",
    }
}

/// Why those heats and that speed.
pub fn trial_because(setting: &Setting, units: UnitSystem) -> String {
    match setting.trial.kind {
        Heats::FullRange(WhyFullRange::NoRecord { carry_days }) => {
            format!("no test weld of the last {carry_days} days in the book")
        }
        Heats::FullRange(WhyFullRange::CenterOutsideHeats) => {
            "the earlier center lies outside this welder's heats".to_owned()
        }
        Heats::FullRange(WhyFullRange::BookUnreadable) => {
            "the test-weld book could not be read".to_owned()
        }
        Heats::FullRange(WhyFullRange::TooOld { day, carry_days }) => format!(
            "the last test weld in the book, of {}, is older than {carry_days} days",
            day.format("%b %-d")
        ),
        Heats::FullRange(WhyFullRange::OtherSheet { day }) => {
            format!(
                "the last test weld in the book, of {}, is on another sheet",
                day.format("%b %-d")
            )
        }
        Heats::FullRange(WhyFullRange::NotConclusive { day }) => {
            format!("the last test weld in the book, of {}, proved nothing", day.format("%b %-d"))
        }
        Heats::FullRange(WhyFullRange::DoNotWeld { day }) => {
            format!("the last test weld in the book, of {}, found no setting", day.format("%b %-d"))
        }
        Heats::Bracket { center, record_speed, origin, middle_moved } => {
            let heat = figures::temperature(center, units);
            let at_speed = record_speed.map_or_else(String::new, |speed| {
                format!(" at {}", figures::travel_speed(speed, units))
            });
            let from = match origin {
                Origin::ByHand => "given by hand".to_owned(),
                Origin::Book { day } => format!("test weld of {}", day.format("%b %-d")),
            };
            let differs = other_speed(setting, record_speed, middle_moved, units);
            format!("earlier center {heat}{at_speed} ({from}){differs}")
        }
    }
}

/// What is held where the rule's speed is not the record's.
fn other_speed(
    setting: &Setting,
    record: Option<TravelSpeed>,
    middle_moved: bool,
    units: UnitSystem,
) -> String {
    let (Some(rule), Some(record)) = (setting.start_speed, record) else { return String::new() };
    if rule.same_as(record) {
        return String::new();
    }
    let asked = format!("; the air asks for {}", figures::travel_speed(rule, units));
    if middle_moved {
        format!("{asked}, so the middle will have moved")
    } else {
        format!("{asked}, near enough to hold the record's speed")
    }
}

/// What the sheet says beside a trial: where the middle is expected, what slowing down is worth.
pub fn trial_hints(setting: &Setting, units: UnitSystem) -> Vec<String> {
    let middle = setting.expected_center.map(|center| {
        // A bracket finds the middle no finer than that.
        let ten = figures::round_to(center.in_units(units), 0.1);
        format!("expect the middle nearer {} {}", figures::whole(ten), units.temperature())
    });
    let worth = setting.heat_per_foot_per_minute.map(|heat| {
        let per_unit = match units {
            UnitSystem::Us => heat,
            UnitSystem::Metric => heat * FEET_PER_METER / 10.0,
        };
        let step = match units {
            UnitSystem::Us => "1 ft/min",
            UnitSystem::Metric => "0.1 m/min",
        };
        format!(
            "{step} slower is worth about {} of heat",
            figures::difference_whole(per_unit, units)
        )
    });
    middle.into_iter().chain(worth).collect()
}

/// Feet in a meter, for a speed step. Source: NIST811, appendix B.8.
const FEET_PER_METER: f64 = 1.0 / 0.3048;
