//! `fairseam book`: the test-weld book, read, checked, carried away.

pub mod flags;
pub mod keeper;
mod pages;

use std::path::Path;

use anyhow::{Context, anyhow, bail};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::arguments::ForecastArguments;
use super::folders::Folders;
use super::outcome::{print, say};
use super::{clock, shell};
use crate::plan::{DayPlan, PlanInput, plan_day, shift_date};
use crate::quality::{KeptPlan, KeptTrial, PlanAtHand, Standing, WithdrawnTrial};
use crate::render::{OFFICE, words};
use crate::site::Site;
use crate::store::write_atomically;
use crate::testweld::{Book, JudgedTrial};
use flags::{Asked, BookArguments};
use keeper::BookKeeper;
pub use pages::{Answer, BookData, answer};

/// Answers from the book that `open` gives.
///
/// # Errors
/// When the book cannot be read or written, or there is no such trial.
pub fn run<K: BookKeeper>(
    arguments: &BookArguments,
    open: impl FnOnce(&Site, &Path) -> anyhow::Result<K>,
) -> anyhow::Result<()> {
    let now = clock::now()?;
    let site = shell::load_site(&arguments.site)?.site;
    let folders = Folders::locate()?;
    let asked = arguments.asked()?;
    let mut book = open(&site, &folders.data)?;
    if let Some(said) = keep(&asked, &mut book)? {
        return print(&format!("{said}\n"));
    }
    let (trials, withdrawn) = (book.trials()?, book.withdrawn()?);
    let desk = Weather { site: &site, arguments, folders: &folders, now };
    let zone = desk.zone()?;
    let plans = plans(&asked, &desk, &book, &trials, zone)?;
    let today = match asked {
        Asked::Learned => desk.look_up().ok().and_then(|weather| {
            desk.plan(&weather, &trials, zone, now.with_timezone(&zone).date_naive())
        }),
        _ => None,
    };
    let today = today.as_ref();
    let (trials, withdrawn) = (trials.as_slice(), withdrawn.as_slice());
    let data = BookData { site: &site, zone, now, trials, withdrawn, plans: &plans, today };
    let Answer { shown, page } = answer(&asked, arguments.format, &data)?;
    if let (Some(path), Some(page)) = (&arguments.html, page) {
        write_atomically(path, page.as_bytes())?;
        say(&format!("report written to {}", path.display()));
    }
    print(&shown)
}

/// What the keeper alone does: check, copy, take in.
///
/// # Errors
/// When it could not be done.
pub fn keep(asked: &Asked, book: &mut dyn BookKeeper) -> anyhow::Result<Option<String>> {
    Ok(Some(match asked {
        Asked::Verify => {
            let entries = book.verify()?;
            match entries {
                0 => "the book has no entry yet: nothing to check".to_owned(),
                1 => "the book is whole: 1 entry".to_owned(),
                _ => {
                    format!("the book is whole: {entries} entries, each chained to the one before")
                }
            }
        }
        Asked::Export(path) => {
            let entries = book.export(path)?;
            format!("{entries} entries exported to {}", path.display())
        }
        Asked::Import(path) => {
            let taken = book.import(path)?;
            format!(
                "{} entries imported from {}, {} already in the book",
                taken.new,
                path.display(),
                taken.known
            )
        }
        Asked::Backup(path) => {
            book.backup(path)?;
            format!("backup written to {}", path.display())
        }
        _ => return Ok(None),
    }))
}

/// What a plan takes besides the book.
struct Weather<'a> {
    site: &'a Site,
    arguments: &'a BookArguments,
    folders: &'a Folders,
    now: DateTime<Utc>,
}

impl Weather<'_> {
    /// Looking something up in the book asks no service for a forecast: what was fetched is used.
    fn look_up(&self) -> anyhow::Result<shell::SiteWeather> {
        let from =
            ForecastArguments { forecast: self.arguments.forecast.forecast.clone(), offline: true };
        shell::weather(self.site, &self.arguments.site, &from, self.folders, self.now)
    }

    /// The day as it would be planned now.
    fn plan(
        &self,
        weather: &shell::SiteWeather,
        trials: &[KeptTrial],
        time_zone: Tz,
        date: NaiveDate,
    ) -> Option<DayPlan> {
        let judged: Vec<JudgedTrial> = trials.iter().map(|kept| kept.judged.clone()).collect();
        let earlier = Book {
            trials: &judged,
            polymer: self.site.sheet.polymer,
            thickness: self.site.sheet.thickness,
            carry_days: self.site.rules.carry_days,
            time_zone,
        };
        let (site, now, forecast) = (self.site, self.now, &weather.forecast);
        plan_day(&PlanInput { site, time_zone, date, now, forecast, earlier: &earlier }).ok()
    }

    fn zone(&self) -> anyhow::Result<Tz> {
        match self.site.time_zone {
            Some(zone) => Ok(zone),
            None => self.look_up().map(|weather| weather.time_zone).context(
                "the site file has no `time_zone`, and no forecast at hand tells it; add one such \
                 as `time_zone = \"America/New_York\"`",
            ),
        }
    }
}

/// The plans of the days in question, as far as they are at hand: as the book kept them, else
/// planned again from the forecast at hand.
fn plans(
    asked: &Asked,
    desk: &Weather<'_>,
    book: &dyn BookKeeper,
    trials: &[KeptTrial],
    zone: Tz,
) -> anyhow::Result<Vec<PlanAtHand>> {
    let dates = match asked {
        Asked::Report(day) => vec![shell::date_of(*day, desk.now, zone)?],
        Asked::Month(first) => days_of_month(*first),
        _ => Vec::new(),
    };
    let (Some(&first), Some(&last)) = (dates.first(), dates.last()) else { return Ok(Vec::new()) };
    let mut plans = book.plans_of(first, last)?;
    let is_kept = |date| plans.iter().any(|at_hand: &PlanAtHand| at_hand.plan.date == date);
    let missing: Vec<NaiveDate> = dates.into_iter().filter(|date| !is_kept(*date)).collect();
    let Some(weather) = (!missing.is_empty()).then(|| desk.look_up().ok()).flatten() else {
        return Ok(plans);
    };
    let of_month = matches!(asked, Asked::Month(_));
    let today = desk.now.with_timezone(&zone).date_naive();
    for date in missing {
        let tested = || trials.iter().any(|kept| shift_date(desk.site, zone, kept.when()) == date);
        let Some(plan) = desk.plan(&weather, trials, zone, date) else { continue };
        // Nobody planned such a day, as far as is known: nothing of it can have been missed.
        if of_month && !(tested() || (date == today && plan.workday)) {
            continue;
        }
        let plan = plan.in_language(OFFICE);
        let kept = KeptPlan::of(&plan, desk.now, &|point| words::because(point, &plan));
        plans.push(PlanAtHand { plan: kept, standing: Standing::PlannedAgain });
    }
    Ok(plans)
}

/// Every date of the month that begins on `first`.
fn days_of_month(first: NaiveDate) -> Vec<NaiveDate> {
    use chrono::Datelike;
    let days = first.iter_days().take(31);
    days.take_while(|date| date.month() == first.month()).collect()
}

/// A trial in question, whether it counts or not.
#[derive(Clone, Copy)]
enum Called<'a> {
    Kept(&'a KeptTrial),
    Withdrawn(&'a WithdrawnTrial),
}

/// The trial of that number.
fn find<'a>(data: &BookData<'a>, id: &str) -> anyhow::Result<Called<'a>> {
    let kept = data.trials.iter().find(|kept| kept.id == id).map(Called::Kept);
    let withdrawn = data.withdrawn.iter().find(|withdrawn| withdrawn.trial.id == id);
    kept.or(withdrawn.map(Called::Withdrawn)).ok_or_else(|| {
        let id = super::record::fault::quoted(id);
        anyhow!("there is no trial {id} of this site in the book; `fairseam book` lists them")
    })
}

/// Trials made on the local dates `from` to `to`, both included.
fn between<T: Clone>(
    trials: &[T],
    when: impl Fn(&T) -> DateTime<Utc>,
    zone: Tz,
    (from, to): (NaiveDate, NaiveDate),
) -> anyhow::Result<Vec<T>> {
    if to < from || to - from > TimeDelta::days(36_600) {
        bail!("`--csv {from}..{to}`: expected the earlier date first, at most 100 years apart");
    }
    let inside = |trial: &&T| {
        let date = when(trial).with_timezone(&zone).date_naive();
        from <= date && date <= to
    };
    Ok(trials.iter().filter(inside).cloned().collect())
}
