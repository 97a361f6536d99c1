//! The one root search of this room: where an energy balance closes.

use super::lanes::Lanes;

/// Steps after which the search ends; bisection alone narrows 200 K to 1e-13 K in fewer.
const MOST_STEPS: u32 = 60;
/// Close enough, in kelvin.
pub(super) const CLOSE_K: f64 = 1e-9;

/// A function at one point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bent<L> {
    pub(super) value: L,
    pub(super) slope: L,
    /// The second derivative; where it is not known well the search only takes longer.
    pub(super) curvature: L,
}

/// The zeros of increasing functions, as many as `N` times the lanes, each between its `low` and
/// `high`, by Halley's method kept inside a shrinking bracket. Each search goes its own way and ends
/// where it would alone, to the last digit.
///
/// A step that leaves the bracket is replaced by halving, so that every search ends. `low` and
/// `high` must be finite and enclose the zero; where they do not, the nearer end comes back.
///
/// `close_after` says, of a step from one temperature to another, how long it may be for what is
/// left to be close enough: the method leaves the cube of a step, times a number of the function. A
/// function of which nothing is known says [`CLOSE_K`].
#[inline(always)]
pub(super) fn zeros_of_increasing<L: Lanes, const N: usize>(
    mut low: [L; N],
    mut high: [L; N],
    start: [L; N],
    bent: impl Fn(usize, L) -> Bent<L>,
    close_after: impl Fn(L, L) -> L,
) -> [L; N] {
    let mut at = start;
    // 1 while a search goes on.
    let mut open = start;
    for n in 0..N {
        let inside = low[n].up_to(start[n]) & start[n].up_to(high[n]);
        at[n] = L::pick(inside, start[n], middle(low[n], high[n]));
        open[n] = start[n].all(1.0);
    }
    for _ in 0..MOST_STEPS {
        let mut is_open = false;
        for n in 0..N {
            let (here, zero) = (at[n], at[n].all(0.0));
            let Bent { value, slope, curvature } = bent(n, here);
            let is_high = zero.below(value);
            (low[n], high[n]) = (L::pick(is_high, low[n], here), L::pick(is_high, here, high[n]));
            let halley = here - value * slope * 2.0 / (slope * slope * 2.0 - value * curvature);
            let inside = low[n].up_to(halley) & halley.up_to(high[n]);
            let next = L::pick(inside, halley, middle(low[n], high[n]));
            let enough = L::pick(inside, close_after(here, next), here.all(CLOSE_K));
            let was_open = zero.below(open[n]);
            let is_close = (next - here).magnitude().up_to(enough);
            open[n] = L::pick(is_close, zero, open[n]);
            at[n] = L::pick(was_open, next, here);
            is_open |= L::any(zero.below(open[n]));
        }
        if !is_open {
            break;
        }
    }
    at
}

/// Halfway between two temperatures, which are far from any overflow.
#[inline(always)]
fn middle<L: Lanes>(low: L, high: L) -> L {
    (low + high) * 0.5
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One function of which nothing is known.
    fn zero(low: f64, high: f64, start: f64, bent: impl Fn(f64) -> Bent<f64>) -> f64 {
        let unknown = |_, _| CLOSE_K;
        let [zero] = zeros_of_increasing([low], [high], [start], |_, at| bent(at), unknown);
        zero
    }

    fn line(value: f64, slope: f64) -> Bent<f64> {
        Bent { value, slope, curvature: 0.0 }
    }

    fn cube_less(x: f64, value: f64) -> Bent<f64> {
        Bent { value: x * x * x - value, slope: 3.0 * x * x, curvature: 6.0 * x }
    }

    #[test]
    fn many_at_once_end_where_each_would_alone() {
        let bent = |n: usize, x: f64| cube_less(x, n as f64 + 0.3);
        let starts: [f64; 12] = std::array::from_fn(|n| 0.2 * n as f64);
        let all = zeros_of_increasing([-3.0; 12], [4.0; 12], starts, bent, |_, _| CLOSE_K);
        for (n, found) in all.into_iter().enumerate() {
            assert_eq!(found, zero(-3.0, 4.0, starts[n], |x| bent(n, x)), "{n}");
            assert!((found - (n as f64 + 0.3).cbrt()).abs() < 1e-9, "{n}");
        }
    }

    #[test]
    fn a_short_step_leaves_the_cube_of_it() {
        // Curvature over slope a tenth everywhere, so that a twelfth of a hundredth of the cube is
        // left.
        let bent = |_, x: f64| {
            let value = (x / 10.0).exp();
            Bent { value: value - 1.5, slope: value / 10.0, curvature: value / 100.0 }
        };
        let root = 10.0 * 1.5_f64.ln();
        let longest = (12.0 / 0.01 * CLOSE_K).cbrt();
        for start in [root + 0.99 * longest, root - 0.99 * longest, root + 2.0, root - 3.0] {
            let [zero] = zeros_of_increasing([-20.0], [30.0], [start], bent, |_, _| longest);
            assert!((zero - root).abs() <= CLOSE_K, "from {start}: {zero}");
        }
    }

    #[test]
    fn finds_the_zero_from_any_start_and_over_a_kink() {
        for start in [-1e9, -3.0, 0.0, 1.9, 7.0, f64::NAN] {
            let root = zero(-10.0, 10.0, start, |x| cube_less(x, 8.0));
            assert!((root - 2.0).abs() < 1e-8, "from {start}: {root}");
        }
        let kinked =
            |x: f64| if x < 1.0 { line(x - 1.5, 1.0) } else { line(100.0 * (x - 1.0), 100.0) };
        assert!((zero(-10.0, 10.0, 5.0, kinked) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_zero_outside_the_bracket_gives_the_nearer_end() {
        let line = |x: f64| line(x - 5.0, 1.0);
        assert!((zero(0.0, 1.0, 0.5, line) - 1.0).abs() < 1e-6);
        assert!((zero(6.0, 9.0, 7.0, line) - 6.0).abs() < 1e-6);
    }
}
