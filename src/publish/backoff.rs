//! How long something that failed is left alone.

use chrono::TimeDelta;

/// A minute, doubled with each failure in a row, a quarter of an hour at most.
///
/// A forecast's own services have their own pauses, in `weather`; this is how often they are reminded.
pub(super) fn after(failures: u32) -> TimeDelta {
    let doubled = 1_i64 << failures.saturating_sub(1).min(4);
    TimeDelta::minutes(doubled.min(15))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pauses_grow_and_end_at_a_quarter_of_an_hour() {
        let minutes: Vec<i64> = (0..8).map(|failures| after(failures).num_minutes()).collect();
        assert_eq!(minutes, [1, 1, 2, 4, 8, 15, 15, 15]);
    }
}
