//! The exponential, in steps that a compiler can take for several numbers at once.
//!
//! The system's own cannot be, and differs from system to system in its last digit.

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

/// e to the power of `x`, to the last digit or the one before; for `x` from -700 to 700.
///
/// What is not a number stays none. Beyond the range the result has no meaning.
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    // x = k ln 2 + r, so that r is at most ln 2 / 2 and its series short.
    let shifted = x * std::f64::consts::LOG2_E + TO_WHOLE;
    let k = shifted - TO_WHOLE;
    let r = (x - k * LN_2_HIGH) - k * LN_2_LOW;
    let (r2, [c2, c3, c4, c5, c6, c7, c8, c9, c10, c11, c12, c13]) = (r * r, TERMS);
    let r4 = r2 * r2;
    let low = (c2 + c3 * r) + (c4 + c5 * r) * r2;
    let middle = (c6 + c7 * r) + (c8 + c9 * r) * r2;
    let high = (c10 + c11 * r) + (c12 + c13 * r) * r2;
    let series = 1.0 + (r + r2 * ((low + middle * r4) + high * (r4 * r4)));
    // The whole part stands in the last bits of what was shifted: a power of two by its exponent.
    let power = f64::from_bits(shifted.to_bits().wrapping_shl(52).wrapping_add(1023 << 52));
    series * power
}
