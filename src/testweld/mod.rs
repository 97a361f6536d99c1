//! Test welds: the trial, what it proves, what carries over to the next one, what was learned.
//!
//! In reading order: [`Trial`] is what the crew wrote down; [`accept`] is the door of the book;
//! [`judge_heats`] and [`read_window`] turn strips into verdicts and verdicts into a heat window;
//! [`JudgedTrial`] holds it all together; [`Book`] finds where the next trial starts; [`Learned`]
//! is the estimate beside the rules, and [`site_error`] how far the forecast is off at this site. No clock, no file, no database: everything is an argument.

mod accept;
mod book;
mod calibration;
mod carry;
mod dial;
mod doubt;
mod estimate;
mod exchange;
mod judge;
mod learning;
mod reading;
mod refusal;
mod regression;
mod strip;
mod trial;
mod verdict;
mod window;

pub use accept::{LONGEST_TEXT, MOST_HEATS, MOST_STRIPS, accept};
pub use book::{Book, LookedUp, PassedOver, WhyPassedOver};
pub use calibration::{
    AmbientPair, DAYS_TO_EARN, LeadRange, LeadTimeError, MOST_DAYS, SiteError, forecast_errors,
    site_error,
};
pub use carry::{
    ByHand, ByHandBeside, Carry, EarlierWindow, EarlierWindows, NoRecords, Origin, UnreadableBook,
    WhyFullRange,
};
pub use dial::Dial;
pub use doubt::{Doubt, doubts};
pub use estimate::{Estimate, estimate};
pub use exchange::{HeatPerSpeed, SpeedRoom};
pub use judge::{JudgedTrial, Judging};
pub use learning::{
    Basis, Conditions, Expectation, Learned, LeftOut, MOST_TRIALS, MeanErrors, Observation,
    Standing, TRIALS_TO_EARN, belief_before_data, observations,
};
pub use reading::{Machine, read_window};
pub use refusal::{Bounds, Field, Refusal};
pub use regression::{Belief, Predicted, Three, student_t_95};
pub use strip::{Parted, Peeled, Sign, Strip};
pub use trial::{HeatTrial, Trial};
pub use verdict::{
    ColdSign, HeatDoubt, HeatVerdict, JudgedHeat, StripRules, judge_heats, judge_strips,
};
pub use window::{Finding, HeatWindow, Reading, RunSetting, WhyNot};
