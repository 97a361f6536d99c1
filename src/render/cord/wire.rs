//! The shape of `fairseam cord` as JSON. Names here are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::render::json::Figure;

/// What generator and cord leave for the welders of one site. `units` says the unit of each kind
/// of number; `null` is unknown, never zero.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CordJson {
    /// Version of this shape.
    pub fairseam: u32,
    /// Name of the site.
    pub site: String,
    /// Unit of each kind of number.
    pub units: Units,
    /// Air for which it is worked out.
    pub air: Option<Figure>,
    /// Whether `air` was asked for; if not, it is the air of the rating.
    pub air_given: bool,
    /// The cord that was asked for in place of the site file's.
    pub what_if: Option<WhatIf>,
    /// The generator; `null` where it was not checked.
    pub generator: Option<Generator>,
    /// Every cord that was checked, in the order of the site's welders.
    pub cords: Vec<Cord>,
    /// What was not checked and which keys of the site file would change that.
    pub not_checked: Vec<NotChecked>,
    /// What the figures take for granted.
    pub notes: Vec<String>,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

/// Unit of each kind of number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Units {
    /// `degF` or `degC`.
    pub temperature: String,
    /// `ft` or `m`.
    pub length: String,
    /// `W`.
    pub power: String,
    /// `V`.
    pub voltage: String,
    /// `A`.
    pub current: String,
    /// `ohm`.
    pub resistance: String,
}

/// The cord that was asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WhatIf {
    /// Its size; `null` keeps the site file's.
    pub size: Option<Size>,
    /// Its length, one way; `null` keeps the site file's.
    pub length: Option<Figure>,
}

/// Size of a conductor: one of the two is given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Size {
    /// Gauge.
    pub awg: Option<u32>,
    /// Cross-section in mm².
    pub mm2: Option<Figure>,
}

/// A generator and its load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Generator {
    /// Whether it carries the load; `unknown` where no welder that counts has a rating.
    pub verdict: GeneratorVerdict,
    /// Rated below what common practice wants for an automatic welder alone.
    pub small: bool,
    /// Continuous rating.
    pub rated: Option<Figure>,
    /// What the rating ought to be by common practice; `null` without an automatic welder.
    pub wanted_rating: Option<Figure>,
    /// Height of the roof; `null` where the site file lacks it: what is left is then that at the
    /// sea, the most there can be.
    pub elevation: Option<Figure>,
    /// What is left of the rating in percent.
    pub left_percent: Option<Figure>,
    /// What is left of the rating.
    pub left: Option<Figure>,
    /// Whether the automatic welder has it to itself, where the site file says so.
    pub dedicated: Option<bool>,
    /// What hangs on it.
    pub load: Option<Load>,
    /// The same in words.
    pub text: String,
}

/// Whether a generator carries its load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum GeneratorVerdict {
    /// It does.
    Carries,
    /// It does not.
    Short,
    /// The load is not known.
    Unknown,
}

/// What hangs on a generator.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Load {
    /// By the welders' plates.
    pub total: Option<Figure>,
    /// Welders in it.
    pub welders: Vec<String>,
    /// Welders that would count and have no rating: the load is then at least `total`.
    pub unrated: Vec<String>,
    /// What remains; negative when the load is too great.
    pub margin: Option<Figure>,
    /// The load in percent of what is left of the rating.
    pub percent: Option<Figure>,
}

/// A welder's cord.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cord {
    /// The welder.
    pub welder: String,
    /// Power on its plate.
    pub rated_power: Option<Figure>,
    /// Voltage on its plate, which the supply is taken to give.
    pub rated_voltage: Option<Figure>,
    /// The cord as it is.
    pub now: CordOption,
    /// Current with the heater full on.
    pub current: Option<Figure>,
    /// Resistance of both conductors together, copper at 75 °C.
    pub loop_resistance: Option<Figure>,
    /// Voltage at the welder.
    pub voltage: Option<Figure>,
    /// Drop by the textbook's 2·L·R·I at the plate's current.
    pub textbook_drop: Option<Figure>,
    /// The same in percent of the supply.
    pub textbook_drop_percent: Option<Figure>,
    /// Rise of the welder's greatest heat over ambient: a difference.
    pub rise: Option<Figure>,
    /// What the drop takes from it at full output: a difference, with its range.
    pub lost_heat: Range,
    /// The effect on the weld in words.
    pub effect: String,
    /// Heavier sizes at this length, then shorter lengths of this size.
    pub others: Vec<CordOption>,
}

/// One cord and what it does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CordOption {
    /// Size of each conductor.
    pub size: Size,
    /// One way.
    pub length: Option<Figure>,
    /// Against what the code's notes advise.
    pub verdict: DropVerdict,
    /// Voltage lost on it.
    pub drop: Option<Figure>,
    /// The same in percent of the supply.
    pub drop_percent: Option<Figure>,
    /// Power at the welder.
    pub power: Option<Figure>,
    /// The same in percent of what it would take right at the supply.
    pub power_percent: Option<Figure>,
    /// The longest of this size that stays within 3 %, rounded down.
    pub longest: Option<Figure>,
}

/// A drop against what the code's notes advise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DropVerdict {
    /// At most 3 %.
    Within,
    /// More than 3 %, advised for a branch.
    OverBranch,
    /// More than 5 %, advised from source to outlet.
    OverTotal,
}

/// A value with its range.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Range {
    /// Low end.
    pub low: Option<Figure>,
    /// High end.
    pub high: Option<Figure>,
}

/// Something that was not checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct NotChecked {
    /// `generator`, or the name of a welder.
    pub about: String,
    /// Why, and what to add.
    pub why: String,
}
