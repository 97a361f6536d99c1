//! Calendars: what a calendar server answers, and ours out of any text.

use chrono::TimeDelta;
use fairseam::publish::caldav::{Login, found, hrefs, uid_conflict, with_sequence};
use fairseam::render::ics::{Entry, Revised, Revision, Status, calendar, calendar_object};
use fairseam::words::Language;

use super::read_at;

/// A calendar object as a server answers with it.
pub(super) fn caldav_object(body: &[u8]) -> bool {
    let text = String::from_utf8_lossy(body);
    let event = found(&text);
    let _ = found(&with_sequence(&text, 7));
    event.uid.is_some()
}

/// What a calendar server answers in XML: a refusal, or many answers in one. No address of it is empty.
pub(super) fn caldav_answer(body: &[u8]) -> bool {
    let text = String::from_utf8_lossy(body);
    let named = uid_conflict(&text).and_then(|conflict| conflict.href);
    let all = hrefs(&text);
    assert!(named.iter().chain(&all).all(|href| !href.trim().is_empty()), "{named:?} {all:?}");
    named.is_some() || !all.is_empty()
}

/// The login of a calendar server; what is refused never repeats what stood there.
pub(super) fn caldav_login(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let Ok(login) = Login::parse(text) else { return false };
    assert_eq!(format!("{login:?}"), "Login(***)", "the login shows");
    true
}

/// A calendar whose every text comes from outside: it keeps RFC 5545's lines, and nothing in a text
/// becomes a property. Source: RFC5545, section 3.1.
pub(super) fn calendar_text(body: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(body) else { return false };
    let entry = Entry {
        uid: "fuzz-1@fairseam".to_owned(),
        start: read_at(),
        end: read_at() + TimeDelta::minutes(20),
        summary: text.to_owned(),
        description: text.to_owned(),
        location: text.to_owned(),
        position: Some((40.7, -74.2)),
        category: text.to_owned(),
        language: Language::En,
        alarms_before_minutes: vec![15],
        status: Status::Confirmed,
    };
    let event = Revised { entry, revision: Revision { sequence: 41, last_modified: read_at() } };
    let whole = calendar(Language::Es, text, std::slice::from_ref(&event)).expect("a calendar");
    let single = calendar_object(&event).expect("a calendar object");
    for written in [whole, single] {
        let lines = written.strip_suffix("\r\n").expect("a last line with its end").split("\r\n");
        let mut begun = 0;
        for line in lines {
            assert!(line.len() <= 75, "a line of {} octets", line.len());
            let is_sound = |c: char| c == '\t' || !c.is_control();
            assert!(line.chars().all(is_sound), "a control character in {line:?}");
            begun += usize::from(line.starts_with("BEGIN:"));
        }
        assert_eq!(begun, 3, "calendar, event and alarm: {written}");
        let event = found(&written);
        assert_eq!((event.uid.as_deref(), event.sequence), (Some("fuzz-1@fairseam"), 41));
        assert_eq!(found(&with_sequence(&written, 42)).sequence, 42);
    }
    true
}
