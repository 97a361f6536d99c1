//! Every sentence that the crew reads, from the plan's values.

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::figures;
use crate::plan::{Advice, Cause, Checkpoint, DayPlan, Heats, Note, PlanWeather, Reason, Setting};
use crate::testweld::{Origin, WhyFullRange};
use crate::units::UnitSystem;

/// Why a checkpoint is there: `air up 10.1 °F since the 07:00 test`.
pub fn because(checkpoint: &Checkpoint, plan: &DayPlan) -> String {
    let since = |last: Option<DateTime<Utc>>| {
        last.map_or_else(String::new, |at| {
            format!(" since the {} test", figures::clock(at, plan.time_zone))
        })
    };
    match &checkpoint.cause {
        Cause::Start => "start of shift".to_owned(),
        Cause::AfterBreak { name, minutes } => format!("after {name} ({minutes} min)"),
        Cause::AmbientChange => match checkpoint.change_since_last {
            Some(change) => {
                let way = if change.kelvin() < 0.0 { "down" } else { "up" };
                let by = figures::difference(change, plan.units);
                format!("air {way} {by}{}", since(checkpoint.last_time))
            }
            None => "air has changed".to_owned(),
        },
        Cause::SheetChange => format!("sheet has changed{}", since(checkpoint.last_time)),
        Cause::Elapsed { hours } => format!("{hours} h{}", since(checkpoint.last_time)),
        Cause::AfterHold { opens_the_day, held_by } => {
            let held = reasons_short(held_by);
            if *opens_the_day {
                format!("first weldable minute, after {held}")
            } else {
                format!("welding resumes after {held}")
            }
        }
    }
}

/// What asks for a test that the plan leaves out: `the end of lunch`.
fn cause_noun(cause: &Cause) -> String {
    match cause {
        Cause::Start => "the start of work".to_owned(),
        Cause::AfterBreak { name, .. } => format!("the end of {name}"),
        Cause::AmbientChange => "a change of the air".to_owned(),
        Cause::SheetChange => "a change of the sheet".to_owned(),
        Cause::Elapsed { hours } => format!("{hours} h without a test"),
        Cause::AfterHold { held_by, .. } => format!("the end of {}", reasons_short(held_by)),
    }
}

/// Reasons in a word each: `rain, gusts`.
pub fn reasons_short(reasons: &[Reason]) -> String {
    let words: Vec<&str> = reasons
        .iter()
        .map(|reason| match reason {
            Reason::Rain { .. } => "rain",
            Reason::Snow { .. } => "snow",
            Reason::Cold { .. } => "cold air",
            Reason::Gust { .. } => "gusts",
        })
        .collect();
    words.join(", ")
}

/// A reason in full: `rain, up to 0.15 in within an hour`.
pub fn reason(reason: &Reason, units: UnitSystem) -> String {
    let fallen = |what: &str, amount, over_hours: u32| match over_hours {
        1 => format!("{what}, up to {amount} in an hour"),
        hours => format!("{what}, {amount} somewhere within {hours} hours"),
    };
    match *reason {
        Reason::Rain { total, over_hours } => {
            fallen("rain", figures::rain(total, units), over_hours)
        }
        Reason::Snow { total, over_hours } => {
            fallen("snow", figures::rain(total, units), over_hours)
        }
        Reason::Cold { below } => format!("air below {}", figures::temperature(below, units)),
        Reason::Gust { from } => format!("gusts of {} or more", figures::wind(from, units)),
    }
}

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
            let moved = match (middle_moved, setting.start_speed) {
                (true, Some(speed)) => format!(
                    "; the air asks for {}, so the middle will have moved",
                    figures::travel_speed(speed, units)
                ),
                _ => String::new(),
            };
            format!("earlier center {heat}{at_speed} ({from}){moved}")
        }
    }
}

/// What the plan leaves out or bends, and why.
pub fn note(note: &Note, plan: &DayPlan) -> String {
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    match note {
        Note::NotAWorkday => {
            format!(
                "{} is not a workday of this crew; planned because it was asked for.",
                plan.date.format("%A")
            )
        }
        Note::ChangeWaits { due, change, break_name, test_at } => format!(
            "{}: the air has moved {} since the last test; so close before {break_name} the test \
             waits for the one at {}.",
            clock(*due),
            figures::difference(*change, plan.units),
            clock(*test_at)
        ),
        Note::TooLate { due, cause } => format!(
            "{}: {} asks for a test, but so close to the end of the shift none is planned. \
             Test, or weld no more today.",
            clock(*due),
            cause_noun(cause)
        ),
        Note::HeldToTheEnd { from } => {
            format!("From {} the weather holds the welding to the end of the shift.", clock(*from))
        }
        Note::SpeedClamped { welder } => format!(
            "{welder}: the start speed was kept within this welder's range; the rule alone would \
             leave it."
        ),
        Note::RainUnknown => {
            "Rain is not in this forecast for the whole of the shift: look at the sky and a radar."
                .to_owned()
        }
        Note::ClockChange { gained_minutes } => {
            let way = if *gained_minutes > 0 { "longer" } else { "shorter" };
            let minutes = gained_minutes.abs();
            format!(
                "The clock changes during this shift: it is {minutes} min {way} than the wall \
                 clock says."
            )
        }
    }
}

/// A piece of advice.
pub fn advice(advice: &Advice) -> &'static str {
    match advice.key {
        "stale" => {
            "This forecast could not be renewed. Look at the sky, and plan again before work \
             starts. (common practice)"
        }
        "wet" => {
            "Nothing wet gets welded: moisture in the lap flashes to steam. Dry and wipe the lap, \
             seal what is open before the rain, and test again before welding resumes. \
             (common practice)"
        }
        "cold" => {
            "Cold: keep the rolls warm, go slower and test more often. Many specifications stop \
             adhesives and membrane work below 40 °F (4 °C): look yours up. (common practice)"
        }
        "gust" => {
            "Gusts cool the lap, steal the air flow and turn sheets into sails: shield the \
             welder, weight the rolls, and stop handling large sheets when the competent person \
             says so. (common practice)"
        }
        _ => "",
    }
}

/// How the trial is cut and peeled. *Common practice.*
pub const HOW_TO_TEST: [&str; 5] = [
    "Weld strips of today's sheet, off the roll in use, where the work is. Set weights and air \
     first and leave them; hold the speed; change only the heat.",
    "Let each weld cool. Cut at least three strips at each heat, 1 in wide, across the seam.",
    "Peel slowly and steadily, never along the seam. Good: the sheet tears to the scrim over the \
     weld, 1 to 1½ in wide. Cold: the faces part. Burnt: brown, yellow, char or heavy bleed-out, \
     however wide it peels.",
    "Lowest good heat is the bottom, highest good heat the top: set the machine in the middle.",
    "No heat holds? Do not weld. Change speed only, and test again.",
];

/// The usual cautions. The crew's own competent person and local rules decide.
pub const CAUTIONS: [&str; 4] = [
    "Nozzle air burns and starts fires: fire watch and extinguisher at hand. Ventilate the fumes.",
    "Generator: carbon monoxide, no hot fueling, grounded, GFCI where required.",
    "Roof edge: fall protection. Thunder: clear the roof. Heat, cold and wind: the crew's own \
     competent person decides.",
    "This plan says where to start; the peel says whether it holds. Local codes, the project \
     specification and the membrane maker's instructions come first.",
];

/// Source and age of the weather: `Weather: nws, issued Apr 8 16:00, fetched 0 min ago`.
pub fn weather_line(weather: &PlanWeather, zone: Tz) -> String {
    let day_and_time =
        |at: DateTime<Utc>| at.with_timezone(&zone).format("%b %-d %H:%M").to_string();
    let issued =
        weather.issued_at.map_or_else(String::new, |at| format!(", issued {}", day_and_time(at)));
    format!("Weather: {}{issued}, read {}", weather.source, day_and_time(weather.fetched_at))
}

/// The first line of every output when an old forecast stands in.
pub fn stale_line(age: TimeDelta) -> String {
    format!(
        "STALE FORECAST, {} old: the weather service could not be asked.",
        figures::duration(age)
    )
}
