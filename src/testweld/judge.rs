//! A trial with everything that follows from it.

use super::dial::Dial;
use super::doubt::{Doubt, doubts};
use super::exchange::HeatPerSpeed;
use super::reading::{Machine, read_window};
use super::trial::Trial;
use super::verdict::{JudgedHeat, StripRules, judge_heats};
use super::window::{Reading, RunSetting, WhyNot};
use crate::site::{Site, Welder};
use crate::units::UnitSystem;

/// By what a trial is judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judging {
    /// What strips have to show.
    pub strips: StripRules,
    /// Which heats can be dialed.
    pub dial: Dial,
    /// What a change of speed is worth.
    pub heat_per_speed: HeatPerSpeed,
}

/// A trial and what it proves.
#[derive(Debug, Clone, PartialEq)]
pub struct JudgedTrial {
    /// As written down.
    pub trial: Trial,
    /// Why it proves nothing; empty for a sound record.
    pub doubts: Vec<Doubt>,
    /// Ascending, each heat once. Judged also where the trial as a whole proves nothing.
    pub heats: Vec<JudgedHeat>,
    /// The window and the setting.
    pub reading: Reading,
}

impl Judging {
    /// The defaults for a crew that reads `units`. *Common practice*.
    pub const fn default_for(units: UnitSystem) -> Self {
        Self {
            strips: StripRules::default_for(units),
            dial: Dial::default_for(units),
            heat_per_speed: HeatPerSpeed::modeled(),
        }
    }
}

impl Judging {
    /// By the rules of a site.
    pub fn of_site(site: &Site) -> Self {
        let rules = &site.rules;
        let usual = Self::default_for(site.units);
        Self {
            strips: StripRules {
                min_width: rules.strip_min_width,
                target_width: rules.strip_target_width,
                ..usual.strips
            },
            dial: Dial { increment: rules.heat_increment.in_units(site.units), ..usual.dial },
            ..usual
        }
    }
}

impl JudgedTrial {
    /// Judges `trial`, made on `welder`; `None` where the site file has no such welder.
    ///
    /// A trial with doubts has no window: vary two things at once and the result means nothing.
    pub fn new(trial: Trial, welder: Option<&Welder>, judging: &Judging) -> Self {
        let doubts = doubts(&trial, welder);
        let heats = judge_heats(&trial, welder, &judging.strips);
        let reading = match welder {
            Some(welder) if doubts.is_empty() => {
                let (dial, heat_per_speed) = (judging.dial, judging.heat_per_speed);
                let speed = trial.speed_held();
                read_window(&heats, Machine { welder, speed, dial, heat_per_speed })
            }
            _ => Reading {
                window: None,
                setting: RunSetting::DoNotWeld(WhyNot::NotConclusive),
                findings: Vec::new(),
            },
        };
        Self { trial, doubts, heats, reading }
    }

    /// Whether anything was proved, for the good or for the bad.
    pub fn is_conclusive(&self) -> bool {
        self.reading.setting != RunSetting::DoNotWeld(WhyNot::NotConclusive)
    }
}
