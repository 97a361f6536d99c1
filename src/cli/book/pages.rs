//! From what is asked to what is printed. Pure: the book, the plans and the clock are given.

use anyhow::{Context, bail};
use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::flags::{Asked, Period};
use super::{Called, between, days_of_month, find};
use crate::cli::arguments::{Day, Format};
use crate::cli::shell;
use crate::plan::DayPlan;
use crate::quality::{
    DayReport, KeptTrial, PlanAtHand, ReportInput, WithdrawnTrial, day_report, month_summary,
};
use crate::render::OFFICE;
use crate::render::trial::{self, Show};
use crate::site::Site;
use crate::testweld::Conditions;

/// What an answer is made of.
#[derive(Debug, Clone, Copy)]
pub struct BookData<'a> {
    /// The site.
    pub site: &'a Site,
    /// The zone of its shift.
    pub zone: Tz,
    /// Our clock.
    pub now: DateTime<Utc>,
    /// Every trial of the book, in any order.
    pub trials: &'a [KeptTrial],
    /// Every trial that was withdrawn, in any order.
    pub withdrawn: &'a [WithdrawnTrial],
    /// Plans of the days in question that are at hand.
    pub plans: &'a [PlanAtHand],
    /// Today's plan, where it is asked what was learned and one can be made.
    pub today: Option<&'a DayPlan>,
}

/// What is printed, and the page for the printer where there is one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// For stdout.
    pub shown: String,
    /// HTML.
    pub page: Option<String>,
}

/// Answers `asked` in `format`.
///
/// # Errors
/// When there is no such trial or welder, or a date is out of reach.
pub fn answer(asked: &Asked, format: Format, data: &BookData<'_>) -> anyhow::Result<Answer> {
    let BookData { site, zone, trials, .. } = *data;
    let units = site.units;
    let show = Show { language: OFFICE, zone, units };
    let shown = match asked {
        Asked::List(welder) => {
            let (trials, withdrawn) = of_welder(data, welder.as_deref())?;
            match format {
                Format::Text => trial::list_text(&trials, &withdrawn, zone, units),
                Format::Json => in_json(trial::book_json(show, &site.name, &trials, &withdrawn))?,
            }
        }
        Asked::Trial(id) => {
            let called = find(data, id)?;
            let (kept, withdrawn): (&[KeptTrial], &[WithdrawnTrial]) = match called {
                Called::Kept(kept) => (std::slice::from_ref(kept), &[]),
                Called::Withdrawn(withdrawn) => (&[], std::slice::from_ref(withdrawn)),
            };
            match (format, called) {
                (Format::Text, Called::Kept(kept)) => trial::trial_text(kept, zone, units),
                (Format::Text, Called::Withdrawn(withdrawn)) => {
                    trial::withdrawn_trial_text(withdrawn, zone, units)
                }
                (Format::Json, _) => in_json(trial::book_json(show, &site.name, kept, withdrawn))?,
            }
        }
        Asked::Windows(welder) => {
            trial::windows_text(&of_welder(data, welder.as_deref())?.0, zone, units)
        }
        Asked::Learned => trial::learned_text(site, trials, zone, &|name| conditions(data, name)),
        Asked::Report(day) => return report(*day, format, data),
        Asked::Csv(Period { from, to }, welder) => {
            let (trials, withdrawn) = of_welder(data, welder.as_deref())?;
            let trials = between(&trials, KeptTrial::when, zone, (*from, *to))?;
            let when = |withdrawn: &WithdrawnTrial| withdrawn.trial.when();
            let withdrawn = between(&withdrawn, when, zone, (*from, *to))?;
            trial::strips_csv(&trials, &withdrawn, zone, units)?
        }
        Asked::Month(first) => month(*first, format, data)?,
        Asked::Verify | Asked::Export(_) | Asked::Import(_) | Asked::Backup(_) => {
            bail!("the book alone answers that")
        }
    };
    Ok(Answer { shown, page: None })
}

fn in_json(text: Option<String>) -> anyhow::Result<String> {
    text.context("a trial of the book holds a number that is none and cannot be written as JSON")
}

/// Trials of one welder; of a name that neither the site nor the book knows, a fault.
fn of_welder(
    data: &BookData<'_>,
    name: Option<&str>,
) -> anyhow::Result<(Vec<KeptTrial>, Vec<WithdrawnTrial>)> {
    let Some(name) = name else { return Ok((data.trials.to_vec(), data.withdrawn.to_vec())) };
    let is_of = |kept: &KeptTrial| kept.judged.trial.welder == name;
    let trials: Vec<KeptTrial> = data.trials.iter().filter(|kept| is_of(kept)).cloned().collect();
    let withdrawn = data.withdrawn.iter().filter(|withdrawn| is_of(&withdrawn.trial));
    let withdrawn: Vec<WithdrawnTrial> = withdrawn.cloned().collect();
    let is_known = !trials.is_empty() || !withdrawn.is_empty();
    if !is_known && !data.site.welders.iter().any(|welder| welder.name == name) {
        let names: Vec<&str> = data.site.welders.iter().map(|one| one.name.as_str()).collect();
        bail!(
            "`--welder` is {}; expected one of the site's welders: {}",
            crate::cli::record::fault::quoted(name),
            names.join(", ")
        );
    }
    Ok((trials, withdrawn))
}

fn report(day: Day, format: Format, data: &BookData<'_>) -> anyhow::Result<Answer> {
    let (zone, units) = (data.zone, data.site.units);
    let date = shell::date_of(day, data.now, zone)?;
    let report = of_day(date, data);
    let page = Some(trial::report_page(&report, zone, units));
    let shown = match format {
        Format::Text => trial::report_text(&report, zone, units),
        Format::Json => {
            in_json(trial::report_json(Show { language: OFFICE, zone, units }, &report))?
        }
    };
    Ok(Answer { shown, page })
}

fn of_day(date: NaiveDate, data: &BookData<'_>) -> DayReport {
    let BookData { site, zone, now, trials, withdrawn, .. } = *data;
    let plan = data.plans.iter().find(|at_hand| at_hand.plan.date == date);
    day_report(&ReportInput { site, time_zone: zone, date, now, plan, trials, withdrawn })
}

fn month(first: NaiveDate, format: Format, data: &BookData<'_>) -> anyhow::Result<String> {
    let reports: Vec<DayReport> =
        days_of_month(first).into_iter().map(|date| of_day(date, data)).collect();
    let month = month_summary(first, data.site.rules.trial_minutes, &reports);
    match format {
        Format::Text => Ok(trial::month_text(&data.site.name, &month)),
        Format::Json => in_json(trial::month_json(&data.site.name, &month)),
    }
}

/// What the plan expects at the next checkpoint of this welder, or now.
fn conditions(data: &BookData<'_>, welder: &str) -> Option<Conditions> {
    let plan = data.today?;
    let points = plan.checkpoints.iter();
    let point = points.clone().find(|point| point.time >= data.now).or(points.last())?;
    let setting = point.settings.iter().find(|setting| setting.welder == welder)?;
    Some(Conditions {
        ambient: point.air,
        sheet: point.sheet.map(|sheet| sheet.nominal),
        speed: setting.trial.speed_held,
    })
}
