//! Holds of a new plan against those that were published.

use chrono::{DateTime, TimeDelta, Utc};

use super::change::{Change, Doubt};
use super::look::NOTICE;
use super::published::Hold;
use super::weigh::Scale;
use crate::plan::{DayPlan, Reason, Verdict};
use crate::render::ics::{self, Entry};
use crate::site::Reminders;

/// Holding spans that touch, as one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Planned {
    pub(super) start: DateTime<Utc>,
    pub(super) end: DateTime<Utc>,
    pub(super) reasons: Vec<Reason>,
}

pub(super) fn planned(plan: &DayPlan) -> Vec<Planned> {
    let mut holds: Vec<Planned> = Vec::new();
    for span in plan.spans.iter().filter(|span| span.verdict == Verdict::Hold) {
        match holds.last_mut() {
            Some(last) if last.end == span.start => {
                last.end = span.end;
                for reason in &span.reasons {
                    let same = |known: &Reason| {
                        std::mem::discriminant(known) == std::mem::discriminant(reason)
                    };
                    if !last.reasons.iter().any(same) {
                        last.reasons.push(*reason);
                    }
                }
            }
            _ => holds.push(Planned {
                start: span.start,
                end: span.end,
                reasons: span.reasons.clone(),
            }),
        }
    }
    holds
}

/// What holds are compared under.
pub(super) struct HoldsLook<'a> {
    pub(super) plan: &'a DayPlan,
    pub(super) reminders: &'a Reminders,
    pub(super) now: DateTime<Utc>,
}

impl HoldsLook<'_> {
    /// The entry of a hold. One that has begun stands a little ahead, or no phone would ring for it.
    fn entry(&self, id: &str, hold: &Planned) -> Entry {
        let start = hold.start.max(self.now + NOTICE);
        let end = hold.end.max(start + TimeDelta::minutes(1));
        ics::hold_entry(self.plan, id, (start, end), &hold.reasons, self.reminders)
    }

    fn publish(&self, id: String, hold: &Planned) -> Hold {
        let entry = self.entry(&id, hold);
        Hold { id, start: hold.start, end: hold.end, entry }
    }

    /// The holds that stand after this look; what changed goes to `changes`.
    pub(super) fn merged(
        &self,
        published: &[Hold],
        scale: &mut Scale<'_>,
        changes: &mut Vec<Change>,
    ) -> Vec<Hold> {
        let mut new: Vec<Planned> = planned(self.plan);
        new.retain(|hold| hold.end > self.now);
        let mut stand: Vec<Hold> = Vec::new();
        for hold in published {
            if hold.end <= self.now {
                stand.push(hold.clone());
                continue;
            }
            let partner = new.iter().position(|other| touch(hold, other));
            match partner.map(|place| new.remove(place)) {
                Some(other) => stand.push(self.kept_or_moved(hold, &other, scale, changes)),
                None if scale.confirms(&hold.id, Doubt::HoldGone, false) => {
                    let was = (hold.start, hold.end);
                    changes.push(Change::HoldGone { id: hold.id.clone(), was });
                }
                None => stand.push(hold.clone()),
            }
        }
        for hold in new {
            let is_free = |id: &String| published.iter().chain(&stand).all(|one| one.id != *id);
            let id = (1_u32..).map(|number| format!("hold-{number}")).find(is_free);
            let id = id.unwrap_or_default();
            changes.push(Change::HoldNew { id: id.clone(), start: hold.start, end: hold.end });
            stand.push(self.publish(id, &hold));
        }
        stand.sort_by_key(|hold| hold.start);
        stand
    }

    fn kept_or_moved(
        &self,
        hold: &Hold,
        other: &Planned,
        scale: &mut Scale<'_>,
        changes: &mut Vec<Change>,
    ) -> Hold {
        let apart = |one: DateTime<Utc>, two: DateTime<Utc>| (one - two).num_minutes().abs();
        // Where both have begun, it does not matter any more when.
        let begun = hold.start <= self.now && other.start <= self.now;
        let start = if begun { 0 } else { apart(hold.start, other.start) };
        if !scale.tells_move(&hold.id, start.max(apart(hold.end, other.end))) {
            return hold.clone();
        }
        changes.push(Change::HoldMoved {
            id: hold.id.clone(),
            from: (hold.start, hold.end),
            to: (other.start, other.end),
        });
        self.publish(hold.id.clone(), other)
    }
}

/// Whether two holds are the same one: they overlap or touch.
fn touch(hold: &Hold, other: &Planned) -> bool {
    hold.start <= other.end && other.start <= hold.end
}
