//! The shape of what the test-weld book says beside a plan. Names here are a contract with other
//! programs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Figure;

/// The middle that a crew's own record expects.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Learned {
    /// The middle.
    pub middle: Option<Figure>,
    /// Nine in ten lie no further from it than this: a difference.
    pub band: Option<Figure>,
    /// From how many trials with both ends of the window found.
    pub trials: usize,
    /// `sheet` or `ambient`: which temperature it goes by.
    pub basis: String,
    /// That temperature.
    pub temperature: Option<Figure>,
    /// The speed; `null` for a hand welder.
    pub speed: Option<Figure>,
    /// Its mean error on this record, each trial foreseen from those before it: a difference.
    pub mean_error: Option<Figure>,
    /// That of carrying the last center over, on the same trials.
    pub mean_error_carried_over: Option<Figure>,
    /// The middle lies within the welder's heats.
    pub within_heats: bool,
    /// The same in words.
    pub text: String,
}

/// A trial that is no starting point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PassedOver {
    /// When it was made.
    pub when: String,
    /// `other-sheet`, `not-conclusive`, `do-not-weld`, `too-old` or `center-outside-heats`.
    pub reason: String,
    /// Its setting, where it had one.
    pub center: Option<Figure>,
    /// The reason in words.
    pub text: String,
}

/// How far forecasts were off at this site's trials, at the lead of this one. The planned times
/// stand on the forecast as it is; this enters how sure they are.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct KnownError {
    /// How many readings it rests on.
    pub readings: usize,
    /// On how many days; every day counts once.
    pub days: usize,
    /// Readings with a lead of this many hours or more.
    pub lead_from_hours: i64,
    /// And less than this; `null` for all beyond.
    pub lead_to_hours: Option<i64>,
    /// Mean of read less forecast, as found: a difference.
    pub found_bias: Option<Figure>,
    /// Standard deviation around it, as found.
    pub found_spread: Option<Figure>,
    /// What is taken: the bias drawn toward zero.
    pub bias: Option<Figure>,
    /// What is taken: the spread drawn toward the default.
    pub spread: Option<Figure>,
    /// The spread that is taken without readings.
    pub default_spread: Option<Figure>,
    /// The likelihoods go by it; else they go by an ensemble's members as they are.
    pub in_likelihoods: bool,
    /// The same in words.
    pub text: String,
}
