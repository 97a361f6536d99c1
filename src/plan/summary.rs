//! The day at a glance.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{ShiftSpan, Span, Summary, Verdict};
use crate::units::Temperature;

/// Sums up the spans and the air of a shift; `air` holds one value for each minute, at least one.
pub(super) fn summary(shift: &ShiftSpan, spans: &[Span], air: &[Temperature]) -> Summary {
    let first = air.first().copied().unwrap_or(Temperature::from_celsius(f64::NAN));
    let stretches = weldable_stretches(shift, spans);
    Summary {
        air_min: air.iter().copied().fold(first, Temperature::min),
        air_max: air.iter().copied().fold(first, Temperature::max),
        weldable: stretches.iter().fold(TimeDelta::zero(), |sum, (from, to)| sum + (*to - *from)),
        first_weldable: stretches.first().map(|(from, _)| *from),
        last_weldable: stretches.last().map(|(_, to)| *to),
    }
}

/// Working time outside breaks and holds, ascending.
fn weldable_stretches(shift: &ShiftSpan, spans: &[Span]) -> Vec<(DateTime<Utc>, DateTime<Utc>)> {
    let mut stretches = Vec::new();
    for span in spans.iter().filter(|span| span.verdict != Verdict::Hold) {
        let mut from = span.start;
        for stop in
            shift.breaks.iter().filter(|stop| stop.start < span.end && stop.end > span.start)
        {
            if stop.start > from {
                stretches.push((from, stop.start));
            }
            from = from.max(stop.end);
        }
        if from < span.end {
            stretches.push((from, span.end));
        }
    }
    stretches
}
