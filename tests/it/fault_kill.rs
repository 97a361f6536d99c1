//! The machine is switched off: every command is killed again and again at moments that look like
//! chance. What is found afterwards is whole, and the next run works.
//!
//! `FAIRSEAM_LONG=1` kills each a hundred times instead of a dozen.
#![cfg(unix)]

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};

use crate::calendar_read_back::read_with_calcard;
use crate::fault_support::{Aim, Chance, PLAN, Place, RECORD, Weather, is_long};
use crate::server_support::{MORNING, trial, uuid};

pub(crate) fn kills() -> u32 {
    if is_long() { 100 } else { 12 }
}

/// Ends it without a word or, every third time, as a service manager does.
pub(crate) fn kill(child: &mut Child, round: u32) {
    if round % 3 == 2 {
        let id = child.id().to_string();
        // It may be gone already.
        let sent = Command::new("kill").args(["-TERM", &id]).stderr(Stdio::null()).status();
        sent.unwrap();
    } else {
        child.kill().unwrap();
    }
}

/// Starts it, kills it some time later, and tells whether it had come to its end before.
pub(crate) fn killed(command: &mut Command, after: Duration, round: u32) -> bool {
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    std::thread::sleep(after);
    kill(&mut child, round);
    child.wait().unwrap().code() == Some(0)
}

/// How long it takes when nobody stops it, and a quarter more.
pub(crate) fn span(command: &mut Command) -> Duration {
    let started = Instant::now();
    assert!(command.output().unwrap().status.success());
    started.elapsed() * 5 / 4
}

#[test]
fn a_killed_plan_leaves_the_old_files_or_the_new_ones() {
    let place = Place::new();
    let mut chance = Chance(88_172_645_463_325_252);
    // The pages are the same bytes for the same weather; the calendars count their revisions.
    let mut pages = Vec::new();
    for weather in [Weather::Demo, Weather::Dry] {
        place.weather(weather);
        place.works(PLAN);
        pages.push(place.read("day.html").unwrap());
    }
    let mut aim = Aim::within(span(&mut place.command(PLAN)));
    let mut sequences = BTreeMap::new();
    let (mut finished, mut replaced, mut before) = (0, 0, place.read("day.ics"));
    let mut round = 0;
    // As often as wanted, and on until some were killed early and some late, however the machine runs.
    while round < kills() || (round < 10 * kills() && (finished == round || replaced == 0)) {
        place.weather(if round % 2 == 0 { Weather::Demo } else { Weather::Dry });
        let done = killed(&mut place.command(PLAN), aim.moment(&mut chance), round);
        aim.learn(done);
        finished += u32::from(done);
        assert!(pages.contains(&place.read("day.html").unwrap()), "round {round}");
        keeps_counting(&place, "day.ics", &mut sequences);
        let now = place.read("day.ics");
        replaced += u32::from(now != before);
        before = now;
        round += 1;
    }
    assert!(finished < round, "none was killed");
    assert!(replaced > 0, "none came as far as its calendar");
    place.weather(Weather::Demo);
    place.works(PLAN);
    assert!(place.read("day.html").unwrap() == pages[0]);
    keeps_counting(&place, "day.ics", &mut sequences);
}

/// The calendar is whole, and no event of it has a lower revision than it had.
pub(crate) fn keeps_counting(place: &Place, name: &str, sequences: &mut BTreeMap<String, u32>) {
    let text = String::from_utf8(place.read(name).unwrap()).unwrap();
    assert!(text.starts_with("BEGIN:VCALENDAR\r\n") && text.ends_with("END:VCALENDAR\r\n"));
    for event in read_with_calcard(&text).1 {
        let before = sequences.insert(event.uid.clone(), event.sequence);
        assert!(before.is_none_or(|before| before <= event.sequence), "{}", event.uid);
    }
}

#[test]
fn a_killed_record_leaves_a_whole_book() {
    let place = Place::new();
    let mut chance = Chance(521_288_629_546_311);
    let mut aim = Aim::within(span(&mut place.command(RECORD)));
    let mut acknowledged = 1;
    for round in 0..kills() {
        // Now and then the book itself is begun anew.
        if round % 4 == 3 {
            let fresh = Place::new();
            let done = killed(&mut fresh.command(RECORD), aim.moment(&mut chance), round);
            assert!((u64::from(done)..=1).contains(&fresh.book_entries()), "round {round}");
            fresh.works(RECORD);
        }
        let before = place.book_entries();
        let done = killed(&mut place.command(RECORD), aim.moment(&mut chance), round);
        aim.learn(done);
        acknowledged += u64::from(done);
        let now = place.book_entries();
        assert!((before + u64::from(done)..=before + 1).contains(&now), "round {round}");
    }
    assert!(acknowledged <= u64::from(kills()), "none was killed");
    let before = place.book_entries();
    place.works(RECORD);
    assert_eq!(place.book_entries(), before + 1);
}

/// A server with its address.
fn serve(place: &Place) -> (Child, SocketAddr) {
    let arguments = ["serve", "site.toml", "--listen", "127.0.0.1:0", "--address-limit", "0"];
    let mut command = place.command(&[&arguments[..], &["--key-limit", "0"]].concat());
    command.env("FAIRSEAM_NOW", MORNING);
    let mut child = command.stderr(Stdio::piped()).spawn().unwrap();
    let mut lines = BufReader::new(child.stderr.take().unwrap()).lines();
    let line = lines.next().unwrap().unwrap();
    let address = line.split("://").nth(1).and_then(|rest| rest.split('/').next());
    let address = address.unwrap_or_else(|| panic!("{line}")).parse().unwrap();
    std::thread::spawn(move || lines.for_each(drop));
    (child, address)
}

/// Posts a trial; the status, or `None` where the server went away.
fn post(address: SocketAddr, key: &str, number: u32) -> Option<u16> {
    let body = trial(&uuid(number), "M.").to_string();
    let mut stream = TcpStream::connect(address).ok()?;
    let head = format!(
        "POST /crew/roof/trials HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\
         Content-Type: application/json\r\nCookie: fairseam-key={key}\r\nContent-Length: {}\r\n\r\n",
        body.len()
    );
    stream.write_all((head + &body).as_bytes()).ok()?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer).ok()?;
    answer.split(' ').nth(1)?.parse().ok()
}

#[test]
fn a_killed_server_loses_no_trial_that_it_has_acknowledged_and_doubles_none() {
    let place = Place::new();
    let mut chance = Chance(123_456_789_987_654);
    let made = place
        .command(&["serve", "--new-key", "site.toml", "--for", "crew", "--holder", "crew A"])
        .env("FAIRSEAM_NOW", MORNING)
        .output()
        .unwrap();
    let key = String::from_utf8(made.stdout).unwrap();
    let key = key.trim().split('#').nth(1).unwrap().to_owned();
    let (mut next, mut acknowledged) = (0, Vec::new());
    for round in 0..kills() {
        let (mut child, address) = serve(&place);
        let (told, first_told) = mpsc::channel();
        let client = {
            let (key, first) = (key.clone(), next);
            std::thread::spawn(move || {
                let mut done = Vec::new();
                for number in first.. {
                    match post(address, &key, number) {
                        Some(status @ (200 | 201)) => {
                            done.push((number, status));
                            // Nobody listens any more after the first.
                            let _ = told.send(());
                        }
                        Some(status) => panic!("trial {number}: {status}"),
                        None => return (number, done),
                    }
                }
                unreachable!("numbers end after the server")
            })
        };
        // Every third time perhaps before it has answered anything, else amid its answers.
        if round % 3 > 0 {
            first_told.recv_timeout(Duration::from_secs(60)).unwrap();
        }
        std::thread::sleep(chance.moment(Duration::from_millis(400)));
        kill(&mut child, round);
        child.wait().unwrap();
        let (unanswered, done) = client.join().unwrap();
        acknowledged.extend(done.into_iter().map(|(number, _)| number));
        // A phone sends what was not answered again, under the same name.
        next = unanswered;
        let booked = place.book_entries();
        let known = u64::try_from(acknowledged.len()).unwrap();
        assert!((known..=known + 1).contains(&booked), "round {round}: {known} and {booked}");
    }
    let names: std::collections::BTreeSet<u32> = acknowledged.iter().copied().collect();
    assert_eq!(names.len(), acknowledged.len(), "each answered once");
    assert!(acknowledged.len() >= 6, "only {}", acknowledged.len());
    let (mut child, address) = serve(&place);
    for number in 0..=next {
        let expected = if number < next { &[200][..] } else { &[200, 201] };
        let status = post(address, &key, number).unwrap();
        assert!(expected.contains(&status), "trial {number} again: {status}");
    }
    kill(&mut child, 2);
    assert_eq!(child.wait().unwrap().code(), Some(0));
    assert_eq!(place.book_entries(), u64::from(next) + 1);
}
