//! A day that is under way: what is settled, and from which test the rest of it is counted.

use chrono::{DateTime, Utc};

use super::checkpoints::{Due, minute_of};
use super::day::ShiftSpan;
use super::mandatory::Cause;
use super::walk::Resume;
use crate::site::Rules;
use crate::units::Temperature;

/// How far a day has come.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Progress {
    /// Checkpoints that stay where they are: tested, or due and not tested yet. Ascending.
    pub settled: Vec<Settled>,
    /// Conclusive trials of the day, whatever they were made for, in any order.
    pub tests: Vec<TestMade>,
}

/// A checkpoint that stays where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// Its id.
    pub id: String,
    /// When it fell or falls due.
    pub time: DateTime<Utc>,
    /// What asked for it.
    pub cause: Cause,
    /// Ambient for that minute, as it was planned.
    pub air: Temperature,
    /// The test that was made for it; `None` where it is still to be made.
    pub tested: Option<TestMade>,
}

/// A test weld as far as the rest of the day depends on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestMade {
    /// When it was made.
    pub when: DateTime<Utc>,
    /// Ambient as the crew read it.
    pub air: Temperature,
}

/// [`Progress`] in the minutes of the shift.
#[derive(Debug)]
pub(super) struct SoFar {
    /// The settled checkpoints.
    pub(super) due: Vec<Due>,
    pub(super) settled: Vec<Settled>,
    /// The test, or the due checkpoint, from which the rest is counted.
    pub(super) last: Option<TestMade>,
    pub(super) resume: Resume,
}

/// Whether a reading lies so far from the forecast for its minute that the forecast cannot be held
/// against it: every minute that follows would ask for a test. The change is then counted from the
/// forecast's own value.
pub fn reading_is_off(rules: &Rules, read: Temperature, forecast: Temperature) -> bool {
    (read - forecast).abs().reaches(rules.ambient_change)
}

impl SoFar {
    /// `air` and `sheet` have one value a minute of `shift`; nothing is asked for before `now`.
    pub(super) fn new(
        progress: &Progress,
        rules: &Rules,
        shift: &ShiftSpan,
        now: DateTime<Utc>,
        air: &[Temperature],
    ) -> Self {
        // A shift that was cut short since leaves out what lay beyond its new end.
        let inside = |at: DateTime<Utc>| at < shift.end;
        let settled: Vec<Settled> =
            progress.settled.iter().filter(|point| inside(point.time)).cloned().collect();
        let minute = |at| minute_of(shift, at);
        let due = settled.iter().map(|point| Due {
            id: point.id.clone(),
            minute: minute(point.time),
            cause: point.cause.clone(),
        });
        // Until somebody has read a thermometer there, the newest forecast is the best guess.
        let untested = |point: &Settled| {
            let air = air.get(minute(point.time)).copied().unwrap_or(point.air);
            TestMade { when: point.time, air }
        };
        let last = settled
            .iter()
            .map(|point| point.tested.unwrap_or_else(|| untested(point)))
            .chain(progress.tests.iter().copied().filter(|test| test.when <= now))
            .filter(|test| inside(test.when))
            .max_by_key(|test| test.when);
        let from_settled = settled.iter().map(|point| minute(point.time) + 1).max();
        let from_test = last.map(|test| minute(test.when) + 1);
        let reference = last.map(|test| {
            let at = minute(test.when);
            let forecast = air.get(at).copied().unwrap_or(test.air);
            let off = reading_is_off(rules, test.air, forecast);
            (at, if off { forecast } else { test.air })
        });
        let resume = Resume {
            last_test: reference,
            from: from_settled.max(from_test).unwrap_or(0),
            ask_from: minute(now),
        };
        Self { due: due.collect(), settled, last, resume }
    }
}
