//! Whether a planned test weld was made, and in time.
//!
//! No published rule was found for how late a test weld may be; these are the project's own, and
//! `docs/recording.md` states them.

use chrono::{DateTime, TimeDelta, Utc};

use super::kept::KeptTrial;
use super::kept_plan::KeptCheckpoint;

/// A trial made this long before a checkpoint counts for it.
pub const EARLY: TimeDelta = TimeDelta::minutes(30);
/// Beyond the minutes that a test takes, a trial made this long after the checkpoint is in time.
pub const GRACE: TimeDelta = TimeDelta::minutes(15);

/// Whether a checkpoint was kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// A conclusive trial was made in time.
    Done,
    /// A conclusive trial was made, but after the time allowed.
    Late {
        /// After the checkpoint's time.
        by: TimeDelta,
    },
    /// Trials were made, and none of them proved anything.
    ProvedNothing,
    /// None was made before the next checkpoint or the end of the shift.
    Missed,
    /// The time allowed is over and none was made so far.
    Overdue {
        /// After the checkpoint's time.
        by: TimeDelta,
    },
    /// The time allowed is not over yet.
    NotDue,
}

/// What one welder did at one checkpoint.
#[derive(Debug, Clone, PartialEq)]
pub struct WelderAtCheckpoint {
    /// Its name.
    pub welder: String,
    /// Whether it was tested, and in time.
    pub status: Status,
    /// Its trials for this checkpoint, oldest first, as places in the report's trials.
    pub trials: Vec<usize>,
}

/// The span in which a trial counts for a checkpoint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kept {
    /// When it falls due.
    pub due: DateTime<Utc>,
    /// Until when a trial is in time.
    pub in_time_until: DateTime<Utc>,
    /// From when another checkpoint, or the end of the shift, takes over.
    pub over_at: DateTime<Utc>,
}

impl Status {
    /// The word in outputs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Late { .. } => "late",
            Self::ProvedNothing => "proved-nothing",
            Self::Missed => "missed",
            Self::Overdue { .. } => "overdue",
            Self::NotDue => "not-due",
        }
    }

    /// Whether a conclusive trial was made.
    pub const fn is_made(self) -> bool {
        matches!(self, Self::Done | Self::Late { .. })
    }

    /// The worse of two: a checkpoint is kept when every welder in use was tested.
    #[must_use]
    pub const fn worse(self, other: Self) -> Self {
        if self.badness() >= other.badness() { self } else { other }
    }

    const fn badness(self) -> u32 {
        match self {
            Self::Done => 0,
            Self::NotDue => 1,
            Self::Late { .. } => 2,
            Self::Overdue { .. } => 3,
            Self::ProvedNothing => 4,
            Self::Missed => 5,
        }
    }
}

impl Kept {
    /// The span of the checkpoint `number` of `checkpoints`, in a shift that ends at `shift_end`.
    pub(super) fn of(
        checkpoint: &KeptCheckpoint,
        next: Option<&KeptCheckpoint>,
        shift_end: DateTime<Utc>,
    ) -> Self {
        let over_at = next.map_or(shift_end, |next| next.time);
        let allowed = TimeDelta::minutes(i64::from(checkpoint.minutes)) + GRACE;
        Self { due: checkpoint.time, in_time_until: checkpoint.time + allowed, over_at }
    }

    /// Whether a trial made at `when` counts for it.
    pub(super) fn takes(&self, when: DateTime<Utc>) -> bool {
        self.due - EARLY <= when && when < self.over_at
    }

    /// Whether a trial made at `when` that names this checkpoint is believed. What the clock sets
    /// cannot have been tested long before; what the weather sets may have come earlier than
    /// forecast.
    pub(super) fn believes(&self, checkpoint: &KeptCheckpoint, when: DateTime<Utc>) -> bool {
        !checkpoint.is_by_the_clock() || self.due - EARLY <= when
    }

    /// From the trials that count for it, oldest first.
    pub(super) fn status(&self, trials: &[&KeptTrial], now: DateTime<Utc>) -> Status {
        let proved = trials.iter().find(|kept| kept.judged.is_conclusive());
        if let Some(kept) = proved {
            let when = kept.when();
            return if when <= self.in_time_until {
                Status::Done
            } else {
                Status::Late { by: when - self.due }
            };
        }
        if now < self.over_at {
            let open = now <= self.in_time_until;
            return if open { Status::NotDue } else { Status::Overdue { by: now - self.due } };
        }
        if trials.is_empty() { Status::Missed } else { Status::ProvedNothing }
    }
}
