//! The day at a glance.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Dry, ShiftSpan, Span, Summary, TestCount};
use super::reasons::{Reason, Verdict};
use super::roof_moment::{FilmMoment, RoofMoment};
use super::spans::is_wet;
use crate::site::Rules;
use crate::units::Temperature;

/// The water on the sheet with likely, weak and strong convection.
pub(super) struct Films {
    pub(super) nominal: Vec<FilmMoment>,
    pub(super) weak: Vec<FilmMoment>,
    pub(super) strong: Vec<FilmMoment>,
}

/// Sums up a shift; `air` holds one value for each minute, at least one.
pub(super) fn summary(
    shift: &ShiftSpan,
    spans: &[Span],
    air: &[Temperature],
    roof: &[RoofMoment],
    dry: Option<Dry>,
    tests: Option<TestCount>,
) -> Summary {
    let first = air.first().copied().unwrap_or(Temperature::from_celsius(f64::NAN));
    let stretches = weldable_stretches(shift, spans);
    Summary {
        air_min: air.iter().copied().fold(first, Temperature::min),
        air_max: air.iter().copied().fold(first, Temperature::max),
        weldable: stretches.iter().fold(TimeDelta::zero(), |sum, (from, to)| sum + (*to - *from)),
        first_weldable: stretches.first().map(|(from, _)| *from),
        last_weldable: stretches.last().map(|(_, to)| *to),
        sheet: sheet_range(roof),
        dry,
        tests,
    }
}

/// When a sheet that is wet at the start of the shift is dry, with the likely, a strong and a weak
/// convection. `None` when it begins dry, stays wet, or is unknown.
pub(super) fn dry(rules: &Rules, shift: &ShiftSpan, spans: &[Span], films: &Films) -> Option<Dry> {
    // The first stretch of wet spans, whatever else holds beside it. Rain and snow hide the water
    // under them.
    let wet = || {
        spans.iter().take_while(|span| {
            has_falling(span)
                || span.reasons.iter().any(|reason| matches!(reason, Reason::WetSheet { .. }))
        })
    };
    let from = wet().last().map(|span| span.end).filter(|end| *end < shift.end)?;
    // Where the run has ended, the end of the rain tells nothing of the sheet.
    films.nominal.last().filter(|last| last.time >= from)?;
    let dries_after =
        wet().filter(|span| has_falling(span)).last().map_or(shift.start, |span| span.end);
    let until_dry = |film: &[FilmMoment]| {
        let begins = film.partition_point(|moment| moment.time <= dries_after);
        let first_dry =
            film.iter().skip(begins.saturating_sub(1)).find(|moment| !is_wet(rules, moment.depth));
        first_dry.map(|moment| moment.time.max(dries_after))
    };
    let earliest = until_dry(&films.strong).unwrap_or(from).min(from);
    let latest = until_dry(&films.weak).map(|latest| latest.max(from));
    Some(Dry { from, earliest, latest })
}

fn has_falling(span: &Span) -> bool {
    span.reasons.iter().any(|reason| matches!(reason, Reason::Rain { .. } | Reason::Snow { .. }))
}

fn sheet_range(roof: &[RoofMoment]) -> Option<(Temperature, Temperature)> {
    let mut known = roof.iter().filter_map(|moment| moment.sheet.map(|sheet| sheet.nominal));
    let first = known.next()?;
    Some(known.fold((first, first), |(low, high), sheet| (low.min(sheet), high.max(sheet))))
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
