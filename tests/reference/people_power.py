"""Independent tables for hot air on a sheet, people, cords and forecast error.

Run from the root of the clone, in an environment of tests/reference/people_power.requirements.txt:

    python tests/reference/people_power.py

It writes the CSV files named in OUTPUTS under tests/fixtures/reference/. Nothing here calls the
program under test. The tests read the committed CSV files, so they run without Python.
"""

import csv
import pathlib

import metpy.calc
import numpy as np
from metpy.units import units
from scipy import integrate, optimize, special, stats

SEED = 20130409
OUT = pathlib.Path("tests/fixtures/reference")
OUTPUTS = ("erfcx", "hot_air", "slab", "cord_load", "heat_index_metpy", "wind_chill_metpy", "change_chance", "bivariate_change")


def write(name, header, rows):
    assert name in OUTPUTS
    with open(OUT / f"{name}.csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows([f"{value:.15g}" if isinstance(value, float) else value for value in row] for row in rows)


def erfcx(rng):
    """Scaled complementary error function, 0 to 10 in steps of 0.05, then random up to 1e6."""
    points = np.concatenate([np.arange(0, 10.0001, 0.05), 10 ** rng.uniform(-6, 6, 200)])
    write("erfcx", ["x", "erfcx"], [(float(x), float(special.erfcx(x))) for x in points])


def hot_air(rng):
    """Semi-infinite solid under convection, without the erfc form under test.

    The Laplace image of theta, (h/k) exp(-q x) / (p (q + h/k)) with q = sqrt(p/alpha), is
    inverted numerically on Talbot's contour.
    """
    rows = []
    for _ in range(120):
        k = rng.uniform(0.1, 0.3)
        rho_cp = rng.uniform(1.2e6, 3e6)
        h = rng.uniform(25, 400)
        t = rng.uniform(0.1, 5)
        x = float(rng.choice([0.0, rng.uniform(0, 1e-3)]))
        alpha = k / rho_cp
        rows.append((k, rho_cp, h, t, x, talbot(lambda p: image(p, x, h, k, alpha), t)))
    write("hot_air", ["conductivity_w_mk", "heat_capacity_j_m3k", "film_w_m2k", "seconds", "depth_m", "theta"], rows)


def image(p, x, h, k, alpha):
    """Laplace image of theta at depth x."""
    q = np.sqrt(p / alpha)
    return (h / k) * np.exp(-q * x) / (p * (q + h / k))


def talbot(image_of, t, n=40):
    """Fixed Talbot inversion of a Laplace image (Abate and Valko 2004)."""
    r = 2 * n / (5 * t)
    total = 0.5 * image_of(complex(r)) * np.exp(r * t)
    for step in range(1, n):
        angle = step * np.pi / n
        cot = 1 / np.tan(angle)
        p = r * angle * (cot + 1j)
        sigma = angle + (angle * cot - 1) * cot
        total += np.exp(t * p) * image_of(p) * (1 + 1j * sigma)
    return float((r / n * total).real)


def slab():
    """Face of a slab with an insulated back: eigenvalue series, roots of z tan z = Bi by brentq."""
    rows = []
    k, rho_cp, h = 0.17, 1300.0 * 1500.0, 285.0
    alpha = k / rho_cp
    for thickness in (0.0011, 0.0015, 0.002):
        biot = h * thickness / k
        roots = [optimize.brentq(lambda z: z * np.sin(z) - biot * np.cos(z), i * np.pi + 1e-12, i * np.pi + np.pi / 2) for i in range(400)]
        for seconds in (0.2, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 8.0):
            fourier = alpha * seconds / thickness**2
            left = sum(4 * np.sin(z) / (2 * z + np.sin(2 * z)) * np.exp(-(z**2) * fourier) * np.cos(z) for z in roots)
            rows.append((thickness, k, rho_cp, h, seconds, float(1 - left)))
    write("slab", ["thickness_m", "conductivity_w_mk", "heat_capacity_j_m3k", "film_w_m2k", "seconds", "theta_face"], rows)


def cord_load(rng):
    """Two-wire loop solved by nodal analysis (three unknown node voltages), not by the divider."""
    rows = []
    for _ in range(100):
        rated_watts, rated_volts = rng.uniform(1000, 6000), float(rng.choice([120, 208, 230, 240]))
        supply = rated_volts * rng.uniform(0.9, 1.05)
        one_way = rng.uniform(0.01, 0.6)
        load = rated_volts**2 / rated_watts
        g, y = 1 / one_way, 1 / load
        # Nodes: 1 far end of the live wire, 2 far end of the neutral wire, against ground.
        nodes = np.linalg.solve(np.array([[g + y, -y], [-y, g + y]]), np.array([g * supply, 0.0]))
        volts = float(nodes[0] - nodes[1])
        rows.append((rated_watts, rated_volts, supply, one_way, volts / load, supply - volts, volts, volts**2 / load))
    write("cord_load", ["rated_watts", "rated_volts", "supply_volts", "one_way_ohms", "amps", "drop_volts", "welder_volts", "welder_watts"], rows)


def heat_index_metpy():
    """MetPy's heat index, 20 to 125 F and 0 to 100 %."""
    rows = []
    for air in range(20, 126, 3):
        for humidity in range(0, 101, 5):
            value = metpy.calc.heat_index(units.Quantity(float(air), "degF"), units.Quantity(humidity, "percent"), mask_undefined=False)
            rows.append((air, humidity, float(np.ravel(value.to("degF").magnitude)[0])))
    write("heat_index_metpy", ["air_f", "humidity_pct", "heat_index_f"], rows)


def wind_chill_metpy():
    """MetPy's wind chill, -50 to 50 F and 4 to 80 mph."""
    rows = []
    for air in range(-50, 51, 5):
        for mph in range(4, 81, 4):
            value = metpy.calc.windchill(units.Quantity(float(air), "degF"), units.Quantity(float(mph), "mph"), face_level_winds=False, mask_undefined=False)
            rows.append((air, mph, float(np.ravel(value.to("degF").magnitude)[0])))
    write("wind_chill_metpy", ["air_f", "wind_mph", "wind_chill_f"], rows)


def change_chance(rng):
    """P(|N(mean, sigma)| >= limit) by numerical integration of the density."""
    rows = []
    for _ in range(150):
        mean, sigma, limit = rng.uniform(-20, 20), rng.uniform(0.3, 6), rng.uniform(1, 15)
        edges = (-limit, limit)
        inside = integrate.quad(stats.norm(mean, sigma).pdf, *edges, points=[min(max(mean, -limit), limit)], epsabs=1e-13, limit=200)[0]
        rows.append((mean, sigma, limit, float(1 - inside)))
    write("change_chance", ["mean", "sigma", "limit", "chance"], rows)


def bivariate_change(rng):
    """Spread of the difference of two correlated errors, from the 2 x 2 covariance matrix."""
    rows = []
    for _ in range(60):
        a, b, rho = rng.uniform(1, 7), rng.uniform(1, 7), rng.uniform(0, 1)
        covariance = np.array([[a * a, rho * a * b], [rho * a * b, b * b]])
        weights = np.array([-1.0, 1.0])
        rows.append((a, b, rho, float(np.sqrt(weights @ covariance @ weights))))
    write("bivariate_change", ["sigma_a", "sigma_b", "rho", "sigma_change"], rows)


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(SEED)
    erfcx(rng)
    hot_air(rng)
    slab()
    cord_load(rng)
    heat_index_metpy()
    wind_chill_metpy()
    change_chance(rng)
    bivariate_change(rng)


if __name__ == "__main__":
    main()
