//! The day's mandatory test welds in the plan's own words: the ids and causes of what `walk` finds.

use chrono::{DateTime, TimeDelta, Utc};

use super::center::{CenterModel, shift};
use super::day::{BreakSpan, ShiftSpan, Span};
use super::mandatory::Cause;
use super::progress::SoFar;
use super::reasons::{Note, Verdict};
use super::walk::{Ask, Course, Event, Minute, Stop, Walker};
use crate::physics::fusion::{CenterShift, Surroundings};
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

/// The day as the walk sees it. `air`, `sheet` and `minutes` have one value a minute.
#[derive(Clone, Copy)]
pub(super) struct Day<'a> {
    pub(super) rules: &'a Rules,
    pub(super) shift: &'a ShiftSpan,
    pub(super) spans: &'a [Span],
    /// The breaks of `shift` in minutes.
    pub(super) stops: &'a [Stop],
    pub(super) minutes: &'a [Minute],
    pub(super) air: &'a [Temperature],
    pub(super) sheet: &'a [Option<Temperature>],
    pub(super) center: &'a CenterModel,
    /// Where the day is under way.
    pub(super) so_far: Option<&'a SoFar>,
}

/// The breaks of `shift` in minutes.
pub(super) fn stops(shift: &ShiftSpan) -> Vec<Stop> {
    let minute = |at| minute_of(shift, at);
    let stop = |stop: &BreakSpan| Stop {
        start: minute(stop.start),
        end: minute(stop.end),
        needs_test: stop.needs_test,
    };
    shift.breaks.iter().map(stop).collect()
}

/// What each of the `count` minutes of `shift` is.
pub(super) fn minutes(shift: &ShiftSpan, spans: &[Span], count: usize) -> Vec<Minute> {
    let mut minutes = vec![Minute::Work; count];
    let index = |at: DateTime<Utc>| minute_of(shift, at).min(count);
    for (number, stop) in (0_u16..).zip(&shift.breaks) {
        minutes[index(stop.start)..index(stop.end)].fill(Minute::Break(number));
    }
    for (number, span) in (0_u16..).zip(spans).filter(|(_, span)| span.verdict == Verdict::Hold) {
        minutes[index(span.start)..index(span.end)].fill(Minute::Hold(number));
    }
    minutes
}

/// Walks the working time of `day` in steps of one minute.
pub(super) fn walk(day: &Day<'_>) -> Walked {
    let settled = day.so_far.map(|so_far| so_far.due.clone());
    let mut walked = Walked { due: settled.unwrap_or_default(), ..Walked::default() };
    let mut course = Known { air: day.air, sheet: day.sheet };
    let tell = |event| match event {
        Event::Due { minute, ask, stop } => {
            let cause = day.cause(ask);
            let stop = stop.map(|stop| &day.shift.breaks[stop]);
            let id = id_for(&cause, stop, &walked.due);
            walked.due.push(Due { id, minute, cause });
        }
        Event::Waits { minute, last, of_sheet, stop } => {
            walked.notes.push(day.waits(minute, last, of_sheet, &day.shift.breaks[stop]));
        }
        Event::TooLate { minute, ask } => {
            walked.notes.push(Note::TooLate { due: day.time(minute), cause: day.cause(ask) });
        }
        Event::HeldToTheEnd { from } => {
            walked.notes.push(Note::HeldToTheEnd { from: day.time(from) });
        }
    };
    match day.so_far {
        Some(so_far) => day.walker().walk_on(&so_far.resume, &mut course, tell),
        None => day.walker().walk(&mut course, tell),
    }
    walked
}

/// A course of which every minute is worked out.
struct Known<'a> {
    air: &'a [Temperature],
    sheet: &'a [Option<Temperature>],
}

impl Course for Known<'_> {
    fn air(&mut self, minute: usize) -> Temperature {
        self.air[minute]
    }

    fn sheet(&mut self, minute: usize) -> Option<Temperature> {
        self.sheet[minute]
    }
}

impl<'a> Day<'a> {
    fn walker(&self) -> Walker<'a> {
        Walker { rules: self.rules, center: self.center, stops: self.stops, minutes: self.minutes }
    }

    fn cause(&self, ask: Ask) -> Cause {
        match ask {
            Ask::Start => Cause::Start,
            Ask::AfterBreak(stop) => {
                let stop = &self.shift.breaks[stop];
                let minutes = (stop.end - stop.start).num_minutes();
                Cause::AfterBreak { name: stop.name.clone(), minutes }
            }
            Ask::AmbientChange => Cause::AmbientChange,
            Ask::SheetChange => Cause::SheetChange,
            Ask::Elapsed => Cause::Elapsed { hours: self.rules.max_hours_between },
            Ask::AfterHold { opens_the_day, span } => {
                Cause::AfterHold { opens_the_day, held_by: self.spans[span].reasons.clone() }
            }
        }
    }

    /// Whether the longest time without a test is over at `minute`, after one at `last`.
    pub(super) fn is_overdue(&self, last: usize, minute: usize) -> bool {
        self.walker().is_overdue(last, minute)
    }

    /// Whether a break's test comes soon enough for a change that is due at `minute`.
    pub(super) fn waits_for_break(&self, minute: usize) -> bool {
        self.walker().break_to_wait_for(minute).is_some()
    }

    /// Whether a test at `minute` comes too late in the shift.
    pub(super) fn is_too_late(&self, minute: usize) -> bool {
        self.walker().is_too_late(minute)
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

    fn waits(&self, minute: usize, last: usize, of_sheet: bool, stop: &BreakSpan) -> Note {
        let moved = || -> Option<TemperatureDifference> {
            if of_sheet {
                return Some(self.sheet[minute]? - self.sheet[last]?);
            }
            Some(self.air[minute] - self.air[last])
        };
        Note::ChangeWaits {
            due: self.time(minute),
            of_sheet,
            change: moved().unwrap_or(TemperatureDifference::from_kelvin(0.0)),
            break_name: stop.name.clone(),
            test_at: stop.end,
        }
    }

    /// The minute of the shift that `at` lies in, the first or the last where it lies outside.
    pub(super) fn minute(&self, at: DateTime<Utc>) -> usize {
        minute_of(self.shift, at).min(self.air.len().saturating_sub(1))
    }

    pub(super) fn time(&self, minute: usize) -> DateTime<Utc> {
        self.shift.start + TimeDelta::minutes(i64::try_from(minute).unwrap_or_default())
    }
}

pub(super) fn minute_of(shift: &ShiftSpan, at: DateTime<Utc>) -> usize {
    usize::try_from((at - shift.start).num_minutes()).unwrap_or(0)
}

/// An id that stays the same when the day is planned again: by the break's name, or counted
/// within its cause.
fn id_for(cause: &Cause, stop: Option<&BreakSpan>, earlier: &[Due]) -> String {
    let before = earlier.iter().filter(|due| due.cause.name() == cause.name()).count();
    // On a day under way a number may be taken by a test that was made before its turn.
    let is_free = |id: &String| earlier.iter().all(|due| due.id != *id);
    let counted = |word: &str| {
        (before + 1..).map(|number| format!("{word}-{number}")).find(is_free).unwrap_or_default()
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
