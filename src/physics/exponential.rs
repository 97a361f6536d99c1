//! The exponential and the logarithm, in steps that can be taken for several numbers at once.
//!
//! The system's own cannot be, and differ from system to system in their last digit.

use super::lanes::Lanes;

/// ln 2 in two parts: the first short enough that any whole multiple used here is exact.
const LN_2_HIGH: f64 = 0.693_147_180_369_123_8;
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// Added to a number and taken off again, it leaves the nearest whole one.
const TO_WHOLE: f64 = 6_755_399_441_055_744.0;
/// 1/n! from n = 2 on.
const TERMS: [f64; 12] = [
    1.0 / 2.0,
    1.0 / 6.0,
    1.0 / 24.0,
    1.0 / 120.0,
    1.0 / 720.0,
    1.0 / 5040.0,
    1.0 / 40_320.0,
    1.0 / 362_880.0,
    1.0 / 3_628_800.0,
    1.0 / 39_916_800.0,
    1.0 / 479_001_600.0,
    1.0 / 6_227_020_800.0,
];

/// 1/(2 n + 1) from n = 1 on.
const ODD_INVERSES: [f64; 10] = [
    1.0 / 3.0,
    1.0 / 5.0,
    1.0 / 7.0,
    1.0 / 9.0,
    1.0 / 11.0,
    1.0 / 13.0,
    1.0 / 15.0,
    1.0 / 17.0,
    1.0 / 19.0,
    1.0 / 21.0,
];

/// The whole number that is nearest, for numbers far from 2^52.
#[inline(always)]
pub(super) fn nearest_whole<L: Lanes>(x: L) -> L {
    x + TO_WHOLE - TO_WHOLE
}

/// e to the power of `x`, to the last digit or the one before; for `x` from -700 to 700.
///
/// What is not a number stays none. Beyond the range the result has no meaning.
#[inline(always)]
pub(super) fn exp<L: Lanes>(x: L) -> L {
    // x = k ln 2 + r, so that r is at most ln 2 / 2 and its series short.
    let shifted = x * std::f64::consts::LOG2_E + TO_WHOLE;
    let k = shifted - TO_WHOLE;
    let r = (x - k * LN_2_HIGH) - k * LN_2_LOW;
    let (r2, [c2, c3, c4, c5, c6, c7, c8, c9, c10, c11, c12, c13]) = (r * r, TERMS);
    let r4 = r2 * r2;
    let low = (r * c3 + c2) + (r * c5 + c4) * r2;
    let middle = (r * c7 + c6) + (r * c9 + c8) * r2;
    let high = (r * c11 + c10) + (r * c13 + c12) * r2;
    let series = (r + r2 * ((low + middle * r4) + high * (r4 * r4))) + 1.0;
    // The whole part stands in the last bits of what was shifted.
    series * shifted.power_of_last_bits()
}

/// The natural logarithm of `x`, to the last digits; for `x` above 0 that is not smaller than the
/// smallest normal number.
///
/// The series of the area tangent: Abramowitz1964, 4.1.27.
#[inline(always)]
pub(super) fn ln<L: Lanes>(x: L) -> L {
    let (share, exponent) = x.share_and_exponent();
    // From the root of a half to the root of two, so that the series is short.
    let large = share.all(std::f64::consts::SQRT_2).below(share);
    let m = L::pick(large, share * 0.5, share);
    let k = L::pick(large, exponent + 1.0, exponent);
    let s = (m - 1.0) / (m + 1.0);
    let s2 = s * s;
    let mut series = s2 * ODD_INVERSES[ODD_INVERSES.len() - 1];
    for inverse in ODD_INVERSES[..ODD_INVERSES.len() - 1].iter().rev() {
        series = (series + *inverse) * s2;
    }
    let of_share = (s + s * series) * 2.0;
    k * LN_2_HIGH + (of_share + k * LN_2_LOW)
}

/// e to the power of one number `x` from -700 to 700, as the balances of the sheet take it.
pub fn exp_of(x: f64) -> f64 {
    exp(x)
}

/// The natural logarithm of one normal number `x` above 0, as they take it.
pub fn ln_of(x: f64) -> f64 {
    ln(x)
}
