"""Wet sheets by scipy and MetPy, grass and open water by pyet, and a night's film; see README.md."""

import numpy as np
import pandas as pd
import pyet
from scipy.constants import Stefan_Boltzmann
from scipy.optimize import brentq

import vapor
from sheet import sky_c
from table import SEED, write

AIR_HEAT, RATIO, LEWIS_FACTOR, FUSION = 1013.0, 0.622, 0.85 ** (2 / 3), 333_600.0


def latent_heat(celsius):
    frozen = min(max(-celsius / 2.0, 0.0), 1.0)
    return 2.501e6 - 2361.0 * celsius + FUSION * frozen


def wet(air, sky, dew, sun, pressure, convection, reflectance, emittance):
    """Temperature of a wet sheet in °C and the water that leaves it in mm/h."""
    in_air = vapor.over_water(min(dew, air))

    def flux(t):
        transfer = convection * RATIO / (AIR_HEAT * pressure * LEWIS_FACTOR)
        return transfer * (vapor.over_film(t) - in_air)

    def balance(t):
        radiated = emittance * Stefan_Boltzmann * ((t + 273.15) ** 4 - (sky + 273.15) ** 4)
        return radiated + convection * (t - air) + latent_heat(t) * flux(t) - (1 - reflectance) * sun

    t = brentq(balance, -85, 105, xtol=1e-11)
    return t, 3600 * flux(t)


def wet_sheets(rng):
    rows = []
    for _ in range(300):
        air = round(rng.uniform(-15, 40), 2)
        dew = round(air - rng.gamma(1.5, 5), 2)
        sky = round(air - rng.uniform(0, 25), 2)
        sun = 0.0 if rng.random() < 0.4 else round(rng.uniform(0, 1100), 1)
        pressure, convection = round(rng.uniform(750, 1040), 1), round(2.4 + rng.gamma(1.5, 8), 2)
        reflectance, emittance = round(rng.uniform(0.05, 0.9), 3), round(rng.uniform(0.8, 0.95), 3)
        terms = (air, sky, dew, sun, pressure, convection, reflectance, emittance)
        t, rate = wet(*terms)
        rows.append([*terms, f"{t:.6f}", f"{rate:.8f}"])
    write(
        "wet_sheet",
        "air_c,sky_c,dew_point_c,shortwave_w_m2,pressure_hpa,convection_w_m2_k,reflectance,emittance,sheet_c,evaporation_mm_per_h",
        rows,
    )


def grass_and_water(rng):
    rows = []
    for _ in range(200):
        air, humidity = round(rng.uniform(2, 38), 2), round(rng.uniform(15, 95), 1)
        wind, net, pressure = round(rng.uniform(0.5, 8), 2), round(rng.uniform(2, 22), 2), round(rng.uniform(80, 103), 2)
        index = pd.DatetimeIndex(["2013-04-09"])
        series = lambda value: pd.Series([value], index=index)
        weather = dict(wind=series(wind), rn=series(net), rh=series(humidity), pressure=series(pressure))
        grass = pyet.pm_fao56(series(air), **weather).iloc[0]
        # Penman 1948's wind function in mm/d and kPa; pyet's default leaves out its factor 2.6.
        water = pyet.penman(series(air), aw=2.6, bw=1.4, **weather).iloc[0]
        rows.append([air, humidity, wind, net, pressure, f"{grass:.6f}", f"{water:.6f}"])
    write("pyet", "air_c,humidity_pct,wind_2m_m_s,net_mj_m2_d,pressure_kpa,grass_mm_d,water_mm_d", rows)


def nights(rng):
    """Films from 18 h to 12 h on white sheet, hour by hour weather, stepped by the minute.

    Weather is made up: a cosine day of the air, a steady dew point, wind and cloud of the night, a
    shower in some evenings, a sun that rises at six.
    """
    rows = []
    for night in range(8):
        middle, swing = rng.uniform(-2, 20), rng.uniform(4, 9)
        dew, wind_low, cover = middle - rng.uniform(1, 8), rng.uniform(0.2, 2.0), rng.choice([0, 20, 90])
        rain_hours = rng.integers(0, 4)
        depth, holds = 0.0, 0.3
        for hour in range(18):
            clock = (18 + hour) % 24
            air = round(middle + swing * np.cos(2 * np.pi * (clock - 15) / 24), 2)
            day = 6 <= clock < 18
            sun = round(800 * np.sin(np.pi * (clock + 0.5 - 6) / 12) * (1 - 0.6 * cover / 100), 1) if day else 0.0
            wind = round(wind_low + (2.0 if day else 0.0), 2)
            rain = 0.8 if 1 <= hour <= rain_hours else 0.0
            dew_now = round(min(dew, air), 2)
            sky = round(float(sky_c(air, dew_now, clock, 1000.0, cover)), 4)
            t, rate = wet(air, sky, dew_now, sun, 1000.0, 4 + 2.6 * wind, 0.83, 0.92)
            for _ in range(60):
                depth = min(max(depth + (rain - rate) / 60, 0.0), holds)
            rows.append([night, hour, air, dew_now, sky, sun, wind, rain, f"{depth:.6f}"])
    write("film_night", "night,hour,air_c,dew_point_c,sky_c,shortwave_w_m2,wind_m_s,rain_mm_per_h,depth_mm", rows)


if __name__ == "__main__":
    wet_sheets(np.random.default_rng(SEED))
    grass_and_water(np.random.default_rng(SEED + 1))
    nights(np.random.default_rng(SEED + 2))
