//! The shape of how much roof may be opened before rain.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Figure;

/// What can be sealed before rain at the plan's speeds: an upper end, without corners, details and
/// hand welds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OpenRoof {
    /// By when it has to be sealed.
    pub sealed_by: String,
    /// From the start of each weldable stretch until then; empty where there is no seam to be laid.
    pub from: Vec<OpenFrom>,
    /// Keys of the site file that are not given and without which less can be said.
    pub lacks: Vec<String>,
}

/// What can be sealed from one moment on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OpenFrom {
    /// First minute of the weldable stretch.
    pub start: String,
    /// Seam of all automatic welders until then, tests, breaks and holds left out.
    pub seam: Option<Figure>,
    /// Roof that it closes, laps taken off; `null` without `sheet.width` and `sheet.lap`.
    pub area: Option<Figure>,
    /// Whole rolls; `null` without `sheet.roll_length` as well.
    pub rolls: Option<u32>,
}
