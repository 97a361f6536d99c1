//! The calendar read back by parsers that are not ours: `calcard` in every run, the Python packages
//! `icalendar` and `vobject` where they are installed.

use std::io::Write;
use std::process::{Command, Stdio};

use calcard::common::IanaString;
use calcard::icalendar::{ICalendar, ICalendarComponent, ICalendarProperty, ICalendarValue};
use chrono::{DateTime, TimeDelta, Utc};
use fairseam::render::ics::{Revised, Status};
use serde::Deserialize;

use super::calendar_hostile::hostile_names;
use super::calendar_plan::{
    all_hold, full_range, plan, published, reminders, republished_without_lunch,
};

use crate::proof::{Allowed, Proof};

/// An event as a parser sees it.
#[derive(Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReadEvent {
    pub(crate) uid: String,
    pub(crate) start: DateTime<Utc>,
    pub(crate) end: DateTime<Utc>,
    pub(crate) summary: String,
    pub(crate) description: String,
    pub(crate) location: String,
    pub(crate) status: String,
    pub(crate) sequence: u32,
    pub(crate) last_modified: DateTime<Utc>,
    pub(crate) categories: Vec<String>,
    pub(crate) geo: Option<(f64, f64)>,
    /// When it rings, ascending.
    pub(crate) alarms: Vec<DateTime<Utc>>,
}

fn expected(revised: &Revised, seen: impl Fn(&str) -> String) -> ReadEvent {
    let Revised { entry, revision } = revised;
    let rings = entry.alarms_before_minutes.iter();
    ReadEvent {
        uid: entry.uid.clone(),
        start: entry.start,
        end: entry.end,
        summary: seen(&entry.summary),
        description: seen(&entry.description),
        location: seen(&entry.location),
        status: match entry.status {
            Status::Confirmed => "CONFIRMED".to_owned(),
            Status::Cancelled => "CANCELLED".to_owned(),
        },
        sequence: revision.sequence,
        last_modified: revision.last_modified,
        categories: vec![entry.category.clone()],
        geo: entry.position,
        alarms: rings.map(|&m| entry.start - TimeDelta::minutes(i64::from(m))).collect(),
    }
}

/// Name and events of a calendar by `calcard`.
pub(crate) fn read_with_calcard(text: &str) -> (String, Vec<ReadEvent>) {
    let calendar = ICalendar::parse(text).unwrap_or_else(|rest| panic!("{rest:?}\n{text}"));
    let root = calendar.components.first().unwrap();
    let name = text_of(root, &ICalendarProperty::Name);
    let events = root.component_ids.iter().map(|&id| {
        let event = calendar.component_by_id(id).unwrap();
        let start = instant_of(event, &ICalendarProperty::Dtstart);
        let alarms = calendar.alarms_for_id(id).map(|alarm| start + trigger_of(alarm)).collect();
        read_event(event, alarms)
    });
    (name, events.collect())
}

fn read_event(event: &ICalendarComponent, alarms: Vec<DateTime<Utc>>) -> ReadEvent {
    let float = |value: &ICalendarValue| value.as_float().unwrap();
    let geo = event.property(&ICalendarProperty::Geo).map(|geo| match geo.values.as_slice() {
        [latitude, longitude] => (float(latitude), float(longitude)),
        other => panic!("GEO of {other:?}"),
    });
    let sequence = value_of(event, &ICalendarProperty::Sequence).unwrap().as_integer().unwrap();
    ReadEvent {
        uid: event.uid().unwrap().to_owned(),
        start: instant_of(event, &ICalendarProperty::Dtstart),
        end: instant_of(event, &ICalendarProperty::Dtend),
        summary: text_of(event, &ICalendarProperty::Summary),
        description: text_of(event, &ICalendarProperty::Description),
        location: text_of(event, &ICalendarProperty::Location),
        status: event.status().unwrap().as_str().to_owned(),
        sequence: sequence.try_into().unwrap(),
        last_modified: instant_of(event, &ICalendarProperty::LastModified),
        categories: vec![text_of(event, &ICalendarProperty::Categories)],
        geo,
        alarms,
    }
}

fn value_of<'a>(
    part: &'a ICalendarComponent,
    name: &ICalendarProperty,
) -> Option<&'a ICalendarValue> {
    part.property(name).and_then(|entry| entry.values.first())
}

fn text_of(part: &ICalendarComponent, name: &ICalendarProperty) -> String {
    value_of(part, name).map_or_else(String::new, |value| value.as_text().unwrap().to_owned())
}

fn instant_of(part: &ICalendarComponent, name: &ICalendarProperty) -> DateTime<Utc> {
    let value = value_of(part, name).unwrap().as_partial_date_time().unwrap();
    let (date, zone) = (value.to_date_time().unwrap().date_time, value.tz_hour);
    assert_eq!(zone, Some(0), "not in UTC: {value:?}");
    date.and_utc()
}

fn trigger_of(alarm: &ICalendarComponent) -> TimeDelta {
    match value_of(alarm, &ICalendarProperty::Trigger) {
        Some(ICalendarValue::Duration(duration)) => duration.to_time_delta().unwrap(),
        other => panic!("TRIGGER of {other:?}"),
    }
}

/// A calendar worth reading back.
struct Sample {
    revised: Vec<Revised>,
    text: String,
    /// A name that stands in its texts, and what a reader must see of it.
    name: Option<(String, String)>,
}

fn samples() -> Vec<Sample> {
    let ordinary = [
        published(&plan(), &reminders()),
        published(&all_hold(), &reminders()),
        republished_without_lunch(),
    ];
    let ordinary = ordinary.map(|(revised, text)| Sample { revised, text, name: None });
    let hostile = hostile_names().into_iter().map(|(name, seen)| {
        let mut day = plan();
        day.site = name.clone();
        day.checkpoints[0].settings = vec![full_range(&name, Some(7.0)), full_range("b", None)];
        let (revised, text) = published(&day, &reminders());
        Sample { revised, text, name: Some((name, seen)) }
    });
    ordinary.into_iter().chain(hostile).collect()
}

impl Sample {
    /// What a reader must see, in the order of the file.
    fn expected(&self) -> Vec<ReadEvent> {
        let seen = |text: &str| match &self.name {
            Some((name, seen)) => text.replace(name, seen),
            None => text.to_owned(),
        };
        let mut in_order: Vec<&Revised> = self.revised.iter().collect();
        in_order.sort_by_key(|event| (event.entry.start, &event.entry.uid));
        in_order.into_iter().map(|event| expected(event, seen)).collect()
    }
}

#[test]
fn calcard_reads_back_what_was_written() {
    let mut proof = Proof::of(
        "calendar/calcard",
        "Every entry and alarm of calendars, with hostile names among them",
        "read back by the crate calcard",
        "calendars",
        Allowed::Nothing,
    );
    for sample in samples() {
        proof.same(&read_with_calcard(&sample.text).1, &sample.expected(), String::new);
    }
    proof.done();
}

/// What the script prints.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ReadBack {
    /// Sentences about what a parser or its own checks found wrong.
    faults: Vec<String>,
    name: String,
    icalendar: Vec<ReadEvent>,
    vobject: Vec<ReadEvent>,
}

/// Holds what the Python parsers read in `text` against what another one has read in it; skipped
/// where they are not installed.
pub(crate) fn python_agrees(proof: &mut Proof, text: &str, name: &str, events: &[ReadEvent]) {
    let Some(python) = python() else { return };
    let read = read_with_python(&python, text);
    assert_eq!(read.faults, Vec::<String>::new(), "{text}");
    assert_eq!(read.name, name);
    proof.same(&read.icalendar, events, || "icalendar".to_owned());
    proof.same(&read.vobject, events, || "vobject".to_owned());
}

/// The interpreter, where it has the packages; else the skip is told.
fn python() -> Option<String> {
    let python = std::env::var("FAIRSEAM_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let Some(reason) = python_is_missing(&python) else { return Some(python) };
    let required = std::env::var("FAIRSEAM_REQUIRE_TOOLS").is_ok_and(|value| value == "1");
    assert!(!required, "{reason}");
    // Straight to the terminal: what a passing test prints is not shown.
    let mut terminal = std::io::stderr();
    writeln!(terminal, "SKIPPED: {reason}").unwrap();
    None
}

#[test]
fn python_parsers_read_back_what_was_written() {
    let samples = samples();
    let mut proof = Proof::of(
        "calendar/python",
        "Every entry and alarm of the same calendars as with calcard",
        "read back by the Python packages icalendar and vobject",
        "readings",
        Allowed::Nothing,
    )
    .when_installed(2 * samples.len());
    let Some(python) = python() else { return proof.done() };
    for sample in samples {
        let read = read_with_python(&python, &sample.text);
        assert_eq!(read.faults, Vec::<String>::new(), "{}", sample.text);
        let site = &sample.revised[0].entry.location;
        let seen = sample.name.as_ref().map_or(site, |(_, seen)| seen);
        assert_eq!(read.name, format!("Test welds: {seen}"));
        proof.same(&read.icalendar, &sample.expected(), || "icalendar".to_owned());
        proof.same(&read.vobject, &sample.expected(), || "vobject".to_owned());
    }
    proof.done();
}

/// The events of a calendar without a name by `icalendar` and by `vobject`.
pub(crate) fn python_events(text: &str) -> [Vec<ReadEvent>; 2] {
    let python = std::env::var("FAIRSEAM_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let named = text.replace("VERSION:2.0\r\n", "VERSION:2.0\r\nNAME:crew\r\n");
    let read = read_with_python(&python, &named);
    assert_eq!(read.faults, Vec::<String>::new(), "{text}");
    [read.icalendar, read.vobject]
}

fn python_is_missing(python: &str) -> Option<String> {
    let probe = Command::new(python).args(["-c", "import icalendar, vobject"]).output();
    let hint = "pip install -r tests/calendar/requirements.txt, FAIRSEAM_PYTHON names the program";
    match probe {
        Ok(output) if output.status.success() => None,
        Ok(_) => Some(format!("{python} lacks the packages icalendar and vobject ({hint})")),
        Err(error) => Some(format!("{python} cannot be run: {error} ({hint})")),
    }
}

fn read_with_python(python: &str, text: &str) -> ReadBack {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/calendar/read_back.py");
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let stderr = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{stderr}\n{text}");
    serde_json::from_slice(&output.stdout).unwrap()
}
