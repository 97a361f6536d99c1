//! The verdict on one heat, from its strips.
//!
//! *Common practice* throughout: one strip is enough to fail a heat, three are needed to pass it.

use super::strip::{Parted, Peeled, Sign, Strip};
use super::trial::Trial;
use crate::site::Welder;
use crate::units::{BondWidth, Temperature, UnitSystem};

/// What a heat's strips have to show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StripRules {
    /// Fewer strips peeled across the seam than this pass no heat.
    pub min_strips: usize,
    /// Every strip tears over at least this.
    pub min_width: BondWidth,
    /// What the crew aims at; a narrower weld passes and is named.
    pub target_width: BondWidth,
}

/// One heat, all its strips together, and what they prove.
#[derive(Debug, Clone, PartialEq)]
pub struct JudgedHeat {
    /// What the machine was set to.
    pub heat: Temperature,
    /// What the strips prove.
    pub verdict: HeatVerdict,
    /// Strips peeled across the seam: those that count.
    pub strips_across: usize,
    /// Strips peeled along the seam: set aside, but for a burn seen on them.
    pub strips_along: usize,
}

/// What one heat's strips prove.
#[derive(Debug, Clone, PartialEq)]
pub enum HeatVerdict {
    /// Every strip tears over the least width, and none shows a burn.
    Good {
        /// Narrowest weld of the strips.
        narrowest: BondWidth,
        /// Whether even the narrowest reaches what the crew aims at.
        reaches_target: bool,
    },
    /// Not fused everywhere.
    Cold(Vec<ColdSign>),
    /// A burn was seen, however wide the strips hold.
    Burnt(Vec<Sign>),
    /// Neither passed nor failed.
    NotConclusive(Vec<HeatDoubt>),
}

/// What shows that a heat has not fused the sheet everywhere.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub enum ColdSign {
    /// Strips of which the faces came apart.
    Parted {
        /// How many.
        strips: usize,
    },
    /// Strips torn in one place and come apart in another.
    Mixed {
        /// How many.
        strips: usize,
    },
    /// Strips that tear, but over less than the least width.
    Narrow {
        /// How many.
        strips: usize,
        /// The narrowest.
        narrowest: BondWidth,
    },
    /// Strips with a pocket that is not bonded.
    Void {
        /// How many.
        strips: usize,
    },
    /// Strips on which the reinforcement cannot be seen.
    ScrimNotReached {
        /// How many.
        strips: usize,
    },
}

/// Why a heat proves nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeatDoubt {
    /// Fewer strips peeled across the seam than the rule asks for.
    TooFewStrips {
        /// Peeled across.
        found: usize,
        /// By the rule.
        needed: usize,
    },
    /// Strips peeled along the seam, which tell nothing.
    PeeledAlong {
        /// How many.
        strips: usize,
    },
    /// The machine has no such heat.
    OutsideMachine {
        /// Its first heat of a full range.
        lowest: Temperature,
        /// Its maximum.
        highest: Temperature,
    },
}

impl StripRules {
    /// Three strips, 1 in (25 mm) at least, 1½ in (38 mm) aimed at. *Common practice*.
    pub const fn default_for(units: UnitSystem) -> Self {
        let (min_width, target_width) = match units {
            UnitSystem::Us => (BondWidth::from_inches(1.0), BondWidth::from_inches(1.5)),
            UnitSystem::Metric => {
                (BondWidth::from_millimeters(25.0), BondWidth::from_millimeters(38.0))
            }
        };
        Self { min_strips: 3, min_width, target_width }
    }
}

impl HeatVerdict {
    /// The word in every output.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Good { .. } => "good",
            Self::Cold(_) => "cold",
            Self::Burnt(_) => "burnt",
            Self::NotConclusive(_) => "not-conclusive",
        }
    }

    /// Whether the heat passed.
    pub const fn is_good(&self) -> bool {
        matches!(self, Self::Good { .. })
    }

    /// Whether it proves nothing because the machine has no such heat.
    pub fn is_outside_machine(&self) -> bool {
        let Self::NotConclusive(doubts) = self else { return false };
        doubts.iter().any(|doubt| matches!(doubt, HeatDoubt::OutsideMachine { .. }))
    }
}

impl ColdSign {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Parted { .. } => "parted",
            Self::Mixed { .. } => "mixed",
            Self::Narrow { .. } => "narrow",
            Self::Void { .. } => "void",
            Self::ScrimNotReached { .. } => "scrim-not-reached",
        }
    }
}

impl HeatDoubt {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::TooFewStrips { .. } => "too-few-strips",
            Self::PeeledAlong { .. } => "peeled-along",
            Self::OutsideMachine { .. } => "outside-machine",
        }
    }
}

/// The verdict on the strips of one heat, in any order.
///
/// A burn wins over everything, even on a strip peeled along the seam: it is seen, not peeled. Then
/// one strip that is not fused fails the heat. Then there have to be enough strips to pass it.
pub fn judge_strips(strips: &[Strip], rules: &StripRules) -> HeatVerdict {
    let burns: Vec<Sign> = Sign::ALL
        .into_iter()
        .filter(|sign| sign.is_burn() && strips.iter().any(|strip| strip.signs.contains(sign)))
        .collect();
    if !burns.is_empty() {
        return HeatVerdict::Burnt(burns);
    }
    let across: Vec<&Strip> =
        strips.iter().filter(|strip| strip.peeled == Peeled::Across).collect();
    let cold = cold_signs(&across, rules);
    if !cold.is_empty() {
        return HeatVerdict::Cold(cold);
    }
    match narrowest(across.iter().copied()) {
        Some(narrowest) if across.len() >= rules.min_strips => {
            HeatVerdict::Good { narrowest, reaches_target: narrowest.reaches(rules.target_width) }
        }
        _ => HeatVerdict::NotConclusive(too_few(across.len(), strips.len(), rules.min_strips)),
    }
}

/// Every heat of `trial`, ascending; strips of a heat that was tried twice are judged together.
///
/// A heat outside the range of `welder` proves nothing, whatever its strips show.
pub fn judge_heats(trial: &Trial, welder: Option<&Welder>, rules: &StripRules) -> Vec<JudgedHeat> {
    let mut by_heat: Vec<(Temperature, Vec<Strip>)> = Vec::new();
    for tried in &trial.heats {
        let same = |heat: Temperature| !heat.is_below(tried.heat) && !heat.is_above(tried.heat);
        match by_heat.iter_mut().find(|(heat, _)| same(*heat)) {
            Some((_, strips)) => strips.extend(tried.strips.iter().cloned()),
            None => by_heat.push((tried.heat, tried.strips.clone())),
        }
    }
    by_heat.sort_by(|(one, _), (other, _)| one.celsius().total_cmp(&other.celsius()));
    by_heat.into_iter().map(|(heat, strips)| judge_heat(heat, &strips, welder, rules)).collect()
}

fn judge_heat(
    heat: Temperature,
    strips: &[Strip],
    welder: Option<&Welder>,
    rules: &StripRules,
) -> JudgedHeat {
    let outside = welder
        .filter(|welder| heat.is_below(welder.heat_low) || heat.is_above(welder.heat_max))
        .map(|welder| HeatDoubt::OutsideMachine {
            lowest: welder.heat_low,
            highest: welder.heat_max,
        });
    let verdict = match outside {
        Some(doubt) => HeatVerdict::NotConclusive(vec![doubt]),
        None => judge_strips(strips, rules),
    };
    let strips_across = strips.iter().filter(|strip| strip.peeled == Peeled::Across).count();
    JudgedHeat { heat, verdict, strips_across, strips_along: strips.len() - strips_across }
}

/// A width below the least counts as cold only where the strip tore: a strip that parted is named
/// once, not twice.
fn cold_signs(strips: &[&Strip], rules: &StripRules) -> Vec<ColdSign> {
    let parted = |way: Parted| strips.iter().filter(|strip| strip.parted == way).count();
    let seen = |sign: Sign| strips.iter().filter(|strip| strip.signs.contains(&sign)).count();
    let narrow: Vec<&Strip> = strips
        .iter()
        .copied()
        .filter(|strip| strip.parted == Parted::FilmTear)
        .filter(|strip| !strip.bond_width.reaches(rules.min_width))
        .collect();
    let mut signs = Vec::new();
    let mut push = |strips: usize, sign: ColdSign| {
        if strips > 0 {
            signs.push(sign);
        }
    };
    let (cold, mixed) = (parted(Parted::Cold), parted(Parted::Mixed));
    let (voids, no_scrim) = (seen(Sign::Void), seen(Sign::ScrimNotReached));
    push(cold, ColdSign::Parted { strips: cold });
    push(mixed, ColdSign::Mixed { strips: mixed });
    if let Some(narrowest) = narrowest(narrow.iter().copied()) {
        push(narrow.len(), ColdSign::Narrow { strips: narrow.len(), narrowest });
    }
    push(voids, ColdSign::Void { strips: voids });
    push(no_scrim, ColdSign::ScrimNotReached { strips: no_scrim });
    signs
}

fn too_few(across: usize, all: usize, needed: usize) -> Vec<HeatDoubt> {
    let mut doubts = vec![HeatDoubt::TooFewStrips { found: across, needed }];
    if all > across {
        doubts.push(HeatDoubt::PeeledAlong { strips: all - across });
    }
    doubts
}

fn narrowest<'a>(strips: impl Iterator<Item = &'a Strip>) -> Option<BondWidth> {
    strips.map(|strip| strip.bond_width).reduce(BondWidth::min)
}
