//! The shape of a judged trial in JSON. Names here are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::wire::TrialJson;
use crate::render::json::Figure;

/// A trial and what it proves. Numbers are in the units that `trial.units` names; `null` is unknown
/// or none, never zero.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JudgedJson {
    /// As written down, in the shape that `record --json` reads.
    pub trial: TrialJson,
    /// What to run at.
    pub setting: SettingJson,
    /// From the lowest to the highest good heat; `null` where none was good.
    pub window: Option<WindowJson>,
    /// Why the trial as a whole proves nothing; empty for a sound record.
    pub doubts: Vec<OddJson>,
    /// What is odd and what to do next, most important first.
    pub findings: Vec<OddJson>,
    /// Every heat, ascending.
    pub heats: Vec<HeatVerdictJson>,
}

/// What to run at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SettingJson {
    /// `run-at` or `do-not-weld`.
    pub verdict: String,
    /// `nothing-good`, `contradiction` or `not-conclusive`; `null` for `run-at`.
    pub why: Option<String>,
    /// As the machine is set.
    pub heat: Option<Figure>,
    /// The speed held in the trial.
    pub speed: Option<Figure>,
    /// In one line.
    pub text: String,
}

/// A heat window.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WindowJson {
    /// Lowest good heat.
    pub bottom: Option<Figure>,
    /// Highest good heat.
    pub top: Option<Figure>,
    /// Half way, on the machine's dial.
    pub center: Option<Figure>,
    /// A heat below was cold.
    pub bottom_found: bool,
    /// A heat above was burnt.
    pub top_found: bool,
}

/// Something odd.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OddJson {
    /// In a word.
    pub name: String,
    /// What was seen.
    pub text: String,
    /// What to do next.
    pub next: String,
    /// Heats to try or to repeat.
    pub heats: Vec<Figure>,
}

/// A heat and what its strips prove.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct HeatVerdictJson {
    /// What the machine was set to.
    pub heat: Option<Figure>,
    /// `good`, `cold`, `burnt` or `not-conclusive`.
    pub verdict: String,
    /// Why.
    pub text: String,
    /// Strips peeled across the seam.
    pub strips_across: usize,
    /// Strips peeled along the seam.
    pub strips_along: usize,
}

/// What `record --format json` prints.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RecordedJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// By which the trial is called in the book; `null` where it was not written.
    pub id: Option<String>,
    /// Whether it stands in the book now.
    pub written: bool,
    /// The trial and its verdict.
    pub judged: JudgedJson,
    /// What all this does not say.
    pub caution: String,
}
