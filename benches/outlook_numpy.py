"""The outlook of many days in vectorized NumPy, with pvlib and MetPy: the bulk engine's peer.

Written from docs/method.md and docs/physics.md; it shares no code with the program. Every formula
works on whole arrays: all steps of a few hundred days at once for the physics, all days of a roof
at once for the walk from minute to minute. NaN is an unknown value.

For shifts that begin on a whole hour of UTC and keep their length, as those of the standing case do.
"""

from dataclasses import dataclass, field

import numpy as np
import pandas as pd
import pvlib
from scipy.special import erfcx

from outlook_physics import Tuned, dry_sheet, sky_kelvin, wet_loss

NOISE = 1e-9  # room for the rounding of unit conversions, as in the rules' own comparisons
RUN_UP_H, STEPS_H, HOLDS_MM = 14, 12, 0.3
COLORS = {"white": (0.83, 0.92), "gray": (0.42, 0.90), "tan": (0.58, 0.90), "black": (0.06, 0.86)}
CAUSES = ("", "start", "after-break", "ambient-change", "sheet-change", "elapsed", "after-hold")
START, AFTER_BREAK, AMBIENT, SHEET, ELAPSED, AFTER_HOLD = range(1, 7)
DAYS_AT_ONCE = 96  # as many as keep the arrays of one stage in a core's cache


@dataclass
class Rules:
    """The defaults of a US site with an automatic welder whose heats are 100 °F apart."""

    shift_minutes: int = 510
    breaks: tuple = ((150, 165), (300, 330))
    ambient_change_k: float = 10 / 1.8
    center_limit_k: float = 50 / 1.8
    merge_within: int = 20
    last_test_before_end: int = 30
    max_between: int = 300
    rain_hold_mm: float = 0.01 * 25.4
    film_dry_mm: float = 0.0008 * 25.4
    wind_stop_m_s: float = 40 * 0.44704


@dataclass
class Place:
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    color: str


@dataclass
class Weather:
    """Columns of one value an hour, from `first` on, in UTC."""

    first: pd.Timestamp
    air_c: np.ndarray
    dew_point_c: np.ndarray
    wind_m_s: np.ndarray
    gust_m_s: np.ndarray
    cloud_pct: np.ndarray
    sea_level_hpa: np.ndarray
    rain_mm: np.ndarray


@dataclass
class Days:
    """What comes out, one column a day: causes by minute, what holds each minute."""

    covered: np.ndarray
    tests: np.ndarray = field(repr=False)
    held: dict = field(repr=False)
    begins_wet: np.ndarray = field(repr=False)
    wet_steps: int = 0  # steps with water on the sheet or settling on it


class Sun:
    """Declination and equation of time at midnights of UTC by pvlib's SPA, shared by all roofs."""

    def __init__(self, first, last):
        midnights = pd.date_range(first.floor("D"), last.floor("D") + pd.Timedelta(days=2), freq="D")
        seen = pvlib.solarposition.spa_python(midnights, 0.0, 0.0)
        level = np.cos(np.radians(seen["elevation"].to_numpy()))
        self.first = midnights[0]
        self.sin_declination = level * np.cos(np.radians(seen["azimuth"].to_numpy()))
        self.cos_declination = np.sqrt(1 - self.sin_declination**2)
        self.lead_deg = seen["equation_of_time"].to_numpy() / 4

    def over(self, place, second):
        """Sine of the elevation and cosine of the hour angle, `second` seconds after `first`."""
        day = second // 86_400
        share = (second - 86_400 * day) / 86_400.0
        at = lambda rows: rows[day] + (rows[day + 1] - rows[day]) * share
        angle = np.radians(place.longitude_deg + 360.0 * share + at(self.lead_deg) - 180.0)
        cos_hour = np.cos(angle)
        latitude = np.radians(place.latitude_deg)
        north = np.sin(latitude) * at(self.sin_declination)
        return north + np.cos(latitude) * at(self.cos_declination) * cos_hour, cos_hour


# ---- from hours to steps and minutes -------------------------------------------------------------


def bridged(column):
    """The column with single gaps filled by the middle of their neighbors."""
    column = np.append(column, np.nan)
    middle = np.full_like(column, np.nan)
    middle[1:-1] = (column[:-2] + column[2:]) / 2
    return np.where(np.isnan(column), middle, column)


class Nodes:
    """A weather's columns at whole hours, with the rise to the next."""

    def __init__(self, weather, place):
        share = ((293 - 0.0065 * place.elevation_m) / 293) ** 5.26
        pressure = np.where(np.isnan(weather.sea_level_hpa), 1013.0, weather.sea_level_hpa) * share
        self.columns = {
            name: bridged(column)
            for name, column in (
                ("air", weather.air_c), ("dew", weather.dew_point_c), ("wind", weather.wind_m_s),
                ("cloud", weather.cloud_pct), ("hpa", pressure),
            )
        }
        self.rain = np.append(weather.rain_mm, np.nan)
        blow = np.fmax(weather.gust_m_s, weather.wind_m_s)
        self.blow = np.append(blow, np.nan)

    def at(self, name, hours, shares):
        """Values in the shape (hour, part of the hour, day)."""
        column = self.columns[name]
        here, there = column[hours], column[hours + 1]
        values = here[:, None] + (there - here)[:, None] * shares[None, :, None]
        if shares[0] == 0.0:
            values[:, 0] = here  # a whole hour is known without its neighbor
        return values


class Roof:
    def __init__(self, weather, sun, place, physics):
        self.physics, self.wet_steps = physics, 0
        self.nodes, self.sun, self.place = Nodes(weather, place), sun, place
        self.optics = COLORS[place.color]
        self.offset_s = int((weather.first - sun.first).total_seconds())

    def overhead(self, hours, shares):
        """Air, dew point, sun, sky, convection and pressure in the shape (hour, part, day)."""
        air, dew, wind, cloud, hpa = (
            self.nodes.at(name, hours, shares) for name in ("air", "dew", "wind", "cloud", "hpa"))
        into_hour = np.round(shares * 3600).astype(np.int64)
        second = self.offset_s + 3600 * hours[:, None] + into_hour[None, :, None]
        sin_elevation, cos_hour = self.physics.sun_over(self.sun, self.place, second)
        sun = self.physics.clear_sky(sin_elevation) * (1 - 0.75 * (cloud / 100) ** 3.4)
        sun = np.where(sin_elevation > 0, sun, 0.0)
        sky = sky_kelvin(air + 273.15, dew, cos_hour, hpa, cloud)
        return air, dew, sun, sky, 4 + 2.6 * wind, hpa, wind

    def film(self, starts, rules):
        """Water in mm at the end of each step from the shift's start on, one column a day."""
        steps = (RUN_UP_H * 60 + rules.shift_minutes) // 5
        span = -(-steps // STEPS_H)
        hours = starts[None, :] - RUN_UP_H + np.arange(span)[:, None]
        shares = (np.arange(STEPS_H) + 0.5) / STEPS_H
        air, dew, sun, sky, convection, hpa, _ = self.overhead(hours, shares)
        loss = wet_loss(self.physics, self.optics, sun, air, sky, convection, dew, hpa)
        rain = np.broadcast_to(self.nodes.rain[hours][:, None], loss.shape)
        gain = ((rain - loss) / STEPS_H).reshape(span * STEPS_H, -1)[:steps]
        return self.fill(gain)

    def fill(self, gain):
        """The bucket; before its first known step it is dry, after an unknown one unknown."""
        before = RUN_UP_H * STEPS_H
        depths = np.empty((gain.shape[0] - before + 1, gain.shape[1]))
        depth = np.zeros(gain.shape[1])
        begun = np.zeros(gain.shape[1], dtype=bool)
        unknown = np.isnan(gain)
        any_unknown = unknown.any()
        for step, more in enumerate(gain):
            if any_unknown:
                # A record often opens with hours that lack something: the run begins after them.
                skipped = unknown[step] & ~begun & (step + 1 < before)
                begun |= ~unknown[step]
                more = np.where(skipped, 0.0, more)
            self.wet_steps += np.count_nonzero((depth > 0) | (more > 0))
            depth = np.minimum(np.maximum(depth + more, 0.0), HOLDS_MM)
            if step + 1 >= before:
                depths[step + 1 - before] = np.where(begun, depth, np.nan) if any_unknown else depth
        return depths

    def shift(self, starts, rules):
        """Air, sheet and wind of every minute of the shift."""
        span = -(-rules.shift_minutes // 60)
        hours = starts[None, :] + np.arange(span)[:, None]
        air, _, sun, sky, convection, _, wind = self.overhead(hours, np.arange(60) / 60.0)
        sheet = dry_sheet(self.optics, sun, air + 273.15, sky, convection) - 273.15
        flat = lambda values: values.reshape(span * 60, -1)[: rules.shift_minutes]
        return flat(air), flat(sheet), flat(wind), hours


# ---- the two rules -------------------------------------------------------------------------------


def rises():
    """Rise of the window's middle for each kelvin that the sheet is cooler, by ft/min: PVC."""
    speed = np.arange(3, 19)
    dwell = 0.045 / (speed * 0.00508)
    share = 1 - erfcx(285.0 * np.sqrt(dwell) / np.sqrt(0.17 * 1300.0 * 1500.0))
    return (1 - share) / share


RISES = rises()


def rise_at(air_c):
    """At the speed of the rule, by the air of the test."""
    tens = np.ceil((1.8 * air_c + 32) / 10 - 0.5 - NOISE)
    return RISES[np.clip(np.nan_to_num(tens) + 2, 3, 18).astype(int) - 3]


def walk(rules, air, sheet, held):
    """Causes of the tests by minute, all days at once."""
    minutes, count = air.shape
    tests = np.zeros((minutes, count), dtype=np.int8)
    last_air, last_sheet, rise = (np.full(count, np.nan) for _ in range(3))
    last_minute = np.zeros(count, dtype=np.int32)
    hold_last = np.full(count, -1, dtype=np.int32)  # last minute of a hold not tested after
    stop_end = np.full(count, -1, dtype=np.int32)  # end of a break not tested after
    tested = np.zeros(count, dtype=bool)
    open_day = np.ones(count, dtype=bool)
    held_rows = held.any(axis=1)
    pending = False
    for minute in range(minutes):
        if held_rows[minute]:
            hold_last[held[minute]] = minute
            pending = True
        stop = next((stop for stop in rules.breaks if stop[0] <= minute < stop[1]), None)
        if stop:
            stop_end[~held[minute]] = stop[1]
            pending = True
            continue
        works = open_day & ~held[minute] if held_rows[minute] else open_day
        too_late = minute + rules.last_test_before_end >= minutes
        waits = any(
            minute < begin <= minute + rules.merge_within
            and end + rules.last_test_before_end < minutes
            for begin, end in rules.breaks)
        cause = np.zeros(count, dtype=np.int8)
        cause[minute - last_minute >= rules.max_between] = ELAPSED
        if not waits:
            moved = np.abs(rise * (sheet[minute] - last_sheet)) >= rules.center_limit_k - NOISE
            cause[moved] = SHEET
            cause[np.abs(air[minute] - last_air) >= rules.ambient_change_k - NOISE] = AMBIENT
        if minute == 0 or pending:
            cause[~tested] = START
            cause[stop_end >= 0] = AFTER_BREAK
            cause[(hold_last >= 0) & (hold_last >= stop_end)] = AFTER_HOLD
        due = (cause > 0) & works
        if not due.any():
            continue
        if too_late:
            open_day = open_day & ~due
            continue
        tests[minute, due] = cause[due]
        last_air[due], last_sheet[due] = air[minute, due], sheet[minute, due]
        rise[due] = rise_at(air[minute, due])
        last_minute[due] = minute
        hold_last[due] = stop_end[due] = -1
        tested |= due
        pending = (hold_last >= 0).any() or (stop_end >= 0).any() or not tested.all()
    return tests


def outlook(weather, sun, place, starts, rules=Rules(), physics=Tuned):
    """Every day whose shift starts at one of `starts`, whole hours after the weather's first."""
    roof = Roof(weather, sun, place, physics)
    minutes, count = rules.shift_minutes, len(starts)
    air, sheet = np.empty((minutes, count)), np.empty((minutes, count))
    rain, wet, blown = (np.zeros((minutes, count), dtype=bool) for _ in range(3))
    hour_of = np.arange(minutes) // 60
    for begin in range(0, count, DAYS_AT_ONCE):
        days = slice(begin, min(begin + DAYS_AT_ONCE, count))
        air[:, days], sheet[:, days], wind, hours = roof.shift(starts[days], rules)
        depths = roof.film(starts[days], rules)
        wet[:, days] = depths[np.arange(minutes) // 5] > rules.film_dry_mm
        rain[:, days] = (roof.nodes.rain[hours] >= rules.rain_hold_mm - NOISE)[hour_of]
        storm = rules.wind_stop_m_s - NOISE
        blown[:, days] = (roof.nodes.blow[hours] >= storm)[hour_of] | (wind >= storm)
    covered = ~np.isnan(air).any(axis=0)
    wet &= ~rain
    blown &= ~rain & ~wet
    tests = walk(rules, air, sheet, rain | wet | blown)
    tests[:, ~covered] = 0
    works = np.ones(minutes, dtype=bool)
    for begin, end in rules.breaks:
        works[begin:end] = False
    held = {name: flags[works].sum(axis=0) for name, flags in
            (("rain", rain), ("wet-sheet", wet), ("wind-stop", blown))}
    return Days(covered, tests, held, wet[0], roof.wet_steps)
