//! The one root search of this room: where an energy balance closes.

/// Steps after which the search ends; bisection alone narrows 200 K to 1e-13 K in fewer.
const MOST_STEPS: u32 = 60;
/// Close enough, in kelvin.
const CLOSE_K: f64 = 1e-9;
/// A Newton step after which a smooth balance is close enough: a twentieth of its square.
const SHORT_STEP_K: f64 = 1e-4;

/// The zeros of `N` increasing functions, each between its `low` and `high`, by Newton's method kept
/// inside a shrinking bracket. Each search goes its own way and ends where it would alone, to the
/// last digit.
///
/// `gain` takes the number of the function and returns value and slope. A Newton step that leaves
/// the bracket, or a slope that is not positive, is replaced by halving, so that every search ends.
/// `low` and `high` must be finite and enclose the zero; where they do not, the nearer end comes
/// back.
///
/// `is_smooth` says whether no kink lies between two temperatures and the curvature there is at
/// most a tenth of the slope, per kelvin: then what a short Newton step leaves is a twentieth of its
/// square, and no further step is needed to see that it is close enough.
///
/// Written in loops without branches, which the compiler turns into vector instructions.
#[inline(always)]
pub(super) fn zeros_of_increasing<const N: usize>(
    mut low: [f64; N],
    mut high: [f64; N],
    start: [f64; N],
    gain: impl Fn(usize, f64) -> (f64, f64),
    is_smooth: impl Fn(f64, f64) -> bool,
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
            let inside = (newton >= from) & (newton <= to);
            let next = if inside { newton } else { half };
            let enough = if inside & is_smooth(at[n], next) { SHORT_STEP_K } else { CLOSE_K };
            let is_open = open[n];
            open[n] = if (next - at[n]).abs() <= enough { 0.0 } else { is_open };
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

    /// One function of which nothing is known.
    fn zero(low: f64, high: f64, start: f64, gain: impl Fn(f64) -> (f64, f64)) -> f64 {
        let [zero] = zeros_of_increasing([low], [high], [start], |_, at| gain(at), |_, _| false);
        zero
    }

    #[test]
    fn many_at_once_end_where_each_would_alone() {
        let gain = |n: usize, x: f64| (x * x * x - n as f64 - 0.3, 3.0 * x * x);
        let starts: [f64; 12] = std::array::from_fn(|n| 0.2 * n as f64);
        let all = zeros_of_increasing([-3.0; 12], [4.0; 12], starts, gain, |_, _| false);
        for (n, found) in all.into_iter().enumerate() {
            assert_eq!(found, zero(-3.0, 4.0, starts[n], |x| gain(n, x)), "{n}");
            assert!((found - (n as f64 + 0.3).cbrt()).abs() < 1e-9, "{n}");
        }
    }

    #[test]
    fn a_short_step_of_a_smooth_function_is_close_enough() {
        // Curvature over slope 0.1 per unit everywhere: exp(x / 10).
        let gain = |_, x: f64| ((x / 10.0).exp() - 1.5, (x / 10.0).exp() / 10.0);
        let root = 10.0 * 1.5_f64.ln();
        for start in [root + 1e-4, root - 0.0447, root + 0.0447, root - 3.0] {
            let [zero] = zeros_of_increasing([-20.0], [30.0], [start], gain, |_, _| true);
            assert!((zero - root).abs() <= CLOSE_K, "from {start}: {zero}");
        }
    }

    #[test]
    fn finds_the_zero_from_any_start_and_over_a_kink() {
        for start in [-1e9, -3.0, 0.0, 1.9, 7.0, f64::NAN] {
            let root = zero(-10.0, 10.0, start, |x| (x * x * x - 8.0, 3.0 * x * x));
            assert!((root - 2.0).abs() < 1e-8, "from {start}: {root}");
        }
        let kinked = |x: f64| if x < 1.0 { (x - 1.5, 1.0) } else { (100.0 * (x - 1.0), 100.0) };
        assert!((zero(-10.0, 10.0, 5.0, kinked) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_zero_outside_the_bracket_gives_the_nearer_end() {
        let line = |x: f64| (x - 5.0, 1.0);
        assert!((zero(0.0, 1.0, 0.5, line) - 1.0).abs() < 1e-6);
        assert!((zero(6.0, 9.0, 7.0, line) - 6.0).abs() < 1e-6);
    }
}
