//! A followed day on a real calendar server: what arrives, what conflicts come to, what is never
//! touched, and what a real client makes of it.

mod client;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use chrono::{TimeDelta, Utc};
use chrono_tz::America::New_York;
use fairseam::publish::caldav::{Collection, Login, href};
use fairseam::publish::{FollowedSite, Follower};
use fairseam::weather::{Forecast, Hour};
use reqwest::{Method, header};

use client::Client;

use crate::book_store_sample::utc;
use crate::calendar_read_back::{ReadEvent, python_events, read_with_calcard};
use crate::follow_world::{Says, SimWorld, followed, follower, forecast, front};
use crate::proof::{Allowed, Proof};
use crate::radicale::{LOGIN, Radicale, has_packages};
use crate::support::example_site;

const APRIL_9: &str = "days/obs_2013-04-09_spring_swing31.json";
pub(crate) const FIRST: &str = "2013-04-08T21:00:00Z";
pub(crate) const EARLY: &str = "2013-04-09T09:00:00Z";
pub(crate) const LATE: &str = "2013-04-09T09:20:00Z";

fn as_recorded(_: &Forecast, _: &mut Hour) {}

/// 08:41 as recorded, 08:08 with the front an hour early (`follow_day`), then 08:41 again.
pub(crate) fn to_and_fro() -> Vec<Says> {
    vec![
        forecast(APRIL_9, "2013-04-08T20:30:00Z", as_recorded),
        forecast(APRIL_9, EARLY, front(1)),
        forecast(APRIL_9, LATE, as_recorded),
    ]
}

pub(crate) struct Scene {
    pub(crate) server: Radicale,
    pub(crate) world: SimWorld,
    pub(crate) follower: Follower<SimWorld>,
    pub(crate) folder: tempfile::TempDir,
}

impl Scene {
    /// `None` where the server's package is not at hand.
    pub(crate) fn new() -> Option<Self> {
        if !has_packages("radicale") {
            return None;
        }
        let folder = tempfile::tempdir().unwrap();
        let server = Radicale::start(folder.path());
        let world = SimWorld::new(FIRST, "2013-04-09T20:00:00Z", to_and_fro());
        let follower =
            follower(&world, folder.path(), "one", vec![on(&server, folder.path(), LOGIN)]);
        Some(Self { server, world, follower, folder })
    }

    pub(crate) fn tick_at(&mut self, at: &str) {
        self.world.0.borrow_mut().now = utc(at);
        self.follower.tick();
    }

    /// The server's events of the followed day, by the last part of their UID.
    pub(crate) fn events(&self) -> BTreeMap<String, ReadEvent> {
        let mut events = BTreeMap::new();
        for (_, body) in self.server.all() {
            if !body.contains("UID:fairseam-") {
                continue;
            }
            let (_, mut read) = read_with_calcard(&body);
            assert_eq!(read.len(), 1, "one resource an event");
            let event = read.remove(0);
            if let Some((_, id)) = event.uid.split_once("2013-04-09-") {
                events.insert(id.to_owned(), event);
            }
        }
        events
    }

    pub(crate) fn change_1(&self) -> (String, String) {
        let all = self.server.all();
        all.into_iter().find(|(_, body)| body.contains("2013-04-09-change-1")).unwrap()
    }

    pub(crate) fn said(&self, words: &str) -> Vec<String> {
        self.world.lines(New_York, |line| line.contains(words))
    }
}

pub(crate) fn on(server: &Radicale, folder: &Path, login: &str) -> FollowedSite {
    let login = Login::parse(login).unwrap();
    let caldav = Some(Collection::new(&server.address(), login).unwrap());
    FollowedSite { caldav, ..followed(&example_site(&[]), folder) }
}

pub(crate) fn clock(event: &ReadEvent) -> String {
    event.start.with_timezone(&New_York).format("%H:%M").to_string()
}

const IDS: [&str; 5] =
    ["after-lunch", "after-morning-break", "change-1", "evening-before", "start"];

#[test]
fn events_arrive_move_and_keep_their_places() {
    let mut proof = Proof::of(
        "calendar/caldav-server",
        "Events of a followed day on a calendar server, their times and alarms, before and after the \
         front comes an hour early",
        "the day worked by hand, tests/it/follow_day.rs; kept by the server radicale, read by calcard",
        "facts",
        Allowed::Nothing,
    )
    .when_installed(5);
    let Some(mut scene) = Scene::new() else { return proof.done() };
    scene.tick_at(FIRST);
    let first = scene.events();
    proof.same(&first.keys().map(String::as_str).collect::<Vec<_>>(), &IDS, || "ids".to_owned());
    proof.same(&clock(&first["change-1"]), "08:41", || "change".to_owned());
    // 15 minutes before and at the start, RFC 5545's triggers read by another maker's library.
    let start = first["start"].start;
    let rings = [start - TimeDelta::minutes(15), start];
    proof.same(&first["start"].alarms, &rings, || "alarms".to_owned());
    let names =
        |scene: &Scene| scene.server.all().into_iter().map(|(name, _)| name).collect::<Vec<_>>();
    let places = names(&scene);
    scene.tick_at(EARLY);
    let second = scene.events();
    proof.same(&clock(&second["change-1"]), "08:08", || "change moved".to_owned());
    proof.same(&second["change-1"].sequence, &1, || "SEQUENCE".to_owned());
    proof.done();
    assert_eq!(second["start"], first["start"], "what did not change was not written");
    assert_eq!(names(&scene), places);
    assert_eq!(
        scene.said("server: "),
        ["08 17:00 server: 5 of 5 events taken", "09 05:00 server: 1 of 1 events taken"]
    );
}

#[test]
fn both_python_parsers_read_what_was_pushed() {
    let mut proof = Proof::of(
        "calendar/caldav-python",
        "Every event of a followed day on a calendar server, each a resource of its own",
        "read alike by calcard and by the Python packages icalendar and vobject",
        "readings",
        Allowed::Nothing,
    )
    .when_installed(2 * IDS.len());
    if !has_packages("radicale, icalendar, vobject") {
        return proof.done();
    }
    let Some(mut scene) = Scene::new() else { return proof.done() };
    scene.tick_at(FIRST);
    scene.tick_at(EARLY);
    for (_, body) in scene.server.all() {
        let by_calcard = read_with_calcard(&body).1;
        let [by_icalendar, by_vobject] = python_events(&body);
        proof.same(&by_icalendar, &by_calcard, || body.clone());
        proof.same(&by_vobject, &by_calcard, || body.clone());
    }
    proof.done();
}

const FOREIGN: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody//EN\r\nBEGIN:VEVENT\r\n\
    UID:dentist@example.com\r\nDTSTAMP:20130401T000000Z\r\nDTSTART:20130409T120000Z\r\n\
    DTEND:20130409T130000Z\r\nSUMMARY:Dentist\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";

/// Somebody's own event lies in the calendar, another one even at the address that ours would have.
#[test]
fn events_that_are_not_ours_are_never_touched() {
    let Some(mut scene) = Scene::new() else { return };
    let key = crate::follow_world::site(&example_site(&[])).key();
    let taken = href(&format!("fairseam-{key}-2013-04-09-change-1"));
    let other = FOREIGN.replace("dentist@", "barber@");
    assert_eq!(scene.server.ask(Method::PUT, "dentist.ics", None, FOREIGN).0, 201);
    assert_eq!(scene.server.ask(Method::PUT, &taken, None, &other).0, 201);
    let before = (scene.server.get("dentist.ics"), scene.server.get(&taken));
    for at in [FIRST, EARLY, LATE] {
        scene.tick_at(at);
    }
    assert_eq!((scene.server.get("dentist.ics"), scene.server.get(&taken)), before);
    assert!(before.1.unwrap().contains("barber@"));
    let ours = scene.events();
    assert_eq!(ours.keys().map(String::as_str).collect::<Vec<_>>(), IDS);
    assert_eq!(clock(&ours["change-1"]), "08:41");
    assert_eq!(ours["change-1"].sequence, 2);
}

#[test]
fn an_event_that_somebody_edited_gets_our_version_with_a_higher_sequence() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    let (name, body) = scene.change_1();
    let edited = body
        .replace("SEQUENCE:0", "SEQUENCE:7")
        .replace("DTEND:20130409T1251", "DTEND:20130409T1359");
    assert_ne!(edited, body);
    assert_eq!(scene.server.ask(Method::PUT, &name, None, &edited).0, 204);
    scene.tick_at(EARLY);
    let change = &scene.events()["change-1"];
    assert_eq!((clock(change), change.sequence), ("08:08".to_owned(), 8));
    assert_eq!(change.end - change.start, TimeDelta::minutes(10), "ours");
    assert_eq!(scene.said("our version stands").len(), 1);
    // And on from there: never down, though our own count is at 2.
    scene.tick_at(LATE);
    assert_eq!(scene.events()["change-1"].sequence, 9);
}

#[test]
fn an_event_that_somebody_deleted_comes_back_when_it_changes() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    let (name, _) = scene.change_1();
    assert_eq!(scene.server.ask(Method::DELETE, &name, None, "").0, 200);
    assert!(!scene.events().contains_key("change-1"));
    scene.tick_at(EARLY);
    assert_eq!(clock(&scene.events()["change-1"]), "08:08");
}

/// The record of what the server holds was lost: its events are known as ours by their UIDs.
#[test]
fn a_lost_record_does_not_double_an_event() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    let count = scene.server.all().len();
    drop(scene.follower);
    for name in ["follow.sqlite3", "follow.sqlite3-wal", "follow.sqlite3-shm"] {
        let _ = fs::remove_file(scene.folder.path().join(name));
    }
    let sites = vec![on(&scene.server, scene.folder.path(), LOGIN)];
    scene.follower = follower(&scene.world, scene.folder.path(), "two", sites);
    scene.tick_at(EARLY);
    assert_eq!(scene.server.all().len(), count);
    assert_eq!(clock(&scene.events()["change-1"]), "08:08");
}

#[test]
fn what_a_server_misses_while_it_is_down_waits_on_disk() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    scene.server.down();
    scene.tick_at(EARLY);
    assert_eq!(scene.said("takes nothing").len(), 1);
    // Nobody is asked again at once; and the queue outlives the follower.
    scene.tick_at("2013-04-09T09:00:30Z");
    drop(scene.follower);
    let sites = || vec![on(&scene.server, scene.folder.path(), LOGIN)];
    scene.follower = follower(&scene.world, scene.folder.path(), "one", sites());
    scene.tick_at("2013-04-09T09:02:00Z");
    scene.server.up();
    // The day has moved on meanwhile: 08:41 again. Only the newest version is sent.
    scene.tick_at(LATE);
    let change = &scene.events()["change-1"];
    assert_eq!((clock(change), change.sequence), ("08:41".to_owned(), 2));
    let queue = scene.said("server: ");
    assert_eq!(queue.last().map(String::as_str), Some("09 05:20 server: 1 of 1 events taken"));
    // A server that comes back to nothing new is left alone.
    scene.tick_at("2013-04-09T09:40:00Z");
    assert_eq!(scene.said("server: "), queue);
}

#[test]
fn a_wrong_password_is_said_once_and_never_shown() {
    if !has_packages("radicale") {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let server = Radicale::start(folder.path());
    let world = SimWorld::new(FIRST, "2013-04-09T20:00:00Z", to_and_fro());
    let sites = vec![on(&server, folder.path(), "foreman:wr0ng")];
    let mut follower = follower(&world, folder.path(), "one", sites);
    for minutes in 0..20 {
        world.0.borrow_mut().now = utc(FIRST) + TimeDelta::minutes(minutes);
        follower.tick();
    }
    let said = world.lines(New_York, |line| line.contains("calendar server"));
    assert_eq!(
        said,
        [
            "08 17:00 the calendar server takes nothing: it does not know this user and password; it waits"
        ]
    );
    let log = format!("{:?} {follower:?}", world.0.borrow().log);
    assert!(!log.contains("wr0ng"));
    assert!(server.all().is_empty());
}

/// The crew's side: `vdirsyncer` fetches, `khal` shows.
#[test]
fn a_real_client_shows_what_was_published() {
    let mut proof = Proof::of(
        "calendar/caldav-client",
        "What a client that has fetched the calendar lists of the day: start, SEQUENCE, summary",
        "the day worked by hand, tests/it/days/tables.rs; fetched by vdirsyncer, listed by khal",
        "lines",
        Allowed::Nothing,
    )
    .when_installed(5);
    if !has_packages("radicale, khal, vdirsyncer, click_log") {
        return proof.done();
    }
    let Some(mut scene) = Scene::new() else { return proof.done() };
    scene.tick_at(FIRST);
    let client = Client::new(&scene);
    client.sync();
    let listed = client.list();
    let lines: Vec<&str> = listed.lines().collect();
    // Local times of `days/tables.rs`; what phones ring with behind them.
    let expected = [
        "07:00 0 Test weld · 7 ft/min 700–1100 by 100 °F · Cold-store…east bay",
        "08:41 0 Test weld · 8 ft/min 700–1100 by 100 °F · Cold-store…east bay",
        "09:45 0 Test weld · 9 ft/min 700–1100 by 100 °F · Cold-store…east bay",
        "12:30 0 Test weld · 10 ft/min 700–1100 by 100 °F · Cold-store…east bay",
    ];
    assert_eq!(lines.len(), expected.len(), "{listed}");
    for (line, expected) in lines.iter().zip(expected) {
        proof.same(*line, expected, || listed.clone());
    }
    scene.tick_at(EARLY);
    client.sync();
    let listed = client.list();
    let moved = "08:08 1 Test weld · 9 ft/min 700–1100 by 100 °F · Cold-store…east bay";
    proof.same(&listed.lines().nth(1), &Some(moved), || listed.clone());
    assert_eq!(listed.lines().count(), 4);
    proof.done();
}

/// The mark that a server gives changes with every version, or `If-Match` would prove nothing.
#[test]
fn the_servers_own_mark_guards_against_writing_over_somebody() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    let (name, body) = scene.change_1();
    let (_, etag, _) = scene.server.ask(Method::GET, &name, None, "");
    let etag = etag.unwrap();
    scene.tick_at(EARLY);
    let stale = scene.server.ask(Method::PUT, &name, Some((header::IF_MATCH, &etag)), &body);
    assert_eq!(stale.0, 412);
    let anew = scene.server.ask(Method::PUT, &name, Some((header::IF_NONE_MATCH, "*")), &body);
    assert_eq!(anew.0, 412);
    let _: chrono::DateTime<Utc> = scene.events()["change-1"].start;
}
