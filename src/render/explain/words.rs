//! Sentences of an explanation.

use chrono::{DateTime, Utc};

use crate::physics::radiation::Source;
use crate::plan::{
    Comparison, Derivation, Explanation, Origin, RuleCheck, Stage, Verdict, WallTime,
};
use crate::render::{OFFICE, figures, words};
use crate::site::Color;
use crate::units::UnitSystem;

use super::amounts;

/// `Care: air below 40 °F; dark: before dawn or after dusk`.
pub(super) fn verdict(explanation: &Explanation) -> String {
    let reasons = reasons(explanation);
    match explanation.verdict {
        Verdict::Weld => "Weld: no rule speaks against it.".to_owned(),
        Verdict::Care => format!("Care: {}.", reasons.join("; ")),
        Verdict::Hold => format!("Hold: {}.", reasons.join("; ")),
    }
}

/// The reasons of the rules that fire, in full.
pub(super) fn reasons(explanation: &Explanation) -> Vec<String> {
    let fired = explanation.rules.iter().filter(|check| check.fires());
    fired
        .filter_map(|check| check.reason.as_ref())
        .map(|reason| words::reason(OFFICE, reason, explanation.units))
        .collect()
}

/// What the minute is in the day.
pub(super) fn stage(explanation: &Explanation) -> String {
    let clock = |at| figures::clock(at, explanation.time_zone);
    let shift = explanation.shift.map_or_else(String::new, |(start, end)| {
        let day = explanation.date.format("%b %-d");
        format!(" the shift of {day}, {} to {}", clock(start), clock(end))
    });
    match &explanation.stage {
        Stage::Work => format!("Working time in{shift}."),
        Stage::Break { name } => format!("In the break \"{name}\" of{shift}."),
        Stage::Hold => format!("Held, in{shift}."),
        Stage::Before => format!("Before{shift}."),
        Stage::After => format!("After{shift}."),
        Stage::Unplanned => {
            "The forecast carries no plan for this day: the minute is explained by itself."
                .to_owned()
        }
    }
}

/// What a clock change did to the wall time asked for; `None` for nothing.
pub(super) fn wall(explanation: &Explanation) -> Option<String> {
    match explanation.wall {
        WallTime::Plain => None,
        WallTime::Twice => Some(
            "The clock is set back: this time occurs twice that day, and the first is meant."
                .to_owned(),
        ),
        WallTime::Skipped { asked } => Some(format!(
            "The clock is set forward: {} does not occur that day, and is read with the offset in \
             force before the change.",
            asked.format("%H:%M")
        )),
    }
}

/// How a value came about: `between 58.0 at 08:00 and 65.4 at 09:00`.
pub(super) fn origin<T: Copy>(
    origin: &Origin<T>,
    explanation: &Explanation,
    number: impl Fn(T) -> String,
) -> String {
    let at = |(time, value): (DateTime<Utc>, T)| {
        format!("{} at {}", number(value), figures::clock(time, explanation.time_zone))
    };
    match *origin {
        Origin::Told => "the source's own value".to_owned(),
        Origin::Between { before, after, bridged: false } => {
            format!("between {} and {}", at(before), at(after))
        }
        Origin::Between { before, after, bridged: true } => {
            format!("over a missing hour, between {} and {}", at(before), at(after))
        }
        Origin::Derived(from) => derivation(from).to_owned(),
        Origin::Unknown => "not in this forecast".to_owned(),
    }
}

/// What a value is worked out from.
pub(super) const fn derivation(from: Derivation) -> &'static str {
    match from {
        Derivation::AirAndHumidity => "from air and humidity",
        Derivation::AirAndDewPoint => "from air and dew point",
        Derivation::SeaLevelPressure => "from the pressure at sea level",
        Derivation::StandardAtmosphere => "standard atmosphere at this height",
    }
}

/// Where the radiation on the roof comes from.
pub(super) const fn radiation_source(source: Source) -> &'static str {
    match source {
        Source::Service => "the source's mean, in the shape of the clear sky",
        Source::ClearSkyAndCloud => "clear sky times what the cloud lets through",
        Source::Night => "the sun is below the horizon",
    }
}

/// The word of the site file.
pub(super) const fn color(color: Color) -> &'static str {
    match color {
        Color::White => "white",
        Color::Gray => "gray",
        Color::Tan => "tan",
        Color::Black => "black",
    }
}

/// A rule's limit and what comes of it: `hold from 0.010 in (rain_hold): no`.
pub(super) fn rule(check: &RuleCheck, units: UnitSystem) -> String {
    let limit = amounts::measure(check.limit, units);
    let held = match check.rule.comparison() {
        Comparison::AtLeast => format!("from {limit}"),
        Comparison::Above => format!("above {limit}"),
        Comparison::Below => format!("below {limit}"),
    };
    let key = check.rule.key().map_or_else(String::new, |key| format!(" ({key})"));
    let verdict = check.rule.verdict().name();
    let outcome = match (check.value, check.reason, check.said_by) {
        (_, Some(_), Some(graver)) => format!("yes, said by {}", graver.name()),
        (_, Some(_), None) => verdict.to_uppercase(),
        (None, None, _) => "holds nothing".to_owned(),
        (Some(_), None, _) => "no".to_owned(),
    };
    format!("{verdict} {held}{key}: {outcome}")
}
