"""Vapor pressures, dew points, humidities and frost points by MetPy and scipy; see README.md."""

import metpy.calc as mpcalc
import numpy as np
from metpy.units import units
from scipy.optimize import brentq

import vapor
from table import SEED, write


def main(rng):
    rows = []
    for air, humidity in zip(rng.uniform(-40, 50, 300), rng.uniform(2, 100, 300)):
        air, humidity = round(air, 2), round(humidity, 1)
        quantity = units.Quantity(air, "degC")
        saturation = mpcalc.saturation_vapor_pressure(quantity, phase="liquid").to("hPa").m
        # MetPy's own dew point is the inverse of another curve (Bolton 1980), so invert this one.
        pressure = saturation * humidity / 100
        dew_point = brentq(lambda t: vapor.over_water(t) - pressure, -90, 60, xtol=1e-10)
        back = mpcalc.relative_humidity_from_dewpoint(quantity, units.Quantity(dew_point, "degC"), phase="liquid")
        assert abs(back.to("percent").m - humidity) < 1e-3
        bolton = mpcalc.dewpoint_from_relative_humidity(quantity, units.Quantity(humidity, "percent")).to("degC").m
        ice = frost_point = ""
        if air <= 0:
            ice = f"{mpcalc.saturation_vapor_pressure(quantity, phase='solid').to('hPa').m:.8g}"
        if dew_point < -0.1:
            frost_point = f"{brentq(lambda t: vapor.over_ice(t) - pressure, -90, 1, xtol=1e-10):.5f}"
        rows.append([air, humidity, f"{saturation:.8g}", ice, f"{dew_point:.5f}", f"{bolton:.5f}", frost_point])
    write(
        "humidity",
        "air_c,humidity_pct,saturation_hpa,saturation_ice_hpa,dew_point_c,dew_point_bolton_c,frost_point_c",
        rows,
    )


if __name__ == "__main__":
    main(np.random.default_rng(SEED))
