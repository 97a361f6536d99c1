//! Which days are followed, and from when to when.

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;

use crate::plan::{instant, shift_times};
use crate::site::Site;

/// A day is followed from this long before its evening entry rings, so that phones hold it by then.
const AHEAD: TimeDelta = TimeDelta::hours(1);
/// The evening of a site that wants no entry for it.
const USUAL_EVENING: NaiveTime = match NaiveTime::from_hms_opt(18, 0, 0) {
    Some(time) => time,
    None => NaiveTime::MIN,
};
/// A longer pause between two workdays is looked over again when it is over.
const LONGEST_LOOK: i64 = 15;

/// A day that is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// The local day on which the shift starts.
    pub date: NaiveDate,
    /// An hour before the evening entry of the day before.
    pub from: DateTime<Utc>,
    /// First minute of work.
    pub shift_start: DateTime<Utc>,
    /// End of the shift.
    pub until: DateTime<Utc>,
}

/// The workdays of `site` that are followed at `now`, ascending: as a rule none or one.
pub fn followed_days(site: &Site, zone: Tz, now: DateTime<Utc>) -> Vec<Window> {
    windows(site, zone, now).filter(|day| day.from <= now && now < day.until).collect()
}

/// The next day whose following begins after `now`.
pub fn next_window(site: &Site, zone: Tz, now: DateTime<Utc>) -> Option<Window> {
    windows(site, zone, now).find(|day| now < day.from)
}

/// Workdays from two days before `now` on, for night shifts and zones far from UTC.
fn windows(site: &Site, zone: Tz, now: DateTime<Utc>) -> impl Iterator<Item = Window> {
    let today = now.with_timezone(&zone).date_naive();
    let days =
        (-2..=LONGEST_LOOK).filter_map(move |n| today.checked_add_signed(TimeDelta::days(n)));
    days.filter(|date| site.shift.workdays.contains(&date.weekday())).filter_map(move |date| {
        let (shift_start, until) = shift_times(&site.shift, date, zone, |_, _, _, _| ()).ok()?;
        let evening = site.reminders.evening_before.unwrap_or(USUAL_EVENING);
        let from = instant(date.pred_opt()?.and_time(evening), zone) - AHEAD;
        Some(Window { date, from, shift_start, until })
    })
}
