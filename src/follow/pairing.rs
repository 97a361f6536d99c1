//! Which checkpoint of a new plan is which of the published ones.
//!
//! A plan numbers its weather-driven checkpoints from the first, so that one that falls away would
//! rename all that follow, and every phone would ring for nothing. So they are paired by time.

use chrono::{DateTime, Utc};

use super::published::Point;
use crate::plan::{CauseKind, Checkpoint};

/// What leaving a checkpoint without a partner costs, in minutes of distance: two that lie further
/// apart than twice this are one gone and one new.
const ALONE_MINUTES: i64 = 120;

/// What decides which checkpoints can be the same one.
#[derive(PartialEq, Eq)]
enum Family<'a> {
    /// Set by the clock: known by its id.
    Clock(&'a str),
    /// Air, sheet or the longest time without a test: the same walk to the welder.
    Drift,
    /// A hold is over.
    AfterHold,
}

fn family(id: &str, kind: CauseKind) -> Family<'_> {
    match kind {
        CauseKind::Start | CauseKind::AfterBreak => Family::Clock(id),
        CauseKind::AmbientChange | CauseKind::SheetChange | CauseKind::Elapsed => Family::Drift,
        CauseKind::AfterHold => Family::AfterHold,
    }
}

fn of(checkpoint: &Checkpoint) -> Family<'_> {
    family(&checkpoint.id, checkpoint.cause.kind())
}

/// For each of `new` the place of its partner in `published`; both ascend.
pub(super) fn pair(published: &[&Point], new: &[&Checkpoint]) -> Vec<Option<usize>> {
    let mut partner = vec![None; new.len()];
    for (place, checkpoint) in new.iter().enumerate() {
        if partner[place].is_some() {
            continue;
        }
        let wanted = of(checkpoint);
        // The whole family is paired when its first member is met.
        if (0..place).any(|earlier| of(new[earlier]) == wanted) {
            continue;
        }
        let some: Vec<usize> = (0..new.len()).filter(|index| of(new[*index]) == wanted).collect();
        let others: Vec<usize> = (0..published.len())
            .filter(|index| {
                let point = published[*index];
                family(&point.id, point.cause.kind()) == wanted
            })
            .collect();
        let times = |index: &usize| published[*index].time;
        let theirs: Vec<DateTime<Utc>> = others.iter().map(times).collect();
        let ours: Vec<DateTime<Utc>> = some.iter().map(|index| new[*index].time).collect();
        // What the clock sets is the same one however far it moved.
        let alone = if matches!(wanted, Family::Clock(_)) { 10_000_000 } else { ALONE_MINUTES };
        for (one, other) in align(&theirs, &ours, alone) {
            partner[some[other]] = Some(others[one]);
        }
    }
    partner
}

/// Pairs of places that keep the order of both lists and lie nearest to each other.
pub(super) fn align(
    theirs: &[DateTime<Utc>],
    ours: &[DateTime<Utc>],
    alone: i64,
) -> Vec<(usize, usize)> {
    let mut cost = vec![vec![0_i64; ours.len() + 1]; theirs.len() + 1];
    let apart = |one: usize, other: usize| (theirs[one] - ours[other]).num_minutes().abs();
    for one in (0..=theirs.len()).rev() {
        for other in (0..=ours.len()).rev() {
            let left = (theirs.len() - one) + (ours.len() - other);
            let left = i64::try_from(left).unwrap_or(0) * alone;
            cost[one][other] = if one == theirs.len() || other == ours.len() {
                left
            } else {
                let paired = cost[one + 1][other + 1] + apart(one, other);
                let skip = cost[one + 1][other].min(cost[one][other + 1]) + alone;
                paired.min(skip)
            };
        }
    }
    let (mut one, mut other) = (0, 0);
    let mut pairs = Vec::new();
    while one < theirs.len() && other < ours.len() {
        if cost[one][other] == cost[one + 1][other + 1] + apart(one, other) {
            pairs.push((one, other));
            (one, other) = (one + 1, other + 1);
        } else if cost[one][other] == cost[one + 1][other] + alone {
            one += 1;
        } else {
            other += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(clock: &str) -> DateTime<Utc> {
        format!("2013-04-09T{clock}:00Z").parse().unwrap()
    }

    fn aligned(theirs: &[&str], ours: &[&str]) -> Vec<(usize, usize)> {
        let times = |clocks: &[&str]| clocks.iter().map(|clock| at(clock)).collect::<Vec<_>>();
        align(&times(theirs), &times(ours), ALONE_MINUTES)
    }

    #[test]
    fn the_nearest_are_the_same() {
        // The first of two is gone: the second is not taken for it.
        assert_eq!(aligned(&["08:41", "11:00"], &["11:05"]), [(1, 0)]);
        assert_eq!(aligned(&["11:00"], &["08:30", "11:10"]), [(0, 1)]);
        assert_eq!(aligned(&["08:00", "11:00"], &["08:30", "11:30"]), [(0, 0), (1, 1)]);
        // 4 h are two times two hours: still one that moved; a minute more is gone and new.
        assert_eq!(aligned(&["08:00"], &["12:00"]), [(0, 0)]);
        assert_eq!(aligned(&["08:00"], &["12:01"]), []);
    }
}
