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
    let [zero] = zeros_of_increasing([low], [high], [start], |_, at| gain(at));
    zero
}

/// [`zero_of_increasing`] of `N` functions at once; each search goes its own way and ends where it
/// would alone, to the last digit. `gain` takes the number of the function.
///
/// Written in loops without branches, which the compiler turns into vector instructions.
#[inline(always)]
pub(super) fn zeros_of_increasing<const N: usize>(
    mut low: [f64; N],
    mut high: [f64; N],
    start: [f64; N],
    gain: impl Fn(usize, f64) -> (f64, f64),
) -> [f64; N] {
    let mut at = [0.0; N];
    for n in 0..N {
        let inside = start[n] > low[n] && start[n] < high[n];
        at[n] = if inside { start[n] } else { middle(low[n], high[n]) };
    }
    // 1 while a search goes on.
    let mut open = [1.0_f64; N];
    for _ in 0..MOST_STEPS {
        let (mut value, mut slope) = ([0.0; N], [0.0; N]);
        for n in 0..N {
            (value[n], slope[n]) = gain(n, at[n]);
        }
        for n in 0..N {
            let is_high = value[n] > 0.0;
            let (from, to) =
                (if is_high { low[n] } else { at[n] }, if is_high { at[n] } else { high[n] });
            (low[n], high[n]) = (from, to);
            let newton = at[n] - value[n] / slope[n];
            let half = middle(from, to);
            let next = if newton >= from { newton } else { half };
            let next = if newton <= to { next } else { half };
            let is_open = open[n];
            open[n] = if (next - at[n]).abs() <= CLOSE_K { 0.0 } else { is_open };
            at[n] = if is_open > 0.0 { next } else { at[n] };
        }
        if open.iter().sum::<f64>() <= 0.0 {
            break;
        }
    }
    at
}

/// Halfway between two temperatures, which are far from any overflow.
#[inline(always)]
fn middle(low: f64, high: f64) -> f64 {
    0.5 * (low + high)
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
