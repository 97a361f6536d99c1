//! What to run at, first and in one line; the window behind it.

use super::amounts::{self, heat, heat_figure};
use super::{doubt_words, finding_words};
use crate::render::figures;
use crate::testweld::{HeatWindow, JudgedTrial, RunSetting, WhyNot};
use crate::units::{Temperature, TravelSpeed, UnitSystem};

/// `SET automatic 1: 925 °F at 8 ft/min`, or `DO NOT WELD with automatic 1: …`.
pub fn headline(judged: &JudgedTrial, units: UnitSystem) -> String {
    let welder = &judged.trial.welder;
    match judged.reading.setting {
        RunSetting::RunAt { heat, speed } => {
            format!("SET {welder}: {}", setting(heat, speed, units))
        }
        RunSetting::DoNotWeld(why) => format!("DO NOT WELD with {welder}: {}", why_not(why)),
    }
}

/// `925 °F at 8 ft/min`, `925 °F` by hand.
pub fn setting(at: Temperature, speed: Option<TravelSpeed>, units: UnitSystem) -> String {
    let at_speed = speed
        .map_or_else(String::new, |speed| format!(" at {}", figures::travel_speed(speed, units)));
    format!("{}{at_speed}", heat(at, units))
}

/// Why there is no setting.
pub const fn why_not(why: WhyNot) -> &'static str {
    match why {
        WhyNot::NothingGood => "no heat was good",
        WhyNot::Contradiction => "the heats contradict each other",
        WhyNot::NotConclusive => "this trial proves nothing",
    }
}

/// `800 to 1050 °F, 250 °F wide; both ends found`.
pub fn window(window: &HeatWindow, units: UnitSystem) -> String {
    let ends = match (window.bottom_found, window.top_found) {
        (true, true) => "both ends found",
        (true, false) => "bottom found, top not",
        (false, true) => "top found, bottom not",
        (false, false) => "neither end found",
    };
    format!(
        "{} to {}, {} wide; {ends}",
        heat_figure(window.bottom, units),
        heat(window.top, units),
        amounts::degrees(window.width(), units)
    )
}

/// What is odd, each with what to do next, most important first.
pub fn odd_and_next(judged: &JudgedTrial, units: UnitSystem) -> Vec<(String, String)> {
    let doubts = judged.doubts.iter().map(|doubt| {
        let what = format!("Not conclusive: {}.", doubt_words::doubt(doubt, units));
        (what, doubt_words::next(doubt).to_owned())
    });
    let findings = judged.reading.findings.iter();
    let findings = findings.map(|finding| {
        (finding_words::finding(finding, units), finding_words::next(finding, units))
    });
    doubts.chain(findings).collect()
}
