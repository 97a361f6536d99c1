//! The rule *when*: at which minutes a test weld is mandatory.

use super::day::{BreakSpan, Cause, Note, Reason, ShiftSpan, Span, Verdict};
use super::spans::span_at;
use crate::site::Rules;
use crate::units::{Temperature, TemperatureDifference};
use chrono::{DateTime, TimeDelta, Utc};

/// A test that falls due: the minute of the shift and what asks for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Due {
    pub(super) id: String,
    pub(super) minute: usize,
    pub(super) cause: Cause,
}

/// What the walk found.
#[derive(Debug, Default)]
pub(super) struct Walked {
    pub(super) due: Vec<Due>,
    pub(super) notes: Vec<Note>,
}

/// The day as the walk sees it: one ambient value for each minute of the shift.
pub(super) struct Day<'a> {
    pub(super) rules: &'a Rules,
    pub(super) shift: &'a ShiftSpan,
    pub(super) spans: &'a [Span],
    pub(super) air: &'a [Temperature],
}

/// What has happened since the last test, as the walk goes from minute to minute.
#[derive(Default)]
struct Since<'a> {
    last_test: Option<usize>,
    /// A hold that has begun and after which nobody has tested yet.
    hold: Option<Hold<'a>>,
    /// A break that asks for a test and after which nobody has tested yet.
    stop: Option<&'a BreakSpan>,
    /// Breaks for which a waiting change has already been noted.
    noted_wait: Option<usize>,
}

struct Hold<'a> {
    first_minute: usize,
    last_minute: usize,
    reasons: &'a [Reason],
}

/// Walks the working time of `day` in steps of one minute.
pub(super) fn walk(day: &Day<'_>) -> Walked {
    let mut walked = Walked::default();
    let mut since = Since::default();
    for minute in 0..day.air.len() {
        if let Some(span) = day.hold_at(minute) {
            let first_minute = since.hold.as_ref().map_or(minute, |hold| hold.first_minute);
            since.hold = Some(Hold { first_minute, last_minute: minute, reasons: &span.reasons });
            continue;
        }
        if let Some(stop) = day.break_at(minute) {
            since.stop = Some(stop).filter(|stop| stop.needs_test).or(since.stop);
            continue;
        }
        let Some(cause) = day.cause_at(minute, &mut since, &mut walked.notes) else { continue };
        if day.is_too_late(minute) && !(minute == 0 && cause == Cause::Start) {
            walked.notes.push(Note::TooLate { due: day.time(minute), cause });
            since.hold = None;
            break;
        }
        let id = id_for(&cause, since.stop, &walked.due);
        walked.due.push(Due { id, minute, cause });
        since = Since { last_test: Some(minute), ..Since::default() };
    }
    if let Some(hold) = since.hold {
        walked.notes.push(Note::HeldToTheEnd { from: day.time(hold.first_minute) });
    }
    walked
}

impl<'a> Day<'a> {
    /// What asks for a test at a working minute outside any hold, if anything does.
    fn cause_at(
        &self,
        minute: usize,
        since: &mut Since<'a>,
        notes: &mut Vec<Note>,
    ) -> Option<Cause> {
        if let Some(cause) = self.after_a_stop(since) {
            return Some(cause);
        }
        let Some(last) = since.last_test else { return Some(Cause::Start) };
        let change = self.air[minute] - self.air[last];
        if change.abs().reaches(self.rules.ambient_change) {
            match self.break_to_wait_for(minute) {
                None => return Some(Cause::AmbientChange),
                Some((index, stop)) if since.noted_wait != Some(index) => {
                    since.noted_wait = Some(index);
                    notes.push(self.waits(minute, change, stop));
                }
                Some(_) => {}
            }
        }
        let hours = self.rules.max_hours_between;
        (minutes_as_f64(minute - last) >= hours * 60.0).then_some(Cause::Elapsed { hours })
    }

    /// A break or a hold that is over and that nobody has tested after.
    fn after_a_stop(&self, since: &Since<'a>) -> Option<Cause> {
        let break_end = since.stop.map(|stop| self.minute_of(stop.end));
        match (&since.hold, since.stop) {
            // The hold outlasted the break, so it is the hold's end that lets the crew weld again.
            (Some(hold), _) if break_end.is_none_or(|end| hold.last_minute >= end) => {
                Some(Cause::AfterHold {
                    opens_the_day: since.last_test.is_none(),
                    held_by: hold.reasons.to_vec(),
                })
            }
            (_, Some(stop)) => Some(Cause::AfterBreak {
                name: stop.name.clone(),
                minutes: (stop.end - stop.start).num_minutes(),
            }),
            _ => None,
        }
    }

    /// The break whose test comes soon enough for a change that is due at `minute`.
    fn break_to_wait_for(&self, minute: usize) -> Option<(usize, &'a BreakSpan)> {
        let reach = minute + self.rules.merge_within_minutes as usize;
        self.shift.breaks.iter().enumerate().find(|(_, stop)| {
            let begins = self.minute_of(stop.start);
            // A test that would come too late in the shift is no test to wait for.
            stop.needs_test
                && minute < begins
                && begins <= reach
                && !self.is_too_late(self.minute_of(stop.end))
        })
    }

    fn waits(&self, minute: usize, change: TemperatureDifference, stop: &BreakSpan) -> Note {
        Note::ChangeWaits {
            due: self.time(minute),
            change,
            break_name: stop.name.clone(),
            test_at: stop.end,
        }
    }

    fn hold_at(&self, minute: usize) -> Option<&'a Span> {
        span_at(self.spans, self.time(minute)).filter(|span| span.verdict == Verdict::Hold)
    }

    fn break_at(&self, minute: usize) -> Option<&'a BreakSpan> {
        let at = self.time(minute);
        self.shift.breaks.iter().find(|stop| stop.start <= at && at < stop.end)
    }

    /// Minutes are half open, so the minute that begins the last stretch belongs to it.
    fn is_too_late(&self, minute: usize) -> bool {
        minute + self.rules.last_test_before_end_minutes as usize >= self.air.len()
    }

    fn minute_of(&self, at: DateTime<Utc>) -> usize {
        usize::try_from((at - self.shift.start).num_minutes()).unwrap_or(0)
    }

    pub(super) fn time(&self, minute: usize) -> DateTime<Utc> {
        let minutes = i64::try_from(minute).unwrap_or(i64::MAX / 120_000);
        self.shift.start + TimeDelta::minutes(minutes)
    }
}

/// An id that stays the same when the day is planned again: by the break's name, or counted
/// within its cause.
fn id_for(cause: &Cause, stop: Option<&BreakSpan>, earlier: &[Due]) -> String {
    let counted = |word: &str| {
        let before = earlier.iter().filter(|due| due.cause.name() == cause.name()).count();
        format!("{word}-{}", before + 1)
    };
    match cause {
        Cause::Start => "start".to_owned(),
        Cause::AfterBreak { .. } => {
            stop.map_or_else(|| counted("after-break"), |stop| stop.checkpoint_id.clone())
        }
        Cause::AmbientChange => counted("change"),
        Cause::SheetChange => counted("sheet"),
        Cause::Elapsed { .. } => counted("elapsed"),
        Cause::AfterHold { .. } => counted("after-hold"),
    }
}

/// Minutes of a shift as a number to calculate with.
#[expect(clippy::cast_precision_loss, reason = "a shift has at most a few thousand minutes")]
const fn minutes_as_f64(minutes: usize) -> f64 {
    minutes as f64
}
