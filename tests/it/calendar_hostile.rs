//! Text from a site file that tries to break the calendar.

use fairseam::render::ics::{self, Refused};
use icalendar::{Calendar, Component, Event, Property};
use proptest::prelude::*;

use super::calendar_checker::faults;
use super::calendar_plan::{full_range, plan, published, reminders};
use super::calendar_read_back::read_with_calcard;

use crate::proof::{Allowed, Proof};

/// (text, what a reader must get back): the first two make the printer of the `icalendar` crate
/// 0.17.17 loop without end and panic; the others try to start a property of their own.
pub(crate) fn hostile_names() -> Vec<(String, String)> {
    let same = |text: String| (text.clone(), text);
    vec![
        same(format!("{}{}", "é".repeat(72), " x".repeat(40))),
        same(format!("{}{}end", "\u{1f528}".repeat(57), " ".repeat(80))),
        same(format!("{}{}end", "\u{1f528}".repeat(24), " ".repeat(80))),
        same("a".repeat(138)),
        same("roof\\, n; \\n \"quoted\": a=b, 'c' ^n".to_owned()),
        same("\u{645}\u{628}\u{646}\u{649} \u{200f}\u{5d0} e\u{301}\u{301}\u{301}".to_owned()),
        ("A\nMETHOD:CANCEL".to_owned(), "A\nMETHOD:CANCEL".to_owned()),
        ("A\r\nEND:VEVENT\r\nX:y".to_owned(), "A\nEND:VEVENT\nX:y".to_owned()),
        ("A\rATTENDEE:mailto:a@example.com".into(), "A\nATTENDEE:mailto:a@example.com".into()),
        ("A\0B\u{7}C\u{1b}[2JD\u{7f}E\u{9b}F".to_owned(), "ABC[2JDEF".to_owned()),
        ("A\u{85}B\u{2028}C\u{2029}D\u{b}E\u{c}F".to_owned(), "A\nB\nC\nD\nE\nF".to_owned()),
    ]
}

#[test]
fn hostile_site_and_welder_names_stay_text() {
    let mut proof = Proof::of(
        "calendar/hostile-names",
        "Names that try to break out of their text",
        "RFC5545, section 3.3.11, what a reader must see, by hand; read by the crate calcard",
        "names",
        Allowed::Nothing,
    );
    for (name, expected) in hostile_names() {
        let mut day = plan();
        day.site = name.clone();
        day.weather.attribution = name.clone();
        day.checkpoints[0].settings = vec![full_range(&name, Some(7.0)), full_range("b", None)];
        let (revised, text) = published(&day, &reminders());
        assert_eq!(faults(&text), Vec::<String>::new(), "{name:?}");
        let (calendar_name, events) = read_with_calcard(&text);
        proof.same(&calendar_name, &format!("Test welds: {expected}"), || format!("{name:?}"));
        assert_eq!(events.len(), revised.len());
        for event in events {
            assert_eq!(event.location, expected);
            assert!(event.description.contains(&expected), "{name:?}");
        }
    }
    proof.done();
}

#[test]
fn a_line_cannot_be_injected_through_values_that_are_no_text() {
    for (name, value) in [
        ("URL", "https://example.com/\r\nMETHOD:CANCEL"),
        ("GEO", "40.1;-74.2\nMETHOD:CANCEL"),
        ("UID", "a\nMETHOD:CANCEL"),
        ("SOURCE", "https://example.com/\nMETHOD:CANCEL"),
    ] {
        let mut calendar = Calendar::empty();
        calendar.push(Event::new().add_property(name, value).done());
        let refused = ics::write_calendar(&calendar).unwrap_err();
        assert!(refused.to_string().contains(name), "{refused}");
        let mut calendar = Calendar::empty();
        calendar.append_property(Property::new(name, value));
        assert!(matches!(ics::write_calendar(&calendar), Err(Refused::ControlCharacter { .. })));
    }
    let mut calendar = Calendar::empty();
    calendar.name("Crew A\nMETHOD:CANCEL");
    calendar.append_property(("COLOR", "red\nMETHOD:CANCEL"));
    let written = ics::write_calendar(&calendar).unwrap();
    assert!(!written.contains("\nMETHOD"), "{written}");
    assert_eq!(written.matches("\\nMETHOD:CANCEL\r\n").count(), 3, "{written}");
}

#[test]
fn only_events_are_written() {
    let mut calendar = Calendar::empty();
    calendar.push(icalendar::Todo::new().summary("x").done());
    assert_eq!(ics::write_calendar(&calendar), Err(Refused::NotAnEvent));
}

#[test]
fn an_odd_checkpoint_id_cannot_leave_its_uid() {
    let mut day = plan();
    day.checkpoints[0].id = "START\r\nMETHOD:CANCEL,;é".to_owned();
    let (revised, text) = published(&day, &reminders());
    let made_of = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    for event in &revised {
        assert!(event.entry.uid.chars().all(made_of), "{}", event.entry.uid);
    }
    assert_eq!(faults(&text), Vec::<String>::new());
}

#[test]
fn a_place_that_is_none_is_left_out() {
    for (latitude, longitude) in [(f64::NAN, 0.0), (91.0, 0.0), (0.0, f64::INFINITY)] {
        let mut day = plan();
        (day.latitude_deg, day.longitude_deg) = (latitude, longitude);
        let (_, text) = published(&day, &reminders());
        assert!(!text.contains("GEO"));
        assert_eq!(faults(&text), Vec::<String>::new());
    }
}

/// Text of ordinary and of odd characters, blanks and breaks more often than chance would have it.
fn odd_text() -> impl Strategy<Value = String> {
    let odd = prop::sample::select(vec![
        ' ',
        ' ',
        '\t',
        '\n',
        '\r',
        '\0',
        '\u{7}',
        '\u{85}',
        '\u{2028}',
        '\\',
        ',',
        ';',
        ':',
        '"',
        'n',
        'é',
        '\u{301}',
        '\u{200d}',
        '\u{feff}',
        '\u{1f528}',
        '\u{3000}',
        '\u{10ffff}',
    ]);
    let piece = prop_oneof![odd, any::<char>(), prop::char::range('a', 'z')];
    prop::collection::vec(piece, 0..300).prop_map(String::from_iter)
}

/// What RFC 5545 lets a reader see of a text, worked out one character at a time.
fn seen(text: &str) -> String {
    let mut seen = String::new();
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\r' if chars.peek() == Some(&'\n') => {}
            '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => seen.push('\n'),
            '\n' | '\t' => seen.push(c),
            _ if c.is_control() => {}
            _ => seen.push(c),
        }
    }
    seen
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn any_text_comes_back_and_breaks_nothing(site in odd_text(), welder in odd_text()) {
        let mut day = plan();
        day.site = format!("<{site}>");
        day.checkpoints[0].settings = vec![full_range(&welder, Some(7.0)), full_range("b", None)];
        let (revised, text) = published(&day, &reminders());
        prop_assert_eq!(faults(&text), Vec::<String>::new());
        let (_, events) = read_with_calcard(&text);
        prop_assert_eq!(events.len(), revised.len());
        for (event, from) in events.iter().zip(&revised) {
            prop_assert_eq!(&event.location, &format!("<{}>", seen(&site)));
            prop_assert_eq!(&event.summary, &seen(&from.entry.summary));
            prop_assert_eq!(&event.description, &seen(&from.entry.description));
        }
    }
}
