//! Keeping a published day current: what the crew was told, what a new look at the day says, and
//! whether the difference is worth a phone's ringing.
//!
//! Pure: the forecast, the trials and the clock come in as arguments. [`look`] is the whole of it;
//! `progress` finds what is done, `pairing` which checkpoint of a new plan is which of the published
//! ones, `weigh` what is told at once and what has to be said twice, `holds` the same for holds,
//! `log_words` the line about it. [`when`](followed_days) says which days are followed.

mod change;
mod forecast_mark;
mod holds;
mod log_words;
mod look;
mod pairing;
mod progress;
mod published;
mod replan;
mod weigh;
mod window;

pub use change::{Change, Waiting};
pub use forecast_mark::forecast_mark;
pub use log_words::{line, reading_off_line, waiting_line};
pub use look::{Followed, Look, Looked, NOTICE, look};
pub use published::{Hold, Point, PointSetting, Published};
pub use replan::published_plan;
pub use window::{Window, followed_days, next_window};
