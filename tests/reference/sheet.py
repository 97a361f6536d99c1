"""Dry sheet temperatures: the root of the energy balance by scipy's brentq; see README.md."""

import numpy as np
from scipy.constants import Stefan_Boltzmann
from scipy.optimize import brentq

from table import SEED, write


def balance(kelvin, reflectance, emittance, sun, air, sky, convection):
    taken = (1 - reflectance) * sun
    return emittance * Stefan_Boltzmann * (kelvin**4 - sky**4) + convection * (kelvin - air) - taken


def root(*terms):
    return brentq(balance, 100, 900, args=terms, xtol=1e-12, rtol=1e-14)


def sky_c(air, dew_point, hour, pressure, cover):
    """Martin and Berdahl 1984 with cloud, written out on its own."""
    d = dew_point / 100
    clear = 0.711 + 0.56 * d + 0.73 * d**2 + 0.013 * np.cos(2 * np.pi * hour / 24) + 0.00012 * (pressure - 1000)
    emissivity = clear + 0.784 * (1 - clear) * cover / 100
    return (air + 273.15) * emissivity**0.25 - 273.15


def main(rng):
    rows = []
    for convection in (5, 12, 30):  # the standard conditions of ASTM E1980
        for reflectance, emittance in ((0.05, 0.9), (0.8, 0.9)):
            terms = (reflectance, emittance, 1000, 310, 300, convection)
            rows.append([36.85, 26.85, *terms[:3], convection, f"{root(*terms) - 273.15:.8f}"])
    for _ in range(300):
        air = round(rng.uniform(-40, 50), 2)
        sky = round(air - rng.uniform(0, 60), 2)
        terms = (
            round(rng.uniform(0, 1), 3), round(rng.uniform(0, 1), 3), round(rng.uniform(0, 1300), 1),
            air + 273.15, sky + 273.15, round(rng.uniform(1, 150), 2),
        )
        rows.append([air, sky, *terms[:3], terms[5], f"{root(*terms) - 273.15:.8f}"])
    write("sheet", "air_c,sky_c,reflectance,emittance,shortwave_w_m2,convection_w_m2_k,sheet_c", rows)

    rows = []
    for _ in range(200):
        air, dew = round(rng.uniform(-20, 45), 2), round(rng.uniform(-30, 28), 2)
        hour, pressure, cover = round(rng.uniform(0, 24), 2), round(rng.uniform(700, 1050), 1), round(rng.uniform(0, 100), 1)
        rows.append([air, dew, hour, pressure, cover, f"{sky_c(air, dew, hour, pressure, cover):.8f}"])
    write("sky", "air_c,dew_point_c,solar_hour,pressure_hpa,cloud_pct,sky_c", rows)


if __name__ == "__main__":
    main(np.random.default_rng(SEED))
