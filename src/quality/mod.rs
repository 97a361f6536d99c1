//! What was done, held against what was planned: a day for the file, a month for the office.
//!
//! Pure: the plan, the trials and the clock are arguments. Nothing here says that a seam is good.

mod checkpoint;
mod day;
mod kept;
mod month;

pub use checkpoint::{EARLY, GRACE, Kept, Status, WelderAtCheckpoint};
pub use day::{DayReport, ReportInput, TestedCheckpoint, WelderDay, day_report};
pub use kept::{Correction, EarlierForm, ForecastAir, KeptTrial, Ran};
pub use month::{MonthDay, MonthSummary, month_summary};
