//! How much seam can be laid, after tests and breaks.

use chrono::{DateTime, TimeDelta, Utc};

use super::day::{Footage, FootageStretch, FootageTarget, ShiftSpan, Span};
use super::mandatory::Checkpoint;
use super::reasons::Note;
use super::walk::Minute;
use crate::site::Site;
use crate::units::Length;

/// What adding up the minutes of a shift may lose, m: a target reached to the foot is reached.
const ROUNDING_M: f64 = 1e-6;

/// A day as far as its seam depends on it: every automatic welder, at the speeds that the plan
/// suggests.
pub(super) struct Seam<'a> {
    pub(super) site: &'a Site,
    pub(super) shift: &'a ShiftSpan,
    pub(super) minutes: &'a [Minute],
    pub(super) checkpoints: &'a [Checkpoint],
    pub(super) notes: &'a [Note],
}

impl Seam<'_> {
    /// Whether a welder has a travel speed; a hand welder has none.
    pub(super) fn is_known(&self) -> bool {
        self.site.welders.iter().any(|welder| welder.speed.is_some())
    }

    /// Seam of every automatic welder in every span; `None` on a site without one.
    pub(super) fn footage(&self, spans: &[Span]) -> Option<Footage> {
        if !self.is_known() {
            return None;
        }
        let mut stretches: Vec<FootageStretch> = Vec::new();
        let mut total = 0.0;
        let mut reached_at = None;
        let target = self.site.rules.footage_target;
        for time in self.working() {
            for (welder, meters) in laid_in_minute(self.checkpoints, time) {
                total += meters;
                add(&mut stretches, spans, time, welder, meters);
            }
            let is_reached = target.is_some_and(|target| total >= target.meters() - ROUNDING_M);
            if reached_at.is_none() && is_reached {
                reached_at = Some(time + TimeDelta::minutes(1));
            }
        }
        Some(Footage {
            stretches,
            total: Length::from_meters(total),
            target: target.map(|length| FootageTarget { length, reached_at }),
        })
    }

    /// What all automatic welders lay in the minutes from `from` until `until`.
    pub(super) fn between(&self, from: DateTime<Utc>, until: DateTime<Utc>) -> Length {
        let minutes = self.working().filter(|time| from <= *time && *time < until);
        let laid = minutes.flat_map(|time| laid_in_minute(self.checkpoints, time));
        Length::from_meters(laid.map(|(_, meters)| meters).sum())
    }

    /// Every minute in which there is production.
    fn working(&self) -> impl Iterator<Item = DateTime<Utc>> {
        (0_i64..)
            .zip(self.minutes)
            .filter(|(_, kind)| **kind == Minute::Work)
            .map(|(minute, _)| self.shift.start + TimeDelta::minutes(minute))
            .filter(|time| !is_over(self.notes, *time))
    }
}

/// A test that falls due too late for a test ends the day's production.
fn is_over(notes: &[Note], time: DateTime<Utc>) -> bool {
    notes.iter().any(|note| matches!(note, Note::TooLate { due, .. } if *due <= time))
}

/// What each welder lays in the minute from `time`: nothing before its first test or during one.
fn laid_in_minute(
    checkpoints: &[Checkpoint],
    time: DateTime<Utc>,
) -> impl Iterator<Item = (&str, f64)> {
    checkpoints
        .iter()
        .rev()
        .find(|point| point.time <= time)
        .filter(|point| point.time + TimeDelta::minutes(i64::from(point.minutes)) <= time)
        .into_iter()
        .flat_map(|point| &point.settings)
        .filter_map(|setting| {
            let speed = setting.trial.speed_held?;
            Some((setting.welder.as_str(), speed.meters_per_minute()))
        })
}

fn add(
    stretches: &mut Vec<FootageStretch>,
    spans: &[Span],
    time: DateTime<Utc>,
    welder: &str,
    meters: f64,
) {
    let Some(span) = spans.iter().find(|span| span.start <= time && time < span.end) else {
        return;
    };
    let known = stretches.iter_mut().find(|held| held.start == span.start && held.welder == welder);
    match known {
        Some(held) => held.length = Length::from_meters(held.length.meters() + meters),
        None => stretches.push(FootageStretch {
            start: span.start,
            end: span.end,
            welder: welder.to_owned(),
            length: Length::from_meters(meters),
        }),
    }
}
