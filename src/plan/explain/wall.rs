//! From a wall time as somebody types it to an instant and to the shift that it belongs to.

use chrono::{DateTime, LocalResult, NaiveDate, NaiveDateTime, TimeDelta, TimeZone, Timelike, Utc};
use chrono_tz::Tz;

use super::WallTime;
use crate::plan::timeline::{instant, shift_span};
use crate::site::Site;

/// A wall time as an instant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WallMoment {
    /// The instant that it means.
    pub at: DateTime<Utc>,
    /// What a clock change does to it.
    pub wall: WallTime,
}

/// The instant of a wall time in `zone`, and what a clock change does to it.
///
/// A time that occurs twice means the first; one that the clock skips is read with the offset in
/// force before the skip. Source: RFC5545, section 3.3.5. For years 1900 to 2200.
pub fn wall_moment(wall: NaiveDateTime, zone: Tz) -> WallMoment {
    let kind = match zone.from_local_datetime(&wall) {
        LocalResult::Single(_) => WallTime::Plain,
        LocalResult::Ambiguous(..) => WallTime::Twice,
        LocalResult::None => WallTime::Skipped { asked: wall },
    };
    WallMoment { at: instant(wall, zone), wall: kind }
}

/// The date of the shift that `at` belongs to: for the early hours of a night shift the day on
/// which it began, else the local date of `at`.
pub fn shift_date(site: &Site, zone: Tz, at: DateTime<Utc>) -> NaiveDate {
    let date = at.with_timezone(&zone).date_naive();
    let began_before = date.pred_opt().filter(|day_before| {
        shift_span(&site.shift, &site.rules, *day_before, zone)
            .is_ok_and(|shift| shift.start <= at && at < shift.end)
    });
    began_before.unwrap_or(date)
}

/// The start of the minute that `at` lies in.
pub(super) fn floor_minute(at: DateTime<Utc>) -> DateTime<Utc> {
    let into = TimeDelta::seconds(i64::from(at.second()));
    at - into - TimeDelta::nanoseconds(i64::from(at.nanosecond()))
}
