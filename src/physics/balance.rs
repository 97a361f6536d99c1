//! The one root search of this room: where an energy balance closes.

/// Steps after which the search ends; bisection alone narrows 200 K to 1e-13 K in fewer.
const MOST_STEPS: u32 = 60;
/// Close enough, in kelvin.
const CLOSE_K: f64 = 1e-9;

/// The zero of an increasing function between `low` and `high`, by Newton's method kept inside a
/// shrinking bracket.
///
/// `gain` returns the value and the slope. A Newton step that leaves the bracket, or a slope that
/// is not positive, is replaced by halving, so that the search always ends. `low` and `high` must
/// be finite and enclose the zero; where they do not, the nearer end comes back.
pub(super) fn zero_of_increasing(
    low: f64,
    high: f64,
    start: f64,
    gain: impl Fn(f64) -> (f64, f64),
) -> f64 {
    let (mut low, mut high) = (low, high);
    let mut at = if start > low && start < high { start } else { low.midpoint(high) };
    for _ in 0..MOST_STEPS {
        let (value, slope) = gain(at);
        if value > 0.0 {
            high = at;
        } else {
            low = at;
        }
        let newton = at - value / slope;
        let next = if newton >= low && newton <= high { newton } else { low.midpoint(high) };
        if (next - at).abs() <= CLOSE_K {
            return next;
        }
        at = next;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_zero_from_any_start_and_over_a_kink() {
        for start in [-1e9, -3.0, 0.0, 1.9, 7.0, f64::NAN] {
            let root = zero_of_increasing(-10.0, 10.0, start, |x| (x * x * x - 8.0, 3.0 * x * x));
            assert!((root - 2.0).abs() < 1e-8, "from {start}: {root}");
        }
        let kinked = |x: f64| if x < 1.0 { (x - 1.5, 1.0) } else { (100.0 * (x - 1.0), 100.0) };
        assert!((zero_of_increasing(-10.0, 10.0, 5.0, kinked) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_zero_outside_the_bracket_gives_the_nearer_end() {
        let line = |x: f64| (x - 5.0, 1.0);
        assert!((zero_of_increasing(0.0, 1.0, 0.5, line) - 1.0).abs() < 1e-6);
        assert!((zero_of_increasing(6.0, 9.0, 7.0, line) - 6.0).abs() < 1e-6);
    }
}
