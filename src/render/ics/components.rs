//! Entries as components of the `icalendar` crate.

use chrono::TimeDelta;
use icalendar::{Alarm, Calendar, Class, Component, Event, EventLike, EventStatus, Property};

use super::content_line::{self, Refused};
use super::{Entry, Revised, Status};
use crate::words::{Language, tell};

/// Who made the calendar. Without a version, so that an upgrade alone changes no byte.
const PRODID: &str = "-//fairseam//test weld plan//EN";

/// The shortest time after which a program should ask for a feed again.
const COME_BACK_AFTER: &str = "PT15M";

/// The calendar file of one site: the same events, the same bytes. `language` is that of its name.
///
/// There is no METHOD, since nobody is invited and a stored calendar must have none; no VTIMEZONE,
/// since every instant is in UTC; no ORGANIZER, since some servers would send mail.
///
/// # Errors
/// [`Refused`] for a UID with a control character, which [`super::entries`] never makes.
pub fn calendar(language: Language, site: &str, events: &[Revised]) -> Result<String, Refused> {
    content_line::write_calendar(&whole(language, site, events))
}

/// The same for a feed: with how often a program may come back, which some of them heed.
///
/// # Errors
/// See [`calendar`].
pub fn feed(language: Language, site: &str, events: &[Revised]) -> Result<String, Refused> {
    let mut calendar = whole(language, site, events);
    // Source: RFC7986, section 5.7; the second is an older name for it.
    let mut hint = Property::new("REFRESH-INTERVAL", COME_BACK_AFTER);
    calendar.append_property(hint.add_parameter("VALUE", "DURATION").done());
    calendar.append_property(("X-PUBLISHED-TTL", COME_BACK_AFTER));
    content_line::write_calendar(&calendar)
}

fn whole(language: Language, site: &str, events: &[Revised]) -> Calendar {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", PRODID))
        .append_property(("CALSCALE", "GREGORIAN"))
        .name(&tell!(language, "calendar-name", site));
    let mut in_order: Vec<&Revised> = events.iter().collect();
    in_order.sort_by_key(|revised| (revised.entry.start, &revised.entry.uid));
    calendar.extend(in_order.into_iter().map(event));
    calendar.done()
}

/// One event as a calendar server stores it: a calendar of its own, without a name, since the
/// collection has one.
///
/// # Errors
/// See [`calendar`].
pub fn calendar_object(event: &Revised) -> Result<String, Refused> {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", PRODID))
        .append_property(("CALSCALE", "GREGORIAN"));
    calendar.extend([self::event(event)]);
    content_line::write_calendar(&calendar)
}

fn event(revised: &Revised) -> Event {
    let Revised { entry, revision } = revised;
    let mut event = Event::with_uid(&entry.uid);
    event
        // Without a METHOD the stamp says when the event was last revised.
        // Source: RFC5545, section 3.8.7.2.
        .timestamp(revision.last_modified)
        .last_modified(revision.last_modified)
        .sequence(revision.sequence)
        .starts(entry.start)
        .ends(entry.end)
        .append_property(text("SUMMARY", &entry.summary, entry.language))
        .append_property(text("DESCRIPTION", &entry.description, entry.language))
        .categories([&entry.category])
        .class(Class::Public)
        // Shown, but the crew is not "busy": a test weld blocks no appointment.
        .add_property("TRANSP", "TRANSPARENT");
    event.status(match entry.status {
        Status::Confirmed => EventStatus::Confirmed,
        Status::Cancelled => EventStatus::Cancelled,
    });
    if !entry.location.is_empty() {
        event.location(&entry.location);
    }
    if let Some((latitude, longitude)) = entry.position {
        event.add_property("GEO", format!("{latitude:.6};{longitude:.6}"));
    }
    for &minutes in &entry.alarms_before_minutes {
        event.alarm(alarm(entry, minutes));
    }
    event
}

/// A text with its language, which plain English, the language of earlier calendars, goes without.
/// Source: RFC5545, section 3.2.10.
fn text(name: &str, words: &str, language: Language) -> Property {
    let mut property = Property::new(name, words);
    if language != Language::En {
        property.add_parameter("LANGUAGE", language.tag());
    }
    property
}

/// An alarm with the four properties that phones need and no more: some lose the whole event over
/// an alarm that they do not understand.
fn alarm(entry: &Entry, minutes: u32) -> Alarm {
    let mut alarm = Alarm::display(&entry.summary, -TimeDelta::minutes(i64::from(minutes)));
    alarm.uid(&format!("{}-alarm-{minutes}", entry.uid));
    // Whole minutes in place of the crate's `-PT900S`: the form that phones themselves write.
    alarm.add_property("TRIGGER", trigger(minutes));
    alarm
}

fn trigger(minutes: u32) -> String {
    if minutes == 0 { "PT0S".to_owned() } else { format!("-PT{minutes}M") }
}
