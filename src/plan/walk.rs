//! The rule *when*: at which minutes a test weld is mandatory. Minutes and numbers only, so that one
//! walk serves a single plan and thirty years of a hundred roofs; the words are put to it in
//! `checkpoints`.

use super::center::{CenterModel, nominal_shift};
use super::mandatory::CauseKind;
use crate::physics::fusion::{ShareRange, Surroundings};
use crate::site::Rules;
use crate::units::Temperature;

/// What a minute of the shift is, whatever its temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Minute {
    /// The crew works.
    Work,
    /// In the break of this index.
    Break(u16),
    /// In the holding span of this index, break or not.
    Hold(u16),
}

/// A break in minutes of the shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stop {
    /// Its first minute.
    pub(crate) start: usize,
    /// The minute after its last.
    pub(crate) end: usize,
    /// Whether it is long enough to ask for a test after it.
    pub(crate) needs_test: bool,
}

/// What asks for a test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ask {
    /// Start of the shift.
    Start,
    /// End of the break of this index.
    AfterBreak(usize),
    /// Ambient has moved since the last test.
    AmbientChange,
    /// The sheet has moved since the last test.
    SheetChange,
    /// The longest time without a test is over.
    Elapsed,
    /// A hold is over.
    AfterHold {
        /// Nobody has tested yet today.
        opens_the_day: bool,
        /// The holding span that was the last.
        span: usize,
    },
}

impl Ask {
    /// What kind of cause it is.
    pub(crate) const fn kind(self) -> CauseKind {
        match self {
            Self::Start => CauseKind::Start,
            Self::AfterBreak(_) => CauseKind::AfterBreak,
            Self::AmbientChange => CauseKind::AmbientChange,
            Self::SheetChange => CauseKind::SheetChange,
            Self::Elapsed => CauseKind::Elapsed,
            Self::AfterHold { .. } => CauseKind::AfterHold,
        }
    }
}

/// What the walk comes upon, in order of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Event {
    /// A test falls due.
    Due {
        /// When.
        minute: usize,
        /// What asks for it.
        ask: Ask,
        /// The break that is over and that nobody has tested after.
        stop: Option<usize>,
    },
    /// A change is left to the test after the break of this index.
    Waits {
        /// When it fell due.
        minute: usize,
        /// The minute of the test before.
        last: usize,
        /// The sheet moved, not ambient.
        of_sheet: bool,
        /// The break.
        stop: usize,
    },
    /// A test falls due too late in the shift: the day's welding ends.
    TooLate {
        /// When.
        minute: usize,
        /// What asks for it.
        ask: Ask,
    },
    /// A hold lasts to the end of the shift.
    HeldToTheEnd {
        /// Its first minute.
        from: usize,
    },
}

/// Air and sheet of the shift, as far as the walk asks for them.
pub(crate) trait Course {
    /// Air of a minute.
    fn air(&mut self, minute: usize) -> Temperature;

    /// Sheet of a minute, where it is known.
    fn sheet(&mut self, minute: usize) -> Option<Temperature>;

    /// A minute, `minute` or later, before which air and sheet have surely not moved as far as
    /// `limits` since `last`. A course that cannot tell says `minute`.
    fn quiet_until(&mut self, minute: usize, last: &LastTest, limits: &Limits<'_>) -> usize {
        let _ = (last, limits);
        minute
    }
}

/// How far air and the window's middle may move.
pub(crate) struct Limits<'a> {
    pub(crate) rules: &'a Rules,
    pub(crate) center: &'a CenterModel,
}

/// The last test.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LastTest {
    pub(crate) minute: usize,
    pub(crate) air: Temperature,
    pub(crate) sheet: Option<Temperature>,
    /// Degrees by which the middle of the window rises for each that the sheet is cooler.
    pub(crate) rise_per_sheet_drop: Option<f64>,
}

impl LastTest {
    fn around(&self) -> Option<Surroundings> {
        Some(Surroundings { sheet: self.sheet?, ambient: self.air })
    }
}

/// One shift to walk.
#[derive(Clone, Copy)]
pub(crate) struct Walker<'a> {
    pub(crate) rules: &'a Rules,
    pub(crate) center: &'a CenterModel,
    /// Ascending.
    pub(crate) stops: &'a [Stop],
    /// One for each minute of the shift.
    pub(crate) minutes: &'a [Minute],
}

/// Where the walk of a day that is under way goes on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Resume {
    /// Minute of the last test and the ambient that the rest is counted from; `None` where nobody
    /// has tested yet.
    pub(crate) last_test: Option<(usize, Temperature)>,
    /// What earlier minutes asked for is settled.
    pub(crate) from: usize,
    /// Earlier minutes are over: whatever they would have asked for falls due here.
    pub(crate) ask_from: usize,
}

/// What has happened since the last test.
#[derive(Default)]
struct Since {
    last_test: Option<LastTest>,
    /// A hold that has begun and after which nobody has tested yet.
    hold: Option<Hold>,
    /// Minutes of work came after that hold that were passed over.
    hold_is_past: bool,
    /// A break that asks for a test and after which nobody has tested yet.
    stop: Option<usize>,
    /// The break for which a waiting change has already been told.
    told_wait: Option<usize>,
    /// Nothing moves far enough before this minute.
    quiet_until: usize,
}

struct Hold {
    first_minute: usize,
    last_minute: usize,
    span: usize,
}

impl Walker<'_> {
    /// Walks the working time in steps of one minute and tells what it comes upon.
    pub(crate) fn walk(&self, course: &mut impl Course, tell: impl FnMut(Event)) {
        let whole_day = Resume { last_test: None, from: 0, ask_from: 0 };
        self.walk_on(&whole_day, course, tell);
    }

    /// The same from where a day has come to.
    pub(crate) fn walk_on(
        &self,
        resume: &Resume,
        course: &mut impl Course,
        mut tell: impl FnMut(Event),
    ) {
        let last_test = resume.last_test.map(|(minute, air)| {
            let within = minute.min(self.minutes.len().saturating_sub(1));
            self.test(minute, air, course.sheet(within))
        });
        let mut since = Since { last_test, ..Since::default() };
        let mut next = resume.from;
        while let Some(kind) = self.minutes.get(next) {
            let minute = next;
            next += 1;
            match *kind {
                Minute::Hold(span) => {
                    let first_minute = since.hold.as_ref().map_or(minute, |hold| hold.first_minute);
                    let span = usize::from(span);
                    since.hold = Some(Hold { first_minute, last_minute: minute, span });
                    since.hold_is_past = false;
                    continue;
                }
                Minute::Break(stop) => {
                    let stop = usize::from(stop);
                    let asks = self.stops.get(stop).is_some_and(|stop| stop.needs_test);
                    since.stop = Some(stop).filter(|_| asks).or(since.stop);
                    continue;
                }
                Minute::Work if minute < resume.ask_from => {
                    since.hold_is_past = true;
                    continue;
                }
                Minute::Work => {}
            }
            let Some(ask) = self.ask_at(minute, course, &mut since, &mut tell) else {
                next = self.next_to_look_at(next, &since);
                continue;
            };
            if self.is_too_late(minute) && !(minute == 0 && ask == Ask::Start) {
                tell(Event::TooLate { minute, ask });
                return;
            }
            tell(Event::Due { minute, ask, stop: since.stop });
            since = Since { last_test: Some(self.test_at(minute, course)), ..Since::default() };
        }
        if let Some(hold) = since.hold.filter(|_| !since.hold_is_past) {
            tell(Event::HeldToTheEnd { from: hold.first_minute });
        }
    }

    /// The first minute from `minute` on at which something can ask for a test: working minutes are
    /// passed over while the course is known to be quiet and the longest time is not over.
    fn next_to_look_at(&self, minute: usize, since: &Since) -> usize {
        let Some(last) = since.last_test else { return minute };
        let until = since.quiet_until.min(self.overdue_from(last.minute)).min(self.minutes.len());
        let quiet = self.minutes.get(minute..until).unwrap_or_default();
        minute + quiet.iter().take_while(|kind| matches!(kind, Minute::Work)).count()
    }

    fn test_at(&self, minute: usize, course: &mut impl Course) -> LastTest {
        let (air, sheet) = (course.air(minute), course.sheet(minute));
        self.test(minute, air, sheet)
    }

    fn test(&self, minute: usize, air: Temperature, sheet: Option<Temperature>) -> LastTest {
        let share = sheet.and_then(|_| self.center.share(air));
        let rise_per_sheet_drop = share.as_ref().map(ShareRange::air_rise_per_sheet_drop);
        LastTest { minute, air, sheet, rise_per_sheet_drop }
    }

    /// What asks for a test at a working minute outside any hold, if anything does.
    fn ask_at(
        &self,
        minute: usize,
        course: &mut impl Course,
        since: &mut Since,
        tell: &mut impl FnMut(Event),
    ) -> Option<Ask> {
        if let Some(ask) = self.after_a_stop(since) {
            return Some(ask);
        }
        let Some(last) = since.last_test else { return Some(Ask::Start) };
        if minute >= since.quiet_until {
            let limits = Limits { rules: self.rules, center: self.center };
            since.quiet_until = course.quiet_until(minute, &last, &limits);
        }
        let change =
            if minute < since.quiet_until { None } else { self.change(minute, &last, course) };
        if let Some(ask) = change {
            match self.break_to_wait_for(minute) {
                None => return Some(ask),
                Some(stop) if since.told_wait != Some(stop) => {
                    let of_sheet = ask == Ask::SheetChange;
                    tell(Event::Waits { minute, last: last.minute, of_sheet, stop });
                    since.told_wait = Some(stop);
                }
                Some(_) => {}
            }
        }
        self.is_overdue(last.minute, minute).then_some(Ask::Elapsed)
    }

    /// Whether air or sheet has moved far enough since the last test.
    fn change(&self, minute: usize, last: &LastTest, course: &mut impl Course) -> Option<Ask> {
        let air = course.air(minute);
        if (air - last.air).abs().reaches(self.rules.ambient_change) {
            return Some(Ask::AmbientChange);
        }
        let (rise, then) = (last.rise_per_sheet_drop?, last.around()?);
        let now = Surroundings { sheet: course.sheet(minute)?, ambient: air };
        let shift = nominal_shift(rise, then, now);
        shift.abs().reaches(self.center.limit).then_some(Ask::SheetChange)
    }

    /// A break or a hold that is over and that nobody has tested after.
    fn after_a_stop(&self, since: &Since) -> Option<Ask> {
        let break_end = since.stop.and_then(|stop| self.stops.get(stop)).map(|stop| stop.end);
        match (&since.hold, since.stop) {
            // The hold outlasted the break, so it is the hold's end that lets the crew weld again.
            (Some(hold), _) if break_end.is_none_or(|end| hold.last_minute >= end) => {
                Some(Ask::AfterHold { opens_the_day: since.last_test.is_none(), span: hold.span })
            }
            (_, Some(stop)) => Some(Ask::AfterBreak(stop)),
            _ => None,
        }
    }

    /// Whether the longest time without a test is over at `minute`, after one at `last`.
    pub(crate) fn is_overdue(&self, last: usize, minute: usize) -> bool {
        minute >= self.overdue_from(last)
    }

    /// The first minute at which the longest time without a test is over, after one at `last`.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some hours, in minutes"
    )]
    fn overdue_from(&self, last: usize) -> usize {
        last.saturating_add((self.rules.max_hours_between * 60.0).ceil() as usize)
    }

    /// The break whose test comes soon enough for a change that is due at `minute`.
    pub(crate) fn break_to_wait_for(&self, minute: usize) -> Option<usize> {
        let reach = minute + self.rules.merge_within_minutes as usize;
        self.stops.iter().position(|stop| {
            // A test that would come too late in the shift is no test to wait for.
            stop.needs_test
                && minute < stop.start
                && stop.start <= reach
                && !self.is_too_late(stop.end)
        })
    }

    /// Minutes are half open, so the minute that begins the last stretch belongs to it.
    pub(crate) fn is_too_late(&self, minute: usize) -> bool {
        minute + self.rules.last_test_before_end_minutes as usize >= self.minutes.len()
    }
}
