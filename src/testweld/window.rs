//! The heat window of a trial, and every odd way in which there is none. Types only; numbers are
//! carried, words are found elsewhere.

use super::exchange::SpeedRoom;
use crate::units::{Temperature, TemperatureDifference, TravelSpeed};

/// From the lowest to the highest heat that gave a good weld.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatWindow {
    /// Lowest good heat.
    pub bottom: Temperature,
    /// Highest good heat.
    pub top: Temperature,
    /// Half way between, as the machine can be set.
    pub center: Temperature,
    /// A heat below it was tried and was cold.
    pub bottom_found: bool,
    /// A heat above it was tried and was burnt.
    pub top_found: bool,
}

/// What a trial comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The window, where any heat was good; also where the trial contradicts itself.
    pub window: Option<HeatWindow>,
    /// What to run at.
    pub setting: RunSetting,
    /// What is odd and what to try next, most important first; empty where nothing is.
    pub findings: Vec<Finding>,
}

/// What to run at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RunSetting {
    /// The center of the window.
    RunAt {
        /// As the machine can be set.
        heat: Temperature,
        /// The speed of the trial; `None` for a hand welder.
        speed: Option<TravelSpeed>,
    },
    /// No production welding on this trial.
    DoNotWeld(WhyNot),
}

/// Why there is no setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyNot {
    /// No heat was good.
    NothingGood,
    /// The heats contradict each other.
    Contradiction,
    /// The trial proves nothing.
    NotConclusive,
}

/// Something odd about a trial, with what to do next.
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// Heats failed between good ones: something other than heat was at work. Repeat them.
    HoleInTheMiddle {
        /// Good, below the hole.
        good_below: Temperature,
        /// Those that failed.
        failed: Vec<Temperature>,
        /// Good, above the hole.
        good_above: Temperature,
    },
    /// A heat was cold above every good one. Repeat it.
    ColdAboveGood {
        /// Highest good.
        good: Temperature,
        /// Lowest cold above it.
        cold: Temperature,
    },
    /// A heat was burnt below every good one. Repeat it.
    BurntBelowGood {
        /// Highest burnt below it.
        burnt: Temperature,
        /// Lowest good.
        good: Temperature,
    },
    /// None was good, and a heat was burnt below a cold one. Repeat the trial.
    BurntBelowCold {
        /// Lowest burnt.
        burnt: Temperature,
        /// Highest cold.
        cold: Temperature,
    },
    /// None was good, all that failed were cold, and the machine has more.
    AllCold {
        /// Highest tried.
        highest: Temperature,
        /// One step more, at most the machine's maximum.
        next: Temperature,
    },
    /// None was good up to the machine's maximum: only a slower speed is left.
    AllColdToMaximum {
        /// The machine's.
        maximum: Temperature,
        /// Slower by what one heat step is worth.
        slower: SpeedRoom,
    },
    /// None was good, all that failed were burnt, and the machine has less.
    AllBurnt {
        /// Lowest tried.
        lowest: Temperature,
        /// One step less, at least the machine's first heat.
        next: Temperature,
    },
    /// None was good down to the machine's first heat: only a faster speed is left.
    AllBurntToLowest {
        /// The machine's first heat.
        lowest: Temperature,
        /// Faster by what one heat step is worth.
        faster: SpeedRoom,
    },
    /// Cold, then burnt, none good: try in between.
    ColdThenBurnt {
        /// Highest cold.
        cold: Temperature,
        /// Lowest burnt.
        burnt: Temperature,
        /// Half steps in between, ascending; empty where they are tried already and only speed,
        /// weights or air flow are left.
        half_steps: Vec<Temperature>,
    },
    /// One heat alone was good.
    SingleGoodHeat {
        /// Which.
        heat: Temperature,
        /// Half steps to each side that were not tried, ascending.
        half_steps: Vec<Temperature>,
    },
    /// The window is narrower than a heat step.
    NarrowerThanStep {
        /// From bottom to top.
        width: TemperatureDifference,
        /// The welder's.
        step: TemperatureDifference,
        /// Half steps to each side that were not tried, ascending.
        half_steps: Vec<Temperature>,
    },
    /// Good up to the highest heat tried; the middle is that of the known part.
    TopNotFound {
        /// Highest good.
        highest_good: Temperature,
        /// One step more, at most the machine's maximum.
        next: Temperature,
    },
    /// Good up to the machine's maximum: only a slower speed would bring the top into reach.
    TopAtMaximum {
        /// The machine's.
        maximum: Temperature,
        /// Slower by what one heat step is worth.
        slower: SpeedRoom,
    },
    /// Good down to the lowest heat tried; the middle is that of the known part.
    BottomNotFound {
        /// Lowest good.
        lowest_good: Temperature,
        /// One step less, at least the machine's first heat.
        next: Temperature,
    },
    /// Good down to the machine's first heat: only a faster speed would bring the bottom into reach.
    BottomAtLowest {
        /// The machine's first heat.
        lowest: Temperature,
        /// Faster by what one heat step is worth.
        faster: SpeedRoom,
    },
    /// Heats that the machine does not have by the site file, which prove nothing.
    OutsideMachine {
        /// Ascending.
        heats: Vec<Temperature>,
        /// The machine's first heat.
        lowest: Temperature,
        /// Its maximum.
        highest: Temperature,
    },
    /// Heats that proved nothing: repeat them.
    Repeat {
        /// Ascending.
        heats: Vec<Temperature>,
    },
}

impl HeatWindow {
    /// From bottom to top.
    pub fn width(&self) -> TemperatureDifference {
        self.top - self.bottom
    }

    /// Half way between bottom and top, before it is put on the dial.
    pub fn middle(&self) -> Temperature {
        self.bottom + self.width() / 2.0
    }

    /// Whether both ends were found, so that the middle is that of the whole window.
    pub const fn is_closed(&self) -> bool {
        self.bottom_found && self.top_found
    }
}

impl RunSetting {
    /// The word in outputs.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::RunAt { .. } => "run-at",
            Self::DoNotWeld(_) => "do-not-weld",
        }
    }
}

impl WhyNot {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::NothingGood => "nothing-good",
            Self::Contradiction => "contradiction",
            Self::NotConclusive => "not-conclusive",
        }
    }
}

impl Finding {
    /// The word in outputs.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::HoleInTheMiddle { .. } => "hole-in-the-middle",
            Self::ColdAboveGood { .. } => "cold-above-good",
            Self::BurntBelowGood { .. } => "burnt-below-good",
            Self::BurntBelowCold { .. } => "burnt-below-cold",
            Self::AllCold { .. } => "all-cold",
            Self::AllColdToMaximum { .. } => "all-cold-to-maximum",
            Self::AllBurnt { .. } => "all-burnt",
            Self::AllBurntToLowest { .. } => "all-burnt-to-lowest",
            Self::ColdThenBurnt { .. } => "cold-then-burnt",
            Self::SingleGoodHeat { .. } => "single-good-heat",
            Self::NarrowerThanStep { .. } => "narrower-than-step",
            Self::TopNotFound { .. } => "top-not-found",
            Self::TopAtMaximum { .. } => "top-at-maximum",
            Self::BottomNotFound { .. } => "bottom-not-found",
            Self::BottomAtLowest { .. } => "bottom-at-lowest",
            Self::OutsideMachine { .. } => "outside-machine",
            Self::Repeat { .. } => "repeat",
        }
    }

    /// Whether it says that the heats contradict each other.
    pub const fn is_contradiction(&self) -> bool {
        matches!(
            self,
            Self::HoleInTheMiddle { .. }
                | Self::ColdAboveGood { .. }
                | Self::BurntBelowGood { .. }
                | Self::BurntBelowCold { .. }
        )
    }
}
