#!/usr/bin/env python3
"""The two rules of a plan, written a second time to hold the first against.

Standard library only, in degrees Fahrenheit, in exact decimals of the numbers as the files
give them: no float and no rounded division ever touches a temperature, so the walk is done
in sixtieths of a degree. It shares no code with the program.

    two_rules.py day FILE DATE [--shift 07:00-15:30] [--break NAME@HH:MM+MIN]... [--no-breaks]
                               [--max-hours 5] [--zone America/New_York]
    two_rules.py year FILE [--year 2013]

`day` prints one line per checkpoint: time, id, cause, air, start speed.
`year` prints the table kept in tests/fixtures/oracle/ewr2013_checkpoints.csv.
See README.md beside this file for how the rules were read.
"""

import argparse
import csv
import json
import sys
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta, timezone
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)

AMBIENT_CHANGE = 10 * 60  # in sixtieths of a degree
BREAK_NEEDS_TEST = timedelta(minutes=10)
MERGE_WITHIN = timedelta(minutes=20)
LAST_TEST_BEFORE_END = timedelta(minutes=30)
MEASURABLE_RAIN = Decimal("0.01")
SPEED_MIN, SPEED_MAX = 3, 18


class Missing(Exception):
    """The shift needs hours of air temperature that nothing bridges."""

    def __init__(self, hours):
        super().__init__(hours)
        self.hours = hours


@dataclass
class Weather:
    """Hourly values by UTC instant; an hour that is not there is unknown."""

    air: dict = field(default_factory=dict)  # °F at the stamp
    rain: dict = field(default_factory=dict)  # in, of the hour that ENDS at the stamp

    def air_at_hour(self, hour):
        """The value at a whole hour; one missing hour is the mean of its neighbors."""
        if hour in self.air:
            return self.air[hour]
        before, after = self.air.get(hour - HOUR), self.air.get(hour + HOUR)
        return None if before is None or after is None else (before + after) / 2

    def sixtieths_at(self, minute):
        """Ambient at a minute, linear between hours, times 60."""
        hour = minute.replace(minute=0)
        here, there = self.air_at_hour(hour), self.air_at_hour(hour + HOUR)
        step = (there - here) * minute.minute if minute != hour else 0
        return here * 60 + step

    def holds(self, minute):
        """Measurable rain in the hour that this minute lies in."""
        end_of_hour = minute.replace(minute=0) + HOUR
        return self.rain.get(end_of_hour, Decimal(0)) >= MEASURABLE_RAIN


def read_weather(path):
    return read_json(path) if path.endswith(".json") else read_csv(path)


def read_json(path):
    with open(path, encoding="utf-8") as file:
        hourly = json.load(file, parse_float=Decimal, parse_int=Decimal)["hourly"]
    weather = Weather()
    rows = zip(hourly["time"], hourly["temperature_2m"], hourly["precipitation"], strict=True)
    for stamp, air, rain in rows:
        instant = datetime.fromtimestamp(int(stamp), timezone.utc)
        if air is not None:
            weather.air[instant] = air
        if rain is not None:
            weather.rain[instant] = rain
    return weather


def read_csv(path):
    weather = Weather()
    with open(path, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            instant = datetime.fromisoformat(row["time_utc"].replace("Z", "+00:00"))
            if row["temp_f"]:
                weather.air[instant] = Decimal(row["temp_f"])
            if row["precip_in"]:
                weather.rain[instant] = Decimal(row["precip_in"])
    return weather


@dataclass
class Break:
    name: str
    start: datetime
    end: datetime

    @property
    def needs_test(self):
        return self.end - self.start >= BREAK_NEEDS_TEST

    @property
    def test_id(self):
        return "after-" + "-".join(self.name.lower().split())


@dataclass
class Day:
    start: datetime
    end: datetime
    breaks: list
    max_between: timedelta

    @property
    def last_test(self):
        """From this minute on there is no test."""
        return self.end - LAST_TEST_BEFORE_END

    def minutes(self):
        minute = self.start
        while minute < self.end:
            yield minute
            minute += MINUTE


def utc(day, clock, zone):
    return datetime.combine(day, clock, tzinfo=zone).astimezone(timezone.utc)


def day_of(day, shift, breaks, max_hours, zone):
    """Wall clock to instants. A time before the shift's start is of the next day."""
    first, last = (time.fromisoformat(clock) for clock in shift.split("-"))

    def instant(clock, after_start):
        return utc(day + timedelta(days=0 if after_start else 1), clock, zone)

    spans = []
    for text in breaks:
        name, rest = text.split("@")
        clock, minutes = rest.split("+")
        begin = time.fromisoformat(clock)
        start = instant(begin, begin >= first)
        spans.append(Break(name, start, start + timedelta(minutes=int(minutes))))
    return Day(instant(first, True), instant(last, last > first), spans, timedelta(hours=max_hours))


@dataclass
class Checkpoint:
    time: datetime
    id: str
    cause: str
    sixtieths: Decimal

    @property
    def air(self):
        return Fraction(self.sixtieths) / 60


def require_air(weather, day):
    needed = {minute.replace(minute=0) for minute in day.minutes()}
    if day.end - MINUTE > max(needed):  # minutes after the last whole hour lean on the next one
        needed.add(max(needed) + HOUR)
    missing = sorted(hour for hour in needed if weather.air_at_hour(hour) is None)
    if missing:
        raise Missing(missing)


def checkpoints(weather, day):
    require_air(weather, day)
    found, numbers = [], {"change": 0, "elapsed": 0, "after-hold": 0}
    held = False  # a hold has been met since the last test

    def numbered(kind):
        numbers[kind] += 1
        return f"{kind}-{numbers[kind]}"

    for minute in day.minutes():
        if weather.holds(minute):
            held = True
            continue
        if any(stop.start <= minute < stop.end for stop in day.breaks):
            continue
        if minute >= day.last_test:
            break
        air = weather.sixtieths_at(minute)
        ended = next((b for b in day.breaks if b.needs_test and b.end == minute), None)
        last = found[-1] if found else None
        if minute == day.start:
            due = ("start", "start")
        elif ended:
            due = (ended.test_id, "after-break")
        elif held:
            due = (numbered("after-hold"), "after-hold")
        elif abs(air - last.sixtieths) >= AMBIENT_CHANGE and not waits(weather, day, minute):
            due = (numbered("change"), "ambient-change")
        elif minute - last.time >= day.max_between:
            due = (numbered("elapsed"), "elapsed")
        else:
            continue
        found.append(Checkpoint(minute, *due, air))
        held = False
    return found


def waits(weather, day, minute):
    """Whether a change due now waits for the test after the break that comes next."""
    return any(
        stop.needs_test
        and stop.start - MERGE_WITHIN <= minute < stop.start
        and stop.end < day.last_test
        and not weather.holds(stop.end)
        for stop in day.breaks
    )


def start_speed(air):
    """Nearest ten, a tie to the slower; over ten, plus two; kept in the welder's range."""
    tens, over = divmod(air, 10)
    nearest = tens + (1 if over > 5 else 0)
    return min(max(nearest + 2, SPEED_MIN), SPEED_MAX)


def print_day(weather, day, zone):
    out = csv.writer(sys.stdout, lineterminator="\n")
    try:
        found = checkpoints(weather, day)
    except Missing as gap:
        out.writerow(["missing", *(hour.astimezone(zone).isoformat() for hour in gap.hours)])
        return
    for c in found:
        local = c.time.astimezone(zone).isoformat()
        out.writerow([local, c.id, c.cause, f"{float(c.air):.4f}", start_speed(c.air)])


def print_year(weather, year, shift, breaks, max_hours, zone):
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["date", "with_breaks", "without_breaks"])
    today = date(year, 1, 1)
    while today.year == year:
        days = [day_of(today, shift, stops, max_hours, zone) for stops in (breaks, [])]
        out.writerow([today.isoformat(), *(in_one_line(weather, day, zone) for day in days)])
        today += timedelta(days=1)


def in_one_line(weather, day, zone):
    try:
        found = checkpoints(weather, day)
    except Missing:
        return "missing"
    return "; ".join(f"{c.time.astimezone(zone):%H:%M} {c.cause}" for c in found)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("what", choices=["day", "year"])
    parser.add_argument("file")
    parser.add_argument("date", nargs="?", type=date.fromisoformat)
    parser.add_argument("--year", type=int, default=2013)
    parser.add_argument("--shift", default="07:00-15:30")
    parser.add_argument("--break", dest="breaks", action="append")
    parser.add_argument("--no-breaks", action="store_true")
    parser.add_argument("--max-hours", type=int, default=5)
    parser.add_argument("--zone", type=ZoneInfo, default="America/New_York")
    given = parser.parse_args()
    usual = ["morning break@09:30+15", "lunch@12:00+30"]
    breaks = [] if given.no_breaks else given.breaks or usual
    weather = read_weather(given.file)
    if given.what == "year":
        print_year(weather, given.year, given.shift, breaks, given.max_hours, given.zone)
    else:
        day = day_of(given.date, given.shift, breaks, given.max_hours, given.zone)
        print_day(weather, day, given.zone)


if __name__ == "__main__":
    main()
