//! The shift and its breaks on one line of minutes, night shifts included.

use chrono::{NaiveTime, Timelike};

use super::checks::fault;
use super::fault::Fault;
use super::found::shortened;
use super::section::{Section, Sections};

const MINUTES_OF_A_DAY: u32 = 24 * 60;

/// A break that lies within the shift: minutes after the start of the shift.
struct Placed<'a> {
    section: &'a Section,
    from: u32,
    to: u32,
}

/// Adds a fault for a shift without length, a break outside it, and breaks that overlap.
pub(super) fn check(sections: &Sections, faults: &mut Vec<Fault>) {
    let Ok(shift) = sections.table("shift") else { return };
    let (Some(start), Some(end)) = (shift.time("shift.start"), shift.time("shift.end")) else {
        return;
    };
    if start == end {
        let sentence = format!(
            "is {}, the same as `shift.start`; expected a later time, or an earlier one for a \
             night shift",
            clock(end)
        );
        faults.push(fault(shift, "shift.end", &sentence));
        return;
    }
    let length = minutes_after(start, end);
    let mut placed = Vec::new();
    for section in sections.list("shift.breaks[]") {
        let at = section.time("shift.breaks[].start");
        let (Some(at), Some(minutes)) = (at, section.whole("shift.breaks[].minutes")) else {
            continue;
        };
        let from = minutes_after(start, at);
        let this = Placed { section, from, to: from.saturating_add(minutes) };
        if this.to <= length {
            placed.push(this);
        } else {
            let sentence = format!(
                "{} lies outside the shift; expected it between {} and {}",
                this.clocks(start),
                clock(start),
                clock(end)
            );
            faults.push(this.fault(&sentence));
        }
    }
    overlaps(start, placed, faults);
}

fn overlaps(start: NaiveTime, mut placed: Vec<Placed<'_>>, faults: &mut Vec<Fault>) {
    placed.sort_by_key(|one| one.from);
    // The break that reaches furthest so far, which need not be the one just before.
    let mut furthest: Option<Placed<'_>> = None;
    for this in placed {
        if let Some(before) = furthest.as_ref().filter(|before| this.from < before.to) {
            let sentence = format!(
                "{} overlaps `{}` {}; expected one break to end before the next begins",
                this.clocks(start),
                before.section.shown,
                before.clocks(start)
            );
            faults.push(this.fault(&sentence));
        }
        if furthest.as_ref().is_none_or(|before| before.to < this.to) {
            furthest = Some(this);
        }
    }
}

impl Placed<'_> {
    fn fault(&self, sentence: &str) -> Fault {
        let line = self.section.line_of("shift.breaks[].start").unwrap_or(self.section.line);
        let key = self.section.shown.clone();
        Fault { line, sentence: format!("`{key}` {sentence}"), key: Some(key) }
    }

    /// Its name and its times: `("lunch", 12:00 to 12:30)`.
    fn clocks(&self, start: NaiveTime) -> String {
        let name = self.section.text("shift.breaks[].name").unwrap_or_default();
        let at = |minutes: u32| {
            let (time, _) =
                start.overflowing_add_signed(chrono::TimeDelta::minutes(minutes.into()));
            clock(time)
        };
        format!("(\"{}\", {} to {})", shortened(&name), at(self.from), at(self.to))
    }
}

/// Minutes from `start` to `at`, today or tomorrow.
pub(super) fn minutes_after(start: NaiveTime, at: NaiveTime) -> u32 {
    let minute = |time: NaiveTime| time.hour() * 60 + time.minute();
    (minute(at) + MINUTES_OF_A_DAY - minute(start)) % MINUTES_OF_A_DAY
}

fn clock(time: NaiveTime) -> String {
    time.format("%H:%M").to_string()
}
