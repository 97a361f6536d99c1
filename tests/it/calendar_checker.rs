//! A checker of calendar files against the rules of RFC 5545 that this program's files must hold,
//! written apart from the writer. No parser tried notices half of these faults, so mutants of a good
//! file prove that this one does.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDateTime;

use super::calendar_plan::{plan, published, reminders, republished_without_lunch};

use crate::proof::{Allowed, Proof};

/// One property: name, parameters as written, value as written.
#[derive(Debug)]
struct Line {
    name: String,
    parameters: String,
    value: String,
}

#[derive(Debug, Default)]
struct Part {
    kind: String,
    lines: Vec<Line>,
    inner: Vec<Part>,
}

/// RFC5545, section 3.3.11 and the grammar of each property: what is of type TEXT and free of form.
const TEXTS: &[&str] =
    &["SUMMARY", "DESCRIPTION", "LOCATION", "NAME", "X-WR-CALNAME", "PRODID", "UID", "CATEGORIES"];
/// RFC5545, section 3.6.1: at most once in an event.
const ONCE_IN_EVENT: &[&str] = &[
    "UID",
    "DTSTAMP",
    "DTSTART",
    "DTEND",
    "SUMMARY",
    "DESCRIPTION",
    "LOCATION",
    "GEO",
    "CLASS",
    "STATUS",
    "TRANSP",
    "SEQUENCE",
    "LAST-MODIFIED",
];
/// What this program promises beyond the three that RFC 5545 requires.
const NEEDED_IN_EVENT: &[&str] = &[
    "UID",
    "DTSTAMP",
    "DTSTART",
    "DTEND",
    "SUMMARY",
    "DESCRIPTION",
    "SEQUENCE",
    "LAST-MODIFIED",
    "STATUS",
    "CLASS",
    "TRANSP",
    "CATEGORIES",
];

/// Every fault of a calendar file, as sentences; empty for a sound one.
pub(crate) fn faults(file: &str) -> Vec<String> {
    let mut faults = Vec::new();
    check_bytes(file, &mut faults);
    match parse(file) {
        Ok(calendar) => check_calendar(&calendar, &mut faults),
        Err(fault) => faults.push(fault),
    }
    faults
}

/// RFC5545, section 3.1.
fn check_bytes(file: &str, faults: &mut Vec<String>) {
    if !file.ends_with("\r\n") {
        faults.push("the last line does not end in CRLF".to_owned());
    }
    for line in file.split("\r\n") {
        if line.len() > 75 {
            faults.push(format!("line of {} octets: {line}", line.len()));
        }
        if line.chars().any(|c| c.is_control() && c != '\t') {
            faults.push(format!("control character or bare line end in {line:?}"));
        }
    }
    if file.trim_end_matches("\r\n").split("\r\n").any(str::is_empty) {
        faults.push("empty line".to_owned());
    }
}

fn parse(file: &str) -> Result<Part, String> {
    let unfolded = file.replace("\r\n ", "").replace("\r\n\t", "");
    let mut open = vec![Part::default()];
    for text in unfolded.split_terminator("\r\n") {
        let line = parse_line(text)?;
        match line.name.as_str() {
            "BEGIN" => open.push(Part { kind: line.value, ..Part::default() }),
            "END" => {
                let part = open.pop().filter(|part| part.kind == line.value);
                let part = part.ok_or_else(|| format!("END:{} closes nothing", line.value))?;
                open.last_mut().ok_or("END closes too much")?.inner.push(part);
            }
            _ => open.last_mut().ok_or("property outside")?.lines.push(line),
        }
    }
    let [root] = <[Part; 1]>::try_from(open).map_err(|_| "a component is not closed")?;
    let [calendar] = <[Part; 1]>::try_from(root.inner).map_err(|_| "not one component")?;
    if root.lines.is_empty() { Ok(calendar) } else { Err("property outside".to_owned()) }
}

fn parse_line(text: &str) -> Result<Line, String> {
    let mut quoted = false;
    let colon = text.find(|c| {
        quoted ^= c == '"';
        c == ':' && !quoted
    });
    let colon = colon.ok_or_else(|| format!("no colon in {text:?}"))?;
    let (head, value) = (&text[..colon], &text[colon + 1..]);
    let (name, parameters) = head.split_once(';').unwrap_or((head, ""));
    let sound = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-';
    if name.is_empty() || !name.chars().all(sound) {
        return Err(format!("bad name in {text:?}"));
    }
    Ok(Line { name: name.into(), parameters: parameters.into(), value: value.into() })
}

impl Part {
    fn count(&self, name: &str) -> usize {
        self.lines.iter().filter(|line| line.name == name).count()
    }

    fn value(&self, name: &str) -> Option<&str> {
        self.lines.iter().find(|line| line.name == name).map(|line| line.value.as_str())
    }

    fn need(&self, names: &[&str], faults: &mut Vec<String>) {
        for name in names.iter().filter(|name| self.count(name) == 0) {
            faults.push(format!("{} without {name}", self.kind));
        }
    }

    fn once(&self, names: &[&str], faults: &mut Vec<String>) {
        for name in names.iter().filter(|name| self.count(name) > 1) {
            faults.push(format!("{} with two {name}", self.kind));
        }
    }
}

/// RFC5545, section 3.6 and 3.7.
fn check_calendar(calendar: &Part, faults: &mut Vec<String>) {
    if calendar.kind != "VCALENDAR" {
        faults.push(format!("{} instead of VCALENDAR", calendar.kind));
    }
    calendar.need(&["VERSION", "PRODID", "CALSCALE", "NAME", "X-WR-CALNAME"], faults);
    calendar.once(&["VERSION", "PRODID", "CALSCALE", "METHOD"], faults);
    if calendar.value("VERSION") != Some("2.0") {
        faults.push("VERSION is not 2.0".to_owned());
    }
    if calendar.count("METHOD") > 0 {
        faults.push("METHOD in a calendar that invites nobody".to_owned());
    }
    check_values(calendar, faults);
    let mut uids = BTreeSet::new();
    for event in &calendar.inner {
        check_event(event, faults);
        for part in std::iter::once(event).chain(&event.inner) {
            if part.value("UID").is_some_and(|uid| !uids.insert(uid)) {
                faults.push(format!("UID {:?} twice", part.value("UID")));
            }
        }
    }
}

/// RFC5545, section 3.6.1.
fn check_event(event: &Part, faults: &mut Vec<String>) {
    if event.kind != "VEVENT" {
        faults.push(format!("{} in the calendar", event.kind));
    }
    event.need(NEEDED_IN_EVENT, faults);
    event.once(ONCE_IN_EVENT, faults);
    for name in ["DURATION", "ORGANIZER", "ATTENDEE"] {
        if event.count(name) > 0 {
            faults.push(format!("VEVENT with {name}"));
        }
    }
    if let (Some(start), Some(end)) = (instant(event, "DTSTART"), instant(event, "DTEND"))
        && end <= start
    {
        faults.push("DTEND is not later than DTSTART".to_owned());
    }
    if event.value("DTSTAMP") != event.value("LAST-MODIFIED") {
        faults.push("DTSTAMP is not LAST-MODIFIED".to_owned());
    }
    if event.value("STATUS") == Some("CANCELLED") && !event.inner.is_empty() {
        faults.push("a cancelled event rings".to_owned());
    }
    check_values(event, faults);
    for alarm in &event.inner {
        check_alarm(alarm, faults);
    }
}

/// RFC5545, section 3.6.6; UID by RFC 9074, section 4.
fn check_alarm(alarm: &Part, faults: &mut Vec<String>) {
    const ALARM: &[&str] = &["ACTION", "TRIGGER", "DESCRIPTION", "UID"];
    if alarm.kind != "VALARM" {
        faults.push(format!("{} in an event", alarm.kind));
    }
    alarm.need(ALARM, faults);
    alarm.once(ALARM, faults);
    for line in alarm.lines.iter().filter(|line| !ALARM.contains(&line.name.as_str())) {
        faults.push(format!("VALARM with {}", line.name));
    }
    check_values(alarm, faults);
}

/// RFC5545, section 3.2.10: the language of a text, here of an event's two, by its tag.
fn is_language(part: &Part, line: &Line) -> bool {
    let tag = line.parameters.strip_prefix("LANGUAGE=");
    part.kind == "VEVENT"
        && matches!(line.name.as_str(), "SUMMARY" | "DESCRIPTION")
        && tag.is_some_and(|tag| tag.len() == 2 && tag.chars().all(|c| c.is_ascii_lowercase()))
}

fn check_values(part: &Part, faults: &mut Vec<String>) {
    for line in &part.lines {
        if !line.parameters.is_empty() && !is_language(part, line) {
            faults.push(format!("{} with parameter {}", line.name, line.parameters));
        }
        if !value_is_sound(&line.name, &line.value) {
            faults.push(format!("bad {}: {:?}", line.name, line.value));
        }
    }
}

fn value_is_sound(name: &str, value: &str) -> bool {
    match name {
        "DTSTAMP" | "LAST-MODIFIED" | "DTSTART" | "DTEND" => utc(value).is_some(),
        "SEQUENCE" => value.parse::<i32>().is_ok_and(|number| number >= 0),
        "STATUS" => ["TENTATIVE", "CONFIRMED", "CANCELLED"].contains(&value),
        "CLASS" => ["PUBLIC", "PRIVATE", "CONFIDENTIAL"].contains(&value),
        "TRANSP" => ["OPAQUE", "TRANSPARENT"].contains(&value),
        "ACTION" => value == "DISPLAY",
        "TRIGGER" => trigger_is_sound(value),
        "GEO" => geo_is_sound(value),
        _ if TEXTS.contains(&name) => text_is_sound(value, name == "CATEGORIES"),
        _ => true,
    }
}

fn instant(part: &Part, name: &str) -> Option<NaiveDateTime> {
    utc(part.value(name)?)
}

/// RFC5545, section 3.3.5, form 2.
fn utc(value: &str) -> Option<NaiveDateTime> {
    (value.len() == 16).then(|| NaiveDateTime::parse_from_str(value, "%Y%m%dT%H%M%SZ").ok())?
}

/// RFC5545, section 3.3.6, as far as this program uses it: at the start, or whole minutes before it.
fn trigger_is_sound(value: &str) -> bool {
    let minutes = value.strip_prefix("-PT").and_then(|rest| rest.strip_suffix('M'));
    value == "PT0S" || minutes.is_some_and(|minutes| minutes.parse::<u32>().is_ok_and(|m| m > 0))
}

/// RFC5545, section 3.8.1.6.
fn geo_is_sound(value: &str) -> bool {
    let within = |text: &str, limit: f64| text.parse::<f64>().is_ok_and(|x| x.abs() <= limit);
    value.split_once(';').is_some_and(|(lat, lon)| within(lat, 90.0) && within(lon, 180.0))
}

/// RFC5545, section 3.3.11.
fn text_is_sound(value: &str, list: bool) -> bool {
    let mut chars = value.chars();
    while let Some(c) = chars.next() {
        let sound = match c {
            '\\' => matches!(chars.next(), Some('\\' | ';' | ',' | 'n' | 'N')),
            ',' => list,
            ';' => false,
            _ => true,
        };
        if !sound {
            return false;
        }
    }
    true
}

/// (what is wrong, the text replaced once, by what, a part of the fault expected)
const MUTANTS: &[(&str, &str, &str, &str)] = &[
    ("bare LF", "CLASS:PUBLIC\r\n", "CLASS:PUBLIC\n", "bare line end"),
    ("bare CR", "CLASS:PUBLIC\r\n", "CLASS:PUBLIC\r", "bare line end"),
    ("bell", "SUMMARY:", "SUMMARY:\u{7}", "control character"),
    ("no VERSION", "VERSION:2.0\r\n", "", "VCALENDAR without VERSION"),
    ("wrong VERSION", "VERSION:2.0", "VERSION:1.0", "VERSION is not 2.0"),
    ("no PRODID", "PRODID:", "X-PRODID:", "VCALENDAR without PRODID"),
    ("METHOD", "VERSION:2.0\r\n", "VERSION:2.0\r\nMETHOD:PUBLISH\r\n", "METHOD"),
    ("empty line", "VERSION:2.0\r\n", "VERSION:2.0\r\n\r\n", "empty line"),
    ("no UID", "\r\nUID:", "\r\nX-UID:", "without UID"),
    ("no DTSTAMP", "DTSTAMP:", "X-STAMP:", "VEVENT without DTSTAMP"),
    ("no DTEND", "DTEND:", "X-END:", "VEVENT without DTEND"),
    ("two DTSTART", "DTSTART:", "DTSTART:20130101T000000Z\r\nDTSTART:", "two DTSTART"),
    ("DTEND and DURATION", "DTEND:", "DURATION:PT5M\r\nDTEND:", "VEVENT with DURATION"),
    ("end before start", "DTEND:2013", "DTEND:2012", "DTEND is not later"),
    ("floating time", "DTSTART:20130408T220000Z", "DTSTART:20130408T220000", "bad DTSTART"),
    ("no such day", "DTSTART:20130408", "DTSTART:20130431", "bad DTSTART"),
    ("TZID", "DTSTART:", "DTSTART;TZID=America/New_York:", "DTSTART with parameter"),
    (
        "language of an alarm",
        "DISPLAY\r\nDESCRIPTION:",
        "DISPLAY\r\nDESCRIPTION;LANGUAGE=es:",
        "parameter",
    ),
    ("no language", "SUMMARY:", "SUMMARY;LANGUAGE=español:", "SUMMARY with parameter"),
    ("stamp apart", "LAST-MODIFIED:2013", "LAST-MODIFIED:2014", "DTSTAMP is not LAST-MODIFIED"),
    ("SEQUENCE", "SEQUENCE:0", "SEQUENCE:x", "bad SEQUENCE"),
    ("SEQUENCE too large", "SEQUENCE:0", "SEQUENCE:2147483648", "bad SEQUENCE"),
    ("STATUS", "STATUS:CONFIRMED", "STATUS:MAYBE", "bad STATUS"),
    ("GEO", "GEO:40.692500;", "GEO:140.692500;", "bad GEO"),
    ("GEO comma", "GEO:40.692500;", "GEO:40.692500,", "bad GEO"),
    ("raw comma", "re-roof\\, east", "re-roof, east", "bad "),
    ("raw semicolon", "re-roof\\, east", "re-roof; east", "bad "),
    ("bad escape", "re-roof\\, east", "re-roof\\q east", "bad "),
    ("alarm without ACTION", "ACTION:DISPLAY\r\n", "", "VALARM without ACTION"),
    ("ACTION", "ACTION:DISPLAY", "ACTION:EMAIL", "bad ACTION"),
    ("alarm without TRIGGER", "TRIGGER:PT0S\r\n", "", "VALARM without TRIGGER"),
    ("two TRIGGERs", "TRIGGER:PT0S\r\n", "TRIGGER:PT0S\r\nTRIGGER:PT0S\r\n", "two TRIGGER"),
    ("broken TRIGGER", "TRIGGER:-PT15M", "TRIGGER:-P15M", "bad TRIGGER"),
    ("REPEAT", "ACTION:DISPLAY\r\n", "ACTION:DISPLAY\r\nREPEAT:2\r\n", "VALARM with REPEAT"),
    ("cancelled and ringing", "STATUS:CONFIRMED", "STATUS:CANCELLED", "a cancelled event rings"),
    ("not closed", "END:VALARM\r\n", "", "closes nothing"),
    ("a name with a blank", "CLASS:PUBLIC", "CL ASS:PUBLIC", "bad name"),
    ("no colon", "CLASS:PUBLIC", "CLASS", "no colon"),
    ("unfolded", "\r\n ", "", "octets"),
    ("no last CRLF", "END:VCALENDAR\r\n", "END:VCALENDAR", "last line"),
];

#[test]
fn the_calendar_has_no_faults() {
    let (_, text) = published(&plan(), &reminders());
    assert_eq!(faults(&text), Vec::<String>::new());
    let (_, text) = republished_without_lunch();
    assert_eq!(faults(&text), Vec::<String>::new());
    assert!(text.contains("STATUS:CANCELLED"));
}

#[test]
fn the_checker_notices_every_mutant() {
    let (_, text) = published(&plan(), &reminders());
    let mut proof = Proof::of(
        "calendar/rules",
        "Faults put into a sound calendar, one for each rule, that the checker of our files notices",
        "RFC5545 and RFC9074, as sections beside the checks cite them",
        "faults",
        Allowed::Nothing,
    );
    for (what, old, new, expected) in MUTANTS {
        assert!(text.contains(old), "{what}: {old:?} is not in the calendar");
        let found = faults(&text.replacen(old, new, 1));
        let noticed = found.iter().any(|fault| fault.contains(expected));
        proof.same(&noticed, &true, || format!("{what}: found only {found:?}"));
    }
    proof.done();
    let twice: BTreeMap<&str, &str> = BTreeMap::from([("-change-1\r\n", "-start\r\n")]);
    let doubled = twice.iter().fold(text, |text, (old, new)| text.replace(old, new));
    assert!(faults(&doubled).iter().any(|fault| fault.contains("twice")), "{doubled}");
}
