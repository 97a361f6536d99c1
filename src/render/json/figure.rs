//! Numbers in JSON: rounded, and whole ones without a decimal point.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A finite number as a reader would write it: `7`, `53.1`, never `7.0`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure(f64);

impl Figure {
    /// `value` rounded to `decimals` places; `None` where it is not finite.
    pub fn rounded(value: f64, decimals: i32) -> Option<Self> {
        let parts = 10_f64.powi(decimals);
        value.is_finite().then(|| Self(crate::render::figures::round_to(value, parts)))
    }

    /// The number.
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[expect(clippy::cast_possible_truncation, reason = "checked to be whole and small")]
        if self.0.fract() == 0.0 && self.0.abs() < 1e15 {
            serializer.serialize_i64(self.0 as i64)
        } else {
            serializer.serialize_f64(self.0)
        }
    }
}

impl<'de> Deserialize<'de> for Figure {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        f64::deserialize(deserializer).map(Self)
    }
}

impl schemars::JsonSchema for Figure {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Figure".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        <f64 as schemars::JsonSchema>::json_schema(generator)
    }
}
