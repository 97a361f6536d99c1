//! The rest of the house for the server: clock, forecasts, book, plans.

use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::followed;
use super::planner::{Planner, day};
use super::{calendar, forms};
use crate::cli::arguments::ForecastArguments;
use crate::cli::folders::Folders;
use crate::cli::kept_book::{KeptBook, kept_trials, withdrawn_trials};
use crate::cli::record::draft::Desk;
use crate::cli::record::fault::Faults;
use crate::cli::record::{Setup, json_form};
use crate::cli::shell::{self, SiteWeather, block_on};
use crate::cli::{earlier, keep_plan, record};
use crate::plan::{DayPlan, shift_date};
use crate::quality::KeptPlan;
use crate::render::trial::{Show, recorded_json};
use crate::render::{outlook, words};
use crate::season::{AheadInput, Failed, Reach, SiteAhead, SiteHead, days_ahead, worst_first};
use crate::server::house::{Corrected, House, HouseFault, Look, Recorded, Sent as Arrived};
use crate::site::Site;
use crate::store::book::{
    self, BookFault, BookSite, BookStore, Content, ForecastThen, NewEntry, RecordedTrial, Run,
    Sending, Sent, SqliteBook, Thread,
};
use crate::testweld::JudgedTrial;
use crate::words::{Language, tell};

/// A site that is served.
#[derive(Debug, Clone)]
pub struct ServedSite {
    /// The site.
    pub site: Arc<Site>,
    /// Its file.
    pub file: PathBuf,
}

/// Clock, forecasts and book of this machine.
pub struct Rim {
    sites: Vec<Arc<Site>>,
    files: Vec<PathBuf>,
    folders: Folders,
    book: SqliteBook,
    offline: bool,
    clock: Clock,
    held: Vec<Mutex<Held>>,
}

/// What tells the present moment.
pub type Clock = Arc<dyn Fn() -> DateTime<Utc> + Send + Sync>;

/// What is held of a site between two looks.
#[derive(Default)]
struct Held {
    weather: Option<Arc<SiteWeather>>,
    /// Why the last asking came to nothing.
    trouble: Option<String>,
    /// As it was shown last.
    today: Option<Arc<DayPlan>>,
}

type Faulty<T> = Result<T, HouseFault>;

impl Held {
    /// Whether the source has nothing new by its own word.
    fn may_wait(&self, now: DateTime<Utc>) -> bool {
        let again = self.weather.as_ref().and_then(|weather| weather.ask_again_at);
        self.trouble.is_none() && again.is_some_and(|again| now < again)
    }
}

impl Rim {
    pub(super) fn new(
        sites: Vec<ServedSite>,
        folders: Folders,
        book: SqliteBook,
        offline: bool,
        clock: Clock,
    ) -> Self {
        let held = sites.iter().map(|_| Mutex::default()).collect();
        let (sites, files) = sites.into_iter().map(|served| (served.site, served.file)).unzip();
        Self { sites, files, folders, book, offline, clock, held }
    }

    fn site(&self, number: usize) -> Faulty<&Arc<Site>> {
        self.sites.get(number).ok_or_else(|| HouseFault::Inside(format!("no site {number}")))
    }

    fn held(&self, number: usize) -> Faulty<MutexGuard<'_, Held>> {
        let held = self.held.get(number);
        let held = held.ok_or_else(|| HouseFault::Inside(format!("no site {number}")))?;
        // A thread that broke off has left whole values only.
        Ok(held.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Asks the source, or the kept replies alone, and holds what comes.
    fn ask(&self, number: usize, offline: bool) -> Faulty<()> {
        let site = self.site(number)?;
        if self.held(number)?.may_wait(self.now()) {
            return Ok(());
        }
        let file = self.files.get(number).cloned().unwrap_or_default();
        let from = ForecastArguments { forecast: None, offline };
        let now = self.now();
        // The lock is not held meanwhile: a service may take its time.
        let asked = shell::quiet_weather(site, &file, &from, &self.folders, now);
        let mut held = self.held(number)?;
        match asked {
            Ok(new) => {
                // Services send no hours that are over, and a shift under way began in them.
                let forecast = match &held.weather {
                    Some(before) => new.forecast.with_past_of(&before.forecast, now),
                    None => new.forecast,
                };
                held.weather = Some(Arc::new(SiteWeather { forecast, ..new }));
                held.trouble = None;
            }
            Err(error) => held.trouble = Some(format!("{error:#}")),
        }
        Ok(())
    }

    fn threads(&self, site: &Site) -> Faulty<Vec<Thread>> {
        let key = BookSite::of(site).key;
        flat(block_on(book::threads(&self.book, Some(&key))))
    }

    /// The zone of the shift; the forecast's where the site file has none.
    fn zone(&self, number: usize) -> Faulty<Tz> {
        let weather = self.held(number)?.weather.as_ref().map(|weather| weather.time_zone);
        weather.or(self.site(number)?.time_zone).ok_or_else(|| {
            HouseFault::Inside(
                "the site file has no `time_zone`, and no forecast at hand tells it; add one such \
                 as `time_zone = \"America/New_York\"`"
                    .to_owned(),
            )
        })
    }

    /// Keeps a plan for the report of its day, under the rules of `fairseam plan`.
    fn keep(&self, site: &Site, plan: &DayPlan, now: DateTime<Utc>) {
        if !keep_plan::is_kept(plan, false, now).is_ok_and(|kept| kept) {
            return;
        }
        let kept = KeptPlan::of(plan, now, &|point| words::because(point, plan));
        let kept = flat(block_on(self.book.keep_plan(&BookSite::of(site), &kept)));
        if let Err(fault) = kept {
            tracing::warn!(%fault, site = site.key(), "a plan could not be kept for its report");
        }
    }
}

impl House for Rim {
    fn now(&self) -> DateTime<Utc> {
        (self.clock)()
    }

    fn sites(&self) -> &[Arc<Site>] {
        &self.sites
    }

    fn fetch(&self, number: usize) {
        if let Err(fault) = self.ask(number, self.offline) {
            tracing::error!(%fault, "no forecast");
        }
    }

    fn look(&self, number: usize) -> Faulty<Look> {
        let (site, now) = (Arc::clone(self.site(number)?), self.now());
        if self.held(number)?.weather.is_none() {
            self.ask(number, true)?;
        }
        let (weather, mut warnings, shown_before) = {
            let held = self.held(number)?;
            let told = held.weather.iter().flat_map(|weather| &weather.warnings);
            let warnings = told.chain(&held.trouble).cloned().collect::<Vec<_>>();
            (held.weather.clone(), warnings, held.today.clone())
        };
        let zone = self.zone(number)?;
        let threads = self.threads(&site)?;
        let trials = kept_trials(&site, &threads);
        let withdrawn = withdrawn_trials(&site, &threads);
        let earlier = earlier::from_threads(&site, &threads, zone);
        let planner = Planner { site: &site, zone, now, weather, earlier: earlier.as_ref() };
        let date = shift_date(&site, zone, now);
        let next = date.checked_add_signed(TimeDelta::days(1));
        let next = next.ok_or_else(|| HouseFault::Inside("the calendar ends".to_owned()))?;
        let followed = followed::days(&site, &[date, next], &self.folders.data);
        let followed = followed.unwrap_or_else(|fault| {
            warnings.push(fault.to_string());
            Vec::new()
        });
        let mut today = planner.plan(date, &followed);
        // The hours that are over drop out of a forecast: the plan shown last goes on then.
        if let (Err(why), Some(shown)) = (&today, shown_before.filter(|plan| plan.date == date)) {
            warnings.push(format!("the plan of today is an earlier one: {why}"));
            today = Ok(shown);
        }
        let tomorrow = planner.plan(next, &followed);
        self.held(number)?.today = today.clone().ok();
        let plans: Vec<&DayPlan> =
            [&today, &tomorrow].into_iter().flatten().map(|plan| &**plan).collect();
        // Whoever follows a day keeps its plan and publishes it.
        let is_ours = |plan: &&&DayPlan| followed.iter().all(|day| day.date() != plan.date);
        for plan in plans.iter().filter(is_ours) {
            self.keep(&site, plan, now);
        }
        let (calendar, told) = calendar::of(&site, &plans, &followed, &self.folders, now);
        warnings.extend(told);
        let day = |date, plan| day(&site, zone, now, date, plan, &trials);
        let (today, tomorrow) = (day(date, today), day(next, tomorrow));
        Ok(Look {
            at: now,
            time_zone: zone,
            today,
            tomorrow,
            trials,
            withdrawn,
            calendar,
            warnings,
        })
    }

    fn book_mark(&self) -> Faulty<String> {
        let head = flat(block_on(self.book.head()))?;
        let head = head.map_or_else(String::new, |head| head.hash);
        Ok(head + &followed::mark(&self.folders.data))
    }

    fn record(&self, number: usize, sent: &Arrived<'_>) -> Faulty<Recorded> {
        let (now, zone) = (self.now(), self.zone(number)?);
        let language = sent.language;
        let site = &Site { language, ..(**self.site(number)?).clone() };
        let plan = self.held(number)?.today.clone();
        let setup = Setup { desk: Desk { site, zone, now }, plan: plan.as_deref(), trials: &[] };
        let refused = |error: anyhow::Error| HouseFault::Refused(format!("{error:#}"));
        let arrived = json_form::parse_sent(sent.json, &setup.desk)
            .map_err(|faults| refused(faults.into()))?;
        let (ran, told) = (arrived.draft.ran, arrived.draft.checkpoint.clone());
        let trial = arrived.draft.into_trial(&setup.desk, str::to_owned);
        let trial = trial.map_err(|all| refused(Faults { language, all }.into()))?;
        let judged = record::judge(&trial, &setup.desk)
            .map_err(|refusal| HouseFault::Refused(refusal.said(language)))?;
        record::check_run(ran, &trial, &setup.desk).map_err(refused)?;
        let checkpoint = told.or_else(|| record::checkpoint_by_time(&setup, &trial));
        let forecast = record::forecast_air(&setup, &trial, None);
        let entry = |content| NewEntry {
            site: BookSite::of(site),
            recorded_at: now,
            recorded_by: sent.holder.to_owned(),
            supersedes: None,
            content,
        };
        let run = ran.map(|(heat, speed)| {
            let (from, welder) = (trial.when, trial.welder.clone());
            entry(Content::Run(Run { from, welder, heat, speed, note: None }))
        });
        let recorded = RecordedTrial {
            trial,
            checkpoint: checkpoint.clone(),
            forecast: forecast
                .map(|then| ForecastThen { ambient: then.air, issued_at: then.issued_at }),
        };
        let entries: Vec<NewEntry> =
            std::iter::once(entry(Content::Trial(Box::new(recorded)))).chain(run).collect();
        let sending = Sending::new(&arrived.sent_id, &site.key(), &arrived.json);
        let (id, known) = match block_on(self.book.append_once(&entries, &sending)) {
            Ok(Ok(Sent::Now(appended))) => {
                for lag in appended.iter().filter_map(|entry| entry.lag.as_ref()) {
                    tracing::warn!(%lag, "the end of the book could not be noted beside it");
                }
                let first = appended.first().map(|first| first.id);
                (first.ok_or_else(|| HouseFault::Inside("nothing was taken in".to_owned()))?, false)
            }
            Ok(Ok(Sent::Before(id))) => (id, true),
            Ok(Err(fault)) => return Err(of_sending(&fault, language)),
            Err(error) => return Err(inside(&error)),
        };
        let (id, show) =
            (id.to_string(), Show { language: site.language, zone, units: site.units });
        // What was sent before is answered as it was then, whatever became of it.
        let first = if known { self.first_form(site, &id)? } else { (judged, checkpoint) };
        let json = recorded_json(show, &site.name, &first.0, first.1.as_deref(), Some(&id));
        let json =
            json.ok_or_else(|| HouseFault::Inside("a number of the trial is none".to_owned()))?;
        Ok(Recorded { json, known })
    }

    fn correct(&self, number: usize, correction: &Corrected<'_>) -> Faulty<()> {
        let (site, now, zone) = (self.site(number)?, self.now(), self.zone(number)?);
        let trials = kept_trials(site, &self.threads(site)?);
        let desk = Desk { site, zone, now };
        let mut book = KeptBook::over(self.book.clone(), site, now);
        forms::correct(correction, &desk, &trials, &mut book)
    }

    fn outlook(&self) -> Faulty<String> {
        let now = self.now();
        let (mut sites, mut failed) = (Vec::new(), Vec::new());
        for number in 0..self.sites.len() {
            match self.ahead(number, now) {
                Ok(ahead) => sites.push(ahead),
                Err(error) => failed.push(Failed {
                    file: self.site(number)?.name.clone(),
                    reason: format!("{error:#}"),
                }),
            }
        }
        worst_first(&mut sites);
        Ok(outlook::ahead_page(&sites, &failed, now, &[("/office/", "Roofs")]))
    }
}

impl Rim {
    fn ahead(&self, number: usize, now: DateTime<Utc>) -> anyhow::Result<SiteAhead> {
        let site = self.site(number)?;
        let weather = self.held(number)?.weather.clone();
        let weather = weather.context("there is no forecast at hand")?;
        let time_zone = weather.time_zone;
        let today = now.with_timezone(&time_zone).date_naive();
        let from = today.succ_opt().context("the calendar ends")?;
        let threads = self.threads(site)?;
        let earlier = earlier::from_threads(site, &threads, time_zone);
        let (forecast, earlier) = (&weather.forecast, earlier.as_ref());
        let input = AheadInput { site, time_zone, now, forecast, earlier };
        let head = SiteHead::of(site, &site.name, time_zone);
        Ok(SiteAhead { head, ahead: days_ahead(&input, Reach { from, to: None }) })
    }

    /// A trial as it was first written down.
    fn first_form(&self, site: &Site, id: &str) -> Faulty<(JudgedTrial, Option<String>)> {
        let threads = self.threads(site)?;
        let withdrawn = withdrawn_trials(site, &threads).into_iter().map(|one| one.trial);
        let mut trials = kept_trials(site, &threads).into_iter().chain(withdrawn);
        let kept = trials.find(|kept| kept.id == id).ok_or_else(|| {
            HouseFault::Conflict(tell!(site.language, "record-no-trial-here", id))
        })?;
        Ok(match kept.earlier.into_iter().next() {
            Some(first) => (first.judged, first.checkpoint),
            None => (kept.judged, kept.checkpoint),
        })
    }
}

fn flat<T>(result: anyhow::Result<Result<T, BookFault>>) -> Faulty<T> {
    result.map_err(|error| inside(&error))?.map_err(|fault| of_book(&fault))
}

fn inside(error: &anyhow::Error) -> HouseFault {
    HouseFault::Inside(format!("{error:#}"))
}

/// A trial comes from the roof: what the crew can mend is told in its language.
fn of_sending(fault: &BookFault, language: Language) -> HouseFault {
    match fault {
        BookFault::SentOtherwise { .. } => {
            HouseFault::Conflict(tell!(language, "record-sent-otherwise"))
        }
        BookFault::Moved => HouseFault::Conflict(tell!(language, "record-book-busy")),
        _ => of_book(fault),
    }
}

pub(super) fn of_book(fault: &BookFault) -> HouseFault {
    match fault {
        BookFault::Refused(refusal) => HouseFault::Refused(refusal.to_string()),
        BookFault::SentOtherwise { .. } | BookFault::Moved => {
            HouseFault::Conflict(fault.to_string())
        }
        _ => HouseFault::Inside(fault.to_string()),
    }
}
