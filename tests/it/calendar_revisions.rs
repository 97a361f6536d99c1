//! What a phone is told has changed.

use chrono::{DateTime, TimeDelta, Utc};
use fairseam::render::ics::{self, Entry, Revised, Status};
use fairseam::store::{DayKey, Previous, PublishedDay, revise};
use fairseam::words::Language;

use super::calendar_checker::faults;
use super::calendar_plan::{now, plan, reminders};

/// A site that publishes again and again.
struct Publisher {
    previous: Previous,
    clock: DateTime<Utc>,
}

impl Publisher {
    fn new() -> Self {
        Self { previous: Previous::Unpublished, clock: now() }
    }

    /// Publishes `entries` ten minutes after the last time.
    fn publish(&mut self, entries: &[Entry]) -> Vec<Revised> {
        self.clock += TimeDelta::minutes(10);
        let (revised, day) = revise(&self.previous, &key(), entries, Language::En, self.clock);
        let file = ics::calendar(Language::En, "roof", &revised).unwrap();
        assert_eq!(faults(&file), Vec::<String>::new());
        self.previous = Previous::Known(day);
        revised
    }
}

fn key() -> DayKey {
    DayKey::of(&plan())
}

fn entries() -> Vec<Entry> {
    ics::entries(&plan(), &reminders())
}

fn without(entries: &[Entry], id: &str) -> Vec<Entry> {
    entries.iter().filter(|entry| !entry.uid.ends_with(id)).cloned().collect()
}

fn find<'a>(revised: &'a [Revised], id: &str) -> &'a Revised {
    revised.iter().find(|event| event.entry.uid.ends_with(id)).unwrap()
}

fn sequence_and_stamp(revised: &[Revised], id: &str) -> (u32, DateTime<Utc>) {
    let revision = find(revised, id).revision;
    (revision.sequence, revision.last_modified)
}

#[test]
fn a_first_publication_starts_at_zero() {
    let mut site = Publisher::new();
    for event in site.publish(&entries()) {
        assert_eq!((event.revision.sequence, event.revision.last_modified), (0, site.clock));
    }
}

#[test]
fn what_has_not_changed_keeps_its_revision() {
    let mut site = Publisher::new();
    let first = site.publish(&entries());
    let again = site.publish(&entries());
    assert_eq!(first, again);
}

#[test]
fn a_change_raises_sequence_and_stamp_of_its_event_alone() {
    let mut site = Publisher::new();
    let first = site.publish(&entries());
    let mut plan = plan();
    plan.checkpoints[1].time += TimeDelta::minutes(7);
    let second = site.publish(&without(&ics::entries(&plan, &reminders()), "evening-before"));
    assert_eq!(sequence_and_stamp(&second, "change-1"), (1, site.clock));
    assert_eq!(find(&second, "start").revision, find(&first, "start").revision);
    let mut quieter = reminders();
    quieter.before_minutes = vec![30];
    let third = site.publish(&ics::entries(&plan, &quieter));
    assert_eq!(sequence_and_stamp(&third, "change-1"), (2, site.clock));
    assert_eq!(sequence_and_stamp(&third, "start"), (1, site.clock));
}

#[test]
fn a_clock_set_back_does_not_set_back_the_stamp() {
    let mut site = Publisher::new();
    let (_, first) = sequence_and_stamp(&site.publish(&entries()), "start");
    site.clock -= TimeDelta::days(400);
    let mut plan = plan();
    plan.checkpoints[0].minutes += 5;
    let second = site.publish(&ics::entries(&plan, &reminders()));
    assert_eq!(sequence_and_stamp(&second, "start"), (1, first + TimeDelta::seconds(1)));
}

#[test]
fn two_changes_within_a_second_have_two_stamps() {
    let instant = now() + TimeDelta::milliseconds(250);
    let (first, day) = revise(&Previous::Unpublished, &key(), &entries(), Language::En, instant);
    assert_eq!(first[0].revision.last_modified, now(), "a calendar has whole seconds");
    let mut changed = entries();
    changed[0].summary.push('!');
    let later = instant + TimeDelta::milliseconds(500);
    let (second, _) = revise(&Previous::Known(day), &key(), &changed, Language::En, later);
    assert_eq!(second[0].revision.last_modified, now() + TimeDelta::seconds(1));
}

#[test]
fn what_goes_is_cancelled_once_and_stays_cancelled() {
    let mut site = Publisher::new();
    let first = site.publish(&entries());
    let rest = without(&entries(), "after-lunch");
    let second = site.publish(&rest);
    let gone = find(&second, "after-lunch");
    assert_eq!((gone.revision.sequence, gone.revision.last_modified), (1, site.clock));
    assert_eq!(gone.entry.status, Status::Cancelled);
    let before = &find(&first, "after-lunch").entry;
    assert_eq!(gone.entry.summary, format!("CANCELLED: {}", before.summary));
    assert_eq!((gone.entry.start, gone.entry.end), (before.start, before.end));
    assert!(gone.entry.alarms_before_minutes.is_empty(), "a cancelled test does not ring");
    assert_eq!(site.publish(&rest), second, "no further changes");
}

#[test]
fn what_comes_back_is_confirmed_again() {
    let mut site = Publisher::new();
    site.publish(&entries());
    site.publish(&without(&entries(), "after-lunch"));
    let back = site.publish(&entries());
    assert_eq!(sequence_and_stamp(&back, "after-lunch"), (2, site.clock));
    assert_eq!(find(&back, "after-lunch").entry.status, Status::Confirmed);
    assert_eq!(find(&back, "start").revision.sequence, 0);
}

#[test]
fn a_lost_record_starts_above_anything_counted() {
    let mut site = Publisher::new();
    site.previous = Previous::Lost;
    let first = site.publish(&without(&entries(), "change-1"));
    // 2013-04-08 21:40 UTC: 15803 days since 1970 (calendar count), and 21 h 40 min.
    let minutes = 15_803 * 1440 + 21 * 60 + 40;
    assert_eq!(sequence_and_stamp(&first, "start"), (minutes, site.clock));
    let second = site.publish(&entries());
    assert_eq!(sequence_and_stamp(&second, "start").0, minutes, "counted on from there");
    assert_eq!(sequence_and_stamp(&second, "change-1").0, minutes, "it may have been there before");
}

#[test]
fn sequence_stops_at_the_largest_integer_of_a_calendar() {
    let (_, mut day) = revise(&Previous::Unpublished, &key(), &entries(), Language::En, now());
    for event in day.events.values_mut() {
        event.sequence = i32::MAX as u32;
    }
    let (revised, _) =
        revise(&Previous::Known(day), &key(), &[], Language::En, now() + TimeDelta::days(1));
    assert!(revised.iter().all(|event| event.revision.sequence == i32::MAX as u32));
}

#[test]
fn revisions_never_go_down_whatever_is_published() {
    // Every subset of the entries in a fixed, well mixed order.
    let all = entries();
    let mut site = Publisher::new();
    let mut last: Option<PublishedDay> = None;
    for step in 0..64_usize {
        let subset = step.wrapping_mul(0x9e37) >> 3;
        let some: Vec<Entry> = all
            .iter()
            .enumerate()
            .filter(|(place, _)| subset >> place & 1 == 1)
            .map(|(_, entry)| entry.clone())
            .collect();
        site.publish(&some);
        let Previous::Known(day) = &site.previous else { panic!("nothing published") };
        for (uid, before) in last.iter().flat_map(|day| &day.events) {
            let after = &day.events[uid];
            let changed = after.cancelled != before.cancelled;
            assert_eq!(after.sequence, before.sequence + u32::from(changed));
            assert_eq!(after.last_modified > before.last_modified, changed);
        }
        last = Some(day.clone());
    }
}
