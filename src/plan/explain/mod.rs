//! Every number behind one minute of a plan.
//!
//! Nothing is decided anew: the minute's rules are those of `span_rules`, the physics that of
//! `roof`, and what is due since the last test comes from `checkpoints`.

mod error;
mod model;
mod readings;
mod since;
mod sky;
mod speed;
mod wall;

use chrono::{DateTime, TimeDelta, Utc};

use self::since::Walk;
use super::day::DayPlan;
use super::gather::PlanInput;
use super::roof::Roof;
use super::roof_moment::{FilmMoment, RoofMoment};
use super::spans::{Judge, Judgment, film_at};
use crate::physics::drying::SMOOTH_SHEET_HOLDS;
use crate::physics::surface::Band;

pub use error::ExplainError;
pub use model::{
    Derivation, Explanation, OpticsUsed, Origin, Reading, SheetAt, SinceTest, SkyAt, SpeedSteps,
    Stage, SunAt, TestHere, WallTime, WaterAt, WeatherAt, WelderSpeed,
};
pub use wall::{WallMoment, shift_date, wall_moment};

/// Every number behind the minute that `at` lies in.
///
/// `plan` is the one that `input` gives. A moment outside its shift is explained as far as it
/// goes: without what has changed since a test.
///
/// # Errors
/// [`ExplainError::OutsideForecast`] when the forecast has no row for that hour.
pub fn explain_moment(
    input: &PlanInput<'_>,
    plan: &DayPlan,
    at: DateTime<Utc>,
) -> Result<Explanation, ExplainError> {
    Explainer::new(input, Some(plan)).at(at)
}

/// Explains one moment after another of the same day.
pub struct Explainer<'a> {
    input: PlanInput<'a>,
    day: Option<Day<'a>>,
}

/// What all minutes of a planned shift share.
struct Day<'a> {
    plan: &'a DayPlan,
    film: Vec<FilmMoment>,
    walk: Walk<'a>,
}

/// One minute as the plan sees it.
struct Minute<'a> {
    moment: RoofMoment,
    film: Option<FilmMoment>,
    /// The planned day and the minute's number in it, for a minute of its shift.
    of_shift: Option<(&'a Day<'a>, usize)>,
}

impl<'a> Explainer<'a> {
    /// Prepares to explain moments under `input`; `plan` is the one that `input` gives, `None`
    /// where the forecast does not carry a plan.
    pub fn new(input: &PlanInput<'a>, plan: Option<&'a DayPlan>) -> Self {
        let day = plan.map(|plan| {
            let (start, end) = (plan.shift.start, plan.shift.end);
            let roof = Roof::new(input.site, input.forecast, start, end);
            let film = roof.film(start, end, Band::Nominal);
            Day { plan, film, walk: Walk::new(input.site, plan) }
        });
        Self { input: *input, day }
    }

    /// Every number behind the minute that `at` lies in.
    ///
    /// # Errors
    /// [`ExplainError::OutsideForecast`] when the forecast has no row for that hour.
    pub fn at(&self, at: DateTime<Utc>) -> Result<Explanation, ExplainError> {
        let PlanInput { site, time_zone, date, forecast, .. } = self.input;
        if forecast.hour_of(at).is_none() {
            return Err(ExplainError::OutsideForecast {
                at,
                time_zone,
                covers_from: forecast.first(),
                covers_to: forecast.last() + TimeDelta::minutes(59),
            });
        }
        let Minute { moment, film, of_shift } = self.minute(at);
        let film_run = film.as_slice();
        let checks = Judge { rules: &site.rules, forecast, film: film_run }.checks(&moment);
        let plan = self.day.as_ref().map(|day| day.plan);
        Ok(Explanation {
            site: site.name.clone(),
            units: site.units,
            time_zone,
            date,
            source: forecast.provenance.source.clone(),
            time: moment.time,
            wall: WallTime::Plain,
            shift: plan.map(|plan| (plan.shift.start, plan.shift.end)),
            stage: match of_shift {
                Some((day, minute)) => day.walk.stage(minute),
                None => plan.map_or(Stage::Unplanned, |plan| Stage::outside(plan, moment.time)),
            },
            weather: readings::weather(site, forecast, &moment),
            sun: sky::sun(site, forecast, &moment),
            sky: sky::sky(site, &moment),
            sheet: sky::sheet(site, &moment),
            water: film.map(|film| WaterAt { film, holds: SMOOTH_SHEET_HOLDS }),
            heat_index: moment.heat_index,
            wind_chill: moment.wind_chill,
            verdict: Judgment::from_checks(&checks).verdict,
            rules: checks.to_vec(),
            test_here: of_shift.and_then(|(day, minute)| day.walk.test_here(minute)),
            since: of_shift.and_then(|(day, minute)| day.walk.since(minute)),
            speed: moment.air.map(|air| speed::steps(site, air)),
            known_error: plan.and_then(|plan| plan.weather.known_error),
        })
    }

    fn minute(&self, at: DateTime<Utc>) -> Minute<'_> {
        let planned = self.day.as_ref().and_then(|day| {
            let minute = usize::try_from((at - day.plan.shift.start).num_minutes()).ok()?;
            let in_shift = at >= day.plan.shift.start && at < day.plan.shift.end;
            let moment = *day.plan.course.get(minute).filter(|_| in_shift)?;
            let film = film_at(&day.film, moment.time).copied();
            Some(Minute { moment, film, of_shift: Some((day, minute)) })
        });
        planned.unwrap_or_else(|| {
            let time = wall::floor_minute(at);
            let roof = Roof::new(self.input.site, self.input.forecast, time, time);
            let run = roof.film(time, time + TimeDelta::minutes(1), Band::Nominal);
            let film = film_at(&run, time).copied();
            Minute { moment: roof.at(time), film, of_shift: None }
        })
    }
}
