//! The plan of one working day: when to test, what to set, when the roof can be welded.
//!
//! Pure: the clock, the forecast and the record of earlier trials come in as arguments, and the
//! same arguments give the same plan. Text is not made here: reasons are values, and `render`
//! puts them into words.
//!
//! In the order in which a plan comes about: `timeline` turns wall time into instants, `spans`
//! judges every minute, `walk` goes through the shift by the rule *when*, `checkpoints` names what it
//! finds, `settings` works the rule
//! *what*, `progress` lets a day that is under way go on from its last test, `likelihood` says how sure they are, `footage` how far they get, `to_open` how much roof that closes before rain, `power` what generator
//! and cord leave, `advice` what to see to, and [`plan_day`] gathers it. `roof` is the physics of
//! the day; `center` how the heat window moves with the sheet; `span_rules` the rules by which
//! `spans` judges; `explain` tells every number behind one minute.

mod advice;
mod advised;
mod center;
mod checkpoints;
mod day;
mod error;
mod explain;
mod footage;
mod gather;
mod likelihood;
mod mandatory;
pub mod power;
mod progress;
mod reasons;
mod roof;
mod roof_moment;
mod roof_steps;
mod settings;
mod span_rules;
mod spans;
mod straight_hour;
mod summary;
mod timeline;
mod to_open;
mod walk;

pub use advised::{Advice, HeatSchedule, Topic};
pub use day::{
    BreakSpan, DayPlan, Dry, Footage, FootageStretch, FootageTarget, KnownError, Likelihood,
    PlanHour, PlanWeather, ShiftSpan, Span, StandBy, Summary, TestCount,
};
pub use error::PlanError;
pub use explain::{
    Derivation, ExplainError, Explainer, Explanation, OpticsUsed, Origin, Reading, SheetAt,
    SinceTest, SkyAt, SpeedSteps, Stage, SunAt, TestHere, WallMoment, WallTime, WaterAt, WeatherAt,
    WelderSpeed, explain_moment, shift_date, wall_moment,
};
pub use gather::{PlanInput, plan_day, plan_rest_of_day};
pub use mandatory::{Cause, CauseKind, Checkpoint, Heats, Setting, Trial};
pub use progress::{Progress, Settled, TestMade, reading_is_off};
pub use reasons::{Note, Reason, Verdict};
pub use roof::Roof;
pub use roof_moment::{FilmMoment, FilmRun, RoofMoment};
pub use settings::start_speed;
pub use span_rules::{Comparison, Measure, Rule, RuleCheck};
pub use to_open::{Lack, OpenFrom, RoofToOpen};

// The same decisions without their words, for days in bulk.
pub(crate) use center::CenterModel;
pub(crate) use roof::{FILM_RUN_UP, FILM_STEP, FILM_STEP_MINUTES, RoofHour};
pub(crate) use settings::speed_without_record;
pub(crate) use span_rules::{first_hold, is_falling};
pub(crate) use spans::is_wet;
pub(crate) use straight_hour::{
    DryMinutes, HOUR_STEPS, MINUTES_AT_ONCE, Node, PressureAt, STEP_S, StraightHour, WholeHour,
};
pub(crate) use timeline::{instant, needs_test, shift_times};
pub(crate) use walk::{Course, Event, LastTest, Limits, Minute, Stop, Walker};
