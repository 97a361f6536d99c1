//! A followed day from end to end: recorded weather whose front moves while the day goes on, and the
//! exact list of what was published and when, worked out by hand.
//!
//! Air of 9 April 2013 at Newark, °F, by local hour:
//! 07 53.1 · 08 57.0 · 09 66.0 · 10 73.9 · 11 77.0 · 12 80.1 · 13 82.0 · 14 82.9 · 15 84.0 · 16 84.0.
//! The plan of that day is `APRIL_9` in `days/tables.rs`: 07:00 at 53.1, 08:41 at 63.15,
//! 09:45 at 71.9, 12:30 at 81.05. New York is four hours behind UTC in April.

use chrono::{TimeDelta, Utc};
use chrono_tz::America::New_York;
use fairseam::store::PublishedStore;
use fairseam::units::Temperature;
use fairseam::weather::{Forecast, Hour};

use crate::book_store_sample::utc;
use crate::calendar_read_back::read_with_calcard;

use crate::follow_world::{
    Says, SimWorld, down, followed, follower, forecast, front, site, tested,
};
use crate::proof::{Allowed, Proof};
use crate::support::example_site;

const APRIL_9: &str = "days/obs_2013-04-09_spring_swing31.json";

/// 08:00 and 09:00 one degree warmer: 58.0 and 67.0.
fn a_little_warmer(_: &Forecast, hour: &mut Hour) {
    if hour.time == utc("2013-04-09T12:00:00Z") || hour.time == utc("2013-04-09T13:00:00Z") {
        hour.air = hour.air.map(|air| Temperature::from_fahrenheit(air.fahrenheit() + 1.0));
    }
}

/// The front an hour early, with thunder in the hour from 13:00.
fn thunder_at_one(recorded: &Forecast, hour: &mut Hour) {
    front(1)(recorded, hour);
    if hour.time == utc("2013-04-09T17:00:00Z") {
        hour.thunder_probability_pct = Some(60.0);
    }
}

fn the_day() -> Vec<Says> {
    vec![
        forecast(APRIL_9, "2013-04-08T20:30:00Z", |_, _| ()),
        forecast(APRIL_9, "2013-04-09T00:00:00Z", a_little_warmer),
        forecast(APRIL_9, "2013-04-09T09:00:00Z", front(1)),
        forecast(APRIL_9, "2013-04-09T10:00:00Z", front(1)),
        down("2013-04-09T12:00:00Z"),
        forecast(APRIL_9, "2013-04-09T14:00:00Z", thunder_at_one),
        forecast(APRIL_9, "2013-04-09T15:00:00Z", front(1)),
        forecast(APRIL_9, "2013-04-09T16:00:00Z", front(1)),
    ]
}

fn world() -> SimWorld {
    let world = SimWorld::new("2013-04-08T20:30:00Z", "2013-04-09T20:30:00Z", the_day());
    let site = site(&example_site(&[]));
    let trials = [
        ("2013-04-09T11:05:00Z", 60.0, "2013-04-09T11:12:00Z"),
        ("2013-04-09T12:35:00Z", 70.5, "2013-04-09T12:40:00Z"),
        ("2013-04-09T13:48:00Z", 76.0, "2013-04-09T13:55:00Z"),
        ("2013-04-09T16:33:00Z", 82.0, "2013-04-09T16:40:00Z"),
    ];
    world.0.borrow_mut().trials =
        trials.iter().map(|(when, air, written)| tested(&site, when, *air, written)).collect();
    world
}

const PUBLISHED: &[&str] = &[
    // An hour before the evening's entry.
    "08 17:00 published: the day, 4 test welds, 0 holds (first time)",
    // 20:00: a degree warmer. 58.0 + 9.0*34/60 = 63.1 = 53.1 + 10: 08:34, 7 minutes earlier: kept.
    // 05:00: the front is an hour early: 07:00 57.0 · 08:00 66.0 · 09:00 73.9 · 10:00 77.0.
    // 66.0 + 7.9*8/60 = 67.05, needs 67.0: 08:08. At 07:00 the speed would be 8 (57.0 -> 60), at
    // 09:45 10 (73.9 + 3.1*45/60 = 76.2 -> 80): once is not enough.
    "09 05:00 published: change-1 moved 08:41 to 08:08 (33 min earlier, 15 or more)",
    // 06:00: the same from a second forecast, so both speeds are told.
    "09 06:00 published: start at 07:00 starts from another speed",
    "09 06:00 published: after-morning-break at 09:45 starts from another speed",
    // 07:12: the crew read 60.0 at 07:05: 66.0 + 7.9*31/60 = 70.08, needs 70.0: 08:31. The good
    // heats of 900 and 1000 °F are the new start of whatever is still to come.
    "09 07:12 published: change-1 moved 08:08 to 08:31 (23 min later, 15 or more)",
    "09 07:12 published: after-morning-break at 09:45 starts from other heats",
    "09 07:12 published: after-lunch at 12:30 starts from other heats",
    // 08:00 to 10:00: no network. The trials of 08:35 (70.5) and 09:48 (76.0) change nothing: 80.5
    // is not reached before the break, nor 86.0 before lunch.
    // 10:00: thunder from 13:00 to 14:00, and half an hour to clear.
    "09 10:00 published: after-hold-1 new at 14:30 (after-hold)",
    "09 10:00 published: hold-1 new, 13:00 to 14:30",
    // 11:00: no thunder, for the first time. 12:00: for the second.
    "09 12:00 published: after-hold-1 at 14:30 withdrawn (no longer asked for)",
    "09 12:00 published: hold-1, 13:00 to 14:30, withdrawn (no longer expected)",
    // 82.0 at 12:33: 92.0 is not reached, and 12:30 + 5 h lies beyond the shift.
];

#[test]
fn what_is_published_and_when_is_what_was_worked_out_by_hand() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let sites = vec![followed(&example_site(&[]), folder.path())];
    follower(&world, folder.path(), "one", sites).run();
    let mut proof = Proof::of(
        "plan/followed-day",
        "What of a followed day is told to the crew, and when: forecasts that change, tests, no network",
        "worked by hand, tests/it/follow_day.rs",
        "lines",
        Allowed::Nothing,
    );
    let published = world.published(New_York);
    assert_eq!(published.len(), PUBLISHED.len(), "{:#?}", world.lines(New_York, |_| true));
    for (line, expected) in published.iter().zip(PUBLISHED) {
        proof.same(line, *expected, String::new);
    }
    proof.done();
    // Each publication is kept for the report and the month.
    let kept = world.0.borrow().kept.clone();
    assert_eq!(kept.len(), 6, "once a publication: {kept:?}");
    assert_eq!(
        kept[4],
        ["start", "change-1", "after-morning-break", "after-lunch", "after-hold-1"]
    );
    assert_eq!(kept[5], ["start", "change-1", "after-morning-break", "after-lunch"]);
}

/// A trial on the wrong roof silences the 08:41 test ahead of its time; withdrawn, it has silenced nothing.
#[test]
fn a_test_that_was_withdrawn_rings_again() {
    let says = vec![forecast(APRIL_9, "2013-04-08T20:30:00Z", |_, _| ())];
    let world = SimWorld::new("2013-04-08T20:30:00Z", "2013-04-09T20:30:00Z", says);
    let site = site(&example_site(&[]));
    // 53.4 °F at 07:05, as forecast; 60.75 at 08:25, within the half hour before 08:41.
    let trials = [
        ("2013-04-09T11:05:00Z", 53.4, "2013-04-09T11:12:00Z"),
        ("2013-04-09T12:25:00Z", 60.75, "2013-04-09T12:26:00Z"),
    ];
    world.0.borrow_mut().trials =
        trials.iter().map(|(when, air, written)| tested(&site, when, *air, written)).collect();
    let wrong = (trials[1].0.to_owned(), utc("2013-04-09T12:30:00Z"));
    world.0.borrow_mut().withdrawn = vec![wrong];
    let folder = tempfile::tempdir().unwrap();
    let sites = vec![followed(&example_site(&[]), folder.path())];
    follower(&world, folder.path(), "one", sites).run();
    let told = world.lines(New_York, |line| line.contains("silenced") || line.contains("rings"));
    assert_eq!(
        told,
        [
            "09 08:26 silenced: change-1 was tested at 08:25, ahead of its time",
            "09 08:30 published: change-1 at 08:41 rings again (its test weld of 08:25 was withdrawn)",
        ]
    );
    // Phones hold both alarms again: a quarter of an hour before, and at the time itself.
    let calendar = std::fs::read_to_string(folder.path().join("crew.ics")).unwrap();
    let (_, events) = read_with_calcard(&calendar);
    let change = events.iter().find(|event| event.uid.ends_with("2013-04-09-change-1")).unwrap();
    assert_eq!(change.start, utc("2013-04-09T12:41:00Z"));
    assert_eq!(change.alarms, [change.start - TimeDelta::minutes(15), change.start]);
}

#[test]
fn what_is_not_told_is_in_the_log_with_its_reason() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let sites = vec![followed(&example_site(&[]), folder.path())];
    follower(&world, folder.path(), "one", sites).run();
    let kept = world.lines(New_York, |line| line.contains("kept:"));
    assert_eq!(kept[0], "08 20:00 kept: change-1 is off by 7 min, less than 15");
    let twice = "kept: start starts from another speed in 1 of 2 forecasts in a row; \
                 kept: after-morning-break starts from another speed in 1 of 2 forecasts in a row";
    assert!(kept.contains(&format!("09 05:00 {twice}")), "{kept:#?}");
    let gone = "kept: after-hold-1 falls away in 1 of 2 forecasts in a row; \
                kept: hold-1 is no longer expected in 1 of 2 forecasts in a row";
    assert!(kept.contains(&format!("09 11:00 {gone}")), "{kept:#?}");
    let network = world.lines(New_York, |line| line.contains("no forecast"));
    assert_eq!(
        network,
        ["09 08:00 no forecast: no route to the service; what was published stands"],
        "said once in two hours"
    );
    // A minute, doubled, a quarter of an hour at most, until the service is back.
    let asked: Vec<String> = world
        .0
        .borrow()
        .asked
        .iter()
        .filter(|at| (utc("2013-04-09T12:00:00Z")..=utc("2013-04-09T14:00:00Z")).contains(*at))
        .map(|at| at.with_timezone(&New_York).format("%H:%M").to_string())
        .collect();
    assert!(asked.len() >= 8 && asked.len() <= 14, "{asked:?}");
    let rest = world.lines(New_York, |line| line.contains("nothing to follow"));
    let (before, after) = (rest[0].as_str(), &rest[1][9..]);
    assert_eq!(
        before,
        "08 16:30 nothing to follow until 2013-04-08 17:00, for the shift of 2013-04-09"
    );
    assert_eq!(after, "nothing to follow until 2013-04-09 17:00, for the shift of 2013-04-10");
    let alive = world.lines(New_York, |line| line.contains("alive:"));
    assert!(alive.len() > 80, "a line every quarter of an hour: {}", alive.len());
    assert!(
        alive[0].ends_with("forecast 30 min old, published 17:00, next forecast 20:00"),
        "{}",
        alive[0]
    );
}

#[test]
fn the_calendar_file_tells_phones_what_changed() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let sites = vec![followed(&example_site(&[]), folder.path())];
    follower(&world, folder.path(), "one", sites).run();
    let text = std::fs::read_to_string(folder.path().join("crew.ics")).unwrap();
    let (_, events) = read_with_calcard(&text);
    let seen: Vec<(String, u32, String, String)> = events
        .iter()
        .map(|event| {
            let id = event.uid.split_once("2013-04-09-").unwrap().1.to_owned();
            let start = event.start.with_timezone(&New_York).format("%H:%M").to_string();
            (id, event.sequence, event.status.clone(), start)
        })
        .collect();
    let row = |id: &str, sequence, status: &str, start: &str| {
        (id.to_owned(), sequence, status.to_owned(), start.to_owned())
    };
    assert_eq!(
        seen,
        [
            row("evening-before", 1, "CONFIRMED", "18:00"),
            row("start", 1, "CONFIRMED", "07:00"),
            row("change-1", 2, "CONFIRMED", "08:31"),
            row("after-morning-break", 2, "CONFIRMED", "09:45"),
            row("after-lunch", 1, "CONFIRMED", "12:30"),
            row("hold-1", 1, "CANCELLED", "13:00"),
            row("after-hold-1", 1, "CANCELLED", "14:30"),
        ]
        .map(|mut row| {
            // Nothing changed before the evening's entry had rung.
            if row.0 == "evening-before" {
                row.1 = 0
            }
            row
        })
    );
    let silent: Vec<bool> = events.iter().map(|event| event.alarms.is_empty()).collect();
    assert_eq!(silent, [false, false, false, false, false, true, true]);
    // The record of revisions is the one that `plan --ics` keeps as well.
    assert!(PublishedStore::new(folder.path()).lock().is_ok());
}

/// Stopped at any of these hours and started again as another process, the list is the same.
#[test]
fn a_restart_picks_up_where_it_was() {
    let whole = (world(), tempfile::tempdir().unwrap());
    let sites = |folder: &std::path::Path| vec![followed(&example_site(&[]), folder)];
    follower(&whole.0, whole.1.path(), "one", sites(whole.1.path())).run();
    let calendar = std::fs::read(whole.1.path().join("crew.ics")).unwrap();

    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let stops = [
        "2013-04-08T22:00:00Z",
        "2013-04-09T09:30:00Z",
        "2013-04-09T11:30:00Z",
        "2013-04-09T15:30:00Z",
        "2013-04-09T20:30:00Z",
    ];
    for (number, stop) in stops.iter().enumerate() {
        world.0.borrow_mut().until = utc(stop);
        let holder = format!("process {number}");
        follower(&world, folder.path(), &holder, sites(folder.path())).run();
    }
    assert_eq!(world.published(New_York), PUBLISHED);
    assert_eq!(std::fs::read(folder.path().join("crew.ics")).unwrap(), calendar);
}

/// Killed without a word: the next one waits until the site is free, and publishes nothing twice.
#[test]
fn a_follower_that_was_killed_loses_its_site_after_three_minutes() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let sites = || vec![followed(&example_site(&[]), folder.path())];
    world.0.borrow_mut().now = utc("2013-04-08T21:00:00Z");
    let mut killed = follower(&world, folder.path(), "killed", sites());
    killed.tick();
    drop(killed);
    let mut next = follower(&world, folder.path(), "next", sites());
    for minutes in 1..=4 {
        world.0.borrow_mut().now = utc("2013-04-08T21:00:00Z") + TimeDelta::minutes(minutes);
        next.tick();
    }
    let lines = world.lines(New_York, |line| !line.contains("alive"));
    assert_eq!(
        lines,
        [
            "08 17:00 published: the day, 4 test welds, 0 holds (first time)",
            "08 17:01 another follower has this site (killed)",
        ]
    );
    let alive = world.lines(New_York, |line| line.contains("alive"));
    assert_eq!(alive.len(), 2, "{alive:?}");
    assert!(alive[1].starts_with("08 17:03 "), "{alive:?}");
}

#[test]
fn two_followers_of_one_site_publish_once() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let sites = || vec![followed(&example_site(&[]), folder.path())];
    let mut one = follower(&world, folder.path(), "one", sites());
    let mut other = follower(&world, folder.path(), "other", sites());
    loop {
        // Now the one first, now the other.
        let minute = world.0.borrow().now.timestamp() / 900;
        let next = if minute % 2 == 0 {
            one.tick().next.min(other.tick().next)
        } else {
            other.tick().next.min(one.tick().next)
        };
        if fairseam::publish::World::wait(&mut world.clone(), next) == fairseam::publish::Wake::Stop
        {
            break;
        }
    }
    assert_eq!(world.published(New_York), PUBLISHED);
}

/// The night of 9 March 2013, `days/tables.rs`: 22:00 at 44.96, 00:15 at 39.7, 05:15 for the four
/// hours since; the clock goes from 02:00 to 03:00. 06Z 39.02 · 07Z 39.02 · 08Z 37.04.
#[test]
fn a_clock_change_inside_the_shift_moves_nothing_but_the_clock() {
    let night = [
        ("shift.start", "\"22:00\""),
        ("shift.end", "\"06:00\""),
        ("shift.breaks", "[ { name = \"supper\", start = \"23:45\", minutes = 30 } ]"),
        ("shift.workdays", "[\"sat\"]"),
        ("rules.max_hours_between", "4"),
    ];
    let ten_colder = |_: &Forecast, hour: &mut Hour| {
        if hour.time >= utc("2013-03-10T07:00:00Z") {
            hour.air = hour.air.map(|air| Temperature::from_fahrenheit(air.fahrenheit() - 10.0));
        }
    };
    const YEAR: &str = "ewr2013.csv";
    let forecasts = vec![
        forecast(YEAR, "2013-03-08T22:00:00Z", |_, _| ()),
        forecast(YEAR, "2013-03-10T06:30:00Z", ten_colder),
    ];
    let world = SimWorld::new("2013-03-08T22:00:00Z", "2013-03-10T12:00:00Z", forecasts);
    let folder = tempfile::tempdir().unwrap();
    let sites = vec![followed(&example_site(&night), folder.path())];
    follower(&world, folder.path(), "one", sites).run();
    let mut proof = Proof::of(
        "plan/followed-clock-change",
        "What is told to the crew of a night in which the clock is put forward",
        "worked by hand, tests/it/follow_day.rs",
        "lines",
        Allowed::Nothing,
    );
    let expected = [
        "08 17:00 published: the day, 3 test welds, 0 holds (first time)",
        // 39.02 - 10*56/60 = 29.69, needs 39.695 - 10 = 29.695: 06:56Z, 01:56 by the old clock.
        // From 05:15 by the new one that is 139 real minutes.
        "10 01:30 published: elapsed-1 moved 05:15 to 01:56 (139 min earlier, 15 or more)",
    ];
    let published = world.published(New_York);
    assert_eq!(published.len(), expected.len(), "{published:?}");
    for (line, expected) in published.iter().zip(expected) {
        proof.same(line, expected, String::new);
    }
    proof.done();
    let rest = world.lines(New_York, |line| line.contains("nothing to follow"));
    // 06:00 by the new clock.
    assert_eq!(rest.len(), 1, "{rest:?}");
    assert!(rest[0].starts_with("10 06:"), "{rest:?}");
}

#[test]
fn sites_are_followed_beside_each_other() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    world.0.borrow_mut().until = utc("2013-04-09T09:30:00Z");
    world.0.borrow_mut().trials.clear();
    let mut other = followed(&example_site(&[("name", "\"West bay\"")]), folder.path());
    other.ics = None;
    let sites = vec![followed(&example_site(&[]), folder.path()), other];
    follower(&world, folder.path(), "one", sites).run();
    let lines = world.0.borrow().log.clone();
    for name in ["Cold-store re-roof, east bay", "West bay"] {
        let of_site =
            lines.iter().filter(|(_, line)| line.starts_with(name) && line.contains("published:"));
        assert_eq!(of_site.count(), 2, "{name}");
    }
}

/// The stamp of a followed day is what `serve` shows as well.
#[test]
fn what_was_published_last_can_be_read_by_others() {
    let (world, folder) = (world(), tempfile::tempdir().unwrap());
    let site = site(&example_site(&[]));
    follower(&world, folder.path(), "one", vec![followed(&example_site(&[]), folder.path())]).run();
    crate::book_store_sample::run(async {
        use fairseam::store::follow::{FollowStore, published_at};
        let date = "2013-04-09".parse().unwrap();
        let at = published_at(folder.path(), &site.key(), date).await.unwrap();
        assert_eq!(at, Some(utc("2013-04-09T16:00:00Z")));
        let store = FollowStore::open_to_read(folder.path()).await.unwrap().unwrap();
        let day = store.day(&site.key(), date).await.unwrap().unwrap();
        let text = fairseam::render::ics::calendar(site.language, &site.name, &day.events).unwrap();
        assert_eq!(text, std::fs::read_to_string(folder.path().join("crew.ics")).unwrap());
        let published = day.followed.published.as_ref().unwrap();
        let read: Vec<Option<chrono::DateTime<Utc>>> =
            published.points.iter().map(|point| point.tested.map(|test| test.when)).collect();
        let made = ["11:05", "12:35", "13:48", "16:33"];
        let made = made.map(|clock| Some(utc(&format!("2013-04-09T{clock}:00Z"))));
        assert_eq!(read, made);
        assert_eq!(store.holder(&site.key()).await.unwrap(), None, "given back");
    });
    crate::book_store_sample::run(async {
        let nowhere = tempfile::tempdir().unwrap();
        let date = "2013-04-09".parse().unwrap();
        let never = fairseam::store::follow::published_at(nowhere.path(), "x", date).await.unwrap();
        assert_eq!(never, None);
    });
}
