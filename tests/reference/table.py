"""Where the tables go, and the seed that all scripts share."""

import csv
import pathlib

SEED = 20130409
FOLDER = pathlib.Path(__file__).resolve().parent.parent / "fixtures" / "reference"


def write(name, header, rows):
    FOLDER.mkdir(parents=True, exist_ok=True)
    with open(FOLDER / f"{name}.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(rows)
    print(f"{name}: {len(rows)} rows")
