"""Every day of two years on record, by benches/outlook_numpy.py; see README.md.

    python tests/reference/whole_years.py

O'Hare 2015 out of the ISD-Lite file and Newark 2013 out of the CSV, both in tests/fixtures. Nothing
here calls the program.
"""

import csv
import gzip
import pathlib
import sys

import numpy as np
import pandas as pd

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "benches"))
import outlook_numpy as days_by_numpy

FIXTURES = ROOT / "tests/fixtures"
OUT = FIXTURES / "reference/whole_years"
OHARE = (41.98, -87.92, 659.0, "America/Chicago")  # elevations in ft, as in a US site file
NEWARK = (40.6925, -74.1687, 18.0, "America/New_York")


def hours(year):
    return pd.date_range(f"{year}-01-01", f"{year}-12-31 23:00", freq="h", tz="UTC")


def isd_lite(path, year):
    """Instants at the stamp, rain of the hour that ends at it, a trace is none, sky in oktas."""
    table = np.full((len(hours(year)), 8), np.nan)
    for line in gzip.open(path, "rt"):
        numbers = [int(text) for text in line.split()]
        at = (pd.Timestamp(*numbers[:4], tz="UTC") - hours(year)[0]) // pd.Timedelta(hours=1)
        table[at] = [np.nan if number == -9999 else number for number in numbers[4:]]
    air, dew, pressure, _, wind, sky, rain, _ = table.T
    cloud = np.where((sky >= 0) & (sky <= 8), 12.5 * sky, np.nan)
    rain = np.append(np.maximum(rain[1:], 0), np.nan) / 10
    none = np.full(len(air), np.nan)
    return days_by_numpy.Weather(hours(year)[0], air / 10, dew / 10, wind / 10, none, cloud, pressure / 10, rain)


def newark(path, year):
    """US units; rain and gust of the hour that ends at the stamp."""
    rows = pd.read_csv(path, parse_dates=["time_utc"]).set_index("time_utc")
    rows = rows.reindex(pd.date_range(rows.index[0], rows.index[-1], freq="h"))
    ended = rows.shift(-1)
    celsius = lambda column: (rows[column].to_numpy() - 32) / 1.8
    mph = lambda table, column: table[column].to_numpy() * 0.44704
    none = np.full(len(rows), np.nan)
    return days_by_numpy.Weather(
        rows.index[0], celsius("temp_f"), celsius("dewp_f"), mph(rows, "wind_mph"), mph(ended, "gust_mph"), none,
        rows["pressure_hpa"].to_numpy(), ended["precip_in"].to_numpy() * 25.4)


def run(name, weather, year, place, color):
    latitude, longitude, feet, zone = place
    dates = pd.date_range(f"{year}-01-02", f"{year}-12-30")
    begins = (dates + pd.Timedelta(hours=7)).tz_localize(zone).tz_convert("UTC")
    starts = ((begins - weather.first) // pd.Timedelta(hours=1)).to_numpy()
    inside = (starts >= days_by_numpy.RUN_UP_H) & (starts + 10 < len(weather.air_c))
    dates, starts = dates[inside], starts[inside]
    sun = days_by_numpy.Sun(weather.first, weather.first + pd.Timedelta(hours=len(weather.air_c)))
    where = days_by_numpy.Place(latitude, longitude, feet * 0.3048, color)
    found = days_by_numpy.outlook(weather, sun, where, starts)
    with open(OUT / f"{name}.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["date", "covered", "rain", "wet_sheet", "wind_stop", "begins_wet", "tests"])
        for day, date in enumerate(dates):
            minutes = np.nonzero(found.tests[:, day])[0]
            tests = " ".join(f"{minute}:{days_by_numpy.CAUSES[found.tests[minute, day]]}" for minute in minutes)
            covered = int(found.covered[day])
            held = [int(found.held[hold][day]) if covered else 0 for hold in ("rain", "wet-sheet", "wind-stop")]
            out.writerow([f"{date:%Y-%m-%d}", covered, *held, int(found.begins_wet[day] and covered), tests])
    print(f"{name}: {len(dates)} days, {np.count_nonzero(found.tests)} tests")


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    ohare = isd_lite(FIXTURES / "years/725300-2015.gz", 2015)
    run("ohare-2015-white", ohare, 2015, OHARE, "white")
    run("ohare-2015-black", ohare, 2015, OHARE, "black")
    run("newark-2013-white", newark(FIXTURES / "ewr2013.csv", 2013), 2013, NEWARK, "white")


if __name__ == "__main__":
    main()
