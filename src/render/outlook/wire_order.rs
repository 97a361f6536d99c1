//! The shape of which roof to go to first.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::render::json::Figure;

/// The roofs of one day, the one to go to first at the top: by its first weldable minute, then by its
/// weldable hours, then by its tests.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DayOrder {
    /// `YYYY-MM-DD`.
    pub date: String,
    /// Roofs that the forecast covers, in order; those without a weldable minute last.
    pub roofs: Vec<RoofOfDay>,
    /// Files of the roofs of which the forecast lacks that day.
    pub unknown: Vec<String>,
}

/// One roof on one day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RoofOfDay {
    /// Its name.
    pub site: String,
    /// Its file, as it was named.
    pub file: String,
    /// First minute that can be welded; `null` where there is none.
    pub first_weldable: Option<String>,
    /// Working hours that nothing holds.
    pub weldable_hours: Option<Figure>,
    /// Test welds of the plan.
    pub tests: u32,
    /// When the first of them falls due.
    pub first_test: Option<String>,
}
