//! From the verdicts on the heats to the window, the setting, and what to try next.

use super::dial::Dial;
use super::exchange::HeatPerSpeed;
use super::verdict::{HeatVerdict, JudgedHeat};
use super::window::{Finding, HeatWindow, Reading, RunSetting, WhyNot};
use crate::site::Welder;
use crate::units::{Temperature, TemperatureDifference, TravelSpeed};

/// Most half steps that are named.
const MOST_HALF_STEPS: usize = 20;

/// The machine on which a trial was made and what it can be set to.
#[derive(Debug, Clone, Copy)]
pub struct Machine<'a> {
    /// Its heats, their step, its speeds.
    pub welder: &'a Welder,
    /// Held in the trial; `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// Which heats can be dialed.
    pub dial: Dial,
    /// What a change of speed is worth.
    pub heat_per_speed: HeatPerSpeed,
}

/// Reads the window out of `heats`, in any order.
pub fn read_window(heats: &[JudgedHeat], machine: Machine<'_>) -> Reading {
    let sorted = Sorted::from_heats(heats);
    let (window, mut findings) = match (sorted.good.first(), sorted.good.last()) {
        (Some(&bottom), Some(&top)) => with_good(&sorted, machine, bottom, top),
        _ => (None, without_good(&sorted, machine)),
    };
    if !sorted.outside.is_empty() {
        findings.push(Finding::OutsideMachine {
            heats: sorted.outside.clone(),
            lowest: machine.welder.heat_low,
            highest: machine.welder.heat_max,
        });
    }
    if !sorted.doubtful.is_empty() {
        findings.push(Finding::Repeat { heats: sorted.doubtful.clone() });
    }
    let setting = match window {
        _ if findings.iter().any(Finding::is_contradiction) => {
            RunSetting::DoNotWeld(WhyNot::Contradiction)
        }
        Some(HeatWindow { center, .. }) => RunSetting::RunAt { heat: center, speed: machine.speed },
        None if sorted.cold.is_empty() && sorted.burnt.is_empty() => {
            RunSetting::DoNotWeld(WhyNot::NotConclusive)
        }
        None => RunSetting::DoNotWeld(WhyNot::NothingGood),
    };
    Reading { window, setting, findings }
}

/// Heats by verdict, each ascending.
struct Sorted {
    good: Vec<Temperature>,
    cold: Vec<Temperature>,
    burnt: Vec<Temperature>,
    /// The machine has no such heat; repeating it would help nobody.
    outside: Vec<Temperature>,
    /// Proved nothing for other reasons.
    doubtful: Vec<Temperature>,
}

impl Sorted {
    fn from_heats(heats: &[JudgedHeat]) -> Self {
        let of = |wanted: fn(&HeatVerdict) -> bool| {
            let mut found: Vec<Temperature> =
                heats.iter().filter(|heat| wanted(&heat.verdict)).map(|heat| heat.heat).collect();
            ascending(&mut found);
            found
        };
        Self {
            good: of(HeatVerdict::is_good),
            cold: of(|verdict| matches!(verdict, HeatVerdict::Cold(_))),
            burnt: of(|verdict| matches!(verdict, HeatVerdict::Burnt(_))),
            outside: of(HeatVerdict::is_outside_machine),
            doubtful: of(|verdict| {
                matches!(verdict, HeatVerdict::NotConclusive(_)) && !verdict.is_outside_machine()
            }),
        }
    }

    /// Cold and burnt together, ascending.
    fn failed(&self) -> Vec<Temperature> {
        let mut failed = [self.cold.as_slice(), self.burnt.as_slice()].concat();
        ascending(&mut failed);
        failed
    }
}

fn ascending(heats: &mut [Temperature]) {
    heats.sort_by(|one, other| one.celsius().total_cmp(&other.celsius()));
}

fn with_good(
    sorted: &Sorted,
    machine: Machine<'_>,
    bottom: Temperature,
    top: Temperature,
) -> (Option<HeatWindow>, Vec<Finding>) {
    let mut window = HeatWindow {
        bottom,
        top,
        center: bottom,
        bottom_found: sorted.cold.iter().any(|cold| cold.is_below(bottom)),
        top_found: sorted.burnt.iter().any(|burnt| burnt.is_above(top)),
    };
    window.center = machine.dial.set(window.middle(), bottom, top);
    let mut findings = contradictions(sorted, bottom, top);
    if findings.is_empty() {
        findings.extend(narrow(sorted, machine, &window));
        findings.extend(open_top(machine, &window));
        findings.extend(open_bottom(machine, &window));
    }
    (Some(window), findings)
}

/// What cannot be if heat is all that was varied: failures among the good heats, a cold heat above
/// them, a burnt one below.
fn contradictions(sorted: &Sorted, bottom: Temperature, top: Temperature) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut inside = sorted.failed();
    inside.retain(|heat| !heat.is_below(bottom) && !heat.is_above(top));
    if let (Some(&first), Some(&last)) = (inside.first(), inside.last()) {
        let good_below = sorted.good.iter().rev().find(|good| !good.is_above(first));
        let good_above = sorted.good.iter().find(|good| !good.is_below(last));
        findings.push(Finding::HoleInTheMiddle {
            good_below: good_below.copied().unwrap_or(bottom),
            failed: inside,
            good_above: good_above.copied().unwrap_or(top),
        });
    }
    if let Some(&cold) = sorted.cold.iter().find(|cold| cold.is_above(top)) {
        findings.push(Finding::ColdAboveGood { good: top, cold });
    }
    if let Some(&burnt) = sorted.burnt.iter().rev().find(|burnt| burnt.is_below(bottom)) {
        findings.push(Finding::BurntBelowGood { burnt, good: bottom });
    }
    findings
}

fn narrow(sorted: &Sorted, machine: Machine<'_>, window: &HeatWindow) -> Option<Finding> {
    let (width, step) = (window.width(), machine.welder.heat_step);
    if width.reaches(step) {
        return None;
    }
    let half_steps = half_steps_outside(sorted, machine, window);
    if !window.top.is_above(window.bottom) {
        return Some(Finding::SingleGoodHeat { heat: window.bottom, half_steps });
    }
    Some(Finding::NarrowerThanStep { width, step, half_steps })
}

/// Half a step below and above the window, where the machine has it and it lies short of the next
/// heat that failed.
fn half_steps_outside(
    sorted: &Sorted,
    machine: Machine<'_>,
    window: &HeatWindow,
) -> Vec<Temperature> {
    let half = machine.welder.heat_step / 2.0;
    let failed = sorted.failed();
    let free = |low: Temperature, heat: Temperature, high: Temperature| {
        !failed.iter().any(|tried| !tried.is_below(low) && !tried.is_above(high))
            && !heat.is_below(machine.welder.heat_low)
            && !heat.is_above(machine.welder.heat_max)
    };
    let dial = |heat: Temperature| machine.dial.set(heat, heat - half, heat + half);
    let below = dial(window.bottom - half);
    let above = dial(window.top + half);
    let mut heats = Vec::new();
    if free(below, below, window.bottom) && below.is_below(window.bottom) {
        heats.push(below);
    }
    if free(window.top, above, above) && above.is_above(window.top) {
        heats.push(above);
    }
    heats
}

fn open_top(machine: Machine<'_>, window: &HeatWindow) -> Option<Finding> {
    let maximum = machine.welder.heat_max;
    if window.top_found {
        return None;
    }
    if window.top.is_below(maximum) {
        let next = (window.top + machine.welder.heat_step).min(maximum);
        return Some(Finding::TopNotFound { highest_good: window.top, next });
    }
    Some(Finding::TopAtMaximum { maximum, slower: slower(machine) })
}

fn open_bottom(machine: Machine<'_>, window: &HeatWindow) -> Option<Finding> {
    let lowest = machine.welder.heat_low;
    if window.bottom_found {
        return None;
    }
    if window.bottom.is_above(lowest) {
        let next = (window.bottom - machine.welder.heat_step).max(lowest);
        return Some(Finding::BottomNotFound { lowest_good: window.bottom, next });
    }
    Some(Finding::BottomAtLowest { lowest, faster: faster(machine) })
}

fn slower(machine: Machine<'_>) -> super::exchange::SpeedRoom {
    machine.heat_per_speed.room(machine.welder, machine.speed, machine.welder.heat_step)
}

fn faster(machine: Machine<'_>) -> super::exchange::SpeedRoom {
    machine.heat_per_speed.room(machine.welder, machine.speed, -machine.welder.heat_step)
}

fn without_good(sorted: &Sorted, machine: Machine<'_>) -> Vec<Finding> {
    let welder = machine.welder;
    let finding = match (sorted.cold.last(), sorted.burnt.first()) {
        (None, None) => return Vec::new(),
        (Some(&cold), Some(&burnt)) if !burnt.is_above(cold) => {
            Finding::BurntBelowCold { burnt, cold }
        }
        (Some(&cold), Some(&burnt)) => Finding::ColdThenBurnt {
            cold,
            burnt,
            half_steps: half_steps_between(machine, cold, burnt),
        },
        (Some(&highest), None) if highest.is_below(welder.heat_max) => {
            Finding::AllCold { highest, next: (highest + welder.heat_step).min(welder.heat_max) }
        }
        (Some(_), None) => {
            Finding::AllColdToMaximum { maximum: welder.heat_max, slower: slower(machine) }
        }
        (None, Some(&lowest)) if lowest.is_above(welder.heat_low) => {
            Finding::AllBurnt { lowest, next: (lowest - welder.heat_step).max(welder.heat_low) }
        }
        (None, Some(_)) => {
            Finding::AllBurntToLowest { lowest: welder.heat_low, faster: faster(machine) }
        }
    };
    vec![finding]
}

fn half_steps_between(
    machine: Machine<'_>,
    cold: Temperature,
    burnt: Temperature,
) -> Vec<Temperature> {
    let half: TemperatureDifference = machine.welder.heat_step / 2.0;
    let mut heats = Vec::new();
    let mut heat = cold + half;
    while heat.is_below(burnt) && heats.len() < MOST_HALF_STEPS {
        let dialed = machine.dial.set(heat, cold, burnt);
        if dialed.is_above(cold) && dialed.is_below(burnt) {
            heats.push(dialed);
        }
        let next = heat + half;
        if !next.is_above(heat) {
            break;
        }
        heat = next;
    }
    heats
}
