//! The plan as JSON, by `docs/plan.schema.json`.

mod figure;
mod from_plan;
mod from_record;
mod wire;
mod wire_open;
mod wire_record;

use crate::plan::DayPlan;

pub use figure::Figure;
pub use from_plan::wire_plan;
pub(in crate::render) use from_plan::{Show, verdict};
pub use wire::{PlanJson, Setting, Verdict};
pub use wire_record::KnownError;

/// The plan as indented JSON with a line end.
pub fn plan_json(plan: &DayPlan) -> String {
    let mut text = to_text(&wire_plan(plan));
    text.push('\n');
    text
}

/// The JSON Schema of [`plan_json`], as kept in `docs/plan.schema.json`.
pub fn plan_schema() -> String {
    let mut text = to_text(&schemars::schema_for!(PlanJson));
    text.push('\n');
    text
}

/// The wire types hold strings and finite numbers only, so that writing them cannot fail.
pub(super) fn to_text(value: &impl serde::Serialize) -> String {
    serde_json::to_string_pretty(value).unwrap_or_default()
}
