//! The loop.

mod day;

use std::path::PathBuf;

use chrono::{DateTime, TimeDelta, Utc};
use chrono_tz::Tz;
use tokio::runtime::Runtime;

use super::caldav;
use super::one_site::{FollowedSite, OnSite};
use super::release::{PublishFault, write_file};
use super::world::{Wake, World};
use super::{backoff, health};
use crate::follow::{followed_days, next_window};
use crate::store::follow::{FollowFault, FollowStore, Taken};

/// The book is looked into this often while a day is followed.
const LOOK_EVERY: TimeDelta = TimeDelta::minutes(1);
/// Where a source does not say when it has something new.
const ASK_EVERY: TimeDelta = TimeDelta::minutes(10);
/// A follower that is not heard of for this long has lost its site.
const LEASE: TimeDelta = TimeDelta::minutes(3);
/// With nothing to follow, the clock is looked at this often.
const IDLE: TimeDelta = TimeDelta::minutes(30);

/// What a follower is set up with.
#[derive(Debug, Clone)]
pub struct Setup {
    /// The data folder.
    pub data_folder: PathBuf,
    /// What this follower calls itself; no two alike.
    pub holder: String,
    /// The sites.
    pub sites: Vec<FollowedSite>,
}

/// What one round came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tick {
    /// When the next is due.
    pub next: DateTime<Utc>,
    /// A day is followed now.
    pub is_following: bool,
    /// Something could not be done; the log says what.
    pub had_trouble: bool,
}

/// Follows sites until it is told to stop.
#[derive(Debug)]
pub struct Follower<W> {
    world: W,
    store: FollowStore,
    runtime: Runtime,
    data_folder: PathBuf,
    holder: String,
    sites: Vec<OnSite>,
    trouble: bool,
}

impl<W: World> Follower<W> {
    /// Opens what is kept between runs.
    ///
    /// # Errors
    /// When it cannot be opened.
    pub fn new(setup: Setup, world: W) -> Result<Self, FollowFault> {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .map_err(|cause| FollowFault::Folder { path: setup.data_folder.clone(), cause })?;
        let store = runtime.block_on(FollowStore::open(&setup.data_folder))?;
        Ok(Self {
            world,
            store,
            runtime,
            data_folder: setup.data_folder,
            holder: setup.holder,
            sites: setup.sites.into_iter().map(OnSite::new).collect(),
            trouble: false,
        })
    }

    /// What is outside, for whoever set it up.
    pub const fn world(&mut self) -> &mut W {
        &mut self.world
    }

    /// Rounds until the world says stop; then gives back what it has.
    pub fn run(&mut self) {
        loop {
            let next = self.tick().next;
            if self.world.wait(next) == Wake::Stop {
                break;
            }
        }
        self.give_back();
    }

    /// Lets other followers have the sites.
    pub fn give_back(&mut self) {
        for on in self.sites.iter_mut().filter(|on| on.is_ours) {
            on.is_ours = false;
            // What cannot be given back runs out by itself.
            let _ = self.runtime.block_on(self.store.give_back(&on.key, &self.holder));
            self.world.say(&format!("{}: stopped", on.followed.site.name));
        }
    }

    /// One round over all sites.
    pub fn tick(&mut self) -> Tick {
        self.trouble = false;
        let now = self.world.now();
        let mut tick = Tick { next: now + IDLE, is_following: false, had_trouble: false };
        let mut sites = std::mem::take(&mut self.sites);
        for on in &mut sites {
            let (next, is_following) = self.site_round(on, now);
            tick.next = tick.next.min(next).max(now + TimeDelta::seconds(1));
            tick.is_following |= is_following;
        }
        self.sites = sites;
        tick.had_trouble = self.trouble;
        tick
    }

    fn site_round(&mut self, on: &mut OnSite, now: DateTime<Utc>) -> (DateTime<Utc>, bool) {
        if on.time_zone.is_none() {
            self.pull(on, now);
        }
        let Some(zone) = on.time_zone else { return (on.ask_at.unwrap_or(now + IDLE), false) };
        let days = followed_days(&on.followed.site, zone, now);
        let waits = on.followed.caldav.is_some() && self.waiting(on).is_some();
        if days.is_empty() && !waits {
            self.rest(on, zone, now);
            let next = next_window(&on.followed.site, zone, now);
            return (next.map_or(now + IDLE, |day| day.from), false);
        }
        if !self.has_site(on, now) {
            return (now + LOOK_EVERY, !days.is_empty());
        }
        if !days.is_empty() {
            self.resume(on, zone, now);
            if on.ask_at.is_none_or(|at| at <= now) {
                self.pull(on, now);
            }
            for day in &days {
                self.day_round(on, zone, day, now);
            }
        }
        self.refresh_file(on, zone, now);
        self.send(on, now);
        self.say_health(on, now);
        (now + LOOK_EVERY, !days.is_empty())
    }

    /// Between two days the site is free for others.
    fn rest(&mut self, on: &mut OnSite, zone: Tz, now: DateTime<Utc>) {
        if on.is_ours {
            on.is_ours = false;
            let given = self.runtime.block_on(self.store.give_back(&on.key, &self.holder));
            self.report(on, "store", given.err());
        }
        on.forecast = None;
        on.ask_at = None;
        on.seen.clear();
        let next = next_window(&on.followed.site, zone, now);
        let rest = next.map_or_else(
            || "nothing to follow: no workday in sight".to_owned(),
            |day| {
                let from = day.from.with_timezone(&zone).format("%Y-%m-%d %H:%M");
                format!("nothing to follow until {from}, for the shift of {}", day.date)
            },
        );
        self.tell(on, "rest", &rest);
    }

    fn has_site(&mut self, on: &mut OnSite, now: DateTime<Utc>) -> bool {
        let taken = self.runtime.block_on(self.store.take(&on.key, &self.holder, now, now + LEASE));
        on.is_ours = match taken {
            Ok(Taken::Ours) => true,
            Ok(Taken::Other(other)) => {
                let line = format!("another follower has this site ({})", other.holder);
                self.tell(on, "lease", &line);
                // What the other publishes is not known here.
                on.file_is_current = false;
                on.forecast = None;
                on.seen.clear();
                false
            }
            Err(fault) => {
                self.report(on, "store", Some(fault));
                false
            }
        };
        if on.is_ours {
            on.is_news("lease", "");
        }
        on.is_ours
    }

    /// After a start: the forecast with the hours that are over, as it was kept.
    fn resume(&mut self, on: &mut OnSite, zone: Tz, now: DateTime<Utc>) {
        if on.forecast.is_some() {
            return;
        }
        let today = now.with_timezone(&zone).date_naive();
        let first = today.pred_opt().unwrap_or(today);
        match self.runtime.block_on(self.store.days_from(&on.key, first)) {
            Ok(days) => {
                let newest = days.into_iter().max_by_key(|day| day.forecast.provenance.fetched_at);
                on.forecast = newest.map(|day| day.forecast);
            }
            Err(fault) => self.report(on, "store", Some(fault)),
        }
    }

    fn pull(&mut self, on: &mut OnSite, now: DateTime<Utc>) {
        match self.world.forecast(&on.followed) {
            Ok(new) => {
                // Together: one by one, two that take turns would be news for ever.
                let notes: Vec<String> =
                    new.notes.iter().map(|note| format!("note: {note}")).collect();
                self.tell(on, "forecast note", &notes.join("; "));
                on.failures = if new.forecast.provenance.stale { on.failures + 1 } else { 0 };
                let after = match on.failures {
                    0 => new.ask_again_at.unwrap_or(now + ASK_EVERY),
                    failures => now + backoff::after(failures),
                };
                on.ask_at = Some(after.max(now + LOOK_EVERY));
                on.time_zone = Some(on.time_zone.unwrap_or(new.time_zone));
                let joined = match &on.forecast {
                    Some(earlier) => new.forecast.with_past_of(earlier, now),
                    None => new.forecast,
                };
                on.forecast = Some(joined);
                on.is_news("forecast", "");
            }
            Err(why) => {
                on.failures += 1;
                on.ask_at = Some(now + backoff::after(on.failures));
                self.trouble = true;
                self.tell(
                    on,
                    "forecast",
                    &format!("no forecast: {why}; what was published stands"),
                );
            }
        }
    }

    /// Writes the calendar file where it may not hold what was published.
    fn refresh_file(&mut self, on: &mut OnSite, zone: Tz, now: DateTime<Utc>) {
        let Some(path) = on.followed.ics.clone().filter(|_| !on.file_is_current) else { return };
        // Yesterday stays a day longer, for whoever looks at it in the morning after a night shift.
        let today = now.with_timezone(&zone).date_naive();
        let first = today.pred_opt().unwrap_or(today);
        let days = self.runtime.block_on(self.store.days_from(&on.key, first));
        let written = days.map_err(PublishFault::from).and_then(|days| {
            let site = &on.followed.site;
            if days.is_empty() {
                return Ok(());
            }
            write_file(&path, (site.language, &site.name), &days)
        });
        on.file_is_current = written.is_ok();
        self.report(on, "file", written.err());
    }

    fn waiting(&self, on: &OnSite) -> Option<(u64, Option<DateTime<Utc>>)> {
        self.runtime.block_on(self.store.waiting(&on.key)).ok().flatten()
    }

    /// Sends to the calendar server what it has yet to take.
    fn send(&mut self, on: &mut OnSite, now: DateTime<Utc>) {
        let Some(collection) = on.followed.caldav.clone() else { return };
        let sent = self.runtime.block_on(caldav::send(&self.store, &collection, &on.key, now));
        match sent {
            Ok(report) => {
                for done in report.lines {
                    self.world.say(&format!("{}: {done}", on.followed.site.name));
                }
                self.trouble |= report.fault.is_some();
                match report.fault {
                    Some(fault) => self.tell(on, "server", &fault),
                    None if report.done > 0 => self.tell(on, "server", ""),
                    None => {}
                }
            }
            Err(fault) => self.report(on, "store", Some(fault)),
        }
    }

    fn say_health(&mut self, on: &mut OnSite, now: DateTime<Utc>) {
        if on.health_at.is_some_and(|at| now < at) {
            return;
        }
        on.health_at = Some(now + health::EVERY);
        let waiting = self.waiting(on).map_or(0, |(waiting, _)| waiting);
        let said = health::line(on, now, waiting);
        self.world.say(&format!("{}: {said}", on.followed.site.name));
        let noted = self.runtime.block_on(self.store.note_health(&on.key, &self.holder, &said));
        self.report(on, "store", noted.err());
    }

    /// Says a line of a topic unless it was the last that was said of it.
    fn tell(&mut self, on: &mut OnSite, topic: &'static str, said: &str) {
        if on.is_news(topic, said) {
            self.world.say(&format!("{}: {said}", on.followed.site.name));
        }
    }

    fn report(&mut self, on: &mut OnSite, topic: &'static str, fault: Option<impl ToString>) {
        let fault = fault.map(|fault| fault.to_string());
        self.trouble |= fault.is_some();
        self.tell(on, topic, &fault.unwrap_or_default());
    }
}
