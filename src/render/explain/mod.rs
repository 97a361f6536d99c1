//! Every number behind one minute, as text and as JSON by `docs/explain.schema.json`.

mod amounts;
mod day_lines;
mod from_day;
mod from_explanation;
mod from_roof;
mod line;
mod record_lines;
mod roof_lines;
mod see;
mod text;
mod wire;
mod wire_roof;
mod words;

use crate::plan::Explanation;

pub use from_explanation::wire_explanation;
pub use see::See;
pub use text::text;
pub use wire::ExplanationJson;

/// The explanation as indented JSON with a line end.
pub fn json(explanation: &Explanation) -> String {
    to_text(&wire_explanation(explanation))
}

/// The JSON Schema of [`json()`], as kept in `docs/explain.schema.json`.
pub fn schema() -> String {
    to_text(&schemars::schema_for!(ExplanationJson))
}

/// The wire types hold strings and finite numbers only, so that writing them cannot fail.
fn to_text(value: &impl serde::Serialize) -> String {
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
