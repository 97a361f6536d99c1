//! A week of following in simulated time while everything fails in turn: the network, the services,
//! the forecasts themselves, and the followers, of which there are two. The weather is that of Newark
//! in April 2013; the forecasts of it, one an hour, come in runs that are off each in its own way.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::rc::Rc;

use chrono::{DateTime, TimeDelta, Timelike, Utc};
use chrono_tz::Tz;
use fairseam::plan::DayPlan;
use fairseam::publish::{FollowedSite, Follower, Setup, SiteForecast, Wake, World};
use fairseam::quality::KeptTrial;
use fairseam::store::follow::FollowStore;
use fairseam::testweld::EarlierWindows;
use fairseam::units::Temperature;
use fairseam::weather::sources::recognize::parse_file;
use fairseam::weather::{Forecast, Hour};

use crate::book_store_sample::{run, utc};
use crate::calendar_read_back::{ReadEvent, read_with_calcard};
use crate::fault_support::{Chance, is_long};
use crate::follow_world::{Says, SimWorld, followed, site, tested};
use crate::support::{example_site, fixture};

const FROM: &str = "2013-04-07T20:00:00Z";
const UNTIL: &str = "2013-04-12T23:00:00Z";
const DAYS: [&str; 5] = ["2013-04-08", "2013-04-09", "2013-04-10", "2013-04-11", "2013-04-12"];

/// How far a run of forecasts is off: the front too early or too late, the air too cold or too warm,
/// thunder that is not to come.
struct Mood {
    hours: i64,
    drift_f: f64,
    thunder: Option<u32>,
    holes: bool,
}

impl Mood {
    fn of(chance: &mut Chance, holes: bool) -> Self {
        let mut pick = |below: u64| i64::try_from(chance.below(below)).unwrap();
        let (hours, drift) = (pick(5) - 2, pick(13) - 6);
        // Between 8 and 15 o'clock in New York, on every other run.
        let thunder = (pick(2) == 0).then(|| u32::try_from(12 + pick(8)).unwrap());
        Self { hours, drift_f: drift as f64, thunder, holes }
    }

    fn forecast(&self, record: &Forecast, at: DateTime<Utc>, chance: &mut Chance) -> Forecast {
        let near = |hour: &&Hour| (hour.time - at).abs() <= TimeDelta::days(2);
        let hours = record.hours().iter().filter(near).map(|hour| {
            let mut hour = *hour;
            if hour.time > at {
                let other = record.hour_of(hour.time + TimeDelta::hours(self.hours));
                let ahead = (hour.time - at).num_minutes() as f64 / (24.0 * 60.0);
                let off = self.drift_f * ahead.min(1.0);
                let air = other.and_then(|other| other.air).or(hour.air);
                hour.air = air.map(|air| Temperature::from_fahrenheit(air.fahrenheit() + off));
                if self.thunder == Some(hour.time.hour()) {
                    hour.thunder_probability_pct = Some(60.0);
                }
            }
            if self.holes && chance.below(6) == 0 {
                hour.air = None;
                hour.rain = None;
            }
            hour
        });
        let hours = hours.collect();
        renamed(&Forecast::from_hours(record.provenance.clone(), hours).unwrap(), at, false)
    }
}

/// The forecasts of a week, an hour apart, in runs of good and bad ones.
fn forecasts(record: &Forecast, chance: &mut Chance) -> Vec<Says> {
    let mut says: Vec<Says> = Vec::new();
    let mut at = utc(FROM);
    while at < utc(UNTIL) {
        let kind = chance.below(12);
        let mood = Mood::of(chance, kind == 5);
        for _ in 0..=chance.below(5) {
            let said = match kind {
                0 => Err("no route to the service".to_owned()),
                1 => Err("the service answered 429: too many requests".to_owned()),
                2 => Err("the service sent no JSON".to_owned()),
                // Frozen: the one before once more, under a new date.
                3 => match says.iter().rev().find_map(|(_, said)| said.clone().ok()) {
                    Some(before) => Ok(renamed(&before, at, false)),
                    None => Err("no route to the service".to_owned()),
                },
                // A copy of an earlier reply stands in.
                4 => Ok(renamed(&mood.forecast(record, at, chance), at, true)),
                _ => Ok(mood.forecast(record, at, chance)),
            };
            says.push((at, said));
            at += TimeDelta::hours(1);
        }
    }
    says
}

fn renamed(forecast: &Forecast, at: DateTime<Utc>, stale: bool) -> Forecast {
    let mut provenance = forecast.provenance.clone();
    provenance.issued_at = Some(at);
    provenance.fetched_at = at;
    provenance.stale = stale;
    Forecast::from_hours(provenance, forecast.hours().to_vec()).unwrap()
}

/// The world of one follower: what it heard of the weather and what it said of that, in order.
#[derive(Debug, Clone)]
struct OneWorld {
    shared: SimWorld,
    heard: Rc<RefCell<Vec<Heard>>>,
}

#[derive(Debug, Clone, PartialEq)]
enum Heard {
    Pulled(Result<(), String>),
    Said(String),
}

impl World for OneWorld {
    fn now(&self) -> DateTime<Utc> {
        self.shared.now()
    }

    fn forecast(&mut self, site: &FollowedSite) -> Result<SiteForecast, String> {
        let mut said = self.shared.forecast(site);
        self.heard
            .borrow_mut()
            .push(Heard::Pulled(said.as_ref().map(|_| ()).map_err(Clone::clone)));
        if let Ok(new) = &mut said
            && new.forecast.provenance.stale
        {
            new.notes = vec!["the service is down".to_owned(), "a copy stands in".to_owned()];
        }
        said
    }

    fn trials(&mut self, site: &FollowedSite) -> Result<Vec<KeptTrial>, String> {
        self.shared.trials(site)
    }

    fn earlier<'a>(
        &'a self,
        site: &'a FollowedSite,
        time_zone: Tz,
    ) -> Result<Box<dyn EarlierWindows + 'a>, String> {
        self.shared.earlier(site, time_zone)
    }

    fn keep(&mut self, site: &FollowedSite, plan: &DayPlan) {
        self.shared.keep(site, plan);
    }

    fn say(&mut self, line: &str) {
        let said = line.split_once(": ").map_or(line, |(_, said)| said).to_owned();
        self.heard.borrow_mut().push(Heard::Said(said));
        self.shared.say(line);
    }

    fn wait(&mut self, until: DateTime<Utc>) -> Wake {
        self.shared.wait(until)
    }
}

/// Every failure is said when it begins or becomes another one, and not again while it lasts.
fn says_each_failure_once(heard: &[Heard]) {
    let mut state = Ok(());
    let mut due = None;
    for one in heard {
        match one {
            Heard::Pulled(now) => {
                assert_eq!(due, None, "a failure that was not said");
                if let Err(why) = now
                    && *now != state
                {
                    due = Some(format!("no forecast: {why}; what was published stands"));
                }
                state.clone_from(now);
            }
            Heard::Said(line) if line.starts_with("no forecast: ") => {
                assert_eq!(due.take().as_ref(), Some(line), "said without need");
            }
            Heard::Said(_) => {}
        }
    }
    let (notes, others): (Vec<&str>, Vec<&str>) = heard
        .iter()
        .filter_map(|one| match one {
            Heard::Said(line) => line.strip_prefix("note: "),
            Heard::Pulled(_) => None,
        })
        .partition(|note| note.contains("stands in"));
    let both = "the service is down; note: a copy stands in";
    assert!(notes.iter().all(|note| *note == both), "{notes:?}");
    // Such as a reading that is far from the forecast.
    let once: BTreeSet<&str> = others.iter().copied().collect();
    assert_eq!(once.len(), others.len(), "said twice: {others:?}");
    let pulls = heard.iter().filter(|one| matches!(one, Heard::Pulled(_))).count();
    assert!(notes.len() <= pulls.div_ceil(2), "each time the copy began to stand in");
}

/// What was seen of the published week so far.
#[derive(Debug, Default)]
struct Witness {
    file: Vec<u8>,
    events: BTreeMap<String, ReadEvent>,
    done: BTreeMap<(String, String), DateTime<Utc>>,
    changes: usize,
}

impl Witness {
    fn look(&mut self, folder: &Path, key: &str, at_the_end: bool) {
        if let Ok(file) = std::fs::read(folder.join("crew.ics"))
            && file != self.file
        {
            self.read(std::str::from_utf8(&file).unwrap());
            self.file = file;
        } else if !at_the_end {
            return;
        }
        run(async {
            let Some(store) = FollowStore::open_to_read(folder).await.unwrap() else { return };
            for date in DAYS {
                let day = store.day(key, date.parse().unwrap()).await.unwrap();
                let points = day.and_then(|day| day.followed.published).map(|it| it.points);
                for point in points.into_iter().flatten().filter(|it| it.tested.is_some()) {
                    let name = (date.to_owned(), point.id.clone());
                    let before = self.done.insert(name.clone(), point.time);
                    assert!(before.is_none_or(|time| time == point.time), "{name:?} was moved");
                }
            }
        });
    }

    fn read(&mut self, text: &str) {
        assert!(text.ends_with("END:VCALENDAR\r\n"), "half a file");
        for event in read_with_calcard(text).1 {
            if let Some(before) = self.events.get(&event.uid) {
                let same = content(before) == content(&event);
                // A revision counts up with a change that matters, and never down.
                // Source: RFC5545, section 3.8.7.4.
                if same {
                    assert_eq!(before.sequence, event.sequence, "published twice: {event:?}");
                } else {
                    assert!(before.sequence < event.sequence, "{before:?}\n{event:?}");
                    self.changes += 1;
                }
            }
            self.events.insert(event.uid.clone(), event);
        }
    }
}

fn content(event: &ReadEvent) -> (DateTime<Utc>, DateTime<Utc>, &str, &str, &str) {
    (event.start, event.end, &event.summary, &event.description, &event.status)
}

/// In memory where there is such a place: a week of commits would wait for the disk a thousand times.
fn folder() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir()).unwrap()
}

/// Followers, changes, tests that were done, failures.
fn week(seed: u64) -> [usize; 4] {
    let mut chance = Chance(seed);
    let bytes = std::fs::read(fixture("ewr2013.csv")).unwrap();
    let record = parse_file(&bytes, utc(FROM)).unwrap();
    let text = example_site(&[]);
    let site = site(&text);
    let shared = SimWorld::new(FROM, UNTIL, forecasts(&record, &mut chance));
    let mut trials = Vec::new();
    for date in DAYS {
        for clock in ["11:04", "13:50", "16:35"] {
            // Now and then nobody tests.
            if chance.below(5) > 0 {
                let when = utc(&format!("{date}T{clock}:00Z"));
                let air = record.hour_of(when).and_then(|hour| hour.air).unwrap().fahrenheit();
                let written = when + TimeDelta::minutes(5);
                trials.push(tested(&site, &when.to_rfc3339(), air, &written.to_rfc3339()));
            }
        }
    }
    shared.0.borrow_mut().trials = trials;
    let folder = folder();
    let mut worlds = Vec::new();
    let mut start = |number: usize| {
        let heard = Rc::new(RefCell::new(Vec::new()));
        worlds.push(Rc::clone(&heard));
        let setup = Setup {
            data_folder: folder.path().to_owned(),
            holder: format!("follower {number}"),
            sites: vec![followed(&text, folder.path())],
        };
        Follower::new(setup, OneWorld { shared: shared.clone(), heard }).unwrap()
    };
    let mut pair = [start(0), start(1)];
    let (mut started, mut witness) = (2, Witness::default());
    let mut one = 0;
    while shared.0.borrow().now < utc(UNTIL) {
        // Now this machine is the faster one, now that; sometimes both are.
        if chance.below(20) == 0 {
            one = 1 - one;
        }
        pair[one].tick();
        if chance.below(20) == 0 {
            pair[1 - one].tick();
        }
        witness.look(folder.path(), &site.key(), false);
        // Every fortieth round or so a process is killed, or stopped in good order.
        match chance.below(80) {
            0 => {
                pair[one] = start(started);
                started += 1;
            }
            1 => {
                pair[one].give_back();
                pair[one] = start(started);
                started += 1;
            }
            _ => {}
        }
        // From 22 to 5 o'clock in New York less happens.
        let is_night = (2..9).contains(&shared.0.borrow().now.hour());
        let minutes = 1 + i64::try_from(chance.below(if is_night { 90 } else { 30 })).unwrap();
        shared.0.borrow_mut().now += TimeDelta::minutes(minutes);
    }
    witness.look(folder.path(), &site.key(), true);
    for heard in &worlds {
        says_each_failure_once(&heard.borrow());
    }
    let days = witness.events.values().map(|event| event.uid.split("-2013-").nth(1).unwrap());
    let days: BTreeSet<&str> = days.map(|rest| &rest[..5]).collect();
    assert_eq!(days.len(), 5, "{days:?}");
    let failures = worlds.iter().map(|heard| {
        let is_failure = |one: &&Heard| matches!(one, Heard::Pulled(Err(_)));
        heard.borrow().iter().filter(is_failure).count()
    });
    [started, witness.changes, witness.done.len(), failures.sum()]
}

/// `FAIRSEAM_LONG=1` follows twenty weeks of other accidents.
#[test]
fn a_week_in_which_everything_fails_moves_nothing_done_and_tells_nothing_twice() {
    let weeks = if is_long() { 20 } else { 1 };
    let mut met = [0; 4];
    for number in 0..weeks {
        let week = week(88_172_645_463_325_252 + number * 7_919);
        met = std::array::from_fn(|kind| met[kind] + week[kind]);
    }
    // They were weeks: restarts, changes, tests, failures.
    for (met, least) in met.into_iter().zip([7, 21, 6, 21]) {
        assert!(met >= least * usize::try_from(weeks).unwrap(), "{met} in {weeks} weeks");
    }
}
