//! Whether a checkpoint was kept, in words.

use crate::quality::{EARLY, GRACE, Status};
use crate::render::figures;

/// `done`, `late, 40 min after it fell due`.
pub fn status(status: Status) -> String {
    match status {
        Status::Done => "done".to_owned(),
        Status::Late { by } => format!("late, {} after it fell due", figures::duration(by)),
        Status::ProvedNothing => "tested, but nothing was proved".to_owned(),
        Status::Missed => "missed".to_owned(),
        Status::Overdue { by } => {
            format!("not done yet, {} after it fell due", figures::duration(by))
        }
        Status::NotDue => "not due yet".to_owned(),
    }
}

/// Said where a day has no plan.
pub const NO_PLAN: &str = "No plan of this day is at hand, so that no checkpoint can be held \
                           against it; the trials alone are shown.";

/// How it is decided.
pub fn how() -> String {
    format!(
        "Done: a trial that proves something, from {} minutes before a checkpoint until {} minutes \
         after the minutes that a test takes. Late: after that, and before the next checkpoint. \
         Missed: none until then. A welder without any trial on the day is named and not counted: \
         if it welded, nothing was tested.",
        EARLY.num_minutes(),
        GRACE.num_minutes()
    )
}
