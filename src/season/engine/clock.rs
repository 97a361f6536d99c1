//! Time as the engine counts it: whole seconds since the first hour of the year's weather.

use chrono::{DateTime, TimeDelta, Utc};

/// An instant, in seconds after the start of the weather.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Second(pub(super) i64);

impl Second {
    pub(super) fn of(at: DateTime<Utc>, first: DateTime<Utc>) -> Self {
        Self((at - first).num_seconds())
    }

    pub(super) fn instant(self, first: DateTime<Utc>) -> DateTime<Utc> {
        first + TimeDelta::seconds(self.0)
    }

    /// The hour that it lies in; `None` before the first.
    pub(super) fn hour(self) -> Option<usize> {
        usize::try_from(self.0.div_euclid(3600)).ok()
    }

    /// Seconds of that hour that have passed.
    pub(super) const fn into_hour(self) -> i64 {
        self.0.rem_euclid(3600)
    }

    /// Start of the hour that it lies in.
    pub(super) const fn hour_start(self) -> Self {
        Self(self.0 - self.into_hour())
    }

    pub(super) const fn plus(self, seconds: i64) -> Self {
        Self(self.0 + seconds)
    }

    /// This many whole minutes later.
    #[expect(clippy::cast_possible_wrap, reason = "minutes of a shift")]
    pub(super) const fn plus_minutes(self, minutes: usize) -> Self {
        Self(self.0 + 60 * minutes as i64)
    }
}
