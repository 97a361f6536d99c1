//! A world in which a day passes in a moment: a clock that jumps, forecasts and trials at hours that
//! the test sets, a log that it reads.

use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;
use fairseam::plan::DayPlan;
use fairseam::publish::{FollowedSite, Follower, Setup, SiteForecast, Wake, World};
use fairseam::quality::{Correction, KeptTrial, Withdrawal, WithdrawnTrial};
use fairseam::site::{Site, load};
use fairseam::testweld::{Book, Carry, Conditions, EarlierWindows, Estimate, JudgedTrial, Judging};
use fairseam::units::Temperature;
use fairseam::weather::sources::recognize::parse_file;
use fairseam::weather::{Forecast, Hour};

use crate::book_store_sample::{trial, utc};
use crate::support::fixture;

/// What a source says from some moment on; an error while it cannot be reached.
pub(crate) type Says = (DateTime<Utc>, Result<Forecast, String>);

/// Everything that happens outside.
#[derive(Debug, Default)]
pub(crate) struct Outside {
    pub(crate) now: DateTime<Utc>,
    pub(crate) until: DateTime<Utc>,
    /// Ascending.
    pub(crate) forecasts: Vec<Says>,
    pub(crate) trials: Vec<KeptTrial>,
    /// Of `trials`, those that are withdrawn from a moment on, by their ids.
    pub(crate) withdrawn: Vec<(String, DateTime<Utc>)>,
    /// With the moment of each line.
    pub(crate) log: Vec<(DateTime<Utc>, String)>,
    /// Checkpoints of each plan that was kept.
    pub(crate) kept: Vec<Vec<String>>,
    pub(crate) asked: Vec<DateTime<Utc>>,
}

/// The same outside for several followers.
#[derive(Debug, Clone, Default)]
pub(crate) struct SimWorld(pub(crate) Rc<RefCell<Outside>>);

impl Outside {
    /// Since when a trial is withdrawn, by now.
    fn withdrawal(&self, kept: &KeptTrial) -> Option<DateTime<Utc>> {
        let of_it = self.withdrawn.iter().find(|(id, at)| *id == kept.id && *at <= self.now);
        of_it.map(|(_, at)| *at)
    }
}

struct OwnBook<'a> {
    site: &'a Site,
    trials: Vec<JudgedTrial>,
    time_zone: Tz,
}

impl OwnBook<'_> {
    fn book(&self) -> Book<'_> {
        Book {
            trials: &self.trials,
            polymer: self.site.sheet.polymer,
            thickness: self.site.sheet.thickness,
            carry_days: self.site.rules.carry_days,
            time_zone: self.time_zone,
        }
    }
}

impl EarlierWindows for OwnBook<'_> {
    fn carry(&self, welder: &fairseam::site::Welder, at: DateTime<Utc>) -> Carry {
        self.book().look_up(welder, at).carry
    }

    fn estimate(
        &self,
        welder: &fairseam::site::Welder,
        at: DateTime<Utc>,
        asked: &Conditions,
    ) -> Option<Estimate> {
        self.book().estimate(welder, at, asked)
    }
}

impl SimWorld {
    pub(crate) fn new(from: &str, until: &str, forecasts: Vec<Says>) -> Self {
        let outside =
            Outside { now: utc(from), until: utc(until), forecasts, ..Outside::default() };
        Self(Rc::new(RefCell::new(outside)))
    }

    fn written(&self) -> Vec<KeptTrial> {
        let outside = self.0.borrow();
        let written = outside.trials.iter().filter(|kept| kept.written_at <= outside.now);
        written.filter(|kept| outside.withdrawal(kept).is_none()).cloned().collect()
    }

    /// Lines that say what was published, each with its local time.
    pub(crate) fn published(&self, zone: Tz) -> Vec<String> {
        self.lines(zone, |line| line.contains("published:") || line.contains("silenced:"))
    }

    pub(crate) fn lines(&self, zone: Tz, wanted: impl Fn(&str) -> bool) -> Vec<String> {
        let outside = self.0.borrow();
        let of = |(at, line): &(DateTime<Utc>, String)| {
            let local = at.with_timezone(&zone).format("%d %H:%M");
            wanted(line).then(|| {
                let said = line.split_once(": ").map_or(line.as_str(), |(_, said)| said);
                format!("{local} {said}")
            })
        };
        outside.log.iter().filter_map(of).collect()
    }
}

impl World for SimWorld {
    fn now(&self) -> DateTime<Utc> {
        self.0.borrow().now
    }

    fn forecast(&mut self, site: &FollowedSite) -> Result<SiteForecast, String> {
        let mut outside = self.0.borrow_mut();
        let now = outside.now;
        outside.asked.push(now);
        let says = outside.forecasts.iter().rev().find(|(from, _)| *from <= now).cloned();
        let next = outside.forecasts.iter().map(|(from, _)| *from).find(|from| now < *from);
        let forecast = says.ok_or_else(|| "nothing yet".to_owned())?.1?;
        Ok(SiteForecast {
            forecast,
            time_zone: site.site.time_zone.unwrap(),
            ask_again_at: Some(next.unwrap_or(now + TimeDelta::days(1))),
            notes: Vec::new(),
        })
    }

    fn trials(&mut self, _: &FollowedSite) -> Result<Vec<KeptTrial>, String> {
        Ok(self.written())
    }

    fn withdrawn(&mut self, _: &FollowedSite) -> Result<Vec<WithdrawnTrial>, String> {
        let outside = self.0.borrow();
        let of = |kept: &KeptTrial| {
            let said = Correction { by: "M.".to_owned(), why: "keyed in twice".to_owned() };
            let withdrawal = Withdrawal { at: outside.withdrawal(kept)?, said, forms_before: 1 };
            Some(WithdrawnTrial { trial: kept.clone(), withdrawal })
        };
        Ok(outside.trials.iter().filter_map(of).collect())
    }

    fn earlier<'a>(
        &'a self,
        site: &'a FollowedSite,
        time_zone: Tz,
    ) -> Result<Box<dyn EarlierWindows + 'a>, String> {
        let trials = self.written().into_iter().map(|kept| kept.judged).collect();
        Ok(Box::new(OwnBook { site: &site.site, trials, time_zone }))
    }

    fn keep(&mut self, _: &FollowedSite, plan: &DayPlan) {
        let ids = plan.checkpoints.iter().map(|point| point.id.clone()).collect();
        self.0.borrow_mut().kept.push(ids);
    }

    fn say(&mut self, line: &str) {
        let mut outside = self.0.borrow_mut();
        let now = outside.now;
        outside.log.push((now, line.to_owned()));
    }

    /// Jumps to the next thing that happens, or to `until` where that is later; a quarter of an hour
    /// at most, so that checkpoints come due in between.
    fn wait(&mut self, until: DateTime<Utc>) -> Wake {
        let mut outside = self.0.borrow_mut();
        let now = outside.now;
        // Minute by minute while the source cannot be reached, since it is asked again and again.
        let says = outside.forecasts.iter().rev().find(|(from, _)| *from <= now);
        if says.is_some_and(|(_, says)| says.is_err()) {
            outside.now = until;
            return Wake::Time;
        }
        let forecasts = outside.forecasts.iter().map(|(from, _)| *from);
        let trials = outside.trials.iter().map(|kept| kept.written_at);
        let withdrawn = outside.withdrawn.iter().map(|(_, at)| *at);
        let next = forecasts.chain(trials).chain(withdrawn).filter(|at| now < *at).min();
        let quarter = now + TimeDelta::minutes(15);
        outside.now = next.map_or(quarter, |next| next.min(quarter)).max(until.min(quarter));
        if outside.now < outside.until { Wake::Time } else { Wake::Stop }
    }
}

/// A recorded day as a forecast that was issued at `issued`, with hours changed by `change`.
pub(crate) fn forecast(name: &str, issued: &str, change: impl Fn(&Forecast, &mut Hour)) -> Says {
    let issued = utc(issued);
    let bytes = std::fs::read(fixture(name)).unwrap();
    let recorded = parse_file(&bytes, issued).unwrap();
    let mut provenance = recorded.provenance.clone();
    provenance.issued_at = Some(issued);
    // As far ahead as a service looks; the record is a year.
    let near = |hour: &&Hour| (hour.time - issued).abs() <= TimeDelta::days(4);
    let hours = recorded.hours().iter().filter(near).map(|hour| {
        let mut hour = *hour;
        change(&recorded, &mut hour);
        hour
    });
    (issued, Ok(Forecast::from_hours(provenance, hours.collect()).unwrap()))
}

/// The air of a recorded day some hours later (a front that comes earlier), or earlier.
pub(crate) fn front(hours: i64) -> impl Fn(&Forecast, &mut Hour) {
    move |recorded, hour| {
        let at = hour.time + TimeDelta::hours(hours);
        hour.air = recorded.hour_of(at).and_then(|other| other.air).or(hour.air);
    }
}

/// A network that is down from a moment on.
pub(crate) fn down(from: &str) -> Says {
    (utc(from), Err("no route to the service".to_owned()))
}

/// A trial of 800 °F cold, 900 and 1000 °F good, made at `when` in air of `air_f`, written down at
/// `written`.
pub(crate) fn tested(site: &Site, when: &str, air_f: f64, written: &str) -> KeptTrial {
    let mut made = trial(0).trial;
    made.when = utc(when);
    made.ambient = Temperature::from_fahrenheit(air_f);
    made.sheet = None;
    KeptTrial::new(when.to_owned(), utc(written), made, &site.welders, &Judging::of_site(site))
}

pub(crate) fn site(text: &str) -> Site {
    load(text, "site.toml").unwrap_or_else(|faults| panic!("{faults}")).site
}

pub(crate) fn followed(text: &str, folder: &Path) -> FollowedSite {
    FollowedSite {
        site: site(text),
        file: PathBuf::from("site.toml"),
        ics: Some(folder.join("crew.ics")),
        caldav: None,
    }
}

pub(crate) fn follower(
    world: &SimWorld,
    folder: &Path,
    holder: &str,
    sites: Vec<FollowedSite>,
) -> Follower<SimWorld> {
    let setup = Setup { data_folder: folder.to_owned(), holder: holder.to_owned(), sites };
    Follower::new(setup, world.clone()).unwrap()
}
