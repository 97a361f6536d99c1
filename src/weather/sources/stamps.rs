//! Time stamps: on the full hour, ascending, hour by hour.

use chrono::{DateTime, TimeDelta, Utc};

use super::ParseError;
use crate::weather::floor_hour;

/// Years that a time may lie in; beyond them, sums of times would overflow.
pub(crate) const YEARS: std::ops::RangeInclusive<i32> = 1..=9998;

/// Checks the stamps of an hourly series.
///
/// A hole is allowed, a series that never advances by a single hour is not: its sums cover more
/// than the hour before the stamp.
///
/// # Errors
/// [`ParseError::Unreadable`] for a stamp off the full hour, [`ParseError::Steps`] for stamps
/// that do not ascend or that are all more than an hour apart.
pub(crate) fn check_hourly(field: &'static str, times: &[DateTime<Utc>]) -> Result<(), ParseError> {
    for &time in times {
        check_full_hour(field, time)?;
    }
    let mut coarse: Option<(DateTime<Utc>, DateTime<Utc>)> = None;
    let mut hourly = times.len() < 2;
    for pair in times.windows(2) {
        let &[before, after] = pair else { continue };
        if after <= before {
            let expected = "each later than the one before";
            return Err(ParseError::Steps { field, before, after, expected });
        }
        if after - before == TimeDelta::hours(1) {
            hourly = true;
        } else {
            coarse.get_or_insert((before, after));
        }
    }
    match coarse {
        Some((before, after)) if !hourly => {
            Err(ParseError::Steps { field, before, after, expected: "steps of one hour" })
        }
        _ => Ok(()),
    }
}

/// Checks that `time` is on the full hour.
///
/// # Errors
/// [`ParseError::Unreadable`] when it is not.
pub(crate) fn check_full_hour(field: &str, time: DateTime<Utc>) -> Result<(), ParseError> {
    if floor_hour(time) == time {
        return Ok(());
    }
    Err(ParseError::Unreadable {
        field: field.to_owned(),
        found: time.to_rfc3339(),
        line: None,
        expected: "full hours in UTC",
    })
}

/// An RFC 3339 instant.
///
/// # Errors
/// [`ParseError::Unreadable`] when it is none.
pub(crate) fn instant(field: &str, text: &str) -> Result<DateTime<Utc>, ParseError> {
    DateTime::parse_from_rfc3339(text).map(|at| at.to_utc()).map_err(|_| ParseError::Unreadable {
        field: field.to_owned(),
        found: super::json::quote(text),
        line: None,
        expected: "a time like 2026-03-01T10:00:00Z",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(hours: i64, minutes: i64) -> DateTime<Utc> {
        DateTime::UNIX_EPOCH + TimeDelta::hours(hours) + TimeDelta::minutes(minutes)
    }

    #[test]
    fn holes_pass_and_coarse_or_turning_series_do_not() {
        assert_eq!(check_hourly("time", &[at(0, 0), at(1, 0), at(5, 0)]), Ok(()));
        assert_eq!(check_hourly("time", &[at(0, 0)]), Ok(()));
        assert!(check_hourly("time", &[at(0, 0), at(3, 0), at(6, 0)]).is_err());
        assert!(check_hourly("time", &[at(0, 0), at(1, 0), at(1, 0)]).is_err());
        assert!(check_hourly("time", &[at(0, 30), at(1, 30)]).is_err());
    }
}
