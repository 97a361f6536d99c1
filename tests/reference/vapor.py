"""Vapor pressure over a film, by MetPy (Ambaum 2020), in hPa; shared by the scripts on water."""

import metpy.calc as mpcalc
import numpy as np
from metpy.units import units

_GRID_C = np.arange(-90.0, 110.0, 0.01)


def _curve(phase):
    return mpcalc.saturation_vapor_pressure(units.Quantity(_GRID_C, "degC"), phase=phase).to("hPa").m


# MetPy's unit checks cost a millisecond a call; a hundredth of a degree between points is exact to
# 1e-7 of the value when its logarithm is interpolated.
_LOG_LIQUID = np.log(_curve("liquid"))
_LOG_SOLID = np.log(_curve("solid"))


def over_water(celsius):
    return float(np.exp(np.interp(celsius, _GRID_C, _LOG_LIQUID)))


def over_ice(celsius):
    return float(np.exp(np.interp(celsius, _GRID_C, _LOG_SOLID)))


def over_film(celsius):
    return over_ice(celsius) if celsius < 0.0 else over_water(celsius)
