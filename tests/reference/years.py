"""Files of past years read by pvlib; and the pieces of them that the tests read. See README.md.

    python tests/reference/years.py           reads the pieces, writes years.json
    python tests/reference/years.py --cut     cuts the pieces out of pvlib's own data first
"""

import json
import pathlib
import sys

import numpy as np
import pandas as pd
import pvlib

from table import FOLDER

YEARS = FOLDER.parent / "years"
# The days that are kept: an edge of the year, joins of months, a week of summer with rain.
KEPT = ["01/01", "01/02", "01/03", "01/30", "01/31", "02/01", "02/02", "02/27", "02/28", "03/01", "03/02",
        "06/30", "07/01", "07/02", "07/03", "07/04", "07/05", "12/30", "12/31"]


def cut_tmy3(source, name):
    """The head and the kept days of a TMY3 file, as they are."""
    lines = (pathlib.Path(pvlib.__file__).parent / "data" / source).read_text().splitlines()
    kept = [line for line in lines[2:] if line[:5] in KEPT]
    (YEARS / name).write_text("\n".join(lines[:2] + kept) + "\n")
    return lines[0], [line.split(",") for line in lines[1:2] + kept]


def write_epw(station, rows, name):
    """The same days in the layout of EPW, with the numbers that it has for missing values."""
    _, city, state, zone, latitude, longitude, elevation = station.replace('"', "").split(",")
    head = rows[0]
    out = [
        f"LOCATION,{city.title()},{state},USA,TMY3,723170,{latitude},{longitude},{zone},{elevation}",
        "DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", 'COMMENTS 1,"cut from TMY3, see README.md"', "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]
    for index, row in enumerate(rows[1:]):
        value = dict(zip(head, row))
        month, day, year = value["Date (MM/DD/YYYY)"].split("/")
        fields = ["9999"] * 35
        fields[:6] = [year, str(int(month)), str(int(day)), str(int(value["Time (HH:MM)"][:2])), "60", "?9"]
        # Every 50th hour lacks what can be lacking.
        lacks = index % 50 == 7
        fields[6] = "99.9" if lacks else value["Dry-bulb (C)"]
        fields[7] = "99.9" if lacks else value["Dew-point (C)"]
        fields[8] = "999" if lacks else value["RHum (%)"]
        fields[9] = "999999" if lacks else str(int(value["Pressure (mbar)"]) * 100)
        fields[13] = "9999" if lacks else value["GHI (W/m^2)"]
        fields[20:24] = [value["Wdir (degrees)"], "999" if lacks else value["Wspd (m/s)"],
                         "99" if lacks else value["TotCld (tenths)"], "99" if lacks else value["OpqCld (tenths)"]]
        fields[29] = "0.1"
        fields[33] = "999" if lacks else str(int(value["Lprecip depth (mm)"]) / 10)
        fields[34] = "99" if lacks else value["Lprecip quantity (hr)"]
        out.append(",".join(fields))
    (YEARS / name).write_text("\n".join(out) + "\n")


def known(value, missing=None):
    value = float(value)
    return None if np.isnan(value) or value <= -9900 or (missing is not None and value >= missing) else value


def tmy3(name):
    data, _ = pvlib.iotools.read_tmy3(YEARS / name, coerce_year=2023, map_variables=False)
    utc = data.index.tz_convert("UTC")
    # coerce_year puts the last midnight of the year into the next year's January.
    column = lambda key: [known(v) for v in data[key]]
    return {
        "stamp_utc": [t.isoformat() for t in utc],
        "air_c": column("Dry-bulb (C)"), "dew_point_c": column("Dew-point (C)"),
        "humidity_pct": column("RHum (%)"), "pressure_hpa": column("Pressure (mbar)"),
        "wind_ms": column("Wspd (m/s)"), "opaque_tenths": column("OpqCld (tenths)"),
        "ghi_w_m2": column("GHI (W/m^2)"), "rain_tenths_mm": column("Lprecip depth (mm)"),
        "rain_hours": column("Lprecip quantity (hr)"),
    }


def epw(name):
    data, _ = pvlib.iotools.read_epw(YEARS / name, coerce_year=2023)
    # pvlib names the beginning of each hour; the file names its end.
    utc = (data.index + pd.Timedelta(hours=1)).tz_convert("UTC")
    column = lambda key, missing: [known(v, missing) for v in data[key]]
    return {
        "stamp_utc": [t.isoformat() for t in utc],
        "air_c": column("temp_air", 99.9), "dew_point_c": column("temp_dew", 99.9),
        "humidity_pct": column("relative_humidity", 999),
        "pressure_hpa": [v and v / 100 for v in column("atmospheric_pressure", 999999)],
        "wind_ms": column("wind_speed", 999), "opaque_tenths": column("opaque_sky_cover", 99),
        "ghi_w_m2": column("ghi", 9999), "rain_mm": column("liquid_precipitation_depth", 999),
        "rain_hours": column("liquid_precipitation_quantity", 99),
    }


def isd_lite(name):
    """ISD-Lite by pandas alone: what each month holds."""
    names = ["year", "month", "day", "hour", "air", "dew", "slp", "wdir", "wind", "sky", "rain1", "rain6"]
    data = pd.read_csv(YEARS / name, sep=r"\s+", header=None, names=names, na_values=[-9999])
    data["rain1"] = data["rain1"].replace(-1, 0)
    # Sky codes with an amount, in oktas; 9 and 10 tell of a sky that could not be seen.
    words = {11: 3.5, 12: 3.5, 13: 3.5, 14: 6, 15: 6, 16: 6, 17: 8, 18: 8, 19: 8}
    data["sky"] = data["sky"].replace(words).where(~data["sky"].isin([9, 10]))
    month = data.groupby("month")
    count = lambda key: [int(n) for n in month[key].count()]
    # By the hour in which it fell, which is the one before the stamp.
    stamp = pd.to_datetime(data[["year", "month", "day", "hour"]])
    fell = data.groupby((stamp - pd.Timedelta(hours=1)).dt.strftime("%Y-%m"))["rain1"].sum()
    return {
        "hours": [int(n) for n in month.size()], "air": count("air"), "dew_point": count("dew"),
        "wind": count("wind"), "sky": count("sky"), "pressure": count("slp"),
        "air_mean_c": [round(v / 10, 6) for v in month["air"].mean()],
        "wind_mean_ms": [round(v / 10, 6) for v in month["wind"].mean()],
        "sky_mean_oktas": [round(v, 6) for v in month["sky"].mean()],
        "rain_mm": {key: round(v / 10, 6) for key, v in fell.items()},
    }


if __name__ == "__main__":
    if "--cut" in sys.argv:
        station, rows = cut_tmy3("723170TYA.CSV", "greensboro.tmy3.csv")
        write_epw(station, rows, "greensboro.epw")
        cut_tmy3("703165TY.csv", "sand_point.tmy3.csv")
    versions = {"pvlib": pvlib.__version__, "pandas": pd.__version__, "numpy": np.__version__}
    found = {
        "versions": versions,
        "greensboro.tmy3.csv": tmy3("greensboro.tmy3.csv"),
        "sand_point.tmy3.csv": tmy3("sand_point.tmy3.csv"),
        "greensboro.epw": epw("greensboro.epw"),
        "725300-2015.gz": isd_lite("725300-2015.gz"),
    }
    (FOLDER / "years.json").write_text(json.dumps(found, separators=(",", ":")).replace('"versions"', '\n"versions"') + "\n")
    print(versions)
