//! What is told at once and what has to be said twice.
//!
//! News that asks more of the crew is told at once: a new checkpoint, one that moves by the rule's
//! minutes, other heats, a hold that begins. News that asks less, or that a tie between two values can turn
//! over and back (a checkpoint that falls away, a hold that does, a speed alone), has to stand in
//! the rule's number of forecasts in a row. Where the book changed, it was the crew and not the
//! forecast, and nothing has to be said twice; nor for a checkpoint that would lie in a hold.

use std::collections::BTreeMap;

use super::change::{Doubt, Waiting};
use crate::site::Rules;

/// How many forecasts in a row have said a piece of good news, by its key.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Doubts(pub(super) BTreeMap<String, u32>);

/// Counting of one look.
pub(super) struct Scale<'a> {
    before: &'a BTreeMap<String, u32>,
    now: Doubts,
    rules: &'a Rules,
    /// The forecast is another than at the last look.
    new_forecast: bool,
    /// The trials are others than at the last look.
    new_trials: bool,
    waiting: Vec<Waiting>,
}

impl<'a> Scale<'a> {
    pub(super) fn new(
        before: &'a BTreeMap<String, u32>,
        rules: &'a Rules,
        new_forecast: bool,
        new_trials: bool,
    ) -> Self {
        Self {
            before,
            now: Doubts::default(),
            rules,
            new_forecast,
            new_trials,
            waiting: Vec::new(),
        }
    }

    /// Whether a move of these minutes is told; a smaller one is noted.
    pub(super) fn tells_move(&mut self, id: &str, minutes: i64) -> bool {
        let told = minutes >= i64::from(self.rules.tell_after_minutes);
        if !told && minutes > 0 {
            self.waiting.push(Waiting::Wobble { id: id.to_owned(), minutes });
        }
        told
    }

    /// Whether good news is told by now; else it is counted.
    pub(super) fn confirms(&mut self, id: &str, what: Doubt, at_once: bool) -> bool {
        let key = format!("{} {id}", what.name());
        let before = self.before.get(&key).copied().unwrap_or(0);
        let seen = before + u32::from(self.new_forecast || before == 0);
        let needed = self.rules.withdraw_after_forecasts;
        if at_once || self.new_trials || seen >= needed {
            return true;
        }
        self.waiting.push(Waiting::Unconfirmed { id: id.to_owned(), what, seen, needed });
        self.now.0.insert(key, seen);
        false
    }

    /// The counts for the next look, and what is not told yet.
    pub(super) fn done(self) -> (Doubts, Vec<Waiting>) {
        (self.now, self.waiting)
    }
}
