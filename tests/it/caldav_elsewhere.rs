//! Our event under an address that is not ours, on a server that takes each UID once: it is looked for
//! where the server says, or asked for by its UID, and written over there and nowhere else.
//!
//! The server is `caldav_strict`; `radicale`, which names no address, is asked as well.

use std::fs;
use std::net::TcpListener;
use std::path::Path;

use chrono_tz::America::New_York;
use fairseam::publish::caldav::{Collection, Login, hrefs, uid_conflict};
use fairseam::publish::{FollowedSite, Follower};
use reqwest::Method;

use crate::caldav_strict::{NAMED, OURS, PLAIN, Strict, THEIRS, Tells, UNNAMED, uid_of};
use crate::follow_caldav::{EARLY, FIRST, LATE, Scene, clock, to_and_fro};
use crate::follow_world::{SimWorld, followed, follower, site};
use crate::radicale::LOGIN;
use crate::support::example_site;

struct Followed {
    server: Strict,
    world: SimWorld,
    follower: Follower<SimWorld>,
    _folder: tempfile::TempDir,
}

impl Followed {
    fn start(tells: Tells) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let server = Strict::start(tells);
        let world = SimWorld::new(FIRST, "2013-04-09T20:00:00Z", to_and_fro());
        let sites = vec![on(server.port, folder.path())];
        let follower = follower(&world, folder.path(), "one", sites);
        Self { server, world, follower, _folder: folder }
    }

    fn tick_at(&mut self, at: &str) {
        self.world.0.borrow_mut().now = at.parse().unwrap();
        self.follower.tick();
    }

    fn said(&self, words: &str) -> Vec<String> {
        self.world.lines(New_York, |line| line.contains(words))
    }
}

/// The address is written with an @, which the server encodes.
fn on(port: u16, folder: &Path) -> FollowedSite {
    let address = format!("http://127.0.0.1:{port}/cal/foreman@roof.example/crew");
    let caldav = Some(Collection::new(&address, Login::parse(LOGIN).unwrap()).unwrap());
    FollowedSite { caldav, ..followed(&example_site(&[]), folder) }
}

fn change_1() -> String {
    format!("fairseam-{}-2013-04-09-change-1", site(&example_site(&[])).key())
}

fn sequence(text: &str) -> &str {
    text.lines().find_map(|line| line.strip_prefix("SEQUENCE:")).unwrap()
}

/// However the address is told: as a path or whole, as a conflict or as forbidden, or not at all.
#[test]
fn the_event_is_written_over_where_the_server_has_it() {
    let copy = format!("{OURS}phone%20copy.ics");
    let ways = [
        ("a path, 409", PLAIN, false),
        ("forbidden, 403", Tells { status: 403, ..PLAIN }, false),
        ("no address", Tells { body: UNNAMED, ..PLAIN }, true),
        ("no XML", Tells { body: "409: no-uid-conflict & more", ..PLAIN }, true),
    ];
    for (way, tells, asks) in ways {
        let mut scene = Followed::start(tells);
        scene.server.holds(&copy, &change_1(), 3);
        // A longer UID is found by the same text, and is not ours.
        let longer = format!("{OURS}another.ics");
        scene.server.holds(&longer, &format!("{}0", change_1()), 8);
        let foreign = scene.server.get(&longer);
        scene.tick_at(FIRST);
        // Five of ours, one of them where the phone had put it, and the other one.
        assert_eq!(scene.server.count(), 6, "{way}");
        let written = scene.server.get(&copy);
        assert_eq!((uid_of(&written), sequence(&written)), (change_1(), "4"), "{way}");
        assert!(written.contains("PRODID:") && !written.contains("Copied by a phone"), "{way}");
        assert_eq!(scene.server.get(&longer), foreign, "{way}");
        let asked = scene.server.asked();
        assert_eq!(
            asked.iter().any(|one| one == &format!("REPORT {OURS}")),
            asks,
            "{way}: {asked:?}"
        );
        assert_eq!(scene.said("5 of 5 events taken").len(), 1, "{way}");
        let found = scene.said("lay at another address there, phone%20copy.ics");
        assert_eq!(found.len(), 1, "{way}: {found:?}");
        // From now on it is known there: one request for the one event that has changed.
        scene.tick_at(EARLY);
        assert_eq!(scene.server.asked(), [format!("PUT {copy}")], "{way}");
        assert_eq!(sequence(&scene.server.get(&copy)), "5", "{way}");
    }
}

#[test]
fn an_absolute_address_on_this_server_will_do() {
    let mut scene = Followed::start(PLAIN);
    let copy = format!("{OURS}copy.ics");
    let whole = format!("http://127.0.0.1:{}{}", scene.server.port, copy.replace("%40", "@"));
    let body: &'static str = Box::leak(NAMED.replace("{href}", &whole).into_boxed_str());
    scene.server.shelf.lock().unwrap().tells.body = body;
    scene.server.holds(&copy, &change_1(), 3);
    scene.tick_at(FIRST);
    assert_eq!(sequence(&scene.server.get(&copy)), "4");
}

/// The password goes to our calendar alone, and nothing outside of it is written.
#[test]
fn another_calendar_or_another_server_is_named_and_left_alone() {
    let elsewhere = TcpListener::bind("127.0.0.1:0").unwrap();
    elsewhere.set_nonblocking(true).unwrap();
    let other_server = format!("http://{}/x.ics", elsewhere.local_addr().unwrap());
    let of_other: &'static str = Box::leak(NAMED.replace("{href}", &other_server).into_boxed_str());
    let private = format!("{THEIRS}x.ics");
    let cases = [
        (PLAIN, format!("in another calendar, at {private}")),
        (Tells { body: of_other, ..PLAIN }, format!("in another calendar, at {other_server}")),
    ];
    for (tells, said) in cases {
        let mut scene = Followed::start(tells);
        scene.server.holds(&private, &change_1(), 3);
        let before = scene.server.get(&private);
        scene.tick_at(FIRST);
        assert_eq!(scene.server.get(&private), before);
        let asked = scene.server.asked();
        assert!(!asked.iter().any(|one| one.contains("private")), "{asked:?}");
        let refusals = scene.said(&said);
        assert_eq!(refusals.len(), 1, "{said}: {:?}", scene.world.0.borrow().log);
        assert!(refusals[0].contains("delete that one; it waits"), "{refusals:?}");
        // The other four are there.
        assert_eq!(scene.server.count(), 5);
        // Once it is gone, ours arrives at its own address.
        scene.server.shelf.lock().unwrap().events.remove(&private);
        scene.tick_at(EARLY);
        assert_eq!(scene.server.count(), 5);
        assert!(
            scene
                .server
                .shelf
                .lock()
                .unwrap()
                .events
                .values()
                .any(|(_, text)| { uid_of(text) == change_1() })
        );
    }
    let reached = elsewhere.accept().map(drop).map_err(|error| error.kind());
    assert_eq!(reached, Err(std::io::ErrorKind::WouldBlock), "somebody was sent the password");
}

#[test]
fn an_answer_that_leads_nowhere_leaves_everything_as_it_is() {
    let barber = format!("{OURS}barber.ics");
    let of_barber: &'static str = Box::leak(NAMED.replace("{href}", &barber).into_boxed_str());
    let gone: &'static str =
        Box::leak(NAMED.replace("{href}", &format!("{OURS}gone.ics")).into_boxed_str());
    let no_query = Tells { body: UNNAMED, answers_queries: false, ..PLAIN };
    let cases = [
        // An event of another UID, one that is not there, none at all.
        (Tells { body: of_barber, ..PLAIN }, "does not say where"),
        (Tells { body: gone, ..PLAIN }, "does not say where"),
        (no_query, "does not say where"),
        // Without its mark nothing is written over.
        (Tells { gives_etags: false, ..PLAIN }, "gives no ETag"),
    ];
    for (tells, said) in cases {
        let mut scene = Followed::start(tells);
        let copy = format!("{OURS}copy.ics");
        scene.server.holds(&copy, &change_1(), 3);
        scene.server.holds(&barber, "barber@example.com", 0);
        let before = (scene.server.get(&copy), scene.server.get(&barber));
        for at in [FIRST, EARLY, LATE] {
            scene.tick_at(at);
        }
        assert_eq!((scene.server.get(&copy), scene.server.get(&barber)), before, "{said}");
        assert!(!scene.said(said).is_empty(), "{said}: {:?}", scene.world.0.borrow().log);
    }
}

/// The bodies as the RFCs print them. Source: RFC 4918, section 16, with RFC 4791's own precondition in
/// it; RFC 4791, section 7.8.6.
#[test]
fn answers_are_read_by_their_namespaces() {
    let conflict = |body: &str| uid_conflict(body).map(|conflict| conflict.href);
    assert_eq!(conflict(&NAMED.replace("{href}", "/a/b.ics")), Some(Some("/a/b.ics".to_owned())));
    assert_eq!(conflict(UNNAMED), Some(None));
    let other = "<D:error xmlns:D=\"DAV:\"><D:lock-token-submitted><D:href>/a/</D:href>\
                 </D:lock-token-submitted></D:error>";
    assert_eq!(conflict(other), None);
    // The name in another namespace is another thing.
    assert_eq!(conflict("<error xmlns=\"DAV:\"><no-uid-conflict/></error>"), None);
    assert_eq!(conflict(""), None);
    let many = "<?xml version=\"1.0\" encoding=\"utf-8\" ?><D:multistatus xmlns:D=\"DAV:\" \
        xmlns:C=\"urn:ietf:params:xml:ns:caldav\"><D:response>\
        <D:href>http://cal.example.com/bernard/work/abcd3.ics</D:href><D:propstat><D:prop>\
        <D:getetag>\"fffff-abcd3\"</D:getetag></D:prop><D:status>HTTP/1.1 200 OK</D:status>\
        </D:propstat></D:response></D:multistatus>";
    assert_eq!(hrefs(many), ["http://cal.example.com/bernard/work/abcd3.ics"]);
    assert_eq!(hrefs(UNNAMED), Vec::<String>::new());
    let endless = format!(
        "<m:multistatus xmlns:m=\"DAV:\">{}</m:multistatus>",
        "<m:response><m:href>/a.ics</m:href></m:response>".repeat(5000)
    );
    assert_eq!(hrefs(&endless).len(), 16, "some are enough");
}

/// A real server: somebody's client has moved our event within the calendar.
#[test]
fn an_event_that_was_moved_is_followed_to_its_new_address() {
    let Some(mut scene) = Scene::new() else { return };
    scene.tick_at(FIRST);
    let count = scene.server.all().len();
    let (name, body) = scene.change_1();
    let move_it = |scene: &Scene, from: &str, to: &str, body: &str| {
        assert_eq!(scene.server.ask(Method::DELETE, from, None, "").0, 200);
        assert_eq!(scene.server.ask(Method::PUT, to, None, body).0, 201);
    };
    move_it(&scene, &name, "moved.ics", &body);
    scene.tick_at(EARLY);
    assert_eq!(scene.server.all().len(), count, "nothing is there twice");
    let (name, body) = scene.change_1();
    assert_eq!((name.as_str(), sequence(&body)), ("moved.ics", "1"));
    assert_eq!(clock(&scene.events()["change-1"]), "08:08");
    assert_eq!(scene.said("lay at another address there, moved.ics").len(), 1);
    // The record is lost as well: the server is asked again, and nothing is doubled.
    move_it(&scene, "moved.ics", "moved-again.ics", &body);
    drop(scene.follower);
    for name in ["follow.sqlite3", "follow.sqlite3-wal", "follow.sqlite3-shm"] {
        let _ = fs::remove_file(scene.folder.path().join(name));
    }
    let sites = vec![crate::follow_caldav::on(&scene.server, scene.folder.path(), LOGIN)];
    scene.follower = follower(&scene.world, scene.folder.path(), "two", sites);
    scene.tick_at(LATE);
    assert_eq!(scene.server.all().len(), count);
    assert_eq!(scene.change_1().0, "moved-again.ics");
    assert_eq!(clock(&scene.events()["change-1"]), "08:41");
}
