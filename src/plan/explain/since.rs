//! What has changed since the last test, and what that asks for.

use super::{SinceTest, Stage, TestHere};
use crate::plan::center::CenterModel;
use crate::plan::checkpoints::{Day, minutes, stops};
use crate::plan::day::DayPlan;
use crate::plan::walk::{Minute, Stop};
use crate::site::Site;
use crate::units::Temperature;
use chrono::TimeDelta;

/// A planned shift, as the walk of the checkpoints saw it.
pub(super) struct Walk<'a> {
    site: &'a Site,
    plan: &'a DayPlan,
    center: CenterModel,
    stops: Vec<Stop>,
    minutes: Vec<Minute>,
    air: Vec<Temperature>,
    sheet: Vec<Option<Temperature>>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(site: &'a Site, plan: &'a DayPlan) -> Self {
        let course = &plan.course;
        // A plan has air for every minute; one that had not would end with it.
        let air: Vec<Temperature> = course.iter().map_while(|moment| moment.air).collect();
        Self {
            site,
            plan,
            center: CenterModel::of(site),
            stops: stops(&plan.shift),
            minutes: minutes(&plan.shift, &plan.spans, air.len()),
            sheet: course.iter().map(|moment| Some(moment.sheet?.nominal)).collect(),
            air,
        }
    }

    pub(super) fn stage(&self, minute: usize) -> Stage {
        match self.minutes.get(minute) {
            Some(Minute::Hold(_)) => Stage::Hold,
            Some(Minute::Break(stop)) => {
                let name =
                    self.plan.shift.breaks.get(usize::from(*stop)).map(|stop| stop.name.clone());
                Stage::Break { name: name.unwrap_or_default() }
            }
            Some(Minute::Work) => Stage::Work,
            None => Stage::Unplanned,
        }
    }

    pub(super) fn test_here(&self, minute: usize) -> Option<TestHere> {
        let at = self.day().time(minute);
        let here = self.plan.checkpoints.iter().find(|point| point.time == at)?;
        Some(TestHere {
            id: here.id.clone(),
            cause: here.cause.clone(),
            settings: here.settings.clone(),
        })
    }

    pub(super) fn since(&self, minute: usize) -> Option<SinceTest> {
        let (day, rules) = (self.day(), &self.site.rules);
        let at = day.time(minute);
        let last = self.plan.checkpoints.iter().rev().find(|point| point.time < at)?;
        let last_minute = usize::try_from((last.time - day.shift.start).num_minutes()).ok()?;
        let air_change = *self.air.get(minute)? - last.air;
        let center_shift = day.center_shift(last_minute, minute);
        let elapsed = at - last.time;
        let (air_due, center_due) = (
            air_change.abs().reaches(rules.ambient_change),
            center_shift.is_some_and(|shift| shift.nominal.abs().reaches(self.center.limit)),
        );
        let next_break =
            day.shift.breaks.iter().find(|stop| stop.needs_test && stop.start > at).cloned();
        Some(SinceTest {
            id: last.id.clone(),
            time: last.time,
            air: last.air,
            air_change,
            air_limit: rules.ambient_change,
            air_due,
            share: self.center.share(last.air),
            center_shift,
            center_limit: self.center.limit,
            center_due,
            elapsed,
            max_hours_between: rules.max_hours_between,
            elapsed_due: day.is_overdue(last_minute, minute),
            next_break,
            merge_within_minutes: rules.merge_within_minutes,
            waits: day.waits_for_break(minute),
            to_end: (day.shift.end - at).max(TimeDelta::zero()),
            last_test_before_end_minutes: rules.last_test_before_end_minutes,
            too_late: day.is_too_late(minute),
        })
    }

    fn day(&self) -> Day<'_> {
        Day {
            rules: &self.site.rules,
            shift: &self.plan.shift,
            spans: &self.plan.spans,
            stops: &self.stops,
            minutes: &self.minutes,
            air: &self.air,
            sheet: &self.sheet,
            center: &self.center,
            so_far: None,
        }
    }
}
