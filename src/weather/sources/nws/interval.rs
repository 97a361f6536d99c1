//! ISO 8601 intervals as the grid layers carry them.

use chrono::{DateTime, TimeDelta, Utc};

use crate::weather::floor_hour;
use crate::weather::sources::{ParseError, json};

/// Longer intervals have not been seen and would fill the memory.
const LONGEST: TimeDelta = TimeDelta::days(31);

/// A stretch of time `[start, end)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Interval {
    pub(super) start: DateTime<Utc>,
    pub(super) end: DateTime<Utc>,
}

impl Interval {
    /// Reads `start/duration`, `start/end` or `duration/end`; `NOW` is the time of fetching.
    pub(super) fn parse(
        field: &str,
        text: &str,
        fetched_at: DateTime<Utc>,
    ) -> Result<Self, ParseError> {
        Self::read(text, fetched_at).ok_or_else(|| ParseError::Unreadable {
            field: field.to_owned(),
            found: json::quote(text),
            line: None,
            expected: "an interval like 2026-03-01T06:00:00+00:00/PT6H, of at most 31 days",
        })
    }

    fn read(text: &str, fetched_at: DateTime<Utc>) -> Option<Self> {
        let (first, second) = text.split_once('/')?;
        let instant = |text: &str| {
            if text == "NOW" {
                return Some(fetched_at);
            }
            DateTime::parse_from_rfc3339(text).ok().map(|at| at.to_utc())
        };
        let (start, end) = match (duration(first), duration(second)) {
            (None, Some(length)) => {
                let start = instant(first)?;
                (start, start.checked_add_signed(length)?)
            }
            (Some(length), None) => {
                let end = instant(second)?;
                (end.checked_sub_signed(length)?, end)
            }
            (None, None) => (instant(first)?, instant(second)?),
            (Some(_), Some(_)) => return None,
        };
        let length = end.signed_duration_since(start);
        (TimeDelta::zero() < length && length <= LONGEST).then_some(Self { start, end })
    }

    /// The full hours at which the interval's value holds.
    pub(super) fn full_hours(self) -> impl Iterator<Item = DateTime<Utc>> {
        let first = floor_hour(self.start);
        let first = if first == self.start { first } else { first + TimeDelta::hours(1) };
        hours(first, self.end)
    }

    /// The hours that the interval touches.
    pub(super) fn touched_hours(self) -> impl Iterator<Item = DateTime<Utc>> {
        hours(floor_hour(self.start), self.end)
    }

    /// The same, moved to the nearest full hours, at least one long: over them a total is spread.
    pub(super) fn rounded(self) -> Self {
        let half = TimeDelta::minutes(30);
        let start = floor_hour(self.start + half);
        let end = floor_hour(self.end + half).max(start + TimeDelta::hours(1));
        Self { start, end }
    }
}

fn hours(first: DateTime<Utc>, end: DateTime<Utc>) -> impl Iterator<Item = DateTime<Utc>> {
    std::iter::successors(Some(first), |at| Some(*at + TimeDelta::hours(1)))
        .take_while(move |at| *at < end)
}

/// Reads an ISO 8601 duration of weeks, days, hours, minutes and seconds. Years and months have no
/// fixed length and are not understood.
fn duration(text: &str) -> Option<TimeDelta> {
    let mut rest = text.strip_prefix('P').filter(|rest| !rest.is_empty())?;
    let mut total = TimeDelta::zero();
    let mut in_time = false;
    while !rest.is_empty() {
        if let Some(time) = rest.strip_prefix('T') {
            if in_time || time.is_empty() {
                return None;
            }
            (in_time, rest) = (true, time);
            continue;
        }
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        let count: i64 = rest.get(..digits)?.parse().ok()?;
        let seconds = match (in_time, rest.as_bytes().get(digits)?) {
            (false, b'W') => 7 * 86_400,
            (false, b'D') => 86_400,
            (true, b'H') => 3_600,
            (true, b'M') => 60,
            (true, b'S') => 1,
            _ => return None,
        };
        total = total.checked_add(&TimeDelta::try_seconds(count.checked_mul(seconds)?)?)?;
        rest = rest.get(digits + 1..)?;
    }
    Some(total)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    #[test]
    fn durations_are_read_as_iso_8601_writes_them() {
        for (text, hours) in
            [("PT1H", 1), ("PT21H", 21), ("P1D", 24), ("P1DT6H", 30), ("P3DT12H", 84), ("P1W", 168)]
        {
            assert_eq!(duration(text), Some(TimeDelta::hours(hours)), "{text}");
        }
        assert_eq!(duration("PT1H30M5S"), Some(TimeDelta::seconds(5405)));
        for text in
            ["", "P", "PT", "P1", "1H", "P1M", "P1Y", "PTT1H", "P1H", "PT-1H", "P99999999999999D"]
        {
            assert_eq!(duration(text), None, "{text}");
        }
    }

    #[test]
    fn intervals_come_in_three_forms() {
        let now = at("2026-04-14T16:20:00Z");
        let expected =
            Interval { start: at("2026-04-14T06:00:00Z"), end: at("2026-04-14T12:00:00Z") };
        for text in [
            "2026-04-14T06:00:00+00:00/PT6H",
            "2026-04-14T01:00:00-05:00/2026-04-14T12:00:00Z",
            "PT6H/2026-04-14T12:00:00Z",
        ] {
            assert_eq!(Interval::parse("validTime", text, now), Ok(expected), "{text}");
        }
        assert_eq!(Interval::read("NOW/PT1H", now).unwrap().start, now);
        for text in [
            "",
            "/",
            "PT1H/PT1H",
            "2026-04-14T06:00:00Z",
            "2026-04-14T06:00:00Z/P400D",
            "2026-04-14T06:00:00Z/PT0H",
        ] {
            assert!(Interval::parse("validTime", text, now).is_err(), "{text}");
        }
    }

    #[test]
    fn an_interval_off_the_hour_touches_both_ends() {
        let odd = Interval { start: at("2026-04-15T12:08:22Z"), end: at("2026-04-15T14:08:22Z") };
        let hour = |text: &str| at(&format!("2026-04-15T{text}:00:00Z"));
        assert_eq!(odd.full_hours().collect::<Vec<_>>(), [hour("13"), hour("14")]);
        assert_eq!(odd.touched_hours().collect::<Vec<_>>(), [hour("12"), hour("13"), hour("14")]);
        assert_eq!(odd.rounded(), Interval { start: hour("12"), end: hour("14") });
    }
}
