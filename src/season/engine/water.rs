//! The water on the sheet, from the evening before to the end of the shift, step by step where it is
//! or may be wet and in one stride where it surely stays dry.

use super::bounds::Surely;
use super::clock::Second;
use super::sight::Sight;
use super::smooth::{HOURS, SmoothHour};
use crate::physics::drying::{Film, FilmSheet, SMOOTH_SHEET_HOLDS};
use crate::physics::surface::Band;
use crate::plan::{FILM_RUN_UP, FILM_STEP, FILM_STEP_MINUTES, FilmMoment, HOUR_STEPS};
use crate::units::RainDepth;

const STEP_S: i64 = FILM_STEP_MINUTES * 60;

/// Rain that may outweigh what leaves, as far as a film is defined for it.
const RAIN_MM_PER_H: std::ops::RangeInclusive<f64> = 0.05..=500.0;

/// The film of one day; its room is used again for the next.
#[derive(Debug, Default)]
pub(super) struct Water {
    /// Start of the run.
    start: Second,
    /// Depth at the end of each step, mm, from the first that is known.
    depths_mm: Vec<f64>,
    /// Steps before the first that is known.
    unknown_steps: i64,
    /// How far the depths may be off, mm.
    doubt_mm: f64,
    /// Hours that were worked out together, each at the middle of its first step.
    smooth: [Option<(Second, Option<SmoothHour>)>; HOURS],
}

impl Water {
    /// Runs the film over `[from, to)` and its run-up, as a plan does, for all that tells whether
    /// more than `limit` stands on the sheet.
    pub(super) fn run(
        &mut self,
        sight: &mut Sight<'_>,
        from: Second,
        to: Second,
        limit: RainDepth,
    ) {
        self.pass(sight, from, to, true);
        let decides = |depth: &f64| (depth - limit.millimeters()).abs() <= self.doubt_mm;
        let asked_for = self.steps_ended(from).saturating_sub(1)..;
        let depths = self.depths_mm.get(asked_for).unwrap_or_default();
        if self.doubt_mm > 0.0 && depths.iter().any(decides) {
            self.pass(sight, from, to, false);
        }
    }

    /// One run, by smooth hours before the shift where there are any and `smoothly` says so.
    fn pass(&mut self, sight: &mut Sight<'_>, from: Second, to: Second, smoothly: bool) {
        self.start = from.plus(-FILM_RUN_UP.num_seconds()).max(Second(0));
        self.depths_mm.clear();
        self.unknown_steps = 0;
        self.doubt_mm = 0.0;
        self.smooth = [None; HOURS];
        let sheet =
            |optics| FilmSheet { optics, holds: SMOOTH_SHEET_HOLDS, convection: Band::Nominal };
        let Some(mut film) = sight.roof.optics().map(sheet).and_then(Film::dry) else { return };
        sight.look([self.start, to]);
        let holds_mm = SMOOTH_SHEET_HOLDS.millimeters();
        let mut time = self.start;
        while time < to {
            // A step belongs to the hour of its middle.
            let middle = time.plus(STEP_S / 2);
            let hour = middle.hour_start();
            let steps = steps_before(middle, hour.plus(3600).min(to.plus(STEP_S / 2)));
            let depth_mm = film.depth().millimeters();
            let stays = if depth_mm <= 0.0 {
                sight.surely_dry(hour) || stays_dry(sight, hour)
            } else {
                depth_mm >= holds_mm && stays_full(sight, hour)
            };
            if stays {
                self.depths_mm.resize(self.depths_mm.len() + steps, depth_mm);
                time = time.plus_minutes(steps * FILM_STEP_MINUTES as usize);
                continue;
            }
            let before_the_shift = hour.plus(3600) <= from;
            let smooth = if smoothly && before_the_shift && steps == HOUR_STEPS {
                self.smooth_vapor(sight, middle, from)
            } else {
                None
            };
            let vapor = match smooth {
                Some(vapor) => Some(vapor),
                None if 2 * steps >= HOUR_STEPS => sight.vapor(middle),
                None => None,
            };
            if let Some((vapor, rain_mm_per_h)) = vapor {
                let depths_mm = &mut self.depths_mm;
                film.pass_all(&vapor[..steps], rain_mm_per_h, FILM_STEP, |depth_mm| {
                    depths_mm.push(depth_mm)
                });
                time = time.plus_minutes(steps * FILM_STEP_MINUTES as usize);
                continue;
            }
            let over = sight.hour(hour);
            for _ in 0..steps {
                let middle = time.plus(STEP_S / 2);
                let weather = over.film_weather(middle.into_hour());
                let change = weather.and_then(|weather| film.pass(&weather, FILM_STEP));
                time = time.plus(STEP_S);
                match change {
                    Some(change) => self.depths_mm.push(change.depth.millimeters()),
                    None if self.depths_mm.is_empty() && time < from => self.unknown_steps += 1,
                    None => return,
                }
            }
        }
    }

    /// The vapor of a smooth hour before the shift, worked out with the hours that follow, and the
    /// rain that falls.
    fn smooth_vapor(
        &mut self,
        sight: &mut Sight<'_>,
        at: Second,
        until: Second,
    ) -> Option<([f64; HOUR_STEPS], f64)> {
        let rain_mm_per_h = sight.rain(at)?;
        let at_hand = |(of, _): &(Second, Option<SmoothHour>)| *of == at;
        let (_, hour) = match self.smooth.iter().flatten().find(|hour| at_hand(hour)) {
            Some(hour) => *hour,
            None => {
                let hours = sight.smooth_vapor(at, until)?;
                let mut later = at;
                for (held, hour) in self.smooth.iter_mut().zip(hours) {
                    *held = Some((later, hour));
                    later = later.plus(3600);
                }
                (at, hours[0])
            }
        };
        let SmoothHour { vapor, doubt_mm } = hour?;
        self.doubt_mm += doubt_mm;
        Some((vapor, rain_mm_per_h))
    }

    /// Whether the run tells of every minute up to `end`.
    pub(super) fn is_known_to(&self, end: Second) -> bool {
        !self.depths_mm.is_empty() && self.end_of(self.depths_mm.len() - 1) >= end
    }

    /// [`Water::at`] as a plan has it.
    pub(super) fn moment_at(&self, at: Second, sight: &Sight<'_>) -> Option<FilmMoment> {
        let time = at.instant(sight.first);
        let depth = self.at(at)?;
        Some(FilmMoment { time, depth, evaporation_mm_per_h: f64::NAN, frost: false })
    }

    /// The water at `at`: that at the end of the last step before it.
    pub(super) fn at(&self, at: Second) -> Option<RainDepth> {
        let last = self.steps_ended(at).checked_sub(1)?;
        let time = self.end_of(last);
        // Beyond its end the run says nothing.
        if last + 1 == self.depths_mm.len() && at.0 - time.0 >= STEP_S {
            return None;
        }
        self.depths_mm.get(last).copied().map(RainDepth::from_millimeters)
    }

    /// End of the step that `at` lies in.
    pub(super) fn step_end(&self, at: Second) -> Second {
        let since_start = at.0 - self.start.0;
        at.plus(STEP_S - since_start.rem_euclid(STEP_S))
    }

    /// Whether more than `limit` may stand on the sheet in `[from, to)`.
    pub(super) fn may_exceed(&self, limit: RainDepth, from: Second, to: Second) -> bool {
        let first = self.steps_ended(from).saturating_sub(1);
        let depths = self.depths_mm.get(first..self.steps_ended(to)).unwrap_or_default();
        depths.iter().any(|depth| *depth > limit.millimeters())
    }

    /// Known steps that have ended at `at`.
    fn steps_ended(&self, at: Second) -> usize {
        let ended = (at.0 - self.start.0).div_euclid(STEP_S) - self.unknown_steps;
        usize::try_from(ended).unwrap_or(0).min(self.depths_mm.len())
    }

    fn end_of(&self, step: usize) -> Second {
        let steps = self.unknown_steps + i64::try_from(step).unwrap_or(0) + 1;
        self.start.plus(STEP_S * steps)
    }
}

/// Whether a dry sheet surely stays dry through the hour: no rain, and warmer than the dew point.
fn stays_dry(sight: &mut Sight<'_>, hour: Second) -> bool {
    if !hour.hour().is_some_and(|hour| sight.nodes.brings(hour).no_rain()) {
        return false;
    }
    match sight.surely(hour, hour.plus(3600)) {
        Surely::Between(bounds) => bounds.stays_dry(),
        Surely::Unknown | Surely::Doubt => false,
    }
}

/// Whether a sheet that holds all it can surely stays so through the hour: more rain than leaves.
fn stays_full(sight: &mut Sight<'_>, hour: Second) -> bool {
    let rain_mm_per_h = hour.hour().map_or(0.0, |hour| sight.nodes.brings(hour).rain_mm_per_h);
    if !RAIN_MM_PER_H.contains(&rain_mm_per_h) {
        return false;
    }
    match sight.surely(hour, hour.plus(3600)) {
        Surely::Between(bounds) => bounds.loses_less_than(rain_mm_per_h),
        Surely::Unknown | Surely::Doubt => false,
    }
}

/// Steps from `time` on that begin before `end`, at least one.
fn steps_before(time: Second, end: Second) -> usize {
    let steps = (end.0 - time.0 + STEP_S - 1).div_euclid(STEP_S);
    usize::try_from(steps).unwrap_or(0).max(1)
}
