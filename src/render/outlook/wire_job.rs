//! The shape of what moving a job by a month would save.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::wire::Spread;
use crate::render::json::Figure;

/// A job as planned, and moved by a month either way, in every year on record that carries it to its
/// end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Moves {
    /// Seam of the whole job; `null` where the job is its workdays from `start` to `finish`.
    pub footage: Option<Figure>,
    /// First day as planned, `YYYY-MM-DD`.
    pub start: String,
    /// Last day as planned.
    pub finish: String,
    /// As planned.
    pub planned: JobYears,
    /// A month earlier, a month later.
    pub moved: Vec<Move>,
}

/// What the job takes, over the years that count.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct JobYears {
    /// Years that carry the job to its end.
    pub years_counted: usize,
    /// Test welds.
    pub tests: Option<Spread>,
    /// Minutes of testing.
    pub minutes: Option<Spread>,
    /// Times the crew's size and what an hour costs, in the currency of `crew_cost_per_hour`.
    pub cost: Option<Spread>,
    /// Workdays.
    pub workdays: Option<Spread>,
    /// Weldable hours of those days.
    pub weldable_hours: Option<Spread>,
}

/// The job moved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Move {
    /// -1 for a month earlier, 1 for a month later.
    pub months: i32,
    /// First day then, `YYYY-MM-DD`.
    pub start: String,
    /// What the job takes then.
    pub takes: JobYears,
    /// Years that count both as planned and moved: the savings are theirs, each against itself.
    pub years_compared: usize,
    /// Those of them that save test welds.
    pub years_saving_tests: usize,
    /// What is saved; below zero where the move takes more. `null` where no year can be compared.
    pub saved: Option<Saved>,
}

/// What a move saves: as planned less moved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Saved {
    /// Test welds.
    pub tests: Option<Spread>,
    /// Minutes of testing.
    pub minutes: Option<Spread>,
    /// Their cost; `null` where the site file does not give `crew_size` and `crew_cost_per_hour`.
    pub cost: Option<Spread>,
    /// Workdays; 0 where the job is its workdays.
    pub workdays: Option<Spread>,
    /// Weldable hours that the same job gains: moved less planned.
    pub weldable_hours_gained: Option<Spread>,
}
