//! Which minutes can be welded, and why not.
//!
//! Each rule is one function of `span_rules`, which names its reason. *Hold* rules: rain, snow,
//! thunder, water on the sheet, storm wind. *Care* rules: dew near, cold, gusts, wind, heat, dark.
//! Thresholds are rules of the site file; where each comes from is in `docs/method.md`.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{ShiftSpan, Span};
use super::reasons::{Reason, Verdict};
use super::roof_moment::{FilmMoment, RoofMoment};
use super::span_rules::{Facts, Rule, RuleCheck};
use crate::site::Rules;
use crate::units::RainDepth;
use crate::weather::Forecast;

/// The judgment on one minute.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Judgment {
    pub(super) verdict: Verdict,
    pub(super) reasons: Vec<Reason>,
}

/// What minutes are judged by.
#[derive(Clone, Copy)]
pub(super) struct Judge<'a> {
    pub(super) rules: &'a Rules,
    pub(super) forecast: &'a Forecast,
    /// Water on the sheet, by steps, as far as it is known.
    pub(super) film: &'a [FilmMoment],
}

impl Judge<'_> {
    /// Judges one moment on the roof.
    pub(super) fn judge(&self, moment: &RoofMoment) -> Judgment {
        Judgment::from_checks(&self.checks(moment))
    }

    /// Every rule held against one moment on the roof.
    pub(super) fn checks(&self, moment: &RoofMoment) -> [RuleCheck; Rule::ALL.len()] {
        let facts = Facts {
            rules: self.rules,
            forecast: self.forecast,
            moment,
            hour: self.forecast.hour_of(moment.time),
            film: film_at(self.film, moment.time),
        };
        facts.checks()
    }
}

impl Judgment {
    /// The gravest of the rules that fire, and all their reasons.
    pub(super) fn from_checks(checks: &[RuleCheck]) -> Self {
        let fired = || checks.iter().filter(|check| check.fires());
        Self {
            verdict: fired().map(|check| check.rule.verdict()).max().unwrap_or(Verdict::Weld),
            reasons: fired().filter_map(|check| check.reason).collect(),
        }
    }
}

/// Whether more water stands on the sheet than a wiped lap can take.
pub(crate) fn is_wet(rules: &Rules, depth: RainDepth) -> bool {
    depth.millimeters() > rules.film_dry.millimeters()
}

/// The water at `at`: that at the end of the last step before it.
pub(super) fn film_at(film: &[FilmMoment], at: DateTime<Utc>) -> Option<&FilmMoment> {
    let steps_past = film.partition_point(|moment| moment.time <= at);
    let last = film.get(steps_past.checked_sub(1)?)?;
    // Beyond its end the run says nothing.
    (steps_past < film.len() || at - last.time < TimeDelta::minutes(5)).then_some(last)
}

/// The judgments on every minute of `shift`, gathered into spans of one verdict and one set of
/// reasons.
pub(super) fn spans(judge: &Judge<'_>, shift: &ShiftSpan, minutes: &[RoofMoment]) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for moment in minutes {
        let end = (moment.time + TimeDelta::minutes(1)).min(shift.end);
        let judgment = judge.judge(moment);
        match spans.last_mut() {
            Some(span)
                if span.verdict == judgment.verdict && alike(&span.reasons, &judgment.reasons) =>
            {
                span.end = end;
                keep_worst(&mut span.reasons, &judgment.reasons);
            }
            _ => spans.push(Span {
                start: moment.time,
                end,
                verdict: judgment.verdict,
                reasons: judgment.reasons,
            }),
        }
    }
    spans
}

/// Whether two sets of reasons are of the same kinds, whatever their amounts.
fn alike(some: &[Reason], others: &[Reason]) -> bool {
    some.len() == others.len()
        && some
            .iter()
            .zip(others)
            .all(|(one, other)| std::mem::discriminant(one) == std::mem::discriminant(other))
}

/// A span shows the wettest of its minutes.
fn keep_worst(kept: &mut [Reason], others: &[Reason]) {
    for (kept, other) in kept.iter_mut().zip(others) {
        let worse = match (&kept, other) {
            (Reason::Rain { total: held, .. }, Reason::Rain { total, .. })
            | (Reason::Snow { total: held, .. }, Reason::Snow { total, .. }) => total > held,
            (Reason::WetSheet { depth: held, .. }, Reason::WetSheet { depth, .. }) => depth > held,
            _ => false,
        };
        if worse {
            *kept = *other;
        }
    }
}
