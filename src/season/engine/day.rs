//! One workday, put together from what surely happens and what has to be looked at.

use std::ops::Range;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::DueTest;
use super::clock::Second;
use super::course::ShiftCourse;
use super::nodes::Nodes;
use super::sight::Sight;
use super::water::Water;
use crate::plan::{
    CenterModel, Event, Minute, Stop, Walker, first_hold, is_wet, needs_test, shift_times,
    speed_without_record,
};
use crate::season::day::{Hold, HoldMinutes, TestCauses, Workday};
use crate::site::Site;
use crate::units::WindSpeed;

/// Room for the rounding of a screen against the plan's own wind, m/s.
const ROUNDING_M_S: f64 = 1e-6;

/// What one site's days are planned with.
pub(super) struct Desk<'s> {
    site: &'s Site,
    zone: Tz,
    center: CenterModel,
    water: Water,
    stops: Vec<Stop>,
    minutes: Vec<Minute>,
    due: Vec<DueTest>,
}

/// A shift in instants and minutes.
#[derive(Clone, Copy)]
struct Shift {
    start: Second,
    end: Second,
    minutes: usize,
}

/// What holds add up to.
#[derive(Default)]
struct Held {
    minutes: HoldMinutes,
    begins_wet: bool,
}

impl<'s> Desk<'s> {
    pub(super) fn new(site: &'s Site, zone: Tz) -> Self {
        Self {
            site,
            zone,
            center: CenterModel::of(site),
            water: Water::default(),
            stops: Vec::new(),
            minutes: Vec::new(),
            due: Vec::new(),
        }
    }

    pub(super) const fn site(&self) -> &'s Site {
        self.site
    }

    /// The tests of the day that was planned last.
    pub(super) fn tests(&self) -> &[DueTest] {
        &self.due
    }

    /// Plans one day; `None` where there is no shift or its air is not known throughout.
    pub(super) fn workday(&mut self, sight: &mut Sight<'_>, date: NaiveDate) -> Option<Workday> {
        let shift = self.shift(sight.first, date)?;
        let air_c = air_range(sight, &shift)?;
        self.water.run(sight, shift.start, shift.end, self.site.rules.film_dry);
        let held = self.mark_minutes(sight, &shift);
        let mut tests = TestCauses::default();
        let seam_m = self.walk(sight, &shift, &mut tests);
        let is_work = |minute: &Minute| matches!(minute, Minute::Work);
        let resting: usize = self.stops.iter().map(|stop| stop.end - stop.start).sum();
        Some(Workday {
            tests,
            working_minutes: narrow(shift.minutes - resting),
            weldable_minutes: narrow(self.minutes.iter().filter(|kind| is_work(kind)).count()),
            held: held.minutes,
            first_weldable: self.minutes.iter().position(is_work).map(narrow),
            weldable_until: self.minutes.iter().rposition(is_work).map(|last| narrow(last + 1)),
            begins_wet: held.begins_wet,
            air_c,
            seam_m,
            partly_known: self.is_partly_known(sight, &shift),
        })
    }

    fn shift(&mut self, first: DateTime<Utc>, date: NaiveDate) -> Option<Shift> {
        let rules = &self.site.rules;
        let stops = &mut self.stops;
        stops.clear();
        let (start, end) =
            shift_times(&self.site.shift, date, self.zone, |stop, start, from, to| {
                let minute = |at: DateTime<Utc>| whole_minutes(at - start);
                let needs_test = needs_test(stop, rules);
                stops.push(Stop { start: minute(from), end: minute(to), needs_test });
            })
            .ok()?;
        let minutes = whole_minutes(end - start);
        Some(Shift { start: Second::of(start, first), end: Second::of(end, first), minutes })
    }

    /// What each minute of the shift is, and what is lost to what.
    fn mark_minutes(&mut self, sight: &Sight<'_>, shift: &Shift) -> Held {
        self.minutes.resize(shift.minutes, Minute::Work);
        self.minutes.fill(Minute::Work);
        for (number, stop) in (0_u16..).zip(&self.stops) {
            self.minutes[stop.start..stop.end].fill(Minute::Break(number));
        }
        let mut held = Held::default();
        let mut minute = 0;
        while minute < shift.minutes {
            let from = shift.start.plus_minutes(minute);
            let next_hour = from.hour_start().plus(3600);
            let until = minutes_until(shift.start, next_hour).clamp(minute + 1, shift.minutes);
            self.mark_hour(sight, shift, minute..until, &mut held);
            minute = until;
        }
        held
    }

    /// Marks what holds in `minutes`, which lie in one hour.
    fn mark_hour(
        &mut self,
        sight: &Sight<'_>,
        shift: &Shift,
        minutes: Range<usize>,
        held: &mut Held,
    ) {
        let rules = &self.site.rules;
        let from = shift.start.plus_minutes(minutes.start);
        let Some(hour) = from.hour() else { return };
        // Snow and rain come first among the rules and last the hour.
        if let Some(hold) = sight.nodes.brings(hour).falling {
            return self.mark(minutes, hold, held);
        }
        let clearing_hours = rules.thunder_clear_minutes.div_ceil(60) as usize;
        let thunder = (hour.saturating_sub(clearing_hours)..=hour)
            .any(|hour| sight.nodes.brings(hour).thunder);
        let storm = may_storm(sight.nodes, hour, rules.wind_stop);
        let to = shift.start.plus_minutes(minutes.end);
        if thunder || storm {
            for minute in minutes {
                let at = shift.start.plus_minutes(minute);
                let film = self.water.moment_at(at, sight);
                let at = at.instant(sight.first);
                let hold = first_hold(rules, sight.forecast, at, film.as_ref());
                if let Some(hold) = hold.and_then(Hold::of) {
                    self.mark(minute..minute + 1, hold, held);
                }
            }
        } else if self.water.may_exceed(rules.film_dry, from, to) {
            // The water is that of the last step to its end.
            let mut minute = minutes.start;
            while minute < minutes.end {
                let at = shift.start.plus_minutes(minute);
                let next = minutes_until(shift.start, self.water.step_end(at));
                let next = next.clamp(minute + 1, minutes.end);
                if self.water.at(at).is_some_and(|depth| is_wet(rules, depth)) {
                    self.mark(minute..next, Hold::WetSheet, held);
                }
                minute = next;
            }
        }
    }

    fn mark(&mut self, minutes: Range<usize>, hold: Hold, held: &mut Held) {
        held.begins_wet |= minutes.start == 0 && hold == Hold::WetSheet;
        let Some(kinds) = self.minutes.get_mut(minutes) else { return };
        let lost = kinds.iter().filter(|kind| !matches!(kind, Minute::Break(_))).count();
        held.minutes.add(hold, narrow(lost));
        kinds.fill(Minute::Hold(0));
    }

    /// Takes the walk, counts its tests and adds up the seam between them.
    fn walk(&mut self, sight: &mut Sight<'_>, shift: &Shift, tests: &mut TestCauses) -> f32 {
        let due = &mut self.due;
        due.clear();
        let mut welding_ends = shift.minutes;
        let walker = Walker {
            rules: &self.site.rules,
            center: &self.center,
            stops: &self.stops,
            minutes: &self.minutes,
        };
        let mut course = ShiftCourse::new(sight, shift.start);
        walker.walk(&mut course, |event| match event {
            Event::Due { minute, ask, .. } => {
                tests.add(ask.kind());
                due.push(DueTest { minute, cause: ask.kind().name() });
            }
            Event::TooLate { minute, .. } => welding_ends = minute,
            Event::Waits { .. } | Event::HeldToTheEnd { .. } => {}
        });
        self.seam_m(sight, shift, welding_ends)
    }

    /// Seam of all automatic welders, at the speeds of the rule.
    fn seam_m(&self, sight: &mut Sight<'_>, shift: &Shift, welding_ends: usize) -> f32 {
        let mut meters = 0.0;
        for (number, test) in self.due.iter().enumerate() {
            let from = test.minute + self.site.rules.trial_minutes as usize;
            let to = self.due.get(number + 1).map_or(welding_ends, |next| next.minute);
            let Some(stretch) = self.minutes.get(from..to.max(from).min(shift.minutes)) else {
                continue;
            };
            let worked = stretch.iter().filter(|kind| matches!(kind, Minute::Work)).count();
            let ambient = sight.air(shift.start.plus_minutes(test.minute));
            let speed: f64 = self
                .site
                .welders
                .iter()
                .filter_map(|welder| speed_without_record(welder, ambient?))
                .map(|speed| speed.meters_per_minute())
                .sum();
            meters += speed * f64::from(narrow(worked));
        }
        single(meters)
    }

    fn is_partly_known(&self, sight: &Sight<'_>, shift: &Shift) -> bool {
        let hour = |at: Second| at.hour().unwrap_or(0);
        let (first, last) = (hour(shift.start), hour(shift.end.plus(-1)));
        let lacks = |hour| {
            let brings = sight.nodes.brings(hour);
            !brings.rain_known || !brings.wind_known
        };
        (first..=last).any(lacks) || !self.water.is_known_to(shift.end)
    }
}

/// Lowest and highest air, °C; `None` where an hour that the shift needs has none.
fn air_range(sight: &mut Sight<'_>, shift: &Shift) -> Option<(f32, f32)> {
    let last_minute = shift.end.plus(-60);
    let beyond = usize::from(last_minute.into_hour() != 0);
    let hours = shift.start.hour()?..=last_minute.hour()? + beyond;
    let nodes = sight.nodes;
    let needed = nodes.air_c.get(hours)?;
    if needed.iter().any(|air| air.is_nan()) {
        return None;
    }
    let (from, to) = (sight.air(shift.start)?.celsius(), sight.air(last_minute)?.celsius());
    // Between two whole hours the air runs straight.
    let inner = needed.get(1..needed.len() - beyond).unwrap_or_default();
    let low = inner.iter().copied().fold(from.min(to), f64::min);
    let high = inner.iter().copied().fold(from.max(to), f64::max);
    Some((single(low), single(high)))
}

/// Whether wind or gust may reach `limit` in this hour.
fn may_storm(nodes: &Nodes, hour: usize, limit: WindSpeed) -> bool {
    let least = limit.meters_per_second() - ROUNDING_M_S;
    let wind = |node: usize| nodes.wind_m_s.get(node).is_some_and(|wind| *wind >= least);
    nodes.blow_m_s.get(hour).is_some_and(|blow| *blow >= least) || wind(hour) || wind(hour + 1)
}

fn whole_minutes(span: TimeDelta) -> usize {
    usize::try_from(span.num_minutes()).unwrap_or(0)
}

/// Minutes from `start` on that begin before `end`.
fn minutes_until(start: Second, end: Second) -> usize {
    usize::try_from((end.0 - start.0 + 59).div_euclid(60)).unwrap_or(0)
}

fn narrow(minutes: usize) -> u16 {
    u16::try_from(minutes).unwrap_or(u16::MAX)
}

#[expect(clippy::cast_possible_truncation, reason = "shown to a tenth")]
const fn single(value: f64) -> f32 {
    value as f32
}
