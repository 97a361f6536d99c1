//! The shape of a trial in JSON, as `record --json` reads it and every output shows it. Names here
//! are a contract with other programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::render::json::Figure;

/// One test weld at one welder at one time. Numbers are in `units`, or else in the site's: °F,
/// ft/min, in and mil, or °C, m/min, mm and mm. What is not known is left out or `null`, never zero.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrialJson {
    /// What the numbers mean; the site's own units where it is left out.
    #[serde(default)]
    pub units: Option<UnitsWord>,
    /// When it was made: RFC 3339, or `YYYY-MM-DDTHH:MM` on the site's clock. Now, where left out.
    #[serde(default)]
    pub at: Option<String>,
    /// Who made it.
    pub who: String,
    /// The id of the plan's checkpoint that it was made for, such as `after-lunch`. The one that
    /// its time fits, where left out.
    #[serde(default)]
    pub checkpoint: Option<String>,
    /// The welder's name, as in the site file; may be left out where the site has one welder only.
    #[serde(default)]
    pub welder: Option<String>,
    /// Needed only for a welder that the site file does not have.
    #[serde(default)]
    pub kind: Option<KindWord>,
    /// What the sheet is made of; the site's where left out.
    #[serde(default)]
    pub polymer: Option<PolymerWord>,
    /// The sheet's nominal thickness; the site's where left out.
    #[serde(default)]
    pub thickness: Option<Figure>,
    /// The sheet's lot.
    #[serde(default)]
    pub lot: Option<String>,
    /// The roll.
    #[serde(default)]
    pub roll: Option<String>,
    /// Air in the shade, read by the crew.
    pub air: Figure,
    /// The sheet's own surface, by infrared thermometer.
    #[serde(default)]
    pub sheet_temperature: Option<Figure>,
    /// The machine's weights, in the crew's words.
    #[serde(default)]
    pub weights: Option<String>,
    /// The machine's air flow, in the crew's words.
    #[serde(default)]
    pub air_flow: Option<String>,
    /// Held for every heat; none for a hand welder.
    #[serde(default)]
    pub speed: Option<Figure>,
    /// At least one, in any order.
    #[schemars(length(min = 1, max = 100))]
    pub heats: Vec<HeatJson>,
    /// Anything else.
    #[serde(default)]
    pub note: Option<String>,
    /// The setting really run afterwards, where it is known already.
    #[serde(default)]
    pub ran: Option<RanJson>,
}

/// One heat and its strips.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HeatJson {
    /// What the machine was set to.
    pub heat: Figure,
    /// Where it differed from the trial's.
    #[serde(default)]
    pub speed: Option<Figure>,
    /// Where they differed from the trial's.
    #[serde(default)]
    pub weights: Option<String>,
    /// Where it differed from the trial's.
    #[serde(default)]
    pub air_flow: Option<String>,
    /// In any order.
    #[schemars(length(max = 100))]
    pub strips: Vec<StripJson>,
}

/// One strip, one inch (25 mm) wide.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StripJson {
    /// How wide the weld held, across the seam.
    pub width: Figure,
    /// How it parted.
    pub parted: PartedWord,
    /// What else was seen.
    #[serde(default)]
    pub signs: Vec<SignWord>,
    /// Which way it was pulled; across the seam where left out.
    #[serde(default)]
    pub peeled: Option<PeeledWord>,
}

/// A setting that was run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RanJson {
    /// What the machine was set to.
    pub heat: Figure,
    /// None for a hand welder.
    #[serde(default)]
    pub speed: Option<Figure>,
}

/// `us` or `metric`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum UnitsWord {
    /// °F, ft/min, in, mil.
    Us,
    /// °C, m/min, mm, mm.
    Metric,
}

/// How a welder moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum KindWord {
    /// Self-propelled.
    Automatic,
    /// Held by hand.
    Hand,
}

/// What a sheet is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PolymerWord {
    /// Polyvinyl chloride.
    Pvc,
    /// Thermoplastic polyolefin.
    Tpo,
    /// Ketone ethylene ester.
    Kee,
}

/// How a strip parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PartedWord {
    /// The sheet tore down to its reinforcement over the whole weld.
    FilmTear,
    /// The faces came apart; no reinforcement seen.
    Cold,
    /// Torn in one place, come apart in another.
    Mixed,
}

/// What was seen on a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SignWord {
    /// Brown on the face or the edge: burnt.
    Browning,
    /// Yellow at the edge: burnt.
    Yellowing,
    /// Charred: burnt.
    Char,
    /// Much more molten sheet at the edge than usual: burnt.
    HeavyBleedOut,
    /// A pocket that is not bonded.
    Void,
    /// The reinforcement cannot be seen.
    ScrimNotReached,
}

/// Which way a strip was pulled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PeeledWord {
    /// As a test machine would.
    Across,
    /// Which tells nothing.
    Along,
}

/// The JSON Schema of [`TrialJson`], as kept in `docs/trial.schema.json`.
pub fn trial_schema() -> String {
    let schema = schemars::schema_for!(TrialJson);
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}
