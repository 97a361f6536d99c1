//! Sine and cosine, in steps that can be taken for several angles at once.

use super::exponential::nearest_whole;
use super::lanes::{Lanes, inlined};

const RADIANS_PER_DEGREE: f64 = std::f64::consts::PI / 180.0;

/// Sine and cosine of an angle in degrees, of at most a few thousand turns, within 1e-15.
#[inline(always)]
pub(super) fn sin_cos_of_degrees<L: Lanes>(degrees: L) -> (L, L) {
    // An eighth of a turn at most from the nearest quarter.
    let quarters = nearest_whole(degrees / 90.0);
    let (sin, cos) = sin_cos_of_eighth((degrees - quarters * 90.0) * RADIANS_PER_DEGREE);
    // 0 to 3.
    let quarter = quarters - nearest_whole(quarters * 0.25 - 0.375) * 4.0;
    let from = inlined(
        #[inline(always)]
        |least: f64| quarter.all(least).below(quarter),
    );
    let up_to = inlined(
        #[inline(always)]
        |most: f64| quarter.below(quarter.all(most)),
    );
    let (second, third, last) = (from(0.5) & up_to(1.5), from(1.5) & up_to(2.5), from(2.5));
    let (far, near) = (L::pick(second | last, cos, sin), L::pick(second | last, sin, cos));
    (L::pick(third | last, -far, far), L::pick(second | third, -near, near))
}

/// Sine and cosine of an angle of at most an eighth of a turn, by their series: Abramowitz1964,
/// 4.3.65 and 4.3.66.
#[inline(always)]
fn sin_cos_of_eighth<L: Lanes>(angle: L) -> (L, L) {
    let x2 = angle * angle;
    let less = inlined(
        #[inline(always)]
        |by: f64, rest: L| (x2 * by * rest).taken_from(1.0),
    );
    let one = x2.all(1.0);
    let sin = less(1.0 / 110.0, less(1.0 / 156.0, less(1.0 / 210.0, one)));
    let sin = less(1.0 / 6.0, less(1.0 / 20.0, less(1.0 / 42.0, less(1.0 / 72.0, sin))));
    let cos = less(1.0 / 132.0, less(1.0 / 182.0, less(1.0 / 240.0, one)));
    let cos = less(1.0 / 12.0, less(1.0 / 30.0, less(1.0 / 56.0, less(1.0 / 90.0, cos))));
    (angle * sin, less(1.0 / 2.0, cos))
}

/// Sine and cosine of an angle of at most a twentieth of a turn, in radians, by the same series:
/// what is left out comes to less than 1e-13.
#[inline(always)]
pub(super) fn sin_cos_of_small<L: Lanes>(angle: L) -> (L, L) {
    let x2 = angle * angle;
    let less = inlined(
        #[inline(always)]
        |by: f64, rest: L| (x2 * by * rest).taken_from(1.0),
    );
    let one = x2.all(1.0);
    let sin = less(1.0 / 6.0, less(1.0 / 20.0, less(1.0 / 42.0, less(1.0 / 72.0, one))));
    let of_cos = less(1.0 / 30.0, less(1.0 / 56.0, less(1.0 / 90.0, one)));
    (angle * sin, less(1.0 / 2.0, less(1.0 / 12.0, of_cos)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the musl project's sine and cosine.
    #[test]
    fn is_sine_and_cosine_all_around() {
        let mut degrees = -1100.0;
        while degrees < 1100.0 {
            let (sin, cos) = sin_cos_of_degrees(degrees);
            // Whole turns are taken off exactly, where a conversion to radians would round.
            let radians = (degrees % 360.0) * RADIANS_PER_DEGREE;
            assert!((sin - libm::sin(radians)).abs() < 2e-15, "{degrees}");
            assert!((cos - libm::cos(radians)).abs() < 2e-15, "{degrees}");
            degrees += 0.173;
        }
        for (degrees, sin, cos) in [(0.0, 0.0, 1.0), (90.0, 1.0, 0.0), (180.0, 0.0, -1.0)] {
            assert_eq!(sin_cos_of_degrees(degrees), (sin, cos), "{degrees}");
            assert_eq!(sin_cos_of_degrees(degrees - 360.0), (sin, cos), "{degrees}");
        }
    }

    #[test]
    fn a_small_angle_needs_fewer_terms() {
        let mut radians = -0.31;
        while radians < 0.31 {
            let (sin, cos) = sin_cos_of_small(radians);
            assert!((sin - libm::sin(radians)).abs() < 1e-13, "{radians}");
            assert!((cos - libm::cos(radians)).abs() < 1e-13, "{radians}");
            radians += 0.000_37;
        }
    }
}
