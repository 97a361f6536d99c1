//! The water on the sheet, from the evening before to the end of the shift, step by step where it is
//! or may be wet and in one stride where it surely stays dry.

use chrono::{DateTime, TimeDelta, Utc};

use super::bounds::Surely;
use super::course::Sight;
use crate::physics::drying::{Film, FilmSheet, SMOOTH_SHEET_HOLDS};
use crate::physics::surface::Band;
use crate::plan::{FILM_RUN_UP, FILM_STEP, FILM_STEP_MINUTES, FilmMoment};
use crate::units::RainDepth;
use crate::weather::floor_hour;

/// The film of one day; its room is used again for the next.
#[derive(Debug, Default)]
pub(super) struct Water {
    /// Start of the run.
    start: DateTime<Utc>,
    /// Depth at the end of each step, mm, from the first that is known.
    depths_mm: Vec<f64>,
    /// Steps before the first that is known.
    unknown_steps: usize,
}

impl Water {
    /// Runs the film over `[from, to)` and its run-up, as a plan does.
    pub(super) fn run(&mut self, sight: &mut Sight<'_>, from: DateTime<Utc>, to: DateTime<Utc>) {
        self.start = (from - FILM_RUN_UP).max(sight.forecast.first());
        self.depths_mm.clear();
        self.unknown_steps = 0;
        let sheet =
            |optics| FilmSheet { optics, holds: SMOOTH_SHEET_HOLDS, convection: Band::Nominal };
        let Some(mut film) = sight.roof.optics().map(sheet).and_then(Film::dry) else { return };
        let mut time = self.start;
        while time < to {
            let hour_start = floor_hour(time + half_step());
            let next_hour = hour_start + TimeDelta::hours(1);
            let steps =
                steps_within(time, next_hour.min(to + TimeDelta::minutes(FILM_STEP_MINUTES)));
            let steps = steps.min(steps_before(time, to));
            if film.depth().millimeters() <= 0.0 && stays_dry(sight, hour_start) {
                self.depths_mm.resize(self.depths_mm.len() + steps, 0.0);
                time += step() * i32::try_from(steps).unwrap_or(1);
                continue;
            }
            for _ in 0..steps {
                let middle = time + half_step();
                let roof = sight.roof;
                let weather = roof.film_weather(middle, sight.sun_of_hour(hour_start));
                let change = weather.and_then(|weather| film.pass(&weather, FILM_STEP));
                time += step();
                match change {
                    Some(change) => self.depths_mm.push(change.depth.millimeters()),
                    None if self.depths_mm.is_empty() && time < from => self.unknown_steps += 1,
                    None => return,
                }
            }
        }
    }

    /// Whether the run tells of every minute up to `end`.
    pub(super) fn is_known_to(&self, end: DateTime<Utc>) -> bool {
        !self.depths_mm.is_empty() && self.end_of(self.depths_mm.len() - 1) >= end
    }

    /// The water at `at`: that at the end of the last step before it.
    pub(super) fn at(&self, at: DateTime<Utc>) -> Option<FilmMoment> {
        let since = (at - self.start).num_seconds();
        let ended = since.div_euclid(FILM_STEP_MINUTES * 60);
        let past = usize::try_from(ended).ok()?.checked_sub(self.unknown_steps)?;
        let last = past.min(self.depths_mm.len()).checked_sub(1)?;
        let time = self.end_of(last);
        // Beyond its end the run says nothing.
        if last + 1 == self.depths_mm.len() && at - time >= step() {
            return None;
        }
        let depth = RainDepth::from_millimeters(*self.depths_mm.get(last)?);
        Some(FilmMoment { time, depth, evaporation_mm_per_h: f64::NAN, frost: false })
    }

    /// Whether more than `limit` may stand on the sheet in `[from, to)`.
    pub(super) fn may_exceed(
        &self,
        limit: RainDepth,
        from: DateTime<Utc>,
        to: DateTime<Utc>,
    ) -> bool {
        let step_of = |at: DateTime<Utc>| {
            let ended = (at - self.start).num_seconds().div_euclid(FILM_STEP_MINUTES * 60);
            usize::try_from(ended).unwrap_or(0).saturating_sub(self.unknown_steps)
        };
        let first = step_of(from).saturating_sub(1).min(self.depths_mm.len());
        let last = step_of(to).min(self.depths_mm.len());
        self.depths_mm[first..last].iter().any(|depth| *depth > limit.millimeters())
    }

    fn end_of(&self, step_number: usize) -> DateTime<Utc> {
        let steps = i32::try_from(self.unknown_steps + step_number + 1).unwrap_or(i32::MAX);
        self.start + step() * steps
    }
}

/// Whether a dry sheet surely stays dry through the hour: no rain, and warmer than the dew point.
fn stays_dry(sight: &mut Sight<'_>, hour_start: DateTime<Utc>) -> bool {
    let brings = sight.nodes.hour_of(hour_start).map(|hour| sight.nodes.brings(hour));
    if !brings.is_some_and(|brings| brings.no_rain) {
        return false;
    }
    match sight.surely(hour_start, hour_start + TimeDelta::hours(1)) {
        Surely::Between(bounds) => bounds.stays_dry(),
        Surely::Unknown | Surely::Doubt => false,
    }
}

const fn step() -> TimeDelta {
    TimeDelta::minutes(FILM_STEP_MINUTES)
}

const fn half_step() -> TimeDelta {
    TimeDelta::seconds(FILM_STEP_MINUTES * 30)
}

/// Steps from `time` on whose middle lies before `end`.
fn steps_within(time: DateTime<Utc>, end: DateTime<Utc>) -> usize {
    let seconds = (end - time - half_step()).num_seconds();
    usize::try_from((seconds - 1).div_euclid(FILM_STEP_MINUTES * 60) + 1).unwrap_or(0).max(1)
}

/// Steps from `time` on that begin before `end`.
fn steps_before(time: DateTime<Utc>, end: DateTime<Utc>) -> usize {
    let seconds = (end - time).num_seconds();
    usize::try_from((seconds - 1).div_euclid(FILM_STEP_MINUTES * 60) + 1).unwrap_or(0).max(1)
}
