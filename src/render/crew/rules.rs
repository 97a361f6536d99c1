//! The limits by which a phone judges a trial on its own, as data for `verdict.js`.

use serde::Serialize;

use crate::site::{Kind, Welder};
use crate::testweld::Judging;
use crate::units::{TravelSpeed, UnitSystem};

/// What strips have to show, what the dial can be set to, what a change of speed is worth.
///
/// Temperatures in °C, differences in kelvin, widths in mm, speeds in ft/min: as they are held
/// here, so that the phone does the same sums on the same numbers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JudgingRules {
    /// `us` or `metric`: in what the crew reads and dials.
    pub units: &'static str,
    /// Fewer strips across the seam pass no heat.
    pub min_strips: usize,
    /// Every strip tears over at least this.
    pub min_width_mm: f64,
    /// What the crew aims at.
    pub target_width_mm: f64,
    /// Marks of the dial, in the crew's degrees.
    pub dial_increment: f64,
    /// Heat that 1 ft/min is worth, near the speed below.
    pub heat_per_ft_min_k: f64,
    /// Where that holds.
    pub heat_per_near_ft_min: f64,
}

/// What a welder can be set to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WelderRange {
    /// As the site file has it.
    pub name: String,
    /// `automatic` or `hand`.
    pub kind: &'static str,
    /// First heat of a full range.
    pub heat_low_c: f64,
    /// Its maximum.
    pub heat_max_c: f64,
    /// Between two heats of a full range.
    pub heat_step_k: f64,
    /// Slowest; `null` by hand.
    pub speed_min_ft_min: Option<f64>,
    /// Fastest; `null` by hand.
    pub speed_max_ft_min: Option<f64>,
}

impl JudgingRules {
    /// `judging` for a crew that reads `units`.
    pub const fn of(judging: &Judging, units: UnitSystem) -> Self {
        let exchange = judging.heat_per_speed;
        Self {
            units: units_word(units),
            min_strips: judging.strips.min_strips,
            min_width_mm: judging.strips.min_width.millimeters(),
            target_width_mm: judging.strips.target_width.millimeters(),
            dial_increment: judging.dial.increment,
            heat_per_ft_min_k: exchange.for_one_foot_per_minute.kelvin(),
            heat_per_near_ft_min: exchange.near.feet_per_minute(),
        }
    }
}

impl WelderRange {
    /// The range of `welder`.
    pub fn of(welder: &Welder) -> Self {
        let (slowest, fastest) = welder.speed.unzip();
        Self {
            name: welder.name.clone(),
            kind: match welder.kind {
                Kind::Automatic => "automatic",
                Kind::Hand => "hand",
            },
            heat_low_c: welder.heat_low.celsius(),
            heat_max_c: welder.heat_max.celsius(),
            heat_step_k: welder.heat_step.kelvin(),
            speed_min_ft_min: slowest.map(TravelSpeed::feet_per_minute),
            speed_max_ft_min: fastest.map(TravelSpeed::feet_per_minute),
        }
    }
}

/// The word of a unit system in a trial's JSON.
pub(super) const fn units_word(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "us",
        UnitSystem::Metric => "metric",
    }
}
