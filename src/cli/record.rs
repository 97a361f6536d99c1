//! `fairseam record`: one trial, asked for, typed as flags or read as JSON; judged; written down.

mod answers;
mod change;
mod door;
pub mod draft;
pub mod fault;
pub mod flags;
mod form;
pub mod interview;
pub mod json_form;
pub mod quantity;
mod question;
pub mod sink;
mod step;
mod strict_json;
pub mod strip_syntax;

use std::io::{BufRead, Read, Write};

use anyhow::{Context, anyhow, bail};
use chrono_tz::Tz;

use super::arguments::{ForecastArguments, Format};
use super::folders::Folders;
use super::outcome::{print, say};
use super::{clock, shell};
use crate::plan::{DayPlan, PlanInput, plan_day, shift_date};
use crate::quality::{ForecastAir, KeptPlan, KeptTrial};
use crate::render::figures;
use crate::render::trial::{self, Show};
use crate::site::Site;
use crate::testweld::{Book, HeatTrial, JudgedTrial, Judging, Refusal, Trial, accept};
use crate::units::{Temperature, TravelSpeed};
use crate::words::{Language, tell};
use draft::{Desk, Draft};
use fault::Faults;
use flags::RecordArguments;
use interview::{Asking, interview};
use sink::{NewEntry, NoBook, TrialSink};

/// Everything that one recording depends on, besides the book.
#[derive(Clone, Copy)]
pub struct Setup<'a> {
    /// Site, zone and clock.
    pub desk: Desk<'a>,
    /// Today's plan, where there is one.
    pub plan: Option<&'a DayPlan>,
    /// The trials that the book holds.
    pub trials: &'a [KeptTrial],
}

/// What is printed, and whether something was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// The result, for stdout.
    pub shown: String,
    /// What is said beside it, for stderr.
    pub told: Option<String>,
}

/// Reads a trial, judges it, writes it into the book that `open` gives.
///
/// # Errors
/// When the trial is refused or the book cannot be written; nothing is kept then.
pub fn run<S: TrialSink + 'static>(
    arguments: &RecordArguments,
    open: impl FnOnce(&Site, &std::path::Path) -> anyhow::Result<S>,
) -> anyhow::Result<()> {
    let now = clock::now()?;
    let mut site = shell::load_site(&arguments.site)?.site;
    site.language = arguments.language.unwrap_or(site.language);
    let folders = Folders::locate()?;
    let changes = arguments.correct.is_some() || arguments.withdraw.is_some();
    let needs_book = !arguments.dry_run || changes;
    let mut book: Box<dyn TrialSink> = match open(&site, &folders.data) {
        Ok(book) => Box::new(book),
        Err(fault) if needs_book => return Err(fault),
        Err(fault) => {
            say(&format!("note: the test-weld book could not be read: {fault}"));
            Box::new(NoBook)
        }
    };
    let trials = book.trials()?;
    let today = Today::look_up(arguments, &site, &folders, &trials, now)?;
    let desk = Desk { site: &site, zone: today.zone, now };
    let setup = Setup { desk, plan: today.plan.as_ref(), trials: &trials };
    let (mut input, mut talk) = (std::io::stdin().lock(), std::io::stderr().lock());
    let recorded = record(arguments, &setup, book.as_mut(), &mut input, &mut talk)?;
    drop(talk);
    if let Some(told) = &recorded.told {
        say(told);
    }
    print(&recorded.shown)
}

/// Reads a trial by the arguments, judges it and, unless it is a dry run, writes it into `book`.
///
/// Questions and answers go through `input` and `talk`. A trial that proves nothing is written all
/// the same, and said to be so.
///
/// # Errors
/// When the trial cannot be read, is refused, or cannot be written; nothing is kept then.
pub fn record(
    arguments: &RecordArguments,
    setup: &Setup<'_>,
    book: &mut dyn TrialSink,
    input: &mut dyn BufRead,
    talk: &mut dyn Write,
) -> anyhow::Result<Recorded> {
    change::check_reason(arguments, setup.desk.site.language)?;
    if let Some(id) = &arguments.withdraw {
        return change::withdraw(arguments, id, setup, book);
    }
    let put_back = change::put_back(arguments, setup, book)?;
    let corrected = match &put_back {
        Some(withdrawn) => Some(&withdrawn.trial),
        None => change::corrected(arguments, setup)?,
    };
    let Some((draft, air_is_forecast)) = read(arguments, setup, corrected, input, talk)? else {
        bail!(tell!(setup.desk.site.language, "record-stopped-early"));
    };
    let (desk, units) = (&setup.desk, setup.desk.site.units);
    let language = desk.site.language;
    let (ran, checkpoint) = (draft.ran, draft.checkpoint.clone());
    let trial =
        draft.into_trial(desk, naming(arguments)).map_err(|all| Faults { language, all })?;
    let judged = judge(&trial, desk)
        .map_err(|refusal| anyhow!(refusal.said(language)))
        .with_context(|| tell!(language, "refused-trial"))?;
    let ran_outside = check_run(ran, &trial, desk)?;
    // A correction leaves what it does not name as it was.
    let checkpoint = match corrected {
        Some(_) => checkpoint,
        None => checkpoint.or_else(|| checkpoint_by_time(setup, &trial)),
    };
    let stray = stray_checkpoint(setup, &trial, checkpoint.as_deref());
    let id = if arguments.dry_run {
        None
    } else {
        let corrects = change::correction(arguments, corrected);
        let forecast = if air_is_forecast { None } else { forecast_air(setup, &trial, corrected) };
        Some(book.write(&NewEntry {
            trial,
            checkpoint: checkpoint.clone(),
            corrects,
            ran,
            forecast,
        })?)
    };
    let shown = match arguments.format {
        Format::Text => {
            trial::judged_text(language, &judged, checkpoint.as_deref(), desk.zone, units)
        }
        Format::Json => {
            let show = Show { language, zone: desk.zone, units };
            trial::recorded_json(
                show,
                &desk.site.name,
                &judged,
                checkpoint.as_deref(),
                id.as_deref(),
            )
            .context("a number of the trial cannot be written as JSON")?
        }
    };
    Ok(Recorded {
        shown,
        told: Some(
            told(arguments, language, &judged, id.as_deref(), put_back.is_some())
                + &stray
                + &ran_outside,
        ),
    })
}

/// What became of it, in one sentence.
fn told(
    arguments: &RecordArguments,
    language: Language,
    judged: &JudgedTrial,
    id: Option<&str>,
    is_put_back: bool,
) -> String {
    let became = match (id, &arguments.correct) {
        (None, _) => tell!(language, "record-dry-run"),
        (Some(_), Some(old)) if is_put_back => {
            tell!(language, "record-put-back", id = old.as_str())
        }
        (Some(_), Some(old)) => tell!(language, "record-corrected", id = old.as_str()),
        (Some(id), None) => tell!(language, "record-written", id),
    };
    if judged.is_conclusive() {
        return became;
    }
    format!("{became}; {}", tell!(language, "record-proves-nothing"))
}

/// The draft, and whether its air was taken over from the forecast; `None` where somebody stopped.
fn read(
    arguments: &RecordArguments,
    setup: &Setup<'_>,
    corrected: Option<&KeptTrial>,
    input: &mut dyn BufRead,
    talk: &mut dyn Write,
) -> anyhow::Result<Option<(Draft, bool)>> {
    if arguments.json {
        let mut text = String::new();
        let limit = json_form::MAX_BYTES as u64 + 1;
        input.take(limit).read_to_string(&mut text).context("standard input cannot be read")?;
        return Ok(Some((json_form::parse_json(&text, &setup.desk)?, false)));
    }
    if arguments.tells_a_trial() || corrected.is_some() {
        let draft = arguments.draft(&setup.desk)?;
        let base =
            corrected.map(|kept| Draft::from_trial(&kept.judged.trial, kept.checkpoint.as_ref()));
        return Ok(Some((draft.over(base.unwrap_or_default()), false)));
    }
    let preview = |draft: &Draft| preview(draft, &setup.desk);
    let last = setup.trials.iter().max_by_key(|kept| kept.when());
    let last = last.map(|kept| &kept.judged.trial);
    let asking = Asking { desk: setup.desk, plan: setup.plan, last, preview: &preview };
    let asked = interview(&asking, input, talk).context("the questions were cut short")?;
    Ok(asked.map(|asked| (asked.draft, asked.air_is_forecast)))
}

/// The verdict on what was answered, or why it cannot be taken in.
fn preview(draft: &Draft, desk: &Desk<'_>) -> Result<String, String> {
    let trial = draft.clone().into_trial(desk, flags::flag_of).map_err(|faults| {
        faults.iter().map(|fault| fault.said.clone()).collect::<Vec<_>>().join("; ")
    })?;
    let judged = judge(&trial, desk).map_err(|refusal| refusal.said(desk.site.language))?;
    Ok(trial::verdict_text(desk.site.language, &judged, desk.site.units))
}

/// Through the door of the book, then judged.
pub(in crate::cli) fn judge(trial: &Trial, desk: &Desk<'_>) -> Result<JudgedTrial, Refusal> {
    let site = desk.site;
    accept(trial, &site.welders, desk.now)?;
    let welder = site.welders.iter().find(|welder| welder.name == trial.welder);
    Ok(JudgedTrial::new(trial.clone(), welder, &Judging::of_site(site)))
}

/// The setting really run goes through the same door; what is said where the site file gives the
/// machine no such heat. It is written down all the same: it was run.
pub(in crate::cli) fn check_run(
    ran: Option<(Temperature, Option<TravelSpeed>)>,
    trial: &Trial,
    desk: &Desk<'_>,
) -> anyhow::Result<String> {
    let Some((heat, speed)) = ran else { return Ok(String::new()) };
    let as_trial = Trial { heats: vec![HeatTrial::new(heat, Vec::new())], speed, ..trial.clone() };
    let language = desk.site.language;
    accept(&as_trial, &desk.site.welders, desk.now)
        .map_err(|refusal| anyhow!(refusal.said(language)))
        .with_context(|| tell!(language, "refused-run"))?;
    let welder = desk.site.welders.iter().find(|welder| welder.name == trial.welder);
    let outside =
        welder.filter(|welder| heat.is_below(welder.heat_low) || heat.is_above(welder.heat_max));
    Ok(outside.map_or_else(String::new, |welder| {
        let units = desk.site.units;
        let ran = figures::temperature(heat, units);
        let lowest = figures::whole(welder.heat_low.in_units(units));
        let highest = figures::temperature(welder.heat_max, units);
        let welder = welder.name.as_str();
        format!("; {}", tell!(language, "record-ran-outside", ran, welder, lowest, highest))
    }))
}

fn naming(arguments: &RecordArguments) -> fn(&str) -> String {
    if arguments.json { str::to_owned } else { flags::flag_of }
}

/// As the plan has it for the minute of the trial; a corrected trial keeps what it had.
pub(in crate::cli) fn forecast_air(
    setup: &Setup<'_>,
    trial: &Trial,
    corrected: Option<&KeptTrial>,
) -> Option<ForecastAir> {
    if let Some(kept) = corrected {
        return kept.forecast;
    }
    let plan = setup.plan?;
    let moment = plan.course.iter().rfind(|moment| moment.time <= trial.when)?;
    let air =
        (trial.when < moment.time + chrono::TimeDelta::minutes(1)).then_some(moment.air)??;
    let issued_at = plan.weather.issued_at.unwrap_or(plan.weather.fetched_at);
    Some(ForecastAir { air, issued_at })
}

/// The one checkpoint of the plan that the time of the trial fits; none where it fits two.
pub(in crate::cli) fn checkpoint_by_time(setup: &Setup<'_>, trial: &Trial) -> Option<String> {
    let plan = KeptPlan::of(setup.plan?, setup.desk.now, &|_| String::new());
    plan.only_checkpoint_at(trial.when).map(|point| point.id.clone())
}

/// Said where the trial names a checkpoint that its day's plan does not have.
fn stray_checkpoint(setup: &Setup<'_>, trial: &Trial, checkpoint: Option<&str>) -> String {
    let desk = &setup.desk;
    let (Some(plan), Some(id)) = (setup.plan, checkpoint) else { return String::new() };
    let of_the_day = shift_date(desk.site, desk.zone, trial.when) == plan.date;
    let ids: Vec<&str> = plan.checkpoints.iter().map(|point| point.id.as_str()).collect();
    if !of_the_day || ids.contains(&id) {
        return String::new();
    }
    let language = desk.site.language;
    let none = || tell!(language, "record-no-checkpoints");
    let ids = if ids.is_empty() { none() } else { ids.join(", ") };
    format!("; {}", tell!(language, "record-no-such-checkpoint", id = fault::quoted(id), ids))
}

/// Today's zone and plan, as far as they are at hand.
struct Today {
    zone: Tz,
    plan: Option<DayPlan>,
}

impl Today {
    /// Only the questions are worth asking a weather service for; flags and JSON make do with the
    /// forecast that was fetched last. A trial can be written down without any.
    fn look_up(
        arguments: &RecordArguments,
        site: &Site,
        folders: &Folders,
        trials: &[KeptTrial],
        now: chrono::DateTime<chrono::Utc>,
    ) -> anyhow::Result<Self> {
        let changes = arguments.correct.is_some() || arguments.withdraw.is_some();
        let asks = !arguments.json && !arguments.tells_a_trial() && !changes;
        let from = ForecastArguments {
            forecast: arguments.forecast.forecast.clone(),
            offline: arguments.forecast.offline || !asks,
        };
        let weather = match shell::weather(site, &arguments.site, &from, folders, now) {
            Ok(weather) => weather,
            Err(fault) => {
                let zone = site.time_zone.ok_or(fault)?;
                if asks {
                    say(&tell!(site.language, "record-no-forecast"));
                }
                return Ok(Self { zone, plan: None });
            }
        };
        let zone = weather.time_zone;
        let judged: Vec<JudgedTrial> = trials.iter().map(|kept| kept.judged.clone()).collect();
        let earlier = Book {
            trials: &judged,
            polymer: site.sheet.polymer,
            thickness: site.sheet.thickness,
            carry_days: site.rules.carry_days,
            time_zone: zone,
        };
        let input = PlanInput {
            site,
            time_zone: zone,
            date: shift_date(site, zone, now),
            now,
            forecast: &weather.forecast,
            earlier: &earlier,
        };
        Ok(Self { zone, plan: plan_day(&input).ok() })
    }
}
