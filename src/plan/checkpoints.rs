//! The rule *when*: at which minutes a test weld is mandatory.

use chrono::{DateTime, TimeDelta, Utc};

use super::center::{CenterModel, shift};
use super::day::{BreakSpan, Cause, ShiftSpan, Span};
use super::reasons::{Note, Verdict};
use crate::physics::fusion::{CenterShift, ShareRange, Surroundings};
use crate::site::Rules;
use crate::units::{Temperature, TemperatureDifference};

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

/// What a minute of the shift is, whatever its temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Minute {
    /// The crew works.
    Work,
    /// In the break of this index.
    Break(usize),
    /// In the holding span of this index, break or not.
    Hold(usize),
}

/// The day as the walk sees it. `air`, `sheet` and `minutes` have one value a minute.
#[derive(Clone, Copy)]
pub(super) struct Day<'a> {
    pub(super) rules: &'a Rules,
    pub(super) shift: &'a ShiftSpan,
    pub(super) spans: &'a [Span],
    pub(super) minutes: &'a [Minute],
    pub(super) air: &'a [Temperature],
    pub(super) sheet: &'a [Option<Temperature>],
    pub(super) center: &'a CenterModel,
}

/// What each minute of `shift` is.
pub(super) fn minutes(shift: &ShiftSpan, spans: &[Span], count: usize) -> Vec<Minute> {
    let mut minutes = vec![Minute::Work; count];
    let index = |at: DateTime<Utc>| minute_of(shift, at).min(count);
    for (number, stop) in shift.breaks.iter().enumerate() {
        minutes[index(stop.start)..index(stop.end)].fill(Minute::Break(number));
    }
    for (number, span) in spans.iter().enumerate().filter(|(_, span)| span.verdict == Verdict::Hold)
    {
        minutes[index(span.start)..index(span.end)].fill(Minute::Hold(number));
    }
    minutes
}

/// What has happened since the last test, as the walk goes from minute to minute.
#[derive(Default)]
struct Since {
    last_test: Option<LastTest>,
    /// A hold that has begun and after which nobody has tested yet.
    hold: Option<Hold>,
    /// A break that asks for a test and after which nobody has tested yet.
    stop: Option<usize>,
    /// The break for which a waiting change has already been noted.
    noted_wait: Option<usize>,
}

struct LastTest {
    minute: usize,
    share: Option<ShareRange>,
}

struct Hold {
    first_minute: usize,
    last_minute: usize,
    span: usize,
}

/// Walks the working time of `day` in steps of one minute.
pub(super) fn walk(day: &Day<'_>) -> Walked {
    let mut walked = Walked::default();
    let mut since = Since::default();
    for minute in 0..day.air.len() {
        match day.minutes[minute] {
            Minute::Hold(span) => {
                let first_minute = since.hold.as_ref().map_or(minute, |hold| hold.first_minute);
                since.hold = Some(Hold { first_minute, last_minute: minute, span });
                continue;
            }
            Minute::Break(stop) => {
                let asks = day.shift.breaks[stop].needs_test;
                since.stop = Some(stop).filter(|_| asks).or(since.stop);
                continue;
            }
            Minute::Work => {}
        }
        let Some(cause) = day.cause_at(minute, &mut since, &mut walked.notes) else { continue };
        if day.is_too_late(minute) && !(minute == 0 && cause == Cause::Start) {
            walked.notes.push(Note::TooLate { due: day.time(minute), cause });
            since.hold = None;
            break;
        }
        let id = id_for(&cause, since.stop.map(|stop| &day.shift.breaks[stop]), &walked.due);
        walked.due.push(Due { id, minute, cause });
        let share = day.center.share(day.air[minute]);
        since = Since { last_test: Some(LastTest { minute, share }), ..Since::default() };
    }
    if let Some(hold) = since.hold {
        walked.notes.push(Note::HeldToTheEnd { from: day.time(hold.first_minute) });
    }
    walked
}

impl<'a> Day<'a> {
    /// What asks for a test at a working minute outside any hold, if anything does.
    fn cause_at(&self, minute: usize, since: &mut Since, notes: &mut Vec<Note>) -> Option<Cause> {
        if let Some(cause) = self.after_a_stop(since) {
            return Some(cause);
        }
        let Some(last) = &since.last_test else { return Some(Cause::Start) };
        if let Some(cause) = self.change(minute, last) {
            match self.break_to_wait_for(minute) {
                None => return Some(cause),
                Some((index, stop)) if since.noted_wait != Some(index) => {
                    notes.push(self.waits(minute, last.minute, &cause, stop));
                    since.noted_wait = Some(index);
                }
                Some(_) => {}
            }
        }
        let hours = self.rules.max_hours_between;
        self.is_overdue(last.minute, minute).then_some(Cause::Elapsed { hours })
    }

    /// Whether the longest time without a test is over at `minute`, after one at `last`.
    pub(super) fn is_overdue(&self, last: usize, minute: usize) -> bool {
        minutes_as_f64(minute - last) >= self.rules.max_hours_between * 60.0
    }

    /// Whether air or sheet has moved far enough since the last test.
    fn change(&self, minute: usize, last: &LastTest) -> Option<Cause> {
        let change = self.air[minute] - self.air[last.minute];
        if change.abs().reaches(self.rules.ambient_change) {
            return Some(Cause::AmbientChange);
        }
        let shift = shift(last.share?, self.around(last.minute)?, self.around(minute)?);
        shift.nominal.abs().reaches(self.center.limit).then_some(Cause::SheetChange)
    }

    /// Sheet and air of a minute, where the sheet is known.
    fn around(&self, minute: usize) -> Option<Surroundings> {
        Some(Surroundings { sheet: self.sheet[minute]?, ambient: self.air[minute] })
    }

    /// How far the middle of the window moves from one minute's conditions to another's.
    pub(super) fn center_shift(&self, from: usize, to: usize) -> Option<CenterShift> {
        let share = self.center.share(self.air[from])?;
        Some(shift(share, self.around(from)?, self.around(to)?))
    }

    /// A break or a hold that is over and that nobody has tested after.
    fn after_a_stop(&self, since: &Since) -> Option<Cause> {
        let stop = since.stop.map(|stop| &self.shift.breaks[stop]);
        let break_end = stop.map(|stop| minute_of(self.shift, stop.end));
        match (&since.hold, stop) {
            // The hold outlasted the break, so it is the hold's end that lets the crew weld again.
            (Some(hold), _) if break_end.is_none_or(|end| hold.last_minute >= end) => {
                Some(Cause::AfterHold {
                    opens_the_day: since.last_test.is_none(),
                    held_by: self.spans[hold.span].reasons.clone(),
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
    pub(super) fn break_to_wait_for(&self, minute: usize) -> Option<(usize, &'a BreakSpan)> {
        let reach = minute + self.rules.merge_within_minutes as usize;
        self.shift.breaks.iter().enumerate().find(|(_, stop)| {
            let begins = minute_of(self.shift, stop.start);
            // A test that would come too late in the shift is no test to wait for.
            stop.needs_test
                && minute < begins
                && begins <= reach
                && !self.is_too_late(minute_of(self.shift, stop.end))
        })
    }

    fn waits(&self, minute: usize, last: usize, cause: &Cause, stop: &BreakSpan) -> Note {
        let moved =
            |values: &dyn Fn(usize) -> Option<Temperature>| -> Option<TemperatureDifference> {
                Some(values(minute)? - values(last)?)
            };
        let (of_sheet, change) = match cause {
            Cause::SheetChange => (true, moved(&|minute| self.sheet[minute])),
            _ => (false, moved(&|minute| Some(self.air[minute]))),
        };
        Note::ChangeWaits {
            due: self.time(minute),
            of_sheet,
            change: change.unwrap_or(TemperatureDifference::from_kelvin(0.0)),
            break_name: stop.name.clone(),
            test_at: stop.end,
        }
    }

    /// Minutes are half open, so the minute that begins the last stretch belongs to it.
    pub(super) fn is_too_late(&self, minute: usize) -> bool {
        minute + self.rules.last_test_before_end_minutes as usize >= self.air.len()
    }

    pub(super) fn time(&self, minute: usize) -> DateTime<Utc> {
        self.shift.start + TimeDelta::minutes(i64::try_from(minute).unwrap_or_default())
    }
}

fn minute_of(shift: &ShiftSpan, at: DateTime<Utc>) -> usize {
    usize::try_from((at - shift.start).num_minutes()).unwrap_or(0)
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
        Cause::SheetChange => counted("sheet-change"),
        Cause::Elapsed { .. } => counted("elapsed"),
        Cause::AfterHold { .. } => counted("after-hold"),
    }
}

/// Minutes of a shift as a number to calculate with.
#[expect(clippy::cast_precision_loss, reason = "a shift has at most a few thousand minutes")]
const fn minutes_as_f64(minutes: usize) -> f64 {
    minutes as f64
}
