//! Which minutes can be welded, and why not.
//!
//! Each rule is one function that names its reason. *Hold* rules: rain, snow, thunder, water on the
//! sheet, storm wind. *Care* rules: dew near, cold, gusts, wind, heat, dark. Thresholds are rules of
//! the site file; where each comes from is in `docs/method.md`.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Reason, ShiftSpan, Span, Verdict};
use super::roof::{FilmMoment, RoofMoment};
use crate::site::Rules;
use crate::units::WindSpeed;
use crate::weather::{Forecast, Hour, HourSum};

/// Elevation of the sun's center at the end of civil twilight. Source: USNO2024.
const CIVIL_TWILIGHT_DEG: f64 = -6.0;

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
        let hour = self.forecast.hour_of(moment.time);
        let film = film_at(self.film, moment.time);
        let blow = hour.and_then(strongest);
        let falling = hour.and_then(|hour| self.falling(hour));
        // While it rains nobody needs to be told that the sheet is wet.
        let wet_sheet = self.wet_sheet(film).filter(|_| falling.is_none());
        let hold: Vec<Reason> = [
            falling,
            self.thunder(moment.time),
            wet_sheet,
            blow.filter(|blow| blow.reaches(self.rules.wind_stop))
                .map(|_| Reason::WindStop { from: self.rules.wind_stop }),
        ]
        .into_iter()
        .flatten()
        .collect();
        let verdict_of_hold = if hold.is_empty() { Verdict::Weld } else { Verdict::Hold };
        let mut reasons = hold;
        let wet = falling.or(wet_sheet).is_some();
        reasons.extend(self.care(moment, blow, wet));
        let verdict = if verdict_of_hold == Verdict::Weld && !reasons.is_empty() {
            Verdict::Care
        } else {
            verdict_of_hold
        };
        Judgment { verdict, reasons }
    }

    fn care(
        &self,
        moment: &RoofMoment,
        blow: Option<WindSpeed>,
        wet: bool,
    ) -> impl Iterator<Item = Reason> {
        let rules = self.rules;
        let near = moment.dew_margin.is_some_and(|margin| !margin.reaches(rules.dew_margin));
        let cold = moment.air.is_some_and(|air| air.is_below(rules.cold_care));
        let windy = moment.wind.is_some_and(|wind| wind.reaches(rules.wind_shield));
        let stormy = blow.is_some_and(|blow| blow.reaches(rules.wind_stop));
        let gusty = blow.is_some_and(|blow| blow.reaches(rules.gust_care)) && !stormy;
        let hot = moment.heat_index.is_some_and(|felt| !felt.is_below(rules.heat_care));
        let dark = moment.sun_elevation_deg.is_some_and(|sun| sun < CIVIL_TWILIGHT_DEG);
        [
            (near && !wet, Reason::DewNear { within: rules.dew_margin }),
            (cold, Reason::Cold { below: rules.cold_care }),
            (gusty, Reason::Gust { from: rules.gust_care }),
            (windy && !gusty && !stormy, Reason::WindShield { from: rules.wind_shield }),
            (hot, Reason::Heat { from: rules.heat_care }),
            (dark, Reason::Dark),
        ]
        .into_iter()
        .filter_map(|(applies, reason)| applies.then_some(reason))
    }

    /// Measurable rain or snow. A total over several hours counts whole for each of them: nobody
    /// knows in which of the six hours the rain will fall.
    fn falling(&self, hour: &Hour) -> Option<Reason> {
        let measurable = |sum: Option<HourSum>, limit| sum.filter(|sum| sum.total.reaches(limit));
        if let Some(snow) = measurable(hour.snow, self.rules.snow_hold) {
            return Some(Reason::Snow { total: snow.total, over_hours: snow.over_hours });
        }
        let rain = measurable(hour.rain, self.rules.rain_hold)?;
        Some(Reason::Rain { total: rain.total, over_hours: rain.over_hours })
    }

    /// Thunder in this hour, or in one that ended less than the clearing time ago.
    fn thunder(&self, at: DateTime<Utc>) -> Option<Reason> {
        let clear = TimeDelta::minutes(i64::from(self.rules.thunder_clear_minutes));
        let just_past = at - clear + TimeDelta::seconds(1);
        let thundery = |hour: &&Hour| {
            hour.thunder_named == Some(true)
                || hour
                    .thunder_probability_pct
                    .is_some_and(|chance| chance >= self.rules.thunder_hold_pct)
        };
        self.forecast
            .hours_between(just_past.min(at), at + TimeDelta::seconds(1))
            .any(|hour| thundery(&hour))
            .then_some(Reason::Thunder)
    }

    fn wet_sheet(&self, film: Option<&FilmMoment>) -> Option<Reason> {
        let film = film.filter(|film| is_wet(self.rules, film))?;
        Some(Reason::WetSheet { depth: film.depth, frost: film.frost })
    }
}

/// Whether more water stands on the sheet than a wiped lap can take.
pub(super) fn is_wet(rules: &Rules, film: &FilmMoment) -> bool {
    film.depth.millimeters() > rules.film_dry.millimeters()
}

/// The water at `at`: that at the end of the last step before it.
fn film_at(film: &[FilmMoment], at: DateTime<Utc>) -> Option<&FilmMoment> {
    let steps_past = film.partition_point(|moment| moment.time <= at);
    let last = film.get(steps_past.checked_sub(1)?)?;
    // Beyond its end the run says nothing.
    (steps_past < film.len() || at - last.time < TimeDelta::minutes(5)).then_some(last)
}

/// No gust in the reply does not mean calm, and no gust is weaker than the mean wind.
fn strongest(hour: &Hour) -> Option<WindSpeed> {
    match (hour.gust, hour.wind) {
        (Some(gust), Some(wind)) => Some(if gust > wind { gust } else { wind }),
        (gust, wind) => gust.or(wind),
    }
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
