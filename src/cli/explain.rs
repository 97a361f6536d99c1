//! `fairseam explain`: every number behind one minute of the plan.

use super::arguments::{ExplainArguments, Format};
use super::folders::Folders;
use super::outcome::{print, say};
use super::plan::paint;
use super::shell;
use super::{clock, earlier};
use crate::plan::{Explainer, PlanInput, plan_day, shift_date, wall_moment};
use crate::render::{OFFICE, explain, words};

/// Plans the day that the moment belongs to, prints every number behind its minute.
pub(super) fn run(arguments: &ExplainArguments) -> anyhow::Result<()> {
    let now = clock::now()?;
    let site = shell::load_site(&arguments.site)?.site;
    let folders = Folders::locate()?;
    let weather = shell::weather(&site, &arguments.site, &arguments.forecast, &folders, now)?;
    let (forecast, time_zone) = (&weather.forecast, weather.time_zone);
    let asked = wall_moment(arguments.at.0, time_zone);
    let date = shift_date(&site, time_zone, asked.at);
    let earlier = earlier::from_book(&site, &folders.data, time_zone)?;
    let earlier = earlier.as_ref();
    let input = PlanInput { site: &site, time_zone, date, now, forecast, earlier };
    let plan = plan_day(&input);
    let explanation = Explainer::new(&input, plan.as_ref().ok()).at(asked.at)?.asked_as(asked.wall);
    if let Err(error) = &plan {
        say(&format!("note: without the plan of that day: {error}"));
    }
    if forecast.provenance.stale {
        say(&format!(
            "warning: {}",
            words::stale_line(OFFICE, now - forecast.provenance.fetched_at)
        ));
    }
    print(&match arguments.format {
        Format::Json => explain::json(&explanation),
        Format::Text => explain::text(&explanation, paint()),
    })
}
