//! From the wall clock of the site to instants.

use chrono::{
    DateTime, Datelike, LocalResult, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeDelta,
    TimeZone, Utc,
};
use chrono_tz::Tz;

use super::day::{BreakSpan, ShiftSpan};
use super::error::PlanError;
use crate::site::{Break, Rules, Shift};

/// Years in which zone rules and calendars are trusted.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2200;

const MINUTES_OF_A_DAY: i64 = 24 * 60;

/// The instants of `shift` on the local day `date`, breaks included.
pub(super) fn shift_span(
    shift: &Shift,
    rules: &Rules,
    date: NaiveDate,
    zone: Tz,
) -> Result<ShiftSpan, PlanError> {
    let mut breaks = Vec::with_capacity(shift.breaks.len());
    let times = shift_times(shift, date, zone, |stop, _, from, to| {
        breaks.push(break_span(stop, from, to, rules, &breaks));
    })?;
    Ok(ShiftSpan { start: times.0, end: times.1, breaks })
}

/// Start and end of `shift` on the local day `date`; `on_break` is told of each break, ascending: the
/// shift's start, the break's first minute and the one after its last.
pub(crate) fn shift_times<'a>(
    shift: &'a Shift,
    date: NaiveDate,
    zone: Tz,
    mut on_break: impl FnMut(&'a Break, DateTime<Utc>, DateTime<Utc>, DateTime<Utc>),
) -> Result<(DateTime<Utc>, DateTime<Utc>), PlanError> {
    if !YEARS.contains(&date.year()) {
        return Err(PlanError::DateOutOfReach { date });
    }
    let next_day = date.succ_opt().ok_or(PlanError::DateOutOfReach { date })?;
    let end_day = if shift.end < shift.start { next_day } else { date };
    let start = instant(date.and_time(shift.start), zone);
    let end = instant(end_day.and_time(shift.end), zone);
    if start >= end {
        return Err(PlanError::ShiftVanishes { date, time_zone: zone });
    }
    let on_day = |time: NaiveTime| if time < shift.start { next_day } else { date };
    // No zone changes its clock twice in a shift: one as long as its hours say has no change in it.
    let runs_through = end - start == end_day.and_time(shift.end) - date.and_time(shift.start);
    let mut free_from = start;
    for stop in &shift.breaks {
        let wall = on_day(stop.start).and_time(stop.start);
        let begins = if runs_through {
            start + (wall - date.and_time(shift.start))
        } else {
            instant(wall, zone)
        };
        // A clock change can push one break into the next or past the end: what is left counts.
        let ends = (begins + TimeDelta::minutes(i64::from(stop.minutes))).min(end);
        let begins = begins.max(free_from);
        if begins < ends {
            free_from = ends;
            on_break(stop, start, begins, ends);
        }
    }
    Ok((start, end))
}

/// Real minutes of the shift less those that its hours in the site file come to.
pub(super) fn minutes_gained(span: &ShiftSpan, shift: &Shift) -> i64 {
    let nominal = (shift.end - shift.start).num_minutes().rem_euclid(MINUTES_OF_A_DAY);
    (span.end - span.start).num_minutes() - nominal
}

/// The instant of a wall-clock time.
///
/// A time that occurs twice means the first; one that the clock skips is read with the offset in
/// force before the skip. Source: RFC5545, section 3.3.5.
pub(crate) fn instant(wall: NaiveDateTime, zone: Tz) -> DateTime<Utc> {
    match zone.from_local_datetime(&wall) {
        LocalResult::Single(at) | LocalResult::Ambiguous(at, _) => at.to_utc(),
        LocalResult::None => {
            let offset = offset_before_skip(wall, zone);
            (wall - TimeDelta::seconds(i64::from(offset))).and_utc()
        }
    }
}

/// Seconds east of UTC in force before the skip that `wall` falls into.
fn offset_before_skip(wall: NaiveDateTime, zone: Tz) -> i32 {
    // The longest skip on record is a whole day (a zone that crossed the date line).
    (1..=104)
        .map(|quarters| wall - TimeDelta::minutes(15 * quarters))
        .find_map(|earlier| zone.from_local_datetime(&earlier).latest())
        .map_or(0, |at| at.offset().fix().local_minus_utc())
}

fn break_span(
    stop: &Break,
    start: DateTime<Utc>,
    end: DateTime<Utc>,
    rules: &Rules,
    earlier: &[BreakSpan],
) -> BreakSpan {
    let wanted = format!("after-{}", slug(&stop.name));
    let taken = |id: &str| earlier.iter().any(|other| other.checkpoint_id == id);
    let checkpoint_id = (2..)
        .map(|n| format!("{wanted}-{n}"))
        .find(|id| !taken(id))
        .filter(|_| taken(&wanted))
        .unwrap_or(wanted);
    let needs_test = needs_test(stop, rules);
    BreakSpan { name: stop.name.clone(), start, end, needs_test, checkpoint_id }
}

/// Whether a break is long enough to ask for a test after it.
pub(crate) const fn needs_test(stop: &Break, rules: &Rules) -> bool {
    stop.minutes >= rules.break_needs_test_minutes
}

/// A name as part of an id: lower-case ASCII letters and digits, single hyphens.
fn slug(name: &str) -> String {
    let lower = name.to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    // `hold-1` is what a hold's own checkpoint would be called.
    if words.is_empty() || words.first() == Some(&"hold") {
        return std::iter::once("break").chain(words).collect::<Vec<_>>().join("-");
    }
    words.join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(zone: Tz, wall: &str) -> String {
        let wall = NaiveDateTime::parse_from_str(wall, "%Y-%m-%d %H:%M").unwrap();
        instant(wall, zone).format("%Y-%m-%dT%H:%MZ").to_string()
    }

    #[test]
    fn wall_times_around_a_clock_change_follow_rfc_5545() {
        let zone = chrono_tz::America::New_York;
        // RFC5545 3.3.5's own example of a time that occurs twice, moved to our dates: the first.
        assert_eq!(at(zone, "2013-11-03 01:30"), "2013-11-03T05:30Z");
        // And of a time that does not occur: the offset before the gap, so 02:30 EST = 03:30 EDT.
        assert_eq!(at(zone, "2013-03-10 02:30"), "2013-03-10T07:30Z");
        assert_eq!(at(zone, "2013-03-10 03:30"), "2013-03-10T07:30Z");
        // A zone with a change of half an hour, and one that skipped a whole day.
        assert_eq!(at(chrono_tz::Australia::Lord_Howe, "2013-10-06 02:15"), "2013-10-05T15:45Z");
        assert_eq!(at(chrono_tz::Pacific::Apia, "2011-12-30 07:00"), "2011-12-30T17:00Z");
    }

    #[test]
    fn a_shift_gains_what_the_clock_change_gives_to_its_own_hours() {
        let gained = |start: &str, end: &str, date: &str| {
            let time = |text: &str| NaiveTime::parse_from_str(text, "%H:%M").unwrap();
            let shift = Shift {
                start: time(start),
                end: time(end),
                workdays: Vec::new(),
                breaks: Vec::new(),
            };
            let instant = |day: NaiveDate, time| instant(day.and_time(time), NEW_YORK);
            let date: NaiveDate = date.parse().unwrap();
            let last = if shift.end < shift.start { date.succ_opt().unwrap() } else { date };
            let (start, end) = (instant(date, shift.start), instant(last, shift.end));
            minutes_gained(&ShiftSpan { start, end, breaks: Vec::new() }, &shift)
        };
        const NEW_YORK: Tz = chrono_tz::America::New_York;
        // U.S. law (15 U.S.C. 260a): on at 02:00 on the second Sunday of March, off at 02:00 on the
        // first of November.
        assert_eq!(gained("22:00", "06:00", "2013-03-09"), -60);
        assert_eq!(gained("22:00", "06:00", "2013-11-02"), 60);
        assert_eq!(gained("07:00", "15:30", "2013-03-10"), 0);
        // Begun at a time that the clock skips: an hour of it has gone all the same.
        assert_eq!(gained("02:30", "10:00", "2013-03-10"), -60);
    }

    #[test]
    fn ids_come_from_names_and_stay_apart_from_the_holds() {
        assert_eq!(slug("morning break"), "morning-break");
        assert_eq!(slug("Lunch!"), "lunch");
        assert_eq!(slug("休憩"), "break");
        assert_eq!(slug("hold 1"), "break-hold-1");
    }
}
