#!/usr/bin/env python3
"""The bulk engine beside the same work in vectorized NumPy and a plain pass over the same bytes.

    python3 -m venv target/bench-venv
    target/bench-venv/bin/pip install -r benches/requirements.txt
    target/bench-venv/bin/python benches/outlook_peer.py [--sites 100] [--years 30] [--engine PATH]

All in one go on one machine: builds the engine's bench (`cargo bench --bench outlook --no-run`),
lets it write a part of the weather and its days, works out the same days with outlook_numpy.py,
holds the two against each other, and runs the engine over the whole standing case. Times are those
that a thread had a processor. The peer runs on a part of the sites and years; its cost per
site-hour is taken to be the same for the rest.
"""

import argparse
import calendar
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path

os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")  # the peer is measured on one core

import metpy
import numpy as np
import pandas as pd
import pvlib
import scipy
from metpy.calc import saturation_vapor_pressure
from metpy.units import units

import outlook_numpy as peer
import outlook_physics

ROOT = Path(__file__).resolve().parent.parent
PEER_SITES, PEER_YEARS = 8, 3
LIBRARY_YEARS = 2  # site-years that are also worked out by the libraries' own functions
ROUNDS = 3  # of each measurement, of which the best counts
BAR_RATIO, BAR_RATE, BAR_MIB = 50, 5e6, 200
# Of the days on which the two may differ, one in so many: a value that lies on a threshold.
ONE_DAY_IN = 1000


def build():
    """The bench's own program, built as `cargo bench` builds it."""
    out = subprocess.run(
        ["cargo", "bench", "--locked", "--bench", "outlook", "--no-run", "--message-format=json"],
        cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    built = [json.loads(line) for line in out.splitlines() if line.startswith("{")]
    return next(line["executable"] for line in reversed(built)
                if line.get("reason") == "compiler-artifact" and line["target"]["name"] == "outlook")


def engine(program, *words):
    run = subprocess.run([program, *map(str, words)], check=True, stdout=subprocess.PIPE, text=True)
    return json.loads(run.stdout)


class Case:
    """The weather and the engine's days that `emit` has written."""

    def __init__(self, folder):
        self.case = json.loads((folder / "case.json").read_text())
        self.data = np.fromfile(folder / "weather.f64", "<f8")
        self.days = pd.read_csv(folder / "days.csv", keep_default_na=False)

    def blocks(self):
        at = 0
        for block in self.case["blocks"]:
            hours, first = block["hours"], pd.Timestamp(block["first"])
            columns = self.data[at : at + 7 * hours].reshape(7, hours)
            at += 7 * hours
            site = self.case["sites"][block["site"]]
            place = peer.Place(site["latitude_deg"], site["longitude_deg"], site["elevation_m"], site["color"])
            dates = pd.bdate_range(f"{block['year']}-01-01", f"{block['year']}-12-31")
            begins = (dates + pd.Timedelta(hours=7)).tz_localize(site["time_zone"]).tz_convert("UTC")
            starts = ((begins - first) // pd.Timedelta(hours=1)).to_numpy()
            site_hours = 24 * (365 + calendar.isleap(block["year"]))
            yield peer.Weather(first, *columns), place, starts, site_hours

    def first_and_last(self):
        years = [block["year"] for block in self.case["blocks"]]
        return (pd.Timestamp(f"{min(years) - 1}-12-01", tz="UTC"), pd.Timestamp(f"{max(years) + 1}-01-31", tz="UTC"))


def run_peer(case, by_library, most=None):
    """Days and site-hours a second of CPU time."""
    begin = time.process_time()
    sun = peer.Sun(*case.first_and_last())
    physics = outlook_physics.Library if by_library else outlook_physics.Tuned
    days, site_hours = [], 0
    for weather, place, starts, hours in case.blocks():
        days.append(peer.outlook(weather, sun, place, starts, physics=physics))
        site_hours += hours
        if len(days) == most:
            break
    return days, site_hours / (time.process_time() - begin), site_hours


def compare(case, days):
    """Days on which tests or held minutes differ, and how many there are in all."""
    rows = case.days.itertuples(index=False)
    tests = held = count = 0
    for block in days:
        for day in range(len(block.covered)):
            row = next(rows)
            count += 1
            minutes = np.nonzero(block.tests[:, day])[0]
            mine = " ".join(f"{minute}:{peer.CAUSES[block.tests[minute, day]]}" for minute in minutes)
            tests += mine != row.tests
            engine_held = (row.rain, row[6], row[7])
            held += engine_held != tuple(int(block.held[name][day]) for name in ("rain", "wet-sheet", "wind-stop"))
    return tests, held, count


def best(work, rate=lambda got: got):
    """The best of some rounds: other programs on the machine can only slow one down."""
    return max((work() for _ in range(ROUNDS)), key=rate)


def pass_over(case):
    """NumPy's own plain sum over the same columns, site-hours a second."""
    begin = time.process_time()
    for _ in range(20):
        np.nansum(case.data)
    seconds = (time.process_time() - begin) / 20
    return sum(hours for *_, hours in case.blocks()) / seconds


def row(name, rate, note=""):
    print(f"  {name:44}{rate / 1e6:12.3f}   {1e9 / rate:10.1f}   {note}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sites", type=int, default=100)
    parser.add_argument("--years", type=int, default=30)
    parser.add_argument("--engine", help="a bench program that is built already")
    asked = parser.parse_args()
    program = asked.engine or build()
    cores = len(os.sched_getaffinity(0))
    rustc = subprocess.run(["rustc", "--version"], stdout=subprocess.PIPE, text=True).stdout.strip()
    print(f"{platform.machine()}, {cores} cores, {cpu_name()}")
    print(f"{rustc}, Python {platform.python_version()}, NumPy {np.__version__}, pvlib {pvlib.__version__}, "
          f"MetPy {metpy.__version__}, SciPy {scipy.__version__}, pandas {pd.__version__}")

    with tempfile.TemporaryDirectory() as folder:
        engine(program, "emit", folder, "--sites", PEER_SITES, "--years", PEER_YEARS)
        case = Case(Path(folder))
        tuned_days, tuned, peer_hours = best(lambda: run_peer(case, by_library=False), rate=lambda got: got[1])
        library_days, library, _ = best(
            lambda: run_peer(case, by_library=True, most=LIBRARY_YEARS), rate=lambda got: got[1])
        numpy_pass = pass_over(case)
    part = f"{PEER_SITES} sites x {PEER_YEARS} years"
    for name, days, strict in (("tuned NumPy", tuned_days, True), ("NumPy by the libraries", library_days, False)):
        tests, held, count = compare(case, days)
        print(f"agreement, engine and {name}: of {count} workdays {tests} differ in a test's minute or "
              f"cause, {held} in minutes held")
        if strict and max(tests, held) * ONE_DAY_IN > count:
            sys.exit(f"expected at most one day in {ONE_DAY_IN} to differ: the two do not compute the same")
    print_curves()

    standing = {"--sites": asked.sites, "--years": asked.years}
    words = [str(word) for pair in standing.items() for word in pair]
    few = ("--sites", min(asked.sites, 10), "--years", asked.years)
    alone, together = "site_hours_per_s_and_core", "site_hours_per_s_on_all"
    one = best(lambda: engine(program, "run", *few)[alone])
    all_cores = best(lambda: engine(program, "run", *words, "--threads", cores), rate=lambda got: got[together])
    floor = best(lambda: engine(program, "floor", "--sites", 4, "--years", 4)[alone])

    print(f"\n  {'':44}{'M site-h/s':>12}   {'ns/site-h':>10}")
    row("engine, one core", one)
    row(f"engine, {cores} cores, each its own time", all_cores["site_hours_per_s_on_all"], f"{asked.sites} sites x {asked.years} years")
    row("NumPy, one core, tuned", tuned, f"on {part}, per site-hour")
    row("NumPy, one core, by the libraries' functions", library, f"on {LIBRARY_YEARS} site-years, per site-hour")
    row("plain pass over the same hours", floor)
    row("plain pass over the same columns, NumPy", numpy_pass)
    print(f"\nratios per core: engine / tuned NumPy {one / tuned:.1f}, engine / NumPy by the libraries "
          f"{one / library:.1f}, plain pass / engine {floor / one:.0f}")
    peak = all_cores["peak_mib"]
    print(f"standing case: {all_cores['site_hours'] / 1e6:.1f} M site-hours, {all_cores['tests'] / 1e6:.2f} M tests, "
          f"{all_cores['wall_s_with_the_drawing_of_the_weather']:.1f} s with the drawing of its weather, peak {peak:.0f} MiB")

    print("\nlinear in hours (one core):")
    for sites, years in ((1, 1), (1, 10), (1, 30), (10, 1), (10, 10), (10, 30), (100, 1)):
        got = engine(program, "run", "--sites", sites, "--years", years)
        per = 1e9 * got["engine_cpu_s"] / got["site_hours"]
        print(f"  {sites:4} sites x {years:2} years: {got['engine_cpu_s']:8.3f} s, {per:7.1f} ns a site-hour, peak {got['peak_mib']:.0f} MiB")

    on_two = all_cores["site_hours_per_s_on_all"] * 2 / cores
    print("\nbars:")
    for name, got, bar, met in (
        ("engine / tuned NumPy, per core", one / tuned, BAR_RATIO, one / tuned >= BAR_RATIO),
        ("engine / NumPy by the libraries, per core", one / library, BAR_RATIO, one / library >= BAR_RATIO),
        ("site-hours a second on two cores, M", on_two / 1e6, BAR_RATE / 1e6, on_two >= BAR_RATE),
        ("peak memory, MiB", peak, BAR_MIB, peak < BAR_MIB),
    ):
        print(f"  {name:44}{got:10.2f}  bar {bar:6.1f}  {'met' if met else 'not met'}")
    wet_steps = sum(block.wet_steps for block in tuned_days)
    roofline(program, one, tuned, floor, wet_steps, len(case.days), peer_hours)


def roofline(program, one, tuned, floor, wet_steps, workdays, site_hours):
    """What each site-hour has to compute at least, what that costs here, and the ceiling it makes."""
    costs = engine(program, "primitives")
    looked_at = workdays * (peer.RUN_UP_H + 9) / site_hours
    bound = costs["sine_and_cosine_ns"] + 2 * costs["exp_ns"] + 4 * costs["square_root_ns"]
    needs = (
        ("balances of a wet sheet, four an hour", wet_steps / 3 / site_hours, costs["wet_balance_ns"]),
        ("other hours from evening to end of shift", looked_at - wet_steps / 12 / site_hours, bound),
        ("reading the hour", 1.0, 1e9 / floor),
    )
    print("\nroofline: what a site-hour asks for at least; four moments of an hour whose twelve steps are wet, as")
    print("the peer counts them, and for an hour that needs no step two bounds: one sine and cosine, two exponentials,")
    print("four roots, each for one hour alone")
    for name, count, cost in needs:
        print(f"  {name:42}{count:8.3f} x {cost:6.1f} ns = {count * cost:6.1f} ns")
    ceiling = 1e9 / sum(count * cost for _, count, cost in needs)
    print(f"  a ceiling of {ceiling / 1e6:.2f} M site-hours a second and core. The engine is at {one / ceiling:.0%} of it; "
          f"{BAR_RATE / 2e6:.1f} M would be {BAR_RATE / 2 / ceiling:.0%}, {BAR_RATIO} x tuned NumPy {BAR_RATIO * tuned / ceiling:.0%}.")
    print("  measured here, ns: " + ", ".join(f"{name[:-3].replace('_', ' ')} {cost:.1f}" for name, cost in costs.items()))


def print_curves():
    """How far MetPy's vapor curve is from the one that engine and peer share."""
    celsius = np.arange(-30.0, 40.5, 0.5)
    theirs = saturation_vapor_pressure(units.Quantity(celsius, "degC"), phase="liquid").to("hPa").m
    apart = np.abs(outlook_physics.magnus(outlook_physics.WATER, celsius) / theirs - 1).max()
    print(f"vapor curve of engine and tuned peer against MetPy's, -30 to 40 °C: at most {apart:.2%} apart")


def cpu_name():
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        return next(line.split(":")[1].strip() for line in lines if line.startswith("model name"))
    except (OSError, StopIteration):
        return platform.processor() or "unknown processor"


if __name__ == "__main__":
    main()
