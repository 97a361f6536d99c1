//! What was done, held against what was planned: a day for the file, a month for the office.
//!
//! Pure: the plan, the trials and the clock are arguments. Nothing here says that a seam is good.

mod checkpoint;
mod day;
mod kept;
mod kept_plan;
mod month;

pub use checkpoint::{EARLY, GRACE, Kept, Status, WelderAtCheckpoint};
pub use day::{DayReport, ReportInput, TestedCheckpoint, WelderDay, day_report};
pub use kept::{Correction, EarlierForm, ForecastAir, KeptTrial, Ran, Withdrawal, WithdrawnTrial};
pub use kept_plan::{
    KeptBreak, KeptCheckpoint, KeptHour, KeptPlan, KeptWeather, PlanAtHand, Standing,
    plan_that_counts,
};
pub use month::{MonthDay, MonthSummary, month_summary};
