//! How each checkpoint of a day stands, and until when it is the one to make.

use chrono::{DateTime, TimeDelta, Utc};

use super::CrewDay;
use crate::plan::{Checkpoint, DayPlan};
use crate::quality::{GRACE, Status};
use crate::words::{Language, tell};

/// A checkpoint of the present plan with its standing.
pub(super) struct Standing<'a> {
    /// The checkpoint.
    pub(super) point: &'a Checkpoint,
    /// A trial that proves something was made for it.
    pub(super) made: bool,
    /// In a word.
    pub(super) words: String,
    /// In a class name.
    pub(super) name: &'static str,
    /// From then on the next one, or the end of the shift, takes over.
    pub(super) over: DateTime<Utc>,
    /// How long after its time a trial is still in time.
    pub(super) allowed: TimeDelta,
}

/// Every checkpoint of the plan at hand.
///
/// The day is held against the plan that the crew went to work with; a checkpoint that a later plan
/// brought has no standing there and is made when a trial names it.
pub(super) fn standings<'a>(
    day: &CrewDay<'_>,
    plan: &'a DayPlan,
    language: Language,
) -> Vec<Standing<'a>> {
    let next = plan.checkpoints.iter().skip(1).map(|point| point.time);
    let ends = next.chain([plan.shift.end]);
    plan.checkpoints
        .iter()
        .zip(ends)
        .map(|(point, over)| {
            let tested = day.report.checkpoints.iter().find(|tested| tested.id == point.id);
            let status = tested.map_or_else(|| by_its_name(day, point), |tested| tested.status);
            Standing {
                point,
                made: status.is_made(),
                words: words(status, language),
                name: status.name(),
                over,
                allowed: TimeDelta::minutes(i64::from(point.minutes)) + GRACE,
            }
        })
        .collect()
}

fn by_its_name(day: &CrewDay<'_>, point: &Checkpoint) -> Status {
    let mut trials = day.report.trials.iter();
    let named = trials
        .any(|kept| kept.checkpoint.as_ref() == Some(&point.id) && kept.judged.is_conclusive());
    if named { Status::Done } else { Status::NotDue }
}

fn words(status: Status, language: Language) -> String {
    match status {
        Status::Done => tell!(language, "crew-standing-done"),
        Status::Late { .. } => tell!(language, "crew-standing-late"),
        Status::ProvedNothing => tell!(language, "crew-standing-proved-nothing"),
        Status::Missed => tell!(language, "crew-standing-missed"),
        Status::Overdue { .. } => tell!(language, "crew-standing-overdue"),
        Status::NotDue => tell!(language, "crew-standing-not-due"),
    }
}
