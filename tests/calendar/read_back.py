"""Reads a calendar from standard input with two independent parsers and prints what they saw.

Used by tests/it/calendar_read_back.rs. Prints one JSON object: `icalendar` and `vobject` hold the
events by each parser, `name` the calendar's name, `faults` what the parsers found wrong.
"""

import json
import re
import sys
from datetime import timezone

import icalendar
import vobject

FORM = "%Y-%m-%dT%H:%M:%SZ"


def instant(value):
    """An aware datetime in UTC, as RFC 3339."""
    if value.tzinfo is None:
        raise ValueError(f"{value} has no time zone")
    return value.astimezone(timezone.utc).strftime(FORM)


def unescaped(value):
    """A TEXT value without its escapes. Source: RFC 5545, section 3.3.11."""
    return re.sub(r"\\(.)", lambda found: {"n": "\n", "N": "\n"}.get(found[1], found[1]), value)


def by_icalendar(event):
    """An event as the package `icalendar` sees it; alarm instants are that package's own."""
    geo = event.get("GEO")
    return {
        "uid": str(event["UID"]),
        "start": instant(event.decoded("DTSTART")),
        "end": instant(event.decoded("DTEND")),
        "summary": str(event["SUMMARY"]),
        "description": str(event["DESCRIPTION"]),
        "location": str(event.get("LOCATION", "")),
        "status": str(event["STATUS"]),
        "sequence": int(event["SEQUENCE"]),
        "last_modified": instant(event.decoded("LAST-MODIFIED")),
        "categories": [str(category) for category in event.categories],
        "geo": None if geo is None else [float(geo.latitude), float(geo.longitude)],
        "alarms": sorted(instant(time.trigger) for time in event.alarms.times),
    }


def by_vobject(event):
    """An event as the package `vobject` sees it; alarms are its durations added to the start."""
    start = event.dtstart.value
    geo = event.contents.get("geo")
    location = event.contents.get("location")
    categories = event.contents["categories"][0].value
    return {
        "uid": event.uid.value,
        "start": instant(start),
        "end": instant(event.dtend.value),
        "summary": event.summary.value,
        "description": event.description.value,
        "location": "" if location is None else location[0].value,
        "status": event.status.value,
        "sequence": int(event.sequence.value),
        "last_modified": instant(event.last_modified.value),
        "categories": categories,
        "geo": None if geo is None else [float(part) for part in geo[0].value.split(";")],
        "alarms": sorted(
            instant(start + alarm.trigger.value) for alarm in event.contents.get("valarm", [])
        ),
    }


def faults_of(component):
    """Parse errors, missing required properties and repeated single ones, of the whole tree."""
    faults = [f"{component.name}: {error}" for error in component.errors]
    for name in component.required:
        if name not in component:
            faults.append(f"{component.name} without {name}")
    for name in component.singletons:
        if isinstance(component.get(name), list):
            faults.append(f"{component.name} with several {name}")
    for inner in component.subcomponents:
        faults.extend(faults_of(inner))
    return faults


def main():
    data = sys.stdin.buffer.read()
    calendar = icalendar.Calendar.from_ical(data)
    other = vobject.readOne(data.decode("utf-8"))
    other.validate(raiseException=True)
    seen = {
        "faults": faults_of(calendar),
        # The package leaves NAME as it stands in the file; RFC 7986, section 5.1 makes it a TEXT.
        "name": unescaped(str(calendar["NAME"])),
        "icalendar": [by_icalendar(event) for event in calendar.events],
        "vobject": [by_vobject(event) for event in other.vevent_list],
    }
    json.dump(seen, sys.stdout)


if __name__ == "__main__":
    main()
