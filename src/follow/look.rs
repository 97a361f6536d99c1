//! One look at a followed day.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::change::{Change, Doubt, Waiting};
use super::forecast_mark::forecast_mark;
use super::holds::{HoldsLook, planned};
use super::pairing::pair;
use super::progress::Day;
use super::published::{Point, PointSetting, Published};
use super::weigh::{Doubts, Scale};
use crate::plan::{
    Checkpoint, DayPlan, PlanError, PlanInput, TestMade, plan_day, plan_rest_of_day, reading_is_off,
};
use crate::quality::{KeptTrial, WithdrawnTrial};
use crate::render::ics::{self, Entry};
use crate::site::Reminders;

/// What falls due at once falls due this much later, so that a phone still rings for it.
pub const NOTICE: TimeDelta = TimeDelta::minutes(5);

/// A day as far as it was followed.
#[derive(Debug, Clone, PartialEq)]
pub struct Followed {
    /// Stands for the site: see [`site_key`](crate::site::site_key).
    pub site_key: String,
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// What the crew was told; `None` before the first time.
    pub published: Option<Published>,
    /// Good news that waits to be said again, and how many forecasts in a row have said it.
    pub doubts: BTreeMap<String, u32>,
    /// The [`forecast_mark`] of the last look.
    pub forecast: Option<String>,
    /// How many conclusive trials there were, and when the last was made, at the last look.
    pub trials: (usize, Option<DateTime<Utc>>),
}

/// What a look is made with.
#[derive(Clone, Copy)]
pub struct Look<'a> {
    /// Site, day, forecast with the hours that are over, and the present moment.
    pub input: PlanInput<'a>,
    /// Every trial of the book, in any order.
    pub trials: &'a [KeptTrial],
    /// Every trial that was withdrawn, in any order: it was no test of anything.
    pub withdrawn: &'a [WithdrawnTrial],
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Looked {
    /// The day from here on. Where nothing changed, its published part is as it was.
    pub next: Followed,
    /// What is to be published; empty for nothing.
    pub changes: Vec<Change>,
    /// What differs and is not told.
    pub waiting: Vec<Waiting>,
    /// The last reading, where the forecast cannot be held against it: as read, as forecast.
    pub reading_off: Option<(TestMade, crate::units::Temperature)>,
}

impl Followed {
    /// A day that nobody was told of.
    pub const fn new(site_key: String, date: NaiveDate) -> Self {
        Self {
            site_key,
            date,
            published: None,
            doubts: BTreeMap::new(),
            forecast: None,
            trials: (0, None),
        }
    }
}

/// Looks at a day: plans what is left of it and holds that against what the crew was told.
///
/// Checkpoints that were tested, or whose time has come, stay as they were published.
///
/// # Errors
/// See [`plan_day`]; what was published then stands.
pub fn look(followed: &Followed, look: &Look<'_>) -> Result<Looked, PlanError> {
    let PlanInput { site, time_zone, date, now, forecast, .. } = look.input;
    let whole = plan_day(&look.input)?;
    let (shift, Look { trials, withdrawn, .. }) = (&whole.shift, *look);
    let day = Day { site, time_zone, date, shift, trials, withdrawn, now };
    let tests = day.tests();
    let trials = (tests.len(), tests.last().map(|test| test.when));
    let mark = forecast_mark(forecast);
    let is_first = followed.published.is_none();
    let mut published = match &followed.published {
        Some(published) => published.clone(),
        None => first(&whole, look),
    };
    let before = published.points.clone();
    day.forget_withdrawn(&mut published.points);
    day.mark_tested(&mut published.points);
    let mut changes: Vec<Change> = published
        .points
        .iter_mut()
        .zip(&before)
        .filter_map(|(point, old)| {
            silenced(point, old, now).or_else(|| rings_again(point, old, &site.reminders, now))
        })
        .collect();
    let input = PlanInput { now: now + NOTICE, ..look.input };
    let under_way = !is_first || now > whole.shift.start || !tests.is_empty();
    let plan = if under_way {
        plan_rest_of_day(&input, &day.progress(&published))?
    } else {
        whole.clone()
    };
    let new_forecast = followed.forecast.as_ref() != Some(&mark);
    let mut scale =
        Scale::new(&followed.doubts, &site.rules, new_forecast, followed.trials != trials);
    let last_test = tests.last().map(|test| test.when).filter(|_| !is_first);
    let merging = Merging { plan: &plan, look, under_way, last_test };
    merging.merge(&mut published, &mut scale, &mut changes);
    let (Doubts(doubts), mut waiting) = scale.done();
    if is_first {
        let (checkpoints, holds) = (published.points.len(), published.holds.len());
        changes = vec![Change::First { checkpoints, holds }];
        waiting.clear();
    }
    let next = Followed {
        published: match changes.is_empty() {
            // What was tested is remembered all the same.
            true => Some(published),
            false => Some(Published { at: now, ..published }),
        },
        doubts: if is_first { BTreeMap::new() } else { doubts },
        forecast: Some(mark),
        trials,
        ..followed.clone()
    };
    let reading_off = tests.last().and_then(|test| {
        let forecast = forecast.air_at(test.when)?;
        reading_is_off(&site.rules, test.air, forecast).then_some((*test, forecast))
    });
    Ok(Looked { next, changes, waiting, reading_off })
}

/// The day as the crew would have been told it, had it been followed from the start.
fn first(whole: &DayPlan, look: &Look<'_>) -> Published {
    let PlanInput { site, now, .. } = look.input;
    let (evening, tests) = entries(whole, look);
    let points = whole.checkpoints.iter().zip(tests);
    let holds = HoldsLook { plan: whole, reminders: &site.reminders, now };
    let mut scale = Scale::new(const { &BTreeMap::new() }, &site.rules, true, false);
    Published {
        at: now,
        points: points.map(|(checkpoint, entry)| Point::of(checkpoint, entry)).collect(),
        holds: holds.merged(&[], &mut scale, &mut Vec::new()),
        evening,
    }
}

/// The entry of the evening before, and one for each checkpoint in its order.
fn entries(plan: &DayPlan, look: &Look<'_>) -> (Option<Entry>, Vec<Entry>) {
    let mut entries = ics::entries(plan, &look.input.site.reminders);
    let tests = entries.split_off(entries.len() - plan.checkpoints.len());
    (entries.pop(), tests)
}

/// A test made ahead of its time takes the alarms off its checkpoint.
fn silenced(point: &mut Point, old: &Point, now: DateTime<Utc>) -> Option<Change> {
    let tested = point.tested.filter(|_| old.tested.is_none())?;
    if point.entry.start <= now || point.entry.alarms_before_minutes.is_empty() {
        return None;
    }
    point.entry.alarms_before_minutes.clear();
    Some(Change::TestedEarly { id: point.id.clone(), when: tested.when })
}

/// A checkpoint that is still to come rings again where the trial that had silenced it was withdrawn.
fn rings_again(
    point: &mut Point,
    old: &Point,
    reminders: &Reminders,
    now: DateTime<Utc>,
) -> Option<Change> {
    let tested = old.tested.filter(|_| point.tested.is_none())?;
    if point.entry.start <= now || point.entry.alarms_before_minutes == reminders.before_minutes {
        return None;
    }
    point.entry.alarms_before_minutes.clone_from(&reminders.before_minutes);
    Some(Change::Untested { id: point.id.clone(), at: point.time, was: tested.when })
}

/// A new plan against what was published.
struct Merging<'a> {
    plan: &'a DayPlan,
    look: &'a Look<'a>,
    under_way: bool,
    /// What is new from here on is not tested by it.
    last_test: Option<DateTime<Utc>>,
}

impl Merging<'_> {
    fn merge(&self, published: &mut Published, scale: &mut Scale<'_>, changes: &mut Vec<Change>) {
        let PlanInput { site, now, .. } = self.look.input;
        if !self.under_way {
            return;
        }
        let (settled, open): (Vec<Point>, Vec<Point>) =
            published.points.iter().cloned().partition(|point| point.is_settled(now));
        let is_open = |checkpoint: &&Checkpoint| settled.iter().all(|one| one.id != checkpoint.id);
        let new: Vec<&Checkpoint> = self.plan.checkpoints.iter().filter(is_open).collect();
        let open_now: Vec<&Point> = open.iter().collect();
        let partners = pair(&open_now, &new);

        let mut points = settled;
        for (place, point) in open.iter().enumerate() {
            let partner = partners.iter().position(|one| *one == Some(place));
            match partner.and_then(|place| new.get(place)) {
                Some(checkpoint) => {
                    points.push(self.kept_or_changed(point, checkpoint, scale, changes))
                }
                None => {
                    let held = planned(self.plan);
                    let in_hold =
                        held.iter().any(|hold| hold.start <= point.time && point.time < hold.end);
                    if scale.confirms(&point.id, Doubt::Gone, in_hold) {
                        changes.push(Change::Gone { id: point.id.clone(), at: point.time });
                    } else {
                        points.push(point.clone());
                    }
                }
            }
        }
        for (checkpoint, _) in new.iter().zip(&partners).filter(|(_, partner)| partner.is_none()) {
            let id = free_id(&checkpoint.id, &published.points, &points);
            let (at, cause) = (checkpoint.time, checkpoint.cause.kind());
            changes.push(Change::New { id: id.clone(), at, cause });
            points.push(self.point(checkpoint, &id));
        }
        points.sort_by_key(|point| point.time);
        let holds = HoldsLook { plan: self.plan, reminders: &site.reminders, now };
        published.holds = holds.merged(&published.holds, scale, changes);
        published.points = points;
        // Once it has rung, the evening's entry is history.
        let open_evening = published.evening.as_ref().is_some_and(|entry| entry.start > now);
        if open_evening && changes.iter().any(Change::rings) {
            published.evening = entries(self.plan, self.look).0;
        }
    }

    fn kept_or_changed(
        &self,
        point: &Point,
        checkpoint: &Checkpoint,
        scale: &mut Scale<'_>,
        changes: &mut Vec<Change>,
    ) -> Point {
        let minutes = (checkpoint.time - point.time).num_minutes().abs();
        let (id, at) = (point.id.clone(), checkpoint.time);
        if scale.tells_move(&point.id, minutes) {
            changes.push(Change::Moved { id, from: point.time, to: at });
            return self.point(checkpoint, &point.id);
        }
        let settings = PointSetting::all_of(checkpoint);
        let heats = !alike(&settings, &point.settings, false);
        let speed = !heats && !alike(&settings, &point.settings, true);
        if heats || (speed && scale.confirms(&point.id, Doubt::Speed, false)) {
            // A setting alone does not move it.
            let mut changed = self.point(checkpoint, &point.id);
            let length = changed.entry.end - changed.entry.start;
            changed.time = point.time;
            changed.counts_after = point.counts_after;
            changed.entry.start = point.entry.start;
            changed.entry.end = point.entry.start + length;
            changes.push(Change::Setting { id, at: point.time, heats });
            return changed;
        }
        point.clone()
    }

    /// A checkpoint of the new plan under an id of its own.
    fn point(&self, checkpoint: &Checkpoint, id: &str) -> Point {
        let mut checkpoint = checkpoint.clone();
        id.clone_into(&mut checkpoint.id);
        let entry = ics::test_entry(self.plan, &checkpoint, &self.look.input.site.reminders);
        Point { counts_after: self.last_test, ..Point::of(&checkpoint, entry) }
    }
}

/// Whether two settings ask for the same; with `speeds`, for the same speed as well.
fn alike(some: &[PointSetting], others: &[PointSetting], speeds: bool) -> bool {
    some.len() == others.len()
        && some.iter().zip(others).all(|(one, other)| {
            let heats = one.heats.len() == other.heats.len()
                && one.heats.iter().zip(&other.heats).all(|(a, b)| {
                    (a.celsius() - b.celsius()).abs() < crate::units::CONVERSION_NOISE
                });
            let speed = match (one.speed, other.speed) {
                (Some(a), Some(b)) => a.same_as(b),
                (None, None) => true,
                _ => false,
            };
            one.welder == other.welder && heats && (!speeds || speed)
        })
}

/// `wanted`, or with the next number that no checkpoint of the day has had.
fn free_id(wanted: &str, before: &[Point], now: &[Point]) -> String {
    let is_taken = |id: &str| before.iter().chain(now).any(|point| point.id == id);
    if !is_taken(wanted) {
        return wanted.to_owned();
    }
    let stem = wanted.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end_matches('-');
    (1_u32..).map(|number| format!("{stem}-{number}")).find(|id| !is_taken(id)).unwrap_or_default()
}
