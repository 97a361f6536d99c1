"""Sun, vapor, sky and sheet on whole arrays, for outlook_numpy.py: tuned, and by the libraries.

Written from docs/physics.md; it shares no code with the program. NaN is an unknown value.
"""

import metpy.calc as mpcalc
import numpy as np
import pandas as pd
import pvlib
from metpy.units import units
from scipy.constants import Stefan_Boltzmann

WATER, ICE = (6.1094, 17.625, 243.04), (6.1121, 22.587, 273.86)  # Alduchov and Eskridge 1996
CLOSE_K = 1e-9


class Tuned:
    """The sun by one position a day, vapor by one exponential: what a second look makes of it."""

    @staticmethod
    def sun_over(sun, place, second):
        return sun.over(place, second)

    @staticmethod
    def clear_sky(sin_elevation):
        """Haurwitz 1945, as pvlib has it, from the sine at hand."""
        up = np.maximum(sin_elevation, 1e-9)
        return np.where(sin_elevation > 0, 1098.0 * up * np.exp(-0.059 / up), 0.0)

    @staticmethod
    def over_water(t):
        return magnus(WATER, t)

    @staticmethod
    def over_film(t):
        """Saturation over a film and its slope: over ice below the crossing of the two curves."""
        frozen = t < -0.0444
        e0, a, b = (np.where(frozen, ice, water) for ice, water in zip(ICE, WATER))
        hpa = e0 * np.exp(a * t / (t + b))
        return hpa, hpa * a * b / (t + b) ** 2


class Library:
    """The libraries' own functions wherever they have one, as a first version calls them."""

    @staticmethod
    def sun_over(sun, place, second):
        times = sun.first + pd.to_timedelta(second.ravel(), unit="s")
        seen = pvlib.solarposition.spa_python(
            times, place.latitude_deg, place.longitude_deg, altitude=place.elevation_m)
        share = (second % 86_400) / 86_400.0
        lead = seen["equation_of_time"].to_numpy().reshape(second.shape) / 4
        angle = np.radians(place.longitude_deg + 360.0 * share + lead - 180.0)
        return np.sin(np.radians(seen["elevation"].to_numpy())).reshape(second.shape), np.cos(angle)

    @staticmethod
    def clear_sky(sin_elevation):
        zenith = pd.Series(np.degrees(np.arccos(sin_elevation.ravel())))
        return pvlib.clearsky.haurwitz(zenith)["ghi"].to_numpy().reshape(sin_elevation.shape)

    @staticmethod
    def over_water(t):
        return mpcalc.saturation_vapor_pressure(units.Quantity(t, "degC"), phase="liquid").m_as("hPa")

    @staticmethod
    def over_film(t):
        hpa = mpcalc.saturation_vapor_pressure(units.Quantity(t, "degC"), phase="auto").m_as("hPa")
        # The slope only steers the search.
        a, b = WATER[1:]
        return hpa, hpa * a * b / (t + b) ** 2


def magnus(curve, t):
    return curve[0] * np.exp(curve[1] * t / (t + curve[2]))


def sky_kelvin(air_k, dew_c, cos_hour, hpa, cloud_pct):
    """Martin and Berdahl 1984, opaque cloud with its base at 2 km."""
    d = np.maximum(dew_c, -38.0) / 100
    clear = np.minimum(0.711 + 0.56 * d + 0.73 * d * d - 0.013 * cos_hour + 0.00012 * (hpa - 1000), 1)
    return air_k * np.sqrt(np.sqrt(clear + 0.784 * (1 - clear) * cloud_pct / 100))


def dry_sheet(optics, sun, air_k, sky_k, convection):
    """ASTM E1980, eq. 1, in kelvin, by Newton's method on whole arrays."""
    radiative = optics[1] * Stefan_Boltzmann
    gained = (1 - optics[0]) * sun + radiative * sky_k**4 + convection * air_k
    t = air_k.copy()
    for _ in range(20):
        cubed = radiative * t * t * t
        step = (cubed * t + convection * t - gained) / (4 * cubed + convection)
        t -= step
        if np.fmax.reduce(np.abs(step), axis=None, initial=0.0) <= CLOSE_K:
            break
    return t


def wet_loss(physics, optics, sun, air_c, sky_k, convection, dew_c, hpa):
    """mm/h that leave a wet sheet: sun, sky, air and latent heat in balance."""
    vapor = physics.over_water(np.minimum(dew_c, air_c))
    transfer = convection * (0.622 / (1013.0 * 0.8972)) / hpa
    radiative = optics[1] * Stefan_Boltzmann
    air_k = air_c + 273.15
    gained = (1 - optics[0]) * sun + radiative * sky_k**4
    # Penman's straight line to begin with.
    saturation = physics.over_water(air_c)
    slope = saturation * WATER[1] * WATER[2] / (air_c + WATER[2]) ** 2
    cubed = radiative * air_k**3
    heat = convection + 4 * cubed
    latent = 2.501e6 - 2361.0 * air_c
    psychrometric = 1013.0 * hpa / (0.622 * latent) * 0.8972 * heat / convection
    available = gained - cubed * air_k
    flux = (slope * available + heat * (saturation - vapor)) / (slope + psychrometric)
    t = air_c + (available - flux) / heat
    for _ in range(30):
        kelvin = t + 273.15
        cubed = radiative * kelvin * kelvin * kelvin
        hpa_film, slope = physics.over_film(t)
        latent = 2.501e6 - 2361.0 * t + 333_600.0 * np.clip(-t / 2, 0, 1)
        lost = cubed * kelvin + convection * (t - air_c) + latent * transfer * (hpa_film - vapor)
        step = (lost - gained) / (4 * cubed + convection + latent * transfer * slope)
        t -= step
        if np.fmax.reduce(np.abs(step), axis=None, initial=0.0) <= CLOSE_K:
            break
    return 3600 * transfer * (physics.over_film(t)[0] - vapor)
