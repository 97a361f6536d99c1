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

/// Seam of every automatic welder in every span, at the speeds that the plan suggests.
///
/// `None` on a site without an automatic welder: a hand welder has no travel speed.
pub(super) fn footage(
    site: &Site,
    shift: &ShiftSpan,
    spans: &[Span],
    minutes: &[Minute],
    checkpoints: &[Checkpoint],
    notes: &[Note],
) -> Option<Footage> {
    site.welders.iter().find(|welder| welder.speed.is_some())?;
    let mut stretches: Vec<FootageStretch> = Vec::new();
    let mut total = 0.0;
    let mut reached_at = None;
    let target = site.rules.footage_target;
    for (minute, kind) in (0_i64..).zip(minutes) {
        let time = shift.start + TimeDelta::minutes(minute);
        if *kind != Minute::Work || is_over(notes, time) {
            continue;
        }
        for (welder, meters) in laid_in_minute(checkpoints, time) {
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
