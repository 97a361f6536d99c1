//! Planning a day for the pages: as it was published, or as `fairseam plan` would.

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::followed::Followed;
use crate::cli::shell::SiteWeather;
use crate::follow::published_plan;
use crate::plan::{DayPlan, PlanInput, plan_day};
use crate::quality::{KeptPlan, KeptTrial, PlanAtHand, ReportInput, Standing, day_report};
use crate::render::words;
use crate::server::house::{Day, NoPlan};
use crate::site::Site;
use crate::testweld::EarlierWindows;

/// All that planning a day of a site takes.
pub(super) struct Planner<'a> {
    pub(super) site: &'a Site,
    pub(super) zone: Tz,
    pub(super) now: DateTime<Utc>,
    pub(super) weather: Option<Arc<SiteWeather>>,
    pub(super) earlier: &'a dyn EarlierWindows,
}

impl Planner<'_> {
    /// What was published of a followed day; else as `fairseam plan` would plan it now.
    pub(super) fn plan(
        &self,
        date: NaiveDate,
        followed: &[Followed],
    ) -> Result<Arc<DayPlan>, NoPlan> {
        let (site, now, earlier) = (self.site, self.now, self.earlier);
        let input =
            |forecast, time_zone| PlanInput { site, time_zone, date, now, forecast, earlier };
        let plan = match followed.iter().find(|day| day.date() == date) {
            Some(Followed { day, published }) => {
                published_plan(&input(&day.forecast, day.time_zone), published)
            }
            None => {
                let weather = self.weather.as_ref().ok_or(NoPlan::NoForecast)?;
                plan_day(&input(&weather.forecast, self.zone))
            }
        };
        plan.map(Arc::new).map_err(NoPlan::NotPlannable)
    }
}

/// A day with its trials against its plan.
pub(super) fn day(
    site: &Site,
    time_zone: Tz,
    now: DateTime<Utc>,
    date: NaiveDate,
    plan: Result<Arc<DayPlan>, NoPlan>,
    trials: &[KeptTrial],
) -> Day {
    let at_hand = plan.as_ref().ok().map(|plan| PlanAtHand {
        plan: KeptPlan::of(plan, now, &|point| words::because(point, plan)),
        standing: Standing::PlannedAgain,
    });
    let input =
        ReportInput { site, time_zone, date, now, plan: at_hand.as_ref(), trials, withdrawn: &[] };
    Day { date, report: day_report(&input), plan }
}
