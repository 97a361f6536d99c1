//! The entries of one day's calendar, before anybody has asked what changed.

use chrono::{DateTime, NaiveDateTime, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;
use sha2::{Digest, Sha256};

use super::texts::{self, EventTexts};
use crate::plan::{Checkpoint, DayPlan, Reason};
use crate::site::Reminders;
use crate::words::{Language, tell};

/// Raised when the shape of the events changes, so that a phone takes over what an earlier version
/// of this program has published.
const SHAPE: &str = "1";

/// How long the entry of the evening before takes.
const EVENING_MINUTES: i64 = 15;

/// One event of the calendar: everything a phone shows or rings by.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Stable across re-planning, and opaque.
    pub uid: String,
    /// Its first moment.
    pub start: DateTime<Utc>,
    /// Its end, later than `start`.
    pub end: DateTime<Utc>,
    /// The line that every phone shows.
    pub summary: String,
    /// The whole text.
    pub description: String,
    /// Where; empty for none.
    pub location: String,
    /// Latitude and longitude in degrees.
    pub position: Option<(f64, f64)>,
    /// What kind of entry it is.
    pub category: String,
    /// The language of its texts.
    pub language: Language,
    /// One alarm for each, this many minutes before `start`; descending, each once.
    pub alarms_before_minutes: Vec<u32>,
    /// Whether it still holds.
    pub status: Status,
}

/// Whether an entry still holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// It does.
    Confirmed,
    /// It was published and has gone from the plan.
    Cancelled,
}

/// The entries of `plan`: one for each checkpoint, and the evening before where there is one.
pub fn entries(plan: &DayPlan, reminders: &Reminders) -> Vec<Entry> {
    let evening = reminders.evening_before.and_then(|time| evening_entry(plan, time));
    let tests = plan.checkpoints.iter().map(|checkpoint| test_entry(plan, checkpoint, reminders));
    evening.into_iter().chain(tests).collect()
}

/// The entry of one checkpoint of `plan`.
pub fn test_entry(plan: &DayPlan, checkpoint: &Checkpoint, reminders: &Reminders) -> Entry {
    let length = TimeDelta::minutes(i64::from(checkpoint.minutes.max(1)));
    let texts = texts::event_texts(plan, checkpoint, reminders);
    let category = tell!(plan.language, "category-test");
    entry(plan, &checkpoint.id, category, checkpoint.time, length, alarms(reminders), texts)
}

/// The entry of a hold of `plan` under `id`, from the first moment of `span` up to the second.
///
/// Only a day that is followed has such entries: a hold that comes or goes during the shift is news.
pub fn hold_entry(
    plan: &DayPlan,
    id: &str,
    span: (DateTime<Utc>, DateTime<Utc>),
    reasons: &[Reason],
    reminders: &Reminders,
) -> Entry {
    let texts = texts::hold_texts(plan, span, reasons, reminders);
    let category = tell!(plan.language, "category-hold");
    entry(plan, id, category, span.0, span.1 - span.0, alarms(reminders), texts)
}

fn alarms(reminders: &Reminders) -> Vec<u32> {
    let mut alarms = reminders.before_minutes.clone();
    alarms.sort_unstable_by(|a, b| b.cmp(a));
    alarms.dedup();
    alarms
}

/// `None` where the day before cannot be represented.
fn evening_entry(plan: &DayPlan, time: NaiveTime) -> Option<Entry> {
    let start = first_instant(plan.date.pred_opt()?.and_time(time), plan.time_zone)?;
    let length = TimeDelta::minutes(EVENING_MINUTES);
    let texts = texts::evening_texts(plan);
    let category = tell!(plan.language, "category-evening");
    Some(entry(plan, "evening-before", category, start, length, vec![0], texts))
}

fn entry(
    plan: &DayPlan,
    id: &str,
    category: String,
    start: DateTime<Utc>,
    length: TimeDelta,
    alarms_before_minutes: Vec<u32>,
    texts: EventTexts,
) -> Entry {
    let EventTexts { summary, description } = texts;
    let end = start + length;
    let uid = uid(plan, id);
    let (location, position, status) = (plan.site.clone(), position(plan), Status::Confirmed);
    Entry {
        uid,
        start,
        end,
        summary,
        description,
        location,
        position,
        category,
        language: plan.language,
        alarms_before_minutes,
        status,
    }
}

/// The first instant at which the clock of `zone` shows `local`; where the clock skips it, the
/// instant of the skip.
fn first_instant(local: NaiveDateTime, zone: Tz) -> Option<DateTime<Utc>> {
    // No zone has skipped more than a day, and clocks are changed on whole minutes.
    (0..=24 * 60)
        .filter_map(|minutes| local.checked_add_signed(TimeDelta::minutes(minutes)))
        .find_map(|later| later.and_local_timezone(zone).earliest())
        .map(|at| at.to_utc())
}

fn position(plan: &DayPlan) -> Option<(f64, f64)> {
    let sound = (-90.0..=90.0).contains(&plan.latitude_deg)
        && (-180.0..=180.0).contains(&plan.longitude_deg);
    sound.then_some((plan.latitude_deg, plan.longitude_deg))
}

/// The UID of one event: `fairseam-<site key>-2013-04-09-after-lunch`.
///
/// It names neither site nor host. Characters that a checkpoint's id should not have become
/// hyphens.
fn uid(plan: &DayPlan, id: &str) -> String {
    let site = plan.site_key();
    let sound = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    let id: String = id.chars().map(|c| if sound(c) { c } else { '-' }).collect();
    format!("fairseam-{site}-{}-{id}", plan.date)
}

impl Entry {
    /// A published entry that has gone from the plan, in the language that the crew reads now.
    pub fn cancelled(
        language: Language,
        uid: String,
        start: DateTime<Utc>,
        end: DateTime<Utc>,
        earlier_summary: &str,
    ) -> Self {
        let EventTexts { summary, description } = texts::cancelled_texts(language, earlier_summary);
        Self {
            uid,
            start,
            end,
            summary,
            description,
            location: String::new(),
            position: None,
            category: tell!(language, "category-test"),
            language,
            alarms_before_minutes: Vec::new(),
            status: Status::Cancelled,
        }
    }

    /// A hash over everything that a phone shows or rings by, alarms included; the revision is not
    /// part of it.
    pub fn content_hash(&self) -> String {
        let position = self.position.map_or_else(String::new, |at| format!("{at:?}"));
        digest(&[
            SHAPE,
            &self.uid,
            &self.start.to_rfc3339(),
            &self.end.to_rfc3339(),
            &self.summary,
            &self.description,
            &self.location,
            &position,
            &self.category,
            &format!("{:?}", self.alarms_before_minutes),
            &format!("{:?}", self.status),
        ])
    }
}

/// SHA-256 over texts, each with its length before it so that no two lists run together.
fn digest(parts: &[&str]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part.as_bytes());
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;

    fn instant(day: (i32, u32, u32), hour: u32, minute: u32, zone: Tz) -> String {
        let date = NaiveDate::from_ymd_opt(day.0, day.1, day.2).unwrap();
        let local = date.and_hms_opt(hour, minute, 0).unwrap();
        first_instant(local, zone).unwrap().to_rfc3339()
    }

    #[test]
    fn the_evening_holds_on_days_that_change_the_clock() {
        // IANA zone data: New York skipped 02:00-03:00 on 2013-03-10 and had 01:00-02:00 twice on
        // 2013-11-03; Samoa skipped the whole of 2011-12-30.
        let new_york = chrono_tz::America::New_York;
        assert_eq!(instant((2013, 3, 10), 2, 30, new_york), "2013-03-10T07:00:00+00:00");
        assert_eq!(instant((2013, 11, 3), 1, 30, new_york), "2013-11-03T05:30:00+00:00");
        assert_eq!(instant((2013, 3, 10), 18, 0, new_york), "2013-03-10T22:00:00+00:00");
        assert_eq!(
            instant((2011, 12, 30), 0, 0, chrono_tz::Pacific::Apia),
            "2011-12-30T10:00:00+00:00"
        );
    }

    #[test]
    fn lists_of_texts_do_not_run_together() {
        assert_ne!(digest(&["ab", "c"]), digest(&["a", "bc"]));
        // The SHA-256 of the empty message, which many programs print; from memory.
        assert_eq!(digest(&[]).get(..8), Some("e3b0c442"));
    }
}
