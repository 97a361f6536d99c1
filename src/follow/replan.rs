//! The plan that says what was published.

use chrono::{DateTime, Utc};

use super::published::{Point, Published};
use crate::plan::{DayPlan, PlanError, PlanInput, Progress, plan_rest_of_day};

/// The plan of a published day for a page: exactly its checkpoints, the weather as `input` has it.
///
/// `input.forecast` is the one that the day was published with, its past hours included.
///
/// # Errors
/// See [`plan_rest_of_day`].
pub fn published_plan(input: &PlanInput<'_>, published: &Published) -> Result<DayPlan, PlanError> {
    let settled = published.points.iter().map(Point::settled).collect();
    // Asked for nothing beyond what was published.
    let after_all = PlanInput { now: DateTime::<Utc>::MAX_UTC, ..*input };
    let progress = Progress { settled, tests: Vec::new() };
    let mut plan = plan_rest_of_day(&after_all, &progress)?;
    plan.checkpoints.truncate(published.points.len());
    plan.weather.age = (input.now - plan.weather.fetched_at).max(chrono::TimeDelta::zero());
    Ok(plan)
}
