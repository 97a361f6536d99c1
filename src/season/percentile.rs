//! Percentiles of what happened, without a number that never did.

/// The nearest-rank percentile of ascending values: the smallest of them that at least `percent` in
/// a hundred do not exceed.
///
/// It is always one of the values; nothing is interpolated. Source: HyndmanFan1996, definition 1.
/// `percent` from 0 to 100, 0 giving the smallest; `None` where there is no value or `percent` is
/// above 100.
///
/// ```
/// use fairseam::season::nearest_rank;
/// assert_eq!(nearest_rank(&[15, 20, 35, 40, 50], 30), Some(20));
/// ```
pub fn nearest_rank<T: Copy>(sorted: &[T], percent: usize) -> Option<T> {
    let rank = (sorted.len() * percent).div_ceil(100).max(1);
    sorted.get(rank - 1).copied()
}

/// One in ten, the middle, nine in ten.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread<T> {
    /// One in ten is this or less.
    pub p10: T,
    /// The middle.
    pub p50: T,
    /// Nine in ten are this or less.
    pub p90: T,
}

impl<T: Copy + Ord> Spread<T> {
    /// Of values in any order; `None` where there is none.
    pub fn of(mut values: Vec<T>) -> Option<Self> {
        values.sort_unstable();
        Some(Self {
            p10: nearest_rank(&values, 10)?,
            p50: nearest_rank(&values, 50)?,
            p90: nearest_rank(&values, 90)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_rank_is_one_of_the_values() {
        // By hand: rank = percent × count / 100, rounded up. The usual textbook example.
        let five = [15, 20, 35, 40, 50];
        for (percent, expected) in [(5, 15), (30, 20), (40, 20), (50, 35), (100, 50)] {
            assert_eq!(nearest_rank(&five, percent), Some(expected), "{percent}");
        }
        // Ten values: the first, the fifth, the ninth.
        let spread = Spread::of((1..=10).rev().collect());
        assert_eq!(spread, Some(Spread { p10: 1, p50: 5, p90: 9 }));
        // Eleven: ranks 1.1, 5.5 and 9.9, all rounded up.
        assert_eq!(Spread::of((1..=11).collect()), Some(Spread { p10: 2, p50: 6, p90: 10 }));
        assert_eq!(Spread::of(vec![7]), Some(Spread { p10: 7, p50: 7, p90: 7 }));
        assert_eq!(Spread::<u32>::of(Vec::new()), None);
        assert_eq!(nearest_rank(&five, 101), None);
        assert_eq!(nearest_rank(&five, 0), Some(15));
    }
}
