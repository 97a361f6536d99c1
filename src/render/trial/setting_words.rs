//! What to run at, first and in one line; the window behind it.

use super::amounts::{self, heat, heat_figure};
use super::{doubt_words, finding_words};
use crate::render::figures;
use crate::testweld::{HeatWindow, JudgedTrial, RunSetting, WhyNot};
use crate::units::{Temperature, TravelSpeed, UnitSystem};
use crate::words::{Language, tell};

/// `SET automatic 1: 925 °F at 8 ft/min`, or `DO NOT WELD with automatic 1: …`.
pub fn headline(language: Language, judged: &JudgedTrial, units: UnitSystem) -> String {
    let welder = &judged.trial.welder;
    match judged.reading.setting {
        RunSetting::RunAt { heat, speed } => {
            let setting = setting(language, heat, speed, units);
            tell!(language, "setting-run", welder, setting)
        }
        RunSetting::DoNotWeld(why) => {
            tell!(language, "setting-none", welder, why = why_not(language, why))
        }
    }
}

/// `925 °F at 8 ft/min`, `925 °F` by hand.
pub fn setting(
    language: Language,
    at: Temperature,
    speed: Option<TravelSpeed>,
    units: UnitSystem,
) -> String {
    let heat = heat(at, units);
    match speed {
        Some(speed) => {
            let speed = figures::travel_speed(speed, units);
            tell!(language, "setting-at-speed", heat, speed)
        }
        None => heat,
    }
}

/// Why there is no setting.
pub fn why_not(language: Language, why: WhyNot) -> String {
    match why {
        WhyNot::NothingGood => tell!(language, "no-setting-nothing-good"),
        WhyNot::Contradiction => tell!(language, "no-setting-contradiction"),
        WhyNot::NotConclusive => tell!(language, "no-setting-not-conclusive"),
    }
}

/// `800 to 1050 °F, 250 °F wide; both ends found`.
pub fn window(language: Language, window: &HeatWindow, units: UnitSystem) -> String {
    let bottom = heat_figure(window.bottom, units);
    let (top, width) = (heat(window.top, units), amounts::degrees(window.width(), units));
    match (window.bottom_found, window.top_found) {
        (true, true) => tell!(language, "window-both", bottom, top, width),
        (true, false) => tell!(language, "window-bottom", bottom, top, width),
        (false, true) => tell!(language, "window-top", bottom, top, width),
        (false, false) => tell!(language, "window-neither", bottom, top, width),
    }
}

/// What is odd, each with what to do next, most important first.
pub fn odd_and_next(
    language: Language,
    judged: &JudgedTrial,
    units: UnitSystem,
) -> Vec<(String, String)> {
    let doubts = judged.doubts.iter().map(|one| {
        let doubt = doubt_words::doubt(language, one, units);
        (tell!(language, "doubt-not-conclusive", doubt), doubt_words::next(language, one))
    });
    let findings = judged.reading.findings.iter().map(|finding| {
        let next = finding_words::next(language, finding, units);
        (finding_words::finding(language, finding, units), next)
    });
    doubts.chain(findings).collect()
}
