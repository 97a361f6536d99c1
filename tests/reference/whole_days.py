"""Whole days on a roof: sun, sheet, water and rules minute by minute; see README.md.

A second program for the same day, by other means: pvlib for the sun and the clear sky, MetPy for vapor
and the heat index, scipy for every balance, and the papers' formulas typed from the papers. It shares
with the program the equations that docs/physics.md and docs/method.md state, and nothing else.

    whole_days.py                      works the days again from the weather in whole_days/
    whole_days.py --cut ISD_LITE.gz    first cuts that weather out of its origins (see README.md)
"""

import csv
import gzip
import pathlib
import sys
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import metpy.calc as mpcalc
import numpy as np
import pandas as pd
import pvlib
from metpy.units import units
from scipy.constants import Stefan_Boltzmann
from scipy.optimize import brentq

import vapor
from table import FOLDER

HERE = FOLDER / "whole_days"
HEADER = "time,air_c,dew_point_c,wind_m_s,cloud_pct,sea_level_pressure_hpa,surface_pressure_hpa,rain_mm,shortwave_w_m2"
RUN_UP_HOURS = 14  # docs/method.md: the water is run from fourteen hours before the shift
HOLDS_MM, WIPE_MM = 0.3, 0.0008 * 25.4  # docs/physics.md; film_dry of a US site
COLORS = {"white": (0.83, 0.92), "gray": (0.42, 0.90), "tan": (0.58, 0.90), "black": (0.06, 0.86)}  # docs/physics.md

CHICAGO = dict(latitude=41.98, longitude=-87.92, elevation=201.0, zone="America/Chicago", origin="isd")
GREENSBORO = dict(latitude=36.1, longitude=-79.95, elevation=273.0, zone="Etc/GMT+5", origin="723170TYA.CSV")
DAYS = [
    ("clear-cold", "2015-02-23", CHICAGO),
    ("frost-dawn", "2015-03-11", CHICAGO),
    ("clear-hot", "2015-07-30", CHICAGO),
    ("dew-dawn", "2015-09-01", CHICAGO),
    ("calm-frost", "2015-11-08", CHICAGO),
    ("rain-then-sun", "1980-10-25", GREENSBORO),
    ("rain-then-gray", "1980-10-30", GREENSBORO),
    ("overcast", "1980-10-24", GREENSBORO),
    ("windy-front", "1994-11-21", GREENSBORO),
    ("wet-morning", "2003-09-05", GREENSBORO),
]
SHIFT = ("07:00", "15:30")


# ---- the weather, out of its origins -------------------------------------------------------------


def cut_isd(path, first, last):
    """NOAA ISD-Lite: instants at the stamp, rain of the hour that ends at it, sky in oktas."""
    rows = {}
    for line in gzip.open(path, "rt"):
        numbers = [int(text) for text in line.split()]
        rows[datetime(*numbers[:4], tzinfo=timezone.utc)] = numbers[4:]
    known = lambda value, scale: "" if value == -9999 else round(value * scale, 2)
    at = first
    while at <= last:
        air, dew, pressure, _, wind, sky, _, _ = rows[at]
        rain = rows.get(at + timedelta(hours=1), [-9999] * 8)[6]
        rain = 0 if rain == -1 else rain  # a trace
        cloud = "" if not 0 <= sky <= 8 else sky * 12.5
        yield [at, known(air, 0.1), known(dew, 0.1), known(wind, 0.1), cloud, known(pressure, 0.1), "", known(rain, 0.1), ""]
        at += timedelta(hours=1)


def cut_tmy3(name, first, last, zone):
    """NREL TMY3: instants at the stamp; radiation and rain of the hour that ends at it; standard time."""
    path = pathlib.Path(pvlib.__file__).parent / "data" / name
    rows = {}
    with open(path, newline="") as file:
        next(file)
        for row in csv.DictReader(file):
            month, day, year = map(int, row["Date (MM/DD/YYYY)"].split("/"))
            hour = int(row["Time (HH:MM)"].split(":")[0])
            rows[datetime(year, month, day, tzinfo=zone) + timedelta(hours=hour)] = row
    at = first
    while at <= last:
        now, ended = rows[at.astimezone(zone)], rows[(at + timedelta(hours=1)).astimezone(zone)]
        rain, over = float(ended["Lprecip depth (mm)"]), float(ended["Lprecip quantity (hr)"])
        # This file counts tenths of a millimeter: its smallest values, 3, 5, 8, 13, are 0.01 to 0.05 in.
        rain = rain / 10 if rain >= 0 and over == 1 else ""
        yield [
            at, float(now["Dry-bulb (C)"]), float(now["Dew-point (C)"]), float(now["Wspd (m/s)"]),
            10 * float(now["OpqCld (tenths)"]), "", float(now["Pressure (mbar)"]), rain, float(ended["GHI (W/m^2)"]),
        ]
        at += timedelta(hours=1)


def cut(isd_path):
    HERE.mkdir(parents=True, exist_ok=True)
    for name, date, place in DAYS:
        start, end = shift(date, place)
        first = (start - timedelta(hours=RUN_UP_HOURS)).replace(minute=0)
        last = end.replace(minute=0) + timedelta(hours=1 if end.minute else 0)
        if place["origin"] == "isd":
            rows = cut_isd(isd_path, first, last)
        else:
            rows = cut_tmy3(place["origin"], first, last, ZoneInfo(place["zone"]))
        table = [[row[0].strftime("%Y-%m-%dT%H:%M:%SZ"), *row[1:]] for row in rows]
        write(name, HEADER, table)


def write(name, header, rows):
    with open(HERE / f"{name}.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(rows)
    print(f"{name}: {len(rows)} rows")


def shift(date, place):
    zone = ZoneInfo(place["zone"])
    at = lambda clock: datetime.fromisoformat(f"{date}T{clock}").replace(tzinfo=zone).astimezone(timezone.utc)
    return at(SHIFT[0]), at(SHIFT[1])


# ---- the formulas, from the papers ---------------------------------------------------------------


def kasten_czeplak(oktas):
    """Kasten and Czeplak 1980: G(N)/G(0) = 1 - 0.75 (N/8)^3.4."""
    return 1 - 0.75 * (oktas / 8) ** 3.4


def sky_emissivity(dew_c, solar_hour, pressure_hpa, cover):
    """Martin and Berdahl 1984, opaque cloud with its base at 2 km."""
    d = dew_c / 100
    clear = 0.711 + 0.56 * d + 0.73 * d**2 + 0.013 * np.cos(2 * np.pi * solar_hour / 24) + 0.00012 * (pressure_hpa - 1000)
    return clear + (1 - clear) * cover * np.exp(-2 / 8.2)


def pressure_at(elevation, sea_level_hpa):
    """Allen 1998, eq. 7, as a share of the pressure at sea level."""
    return sea_level_hpa * ((293 - 0.0065 * elevation) / 293) ** 5.26


def settles_at(dew_c):
    """Dew point, or the frost point of the same vapor below 0 °C, by MetPy's curves."""
    if dew_c > 0:
        return dew_c
    in_air = vapor.over_water(dew_c)
    return brentq(lambda t: vapor.over_ice(t) - in_air, dew_c - 1, 5)


def dry_sheet(reflectance, emittance, sun, air, sky, convection):
    """ASTM E1980, eq. 1; °C."""
    def balance(t):
        radiated = emittance * Stefan_Boltzmann * ((t + 273.15) ** 4 - (sky + 273.15) ** 4)
        return radiated + convection * (t - air) - (1 - reflectance) * sun
    return brentq(balance, -120, 150, xtol=1e-9)


def wet_loss(reflectance, emittance, sun, air, sky, convection, dew, pressure):
    """mm/h that leave a wet sheet: the whole balance of sun, sky, air and latent heat."""
    in_air = vapor.over_water(min(dew, air))
    transfer = convection * 0.622 / (1013.0 * pressure * 0.85 ** (2 / 3))

    def balance(t):
        flux = transfer * (vapor.over_film(t) - in_air)
        latent = 2.501e6 - 2361.0 * t + 333_600.0 * min(max(-t / 2.0, 0.0), 1.0)
        radiated = emittance * Stefan_Boltzmann * ((t + 273.15) ** 4 - (sky + 273.15) ** 4)
        return radiated + convection * (t - air) + latent * flux - (1 - reflectance) * sun

    t = brentq(balance, -85, 105, xtol=1e-9)
    return 3600 * transfer * (vapor.over_film(t) - in_air)


# ---- a day --------------------------------------------------------------------------------------


def minutes_of(name, date, place):
    """Everything but the sheet, one row a minute from the run-up to the end of the shift."""
    start, end = shift(date, place)
    hours = pd.read_csv(HERE / f"{name}.csv", parse_dates=["time"]).set_index("time")
    # What holds at an instant runs straight between the hours; one missing hour is bridged.
    at = pd.date_range(start - timedelta(hours=RUN_UP_HOURS), end, freq="1min", inclusive="left")
    day = pd.DataFrame(index=at)
    for column in ("air_c", "dew_point_c", "wind_m_s", "cloud_pct"):
        value = hours[column].dropna()
        gaps = value.index.to_series().diff().max()
        assert gaps <= timedelta(hours=2), f"{name}: {column} has a gap of {gaps}"
        day[column] = np.interp(at.astype("int64"), value.index.astype("int64"), value)
    if hours["surface_pressure_hpa"].notna().all():
        pressure = hours["surface_pressure_hpa"]
    else:
        pressure = pressure_at(place["elevation"], hours["sea_level_pressure_hpa"].dropna())
    day["pressure"] = np.interp(at.astype("int64"), pressure.index.astype("int64"), pressure)

    where = (place["latitude"], place["longitude"], place["elevation"])
    def sun_at(times):
        sun = pvlib.solarposition.spa_python(times, *where)
        clear = pvlib.clearsky.haurwitz(sun["zenith"])["ghi"]
        return sun, clear
    sun, clear = sun_at(at)
    day["elevation"] = sun["elevation"]
    hour_utc = at.hour + at.minute / 60
    day["solar_hour"] = (hour_utc + place["longitude"] / 15 + sun["equation_of_time"].to_numpy() / 60) % 24

    floor = at.floor("h")
    mean = hours["shortwave_w_m2"].reindex(floor).to_numpy()
    fine = pd.date_range(floor[0], floor[-1] + timedelta(hours=1), freq="1min", inclusive="left") + timedelta(seconds=30)
    clear_mean = sun_at(fine)[1].groupby(fine.floor("h")).mean().reindex(floor).to_numpy()
    with np.errstate(divide="ignore", invalid="ignore"):
        shaped = np.where(clear_mean > 0, mean * clear.to_numpy() / clear_mean, 0.0)
    # More than twice the clear sky is twilight, which the clear sky leaves out: level over the hour.
    shaped = np.where(mean > 2 * clear_mean, mean, shaped)
    dimmed = clear.to_numpy() * kasten_czeplak(day["cloud_pct"].to_numpy() * 8 / 100)
    day["sun"] = np.where(np.isnan(mean), dimmed, shaped)

    emissivity = sky_emissivity(day["dew_point_c"], day["solar_hour"], day["pressure"], day["cloud_pct"] / 100)
    day["sky_c"] = (day["air_c"] + 273.15) * emissivity**0.25 - 273.15
    day["convection"] = 4 + 2.6 * day["wind_m_s"]
    day["settles_at"] = [settles_at(dew) for dew in day["dew_point_c"]]
    humidity = np.minimum(100, 100 * np.array([vapor.over_water(d) / vapor.over_water(t) for d, t in zip(day["dew_point_c"], day["air_c"])]))
    felt = mpcalc.heat_index(units.Quantity(day["air_c"].to_numpy(), "degC"), units.Quantity(humidity, "percent"), mask_undefined=False)
    day["felt_f"] = felt.to("degF").m
    day["rain"] = hours["rain_mm"].reindex(floor).to_numpy()
    day["hour_wind"] = hours["wind_m_s"].reindex(floor).to_numpy()
    return day, start


def on_sheet(day, optics):
    """Sheet temperature and film, °C and mm, one value a minute."""
    sheet, film, depth = [], [], 0.0
    for row in day.itertuples():
        sheet.append(dry_sheet(*optics, row.sun, row.air_c, row.sky_c, row.convection))
        film.append(depth)  # at the beginning of the minute
        loss = wet_loss(*optics, row.sun, row.air_c, row.sky_c, row.convection, row.dew_point_c, row.pressure)
        depth = min(max(depth + (row.rain - loss) / 60, 0.0), HOLDS_MM)
    return np.array(sheet), np.array(film)


MPH = 0.44704


def rules(day, sheet, film):
    """Minutes of each rule of docs/method.md, with the default thresholds of a US site."""
    rain = day["rain"].to_numpy() >= 0.01 * 25.4 - 1e-9
    wet = (film > WIPE_MM) & ~rain
    near = (sheet - day["settles_at"].to_numpy() < 5.4 / 1.8) & ~wet & ~rain
    blow = day["hour_wind"].to_numpy()
    stop = blow >= 40 * MPH - 1e-9
    gust = (blow >= 25 * MPH - 1e-9) & ~stop
    shield = (day["wind_m_s"].to_numpy() >= 20 * MPH - 1e-9) & ~gust & ~stop
    cold = day["air_c"].to_numpy() < (40 - 32) / 1.8 - 1e-9
    heat = day["felt_f"].to_numpy() >= 90
    dark = day["elevation"].to_numpy() < -6
    hold = rain | wet | stop
    care = (near | cold | gust | shield | heat | dark) & ~hold
    names = dict(rain=rain, wet=wet, wind_stop=stop, dew=near, cold=cold, gust=gust, shield=shield, heat=heat, dark=dark, hold=hold, care=care)
    return {name: int(flags.sum()) for name, flags in names.items()}


def main():
    sheets, films, judged = [], [], []
    for name, date, place in DAYS:
        day, start = minutes_of(name, date, place)
        in_shift = day.index >= start
        for color, optics in COLORS.items():
            sheet, film = on_sheet(day, optics)
            for at, row, t in zip(day.index, day.itertuples(), sheet):
                if at.minute == 0 and at >= start:
                    sheets.append([name, color, at.strftime("%Y-%m-%dT%H:%M:%SZ"), f"{row.sun:.2f}", f"{row.sky_c:.3f}", f"{t:.3f}"])
            for at, depth in zip(day.index, film):
                if at.minute % 30 == 0:
                    films.append([name, color, at.strftime("%Y-%m-%dT%H:%M:%SZ"), f"{depth:.4f}"])
            wet = film[in_shift] > WIPE_MM
            dry_from = ""
            if wet[0] and not wet.all():
                dry_from = day.index[in_shift][int(np.argmin(wet))].strftime("%Y-%m-%dT%H:%M:%SZ")
            minutes = rules(day[in_shift], sheet[in_shift], film[in_shift])
            judged.append([name, color, int(wet[0]), dry_from, *minutes.values()])
            print(name, color, f"{sheet[in_shift].min():.1f}..{sheet[in_shift].max():.1f}", dry_from, minutes, flush=True)
    write("sheet", "day,color,time,sun_w_m2,sky_c,sheet_c", sheets)
    write("film", "day,color,time,depth_mm", films)
    write("rules", "day,color,wet_at_start,dry_from,rain,wet,wind_stop,dew,cold,gust,shield,heat,dark,hold,care", judged)
    places = [[n, d, p["latitude"], p["longitude"], p["elevation"], p["zone"], *SHIFT] for n, d, p in DAYS]
    write("days", "day,date,latitude_deg,longitude_deg,elevation_m,zone,start,end", places)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--cut"]:
        cut(sys.argv[2])
    main()
