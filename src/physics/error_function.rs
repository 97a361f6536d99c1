//! The error function's relatives: for heat soaking into a solid, and for chances.
//!
//! `libm` supplies `erfc` and `exp`, so that every machine gets the same bits.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// From here on the continued fraction is used: `exp(x²)` loses digits as `x²` grows.
const FRACTION_FROM: f64 = 5.0;
/// Depth of the continued fraction; at `x = 5` half of it already gives every digit of an `f64`.
const FRACTION_DEPTH: u32 = 60;
/// Smallest chance for which the quantile is solved: below it the density is no longer a number.
const SMALLEST_CHANCE: f64 = 1e-300;
/// A handful of Newton's steps is usual; a chance of 1e-300 takes some 700.
const NEWTON_STEPS: u32 = 1000;

/// The scaled complementary error function, `exp(x²)·erfc(x)`; no unit.
///
/// Falls from 1 at 0 toward 0; never overflows for `x` ≥ 0. Below 0 it grows without bound and
/// is infinite below about −26.6. NaN in, NaN out.
///
/// Source: Abramowitz1964, eq. 7.1.2 below 5, the continued fraction 7.1.14 above. Within 1e-14
/// of an independent table from 0 to 1e6 (tested).
pub fn erfcx(x: f64) -> f64 {
    if x < FRACTION_FROM {
        return libm::exp(x * x) * libm::erfc(x);
    }
    let tail = (1..=FRACTION_DEPTH).rev().fold(x, |below, n| x + f64::from(n) / 2.0 / below);
    1.0 / (PI.sqrt() * tail)
}

/// The chance that a standard normal value is at most `x`, 0 to 1. NaN in, NaN out.
///
/// Source: Abramowitz1964, eq. 26.2.29.
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * libm::erfc(-x * FRAC_1_SQRT_2)
}

/// The value that a standard normal value stays under with the chance `p`.
///
/// Solves [`normal_cdf`] by Newton's method from the middle outwards, where it cannot overshoot.
/// `None` unless `p` is at least 1e-300 and below 1.
pub fn normal_quantile(p: f64) -> Option<f64> {
    if !(SMALLEST_CHANCE..1.0).contains(&p) {
        return None;
    }
    let tail = p.min(1.0 - p);
    let mut x = 0.0;
    for _ in 0..NEWTON_STEPS {
        let density = libm::exp(-x * x / 2.0) / (2.0 * PI).sqrt();
        let step = (normal_cdf(-x) - tail) / density;
        x += step;
        if step.abs() <= 1e-14 * (1.0 + x) {
            break;
        }
    }
    Some(if p < 0.5 { -x } else { x })
}
