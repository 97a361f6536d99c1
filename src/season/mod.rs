//! Many days, many roofs, many years: the same `plan` core, run in bulk.
//!
//! `day` is what one day comes to, `scalar` reads it off a [`crate::plan::DayPlan`]; the bulk
//! engine gives the same days, far faster.

mod day;
mod engine;
mod scalar;

pub use day::{Hold, HoldMinutes, SeasonDay, TestCauses, Workday};
pub use engine::{DueTest, Engine, sun_over};
pub use scalar::day_of;
