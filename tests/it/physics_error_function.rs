//! The error function and the normal distribution, against printed tables and scipy.

use fairseam::physics::error_function::{erfcx, normal_cdf, normal_quantile};

use crate::number_table::rows;
use crate::proof::{Allowed, Proof};

const ERFCX: &str = include_str!("../fixtures/reference/erfcx.csv");

#[test]
fn erfcx_matches_printed_tables_and_scipy() {
    // (x, exp(x²)·erfc(x), allowed): Carslaw and Jaeger 1959, appendix II, from memory.
    const PRINTED: &[(f64, f64, f64)] =
        &[(0.5, 0.615_690, 1e-6), (1.0, 0.427_584, 1e-6), (2.0, 0.255_396, 1e-6), (0.0, 1.0, 0.0)];
    let mut printed = Proof::of(
        "heat/erfcx-printed",
        "exp(x²)·erfc(x)",
        "CarslawJaeger1959, appendix II; from memory",
        "values",
        Allowed::Each("the last printed digit"),
    );
    for &(x, expected, allowed) in PRINTED {
        printed.within(erfcx(x), expected, allowed, || format!("{x}"));
    }
    printed.done();
    let mut table = Proof::of(
        "heat/erfcx",
        "exp(x²)·erfc(x) over its range",
        "scipy 1.17.1, tests/reference/people_power.py",
        "values",
        Allowed::Relative(1e-14),
    );
    for [x, expected] in rows::<2>(ERFCX) {
        // The table is written to fifteen digits.
        table.near(erfcx(x), expected, || format!("{x}"));
    }
    table.done();
}

#[test]
fn erfcx_falls_and_stays_finite() {
    let mut last = erfcx(0.0);
    for step in 1..4000 {
        let here = erfcx(f64::from(step) / 200.0);
        assert!(here < last && here > 0.0, "at {}", f64::from(step) / 200.0);
        last = here;
    }
    // Where the two evaluations meet they agree to rounding.
    let (below, above) = (erfcx(5.0 - 1e-12), erfcx(5.0));
    assert!((below / above - 1.0).abs() < 1e-11, "{below} and {above}");
    // Far out it is 1/(x√π): Abramowitz and Stegun 7.1.23.
    assert!((erfcx(1e8) * 1e8 * std::f64::consts::PI.sqrt() - 1.0).abs() < 1e-12);
    assert!(erfcx(f64::NAN).is_nan());
    assert!(erfcx(f64::INFINITY).abs() < f64::EPSILON);
    assert!(erfcx(-30.0).is_infinite());
}

#[test]
fn the_normal_distribution_matches_printed_quantiles() {
    // (p, z): any table of the normal distribution, such as NIST's handbook, 1.3.6.7.1.
    const PRINTED: &[(f64, f64)] =
        &[(0.5, 0.0), (0.8413, 1.0), (0.975, 1.959_964), (0.995, 2.575_829), (0.05, -1.644_854)];
    let mut proof = Proof::of(
        "heat/normal-distribution",
        "The normal distribution, both ways",
        "printed tables, such as NistHandbook2012",
        "values",
        Allowed::Each("the last printed digit"),
    );
    for &(p, z) in PRINTED {
        proof.within(normal_quantile(p).unwrap(), z, 2e-4, || format!("{p}"));
        proof.within(normal_cdf(z), p, 5e-5, || format!("{z}"));
    }
    proof.done();
    for exponent in 1..300 {
        let p = 10_f64.powi(-exponent);
        let back = normal_cdf(normal_quantile(p).unwrap());
        assert!((back / p - 1.0).abs() < 1e-9, "{p:e} came back as {back:e}");
    }
    for p in [0.0, 1.0, -0.1, 1.1, 1e-301, f64::NAN] {
        assert_eq!(normal_quantile(p), None, "{p}");
    }
}
