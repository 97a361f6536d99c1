//! Many days, many roofs, many years: the same `plan` core, run in bulk.
//!
//! `day` is what one day comes to, `scalar` reads it off a [`crate::plan::DayPlan`]; the bulk
//! engine gives the same days, far faster.

mod day;
mod scalar;

pub use day::{Hold, HoldMinutes, SeasonDay, TestCauses, Workday};
pub use scalar::day_of;
