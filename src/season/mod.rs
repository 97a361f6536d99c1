//! Many days, many roofs, many years: the same `plan` core, run in bulk.
//!
//! `day` is what one day comes to, `scalar` reads it off a [`crate::plan::DayPlan`]; the bulk
//! engine gives the same days, far faster. [`site_year`] is the one door to the days of a record.
//! `ahead` is the days of a forecast; `record` gathers past years by month, week, weekday and season (`seasons`), with
//! `tally` for what is counted, `percentile` for how, `budget` for what it costs, `finish` for
//! whether a job would have been done in time and `moving` for what it would save to move it.
//! `day_order` says which of several roofs to go to first; [`kept_year`] is a finished site-year as text.

mod ahead;
mod budget;
mod day;
mod day_order;
mod engine;
mod finish;
pub mod kept_year;
mod moving;
mod percentile;
mod record;
mod scalar;
mod seasons;
mod site_year;
mod sites;
mod tally;

pub use ahead::{AheadInput, DayAhead, DayRow, DaysAhead, Reach, Word, days_ahead};
pub use budget::MonthBudget;
pub use day::{Hold, HoldMinutes, SeasonDay, TestCauses, Workday};
pub use day_order::{DayOrder, RoofOfDay, day_orders};
pub use engine::{DueTest, Engine, sun_over};
pub use finish::{FinishOdds, FinishQuestion, FinishYear};
pub use moving::{Job, JobMove, JobMoves, JobSaved, JobYear, job_moves};
pub use percentile::{Spread, nearest_rank};
pub use record::{YearsBehind, years_behind};
pub use scalar::day_of;
pub use seasons::Season;
pub use site_year::{SEASON_VERSION, Suns, site_year};
pub use sites::{Failed, SiteAhead, SiteHead, SiteYears, WorstDay, worst_days, worst_first};
pub use tally::{DewStarts, Tally};
