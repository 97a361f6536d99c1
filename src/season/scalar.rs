//! A season's day read off the plan of that day: what the bulk engine has to agree with.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Hold, HoldMinutes, SeasonDay, TestCauses, Workday};
use crate::plan::{DayPlan, Note, Reason, Span, Verdict};
use crate::weather::Field;

/// What the day of `plan` comes to.
pub fn day_of(plan: &DayPlan) -> SeasonDay {
    let mut tests = TestCauses::default();
    for point in &plan.checkpoints {
        tests.add(point.cause.kind());
    }
    let breaks: TimeDelta = plan.shift.breaks.iter().map(|stop| stop.end - stop.start).sum();
    let minute = |at: DateTime<Utc>| whole_minutes(at - plan.shift.start);
    let workday = Workday {
        tests,
        working_minutes: whole_minutes(plan.shift.end - plan.shift.start - breaks),
        weldable_minutes: whole_minutes(plan.summary.weldable),
        held: held(plan),
        first_weldable: plan.summary.first_weldable.map(minute),
        weldable_until: plan.summary.last_weldable.map(minute),
        begins_wet: plan.spans.first().is_some_and(|span| first_hold(span) == Some(Hold::WetSheet)),
        air_c: (narrow(plan.summary.air_min.celsius()), narrow(plan.summary.air_max.celsius())),
        seam_m: plan.footage.as_ref().map_or(0.0, |footage| narrow(footage.total.meters())),
        partly_known: is_partly_known(plan),
    };
    SeasonDay { date: plan.date, workday: Some(workday) }
}

/// Working minutes lost, by the first of the reasons that hold.
fn held(plan: &DayPlan) -> HoldMinutes {
    let mut held = HoldMinutes::default();
    for span in &plan.spans {
        let Some(hold) = first_hold(span) else { continue };
        let resting: TimeDelta = plan
            .shift
            .breaks
            .iter()
            .map(|stop| stop.end.min(span.end) - stop.start.max(span.start))
            .filter(|overlap| *overlap > TimeDelta::zero())
            .sum();
        held.add(hold, whole_minutes(span.end - span.start - resting));
    }
    held
}

fn first_hold(span: &Span) -> Option<Hold> {
    if span.verdict != Verdict::Hold {
        return None;
    }
    span.reasons.iter().find_map(|reason| match reason {
        Reason::Snow { .. } => Some(Hold::Snow),
        Reason::Rain { .. } => Some(Hold::Rain),
        Reason::Thunder => Some(Hold::Thunder),
        Reason::WetSheet { .. } => Some(Hold::WetSheet),
        Reason::WindStop { .. } => Some(Hold::WindStop),
        _ => None,
    })
}

fn is_partly_known(plan: &DayPlan) -> bool {
    let lacks = |field| {
        plan.weather.missing.contains(&field) || plan.weather.partly_missing.contains(&field)
    };
    lacks(Field::Rain)
        || lacks(Field::Wind)
        || plan.notes.iter().any(|note| matches!(note, Note::FilmUnknown))
}

fn whole_minutes(span: TimeDelta) -> u16 {
    u16::try_from(span.num_minutes()).unwrap_or(if span < TimeDelta::zero() { 0 } else { u16::MAX })
}

#[expect(clippy::cast_possible_truncation, reason = "shown to a tenth")]
const fn narrow(value: f64) -> f32 {
    value as f32
}
