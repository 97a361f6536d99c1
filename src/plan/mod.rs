//! The plan of one working day: when to test, what to set, when the roof can be welded.
//!
//! Pure: the clock, the forecast and the record of earlier trials come in as arguments, and the
//! same arguments give the same plan. Text is not made here: reasons are values, and `render`
//! puts them into words.

mod day;

pub use day::{
    Advice, BreakSpan, Cause, Checkpoint, DayPlan, Heats, Note, PlanHour, PlanWeather, Reason,
    Setting, ShiftSpan, Span, Summary, Topic, Trial, Verdict,
};
