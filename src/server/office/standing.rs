//! How a day's test welds stand, in marks that need no color.

use chrono_tz::Tz;

use crate::quality::Status;
use crate::render::figures;
use crate::render::markup::{Markup, element, element_of, text};
use crate::render::trial::status_words;
use crate::server::house::Day;

/// Whether somebody has to see to it.
pub(super) const fn is_trouble(status: Status) -> bool {
    match status {
        Status::Late { .. } | Status::ProvedNothing | Status::Missed | Status::Overdue { .. } => {
            true
        }
        Status::Done | Status::NotDue => false,
    }
}

/// A status as a word in a frame of its own kind.
pub(super) fn mark(status: Status) -> Markup {
    let class = format!("standing {}", status.name());
    element_of("span", &[("class", &class)], &status_words::status(status))
}

/// The tests of a day, one a line: when, how it stands.
pub(super) fn tests(day: &Day, zone: Tz) -> Markup {
    let lines: Markup = day
        .report
        .checkpoints
        .iter()
        .map(|point| {
            let time = element_of("span", &[("class", "at")], &figures::clock(point.due, zone));
            let line = [time, text(" "), mark(point.status)];
            element("li", &[], line.into())
        })
        .collect();
    if lines.is_empty() {
        return element_of("p", &[], "No test weld falls due.");
    }
    element("ul", &[("class", "plain tests-of-day")], lines)
}
