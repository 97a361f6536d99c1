#!/usr/bin/env python3
"""The demo's whole process, calendar file included, beside a bare start of the Python interpreter.

Both are run in turn, so that a machine whose speed drifts drifts for both. Prints median wall and
CPU time, peak memory and the ratio pair by pair.

    cargo build --release && python3 benches/whole_process.py [RUNS]
"""

import os
import platform
import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BINARY = ROOT / "target" / "release" / "fairseam"
# The interpreter itself: a version manager's wrapper script would count against Python.
INTERPRETER = os.path.realpath(sys.executable)


def run(command, environment):
    """Runs one command to its end: wall seconds, CPU seconds, peak memory in KiB."""
    silence = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)]
    start = time.perf_counter()
    child = os.posix_spawn(command[0], command, environment, file_actions=silence)
    _, status, usage = os.wait4(child, 0)
    wall = time.perf_counter() - start
    if status != 0:
        sys.exit(f"{' '.join(command)} ended with status {status}")
    return wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss


def main():
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    if not BINARY.exists():
        sys.exit("target/release/fairseam is missing: run `cargo build --release` first")
    with tempfile.TemporaryDirectory() as home:
        plan = [str(BINARY), "plan", str(ROOT / "config/demo/site.toml"), "--date", "2027-04-21",
                "--ics", str(Path(home) / "demo.ics")]
        ours = {"FAIRSEAM_HOME": home, "FAIRSEAM_NOW": "2027-04-20T23:00:00Z"}
        bare = [INTERPRETER, "-c", "pass"]
        theirs = {"PATH": os.environ.get("PATH", "")}
        pairs = [(run(plan, ours), run(bare, theirs)) for _ in range(runs + 3)][3:]

    print(f"{platform.machine()}, {os.cpu_count()} processors, Python {platform.python_version()}, "
          f"{runs} pairs after 3 not counted")
    print(f"{'':28}{'wall ms':>10}{'cpu ms':>10}{'peak MiB':>10}")
    for name, column in (("fairseam plan, demo, --ics", 0), ("python3 -c pass", 1)):
        rows = [pair[column] for pair in pairs]
        wall, cpu = (statistics.median(row[kind] for row in rows) * 1000 for kind in (0, 1))
        peak = max(row[2] for row in rows) / 1024
        print(f"{name:28}{wall:10.2f}{cpu:10.2f}{peak:10.1f}")
    ratios = sorted(pair[0][0] / pair[1][0] for pair in pairs)
    print(f"wall, fairseam / python, pair by pair: median {statistics.median(ratios):.2f}, "
          f"from {ratios[0]:.2f} to {ratios[-1]:.2f}")


if __name__ == "__main__":
    main()
