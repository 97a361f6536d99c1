//! Which minutes can be welded, and why not.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Reason, ShiftSpan, Span, Verdict};
use crate::site::Rules;
use crate::units::Temperature;
use crate::weather::{Forecast, Hour, HourSum};

/// The judgment on one minute.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Judgment {
    pub(super) verdict: Verdict,
    pub(super) reasons: Vec<Reason>,
}

/// Judges one moment from its hour and the air at that moment.
pub(super) fn judge(rules: &Rules, hour: Option<&Hour>, air: Option<Temperature>) -> Judgment {
    let mut reasons = Vec::new();
    if let Some(hour) = hour {
        reasons.extend(wet(rules, hour));
    }
    let verdict_wet = if reasons.is_empty() { Verdict::Weld } else { Verdict::Hold };
    if air.is_some_and(|air| air.is_below(rules.cold_care)) {
        reasons.push(Reason::Cold { below: rules.cold_care });
    }
    if hour.is_some_and(|hour| is_gusty(rules, hour)) {
        reasons.push(Reason::Gust { from: rules.gust_care });
    }
    let verdict = if verdict_wet == Verdict::Weld && !reasons.is_empty() {
        Verdict::Care
    } else {
        verdict_wet
    };
    Judgment { verdict, reasons }
}

/// Measurable rain or snow. A total over several hours counts whole for each of them: nobody
/// knows in which of the six hours the rain will fall.
fn wet(rules: &Rules, hour: &Hour) -> Option<Reason> {
    let measurable = |sum: Option<HourSum>, limit| sum.filter(|sum| sum.total.reaches(limit));
    if let Some(snow) = measurable(hour.snow, rules.snow_hold) {
        return Some(Reason::Snow { total: snow.total, over_hours: snow.over_hours });
    }
    let rain = measurable(hour.rain, rules.rain_hold)?;
    Some(Reason::Rain { total: rain.total, over_hours: rain.over_hours })
}

/// No gust in the reply does not mean calm, and no gust is weaker than the mean wind.
fn is_gusty(rules: &Rules, hour: &Hour) -> bool {
    [hour.gust, hour.wind].into_iter().flatten().any(|wind| wind.reaches(rules.gust_care))
}

/// The judgments on every minute of `shift`, gathered into spans of one verdict and one set of
/// reasons. `air` holds one value for each minute.
pub(super) fn spans(
    rules: &Rules,
    shift: &ShiftSpan,
    forecast: &Forecast,
    air: &[Temperature],
) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    let mut start = shift.start;
    for &air in air {
        let end = start + TimeDelta::minutes(1);
        let judgment = judge(rules, forecast.hour_of(start), Some(air));
        match spans.last_mut() {
            Some(span)
                if span.verdict == judgment.verdict && alike(&span.reasons, &judgment.reasons) =>
            {
                span.end = end;
                keep_worst(&mut span.reasons, &judgment.reasons);
            }
            _ => spans.push(Span {
                start,
                end,
                verdict: judgment.verdict,
                reasons: judgment.reasons,
            }),
        }
        start = end;
    }
    spans
}

/// The span that `at` lies in.
pub(super) fn span_at(spans: &[Span], at: DateTime<Utc>) -> Option<&Span> {
    spans.iter().find(|span| span.start <= at && at < span.end)
}

/// Whether two sets of reasons are of the same kinds, whatever their amounts.
fn alike(some: &[Reason], others: &[Reason]) -> bool {
    some.len() == others.len()
        && some
            .iter()
            .zip(others)
            .all(|(one, other)| std::mem::discriminant(one) == std::mem::discriminant(other))
}

/// A span shows the wettest of its hours.
fn keep_worst(kept: &mut [Reason], others: &[Reason]) {
    for (kept, other) in kept.iter_mut().zip(others) {
        match (&kept, other) {
            (Reason::Rain { total: held, .. }, Reason::Rain { total, .. })
            | (Reason::Snow { total: held, .. }, Reason::Snow { total, .. })
                if total > held =>
            {
                *kept = *other;
            }
            _ => {}
        }
    }
}
