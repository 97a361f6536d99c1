//! What to see to tomorrow, in the order in which it matters.

use super::day::{Advice, Reason, Span, Topic};

/// Advice that the day's spans ask for.
pub(super) fn advice(spans: &[Span], stale: bool) -> Vec<Advice> {
    let has = |wanted: fn(&Reason) -> bool| spans.iter().flat_map(|span| &span.reasons).any(wanted);
    let candidates = [
        (stale, Topic::Forecast, "stale"),
        (
            has(|reason| matches!(reason, Reason::Rain { .. } | Reason::Snow { .. })),
            Topic::Wet,
            "wet",
        ),
        (has(|reason| matches!(reason, Reason::Cold { .. })), Topic::Cold, "cold"),
        (has(|reason| matches!(reason, Reason::Gust { .. })), Topic::Wind, "gust"),
    ];
    candidates
        .into_iter()
        .filter(|(applies, ..)| *applies)
        .map(|(_, topic, key)| Advice { topic, key })
        .collect()
}
