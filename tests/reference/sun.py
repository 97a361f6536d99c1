"""Sun positions, clear-sky radiation, rises and sets by pvlib; see README.md."""

import numpy as np
import pandas as pd
import pvlib

from table import SEED, write

CIVIL_TWILIGHT_DEG = -6.0


def random_times(rng, count):
    first = pd.Timestamp("2000-01-01", tz="UTC")
    seconds = rng.integers(0, 40 * 365 * 86400, count)
    return [first + pd.Timedelta(seconds=int(s)) for s in seconds]


def random_places(rng, count):
    # The poles themselves have no azimuth, so stay a degree off.
    return zip(rng.uniform(-89, 89, count), rng.uniform(-180, 180, count), rng.uniform(0, 3000, count))


def spa(times, latitude, longitude, altitude=0.0):
    return pvlib.solarposition.spa_python(
        pd.DatetimeIndex(times), latitude, longitude, altitude=altitude, delta_t=None, how="numpy"
    )


def positions(rng):
    rows = []
    for at, (latitude, longitude, altitude) in zip(random_times(rng, 300), random_places(rng, 300)):
        latitude, longitude, altitude = round(latitude, 4), round(longitude, 4), round(altitude)
        sun = spa([at], latitude, longitude, altitude).iloc[0]
        haurwitz = pvlib.clearsky.haurwitz(pd.Series([sun.zenith])).ghi.iloc[0]
        rows.append([
            at.isoformat(), latitude, longitude, altitude,
            f"{sun.elevation:.6f}", f"{sun.azimuth:.6f}", f"{haurwitz:.6f}",
        ])
    write("sun_position", "time,latitude_deg,longitude_deg,altitude_m,elevation_deg,azimuth_deg,haurwitz_w_m2", rows)


def clear_hours(rng):
    """Mean clear sky of whole hours, from a position every five seconds."""
    rows = []
    for at, (latitude, longitude, _) in zip(random_times(rng, 120), random_places(rng, 120)):
        start = at.floor("h")
        latitude, longitude = round(latitude * 0.8, 4), round(longitude, 4)
        times = pd.date_range(start + pd.Timedelta(seconds=2.5), periods=720, freq="5s")
        mean = pvlib.clearsky.haurwitz(spa(times, latitude, longitude).zenith).ghi.mean()
        rows.append([start.isoformat(), latitude, longitude, f"{mean:.6f}"])
    write("clear_hour", "start,latitude_deg,longitude_deg,mean_w_m2", rows)


def days(rng):
    """UTC days: how often and when the sun's center crosses a line.

    pvlib's own rise and set are SPA's; near the poles it gives none. The crossings here are read off
    pvlib positions a minute apart, so that both kinds of polar season come out too.
    """
    rows = []
    for at, (latitude, longitude, _) in zip(random_times(rng, 90), random_places(rng, 90)):
        start = at.floor("D")
        latitude, longitude = round(latitude, 4), round(longitude, 4)
        times = pd.date_range(start, periods=1441, freq="min")
        # Without parallax, as almanacs have it: +8.794" cos(elevation).
        elevation = spa(times, latitude, longitude).elevation.to_numpy()
        elevation = elevation + 8.794 / 3600 * np.cos(np.radians(elevation))
        for name, line in [("horizon", -50 / 60), ("civil", CIVIL_TWILIGHT_DEG)]:
            above = elevation - line
            if np.min(np.abs(above)) < 0.02 and np.all(above > -0.02) | np.all(above < 0.02):
                continue  # grazes the line: either answer is right
            index = np.nonzero(np.diff(np.sign(above)))[0]
            minutes = index + above[index] / (above[index] - above[index + 1])
            rises = minutes[above[index + 1] > above[index]]
            sets = minutes[above[index + 1] < above[index]]
            state = "crosses" if len(index) else ("above" if above[0] > 0 else "below")
            rows.append([
                start.date().isoformat(), latitude, longitude, name, state,
                " ".join(f"{m:.3f}" for m in rises), " ".join(f"{m:.3f}" for m in sets),
            ])
    write("sun_day", "date,latitude_deg,longitude_deg,line,state,rise_minutes,set_minutes", rows)


if __name__ == "__main__":
    positions(np.random.default_rng(SEED))
    clear_hours(np.random.default_rng(SEED + 1))
    days(np.random.default_rng(SEED + 2))
