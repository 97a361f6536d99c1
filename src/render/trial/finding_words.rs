//! Every odd case of a trial in words, and what to do next.

use super::amounts::{self, heat, heat_figure, heats};
use crate::render::figures;
use crate::testweld::{Finding, SpeedRoom};
use crate::units::{Temperature, UnitSystem};

/// Where to look when something other than heat was at work. *Common practice.*
const OTHER_CAUSES: &str = "voltage, cord and nozzle, and dirt, water or a lifted sheet in the lap";

/// What was seen.
pub fn finding(finding: &Finding, units: UnitSystem) -> String {
    let two =
        |low: Temperature, high| format!("{} and {}", heat_figure(low, units), heat(high, units));
    match finding {
        Finding::HoleInTheMiddle { good_below, failed, good_above } => format!(
            "{} failed between the good heats {}: something other than heat was at work.",
            heats(failed, units),
            two(*good_below, *good_above)
        ),
        Finding::ColdAboveGood { good, cold } => format!(
            "{} was cold above a good {}: more heat cannot make a weld colder, so something else \
             was at work, or the sheet was overheated and peels.",
            heat(*cold, units),
            heat(*good, units)
        ),
        Finding::BurntBelowGood { burnt, good } => format!(
            "{} was burnt below a good {}: less heat cannot burn more, so something else was at \
             work.",
            heat(*burnt, units),
            heat(*good, units)
        ),
        Finding::BurntBelowCold { burnt, cold } => format!(
            "{} was burnt below a cold {}, and no heat was good: something other than heat was at \
             work.",
            heat(*burnt, units),
            heat(*cold, units)
        ),
        Finding::AllCold { highest, .. } => {
            format!("No heat was good: cold up to {}, the highest tried.", heat(*highest, units))
        }
        Finding::AllColdToMaximum { maximum, .. } => {
            format!(
                "No heat was good: cold up to {}, the machine's maximum.",
                heat(*maximum, units)
            )
        }
        Finding::AllBurnt { lowest, .. } => {
            format!("No heat was good: burnt down to {}, the lowest tried.", heat(*lowest, units))
        }
        Finding::AllBurntToLowest { lowest, .. } => format!(
            "No heat was good: burnt down to {}, the machine's first heat.",
            heat(*lowest, units)
        ),
        Finding::ColdThenBurnt { cold, burnt, .. } => format!(
            "No heat was good: {} was cold and {} already burnt.",
            heat(*cold, units),
            heat(*burnt, units)
        ),
        Finding::SingleGoodHeat { heat: only, .. } => {
            format!("One single heat was good, {}: there is no room around it.", heat(*only, units))
        }
        Finding::NarrowerThanStep { width, step, .. } => format!(
            "The window is {} wide, narrower than a step of {}: there is little room for wind, \
             cloud or voltage.",
            amounts::degrees(*width, units),
            amounts::degrees(*step, units)
        ),
        Finding::TopNotFound { highest_good, .. } => format!(
            "Good up to {}, the highest tried: the top was not found, and the setting is the \
             middle of what is known.",
            heat(*highest_good, units)
        ),
        Finding::TopAtMaximum { maximum, .. } => format!(
            "Good up to {}, the machine's maximum: the top is out of its reach, and the setting is \
             the middle of what is known.",
            heat(*maximum, units)
        ),
        Finding::BottomNotFound { lowest_good, .. } => format!(
            "Good down to {}, the lowest tried: the bottom was not found, and the setting is the \
             middle of what is known.",
            heat(*lowest_good, units)
        ),
        Finding::BottomAtLowest { lowest, .. } => format!(
            "Good down to {}, the machine's first heat: the bottom is out of its reach, and the \
             setting is the middle of what is known.",
            heat(*lowest, units)
        ),
        Finding::OutsideMachine { heats: outside, lowest, highest } => format!(
            "{} proved nothing: the site file gives this machine {} to {}.",
            heats(outside, units),
            amounts::heat_figure(*lowest, units),
            amounts::heat(*highest, units)
        ),
        Finding::Repeat { heats: doubtful } => {
            format!("{} proved nothing.", heats(doubtful, units))
        }
    }
}

/// What to do next.
pub fn next(finding: &Finding, units: UnitSystem) -> String {
    match finding {
        Finding::HoleInTheMiddle { failed, .. } => {
            format!("Look at {OTHER_CAUSES}. Then repeat {}.", heats(failed, units))
        }
        Finding::ColdAboveGood { cold, .. } => {
            format!("Look at {OTHER_CAUSES}. Then repeat {}.", heat(*cold, units))
        }
        Finding::BurntBelowGood { burnt, .. } => {
            format!("Look at {OTHER_CAUSES}. Then repeat {}.", heat(*burnt, units))
        }
        Finding::BurntBelowCold { .. } => format!("Look at {OTHER_CAUSES}. Then repeat the trial."),
        Finding::AllCold { next, .. } => {
            format!("Try {}, at the same speed.", heat(*next, units))
        }
        Finding::AllBurnt { next, .. } => {
            format!("Try {}, at the same speed.", heat(*next, units))
        }
        Finding::AllColdToMaximum { slower, .. } => only_speed(slower, "slower", units),
        Finding::AllBurntToLowest { faster, .. } => only_speed(faster, "faster", units),
        Finding::ColdThenBurnt { half_steps, .. } if half_steps.is_empty() => {
            "Nothing is left to try in between at this speed. Change one thing, the speed first, \
             and test again."
                .to_owned()
        }
        Finding::ColdThenBurnt { half_steps, .. } => {
            format!("Try half steps in between: {}, at the same speed.", heats(half_steps, units))
        }
        Finding::SingleGoodHeat { half_steps, .. }
        | Finding::NarrowerThanStep { half_steps, .. } => half_steps_beside(half_steps, units),
        Finding::TopNotFound { next, .. } => {
            format!("Try {} to find the top, at the same speed.", heat(*next, units))
        }
        Finding::BottomNotFound { next, .. } => {
            format!("Try {} to find the bottom, at the same speed.", heat(*next, units))
        }
        Finding::TopAtMaximum { slower, .. } => beyond_reach(slower, "slower", "top", units),
        Finding::BottomAtLowest { faster, .. } => beyond_reach(faster, "faster", "bottom", units),
        Finding::OutsideMachine { .. } => {
            "Keep to the machine's heats; if it has this one, correct `heat_low` or `heat_max` in \
             the site file."
                .to_owned()
        }
        Finding::Repeat { heats: doubtful } => format!(
            "Repeat {}: three strips or more at each heat, 1 in (25 mm) wide, peeled across the \
             seam.",
            heats(doubtful, units)
        ),
    }
}

fn half_steps_beside(half_steps: &[Temperature], units: UnitSystem) -> String {
    if half_steps.is_empty() {
        return "The half steps to each side have been tried or are out of the machine's reach. \
                Test again sooner than the plan asks."
            .to_owned();
    }
    format!("Try half steps beside it: {}, at the same speed.", heats(half_steps, units))
}

/// No heat is left: the speed, and by how much.
fn only_speed(room: &SpeedRoom, way: &str, units: UnitSystem) -> String {
    let nothing_good = "Only speed is left";
    match room {
        SpeedRoom::Change { .. } => {
            format!("{nothing_good}. Test again {}.", change(room, way, units))
        }
        SpeedRoom::None { at } => format!(
            "The machine goes no {way} than {}: neither heat nor speed is left. Look at \
             {OTHER_CAUSES}, or use another welder.",
            figures::travel_speed(*at, units)
        ),
        SpeedRoom::ByHand => {
            format!("{nothing_good}, which is your own hand. Move {way} and test again.")
        }
    }
}

fn beyond_reach(room: &SpeedRoom, way: &str, end: &str, units: UnitSystem) -> String {
    match room {
        SpeedRoom::Change { .. } => format!(
            "Only a {way} speed would show the {end}: a trial {}.",
            change(room, way, units)
        ),
        SpeedRoom::None { at } => format!(
            "Only a {way} speed would show the {end}, and {} is this machine's last.",
            figures::travel_speed(*at, units)
        ),
        SpeedRoom::ByHand => format!("Only a {way} hand would show the {end}."),
    }
}

/// `at 7.2 ft/min, 2.8 slower, worth about 100 °F of heat (a model's size for the next trial, …)`.
fn change(room: &SpeedRoom, way: &str, units: UnitSystem) -> String {
    let SpeedRoom::Change { from, to, worth, stopped_by_machine } = room else {
        return String::new();
    };
    let by = figures::round_to((to.in_units(units) - from.in_units(units)).abs(), 10.0);
    let end = if *stopped_by_machine { ", as far as this machine goes" } else { "" };
    format!(
        "at about {} instead of {}, {by} {way}{end}: worth about {} of heat (by a model; a size \
         for the next trial, never a setting)",
        figures::travel_speed(*to, units),
        figures::travel_speed_figure(*from, units),
        figures::difference_whole(*worth, units)
    )
}
