//! What the tests of `record` and `book` share: a site, a book in memory, a command line.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;
use clap::Parser;
use fairseam::cli::record::draft::Desk;
use fairseam::cli::record::flags::RecordArguments;
use fairseam::cli::record::sink::{NewEntry, TrialSink};
use fairseam::cli::record::{Recorded, Setup, record};
use fairseam::plan::{DayPlan, PlanInput, plan_day};
use fairseam::quality::{Correction, EarlierForm, KeptTrial, Ran};
use fairseam::site::Site;
use fairseam::testweld::{Judging, NoRecords};
use fairseam::units::Temperature;
use fairseam::weather::{Forecast, Hour, Provenance};

use crate::support::example_site;

/// 08:20 on the site's clock.
pub const NOW: &str = "2027-04-21T12:20:00Z";
pub const ZONE: Tz = Tz::America__New_York;

/// 700 to 1100 °F in steps of 100, 3 to 18 ft/min, and a hand welder.
pub fn site() -> Site {
    site_of(&[])
}

pub fn site_of(overrides: &[(&str, &str)]) -> Site {
    let hand = "[[welders]]\nname = \"hand 1\"\nkind = \"hand\"\n\n[power]";
    let text = example_site(overrides).replace("[power]", hand);
    fairseam::site::load(&text, "roof.toml").unwrap().site
}

pub fn now() -> DateTime<Utc> {
    NOW.parse().unwrap()
}

/// A day of 60 °F from end to end: tests at 07:00, 09:45 and 12:30, 8 ft/min by the rule.
pub fn plan(site: &Site) -> DayPlan {
    plan_of(site, "2027-04-21")
}

pub fn plan_of(site: &Site, date: &str) -> DayPlan {
    let date: NaiveDate = date.parse().unwrap();
    let midnight = date.and_hms_opt(0, 0, 0).unwrap().and_utc();
    let hour = |hour| Hour {
        air: Some(Temperature::from_fahrenheit(60.0)),
        ..Hour::unknown(midnight + TimeDelta::hours(hour))
    };
    let provenance = Provenance {
        source: "file".to_owned(),
        issued_at: None,
        fetched_at: midnight,
        stale: false,
        attribution: "invented".to_owned(),
        time_zone: None,
    };
    let forecast = Forecast::from_hours(provenance, (0..48).map(hour).collect()).unwrap();
    let input = PlanInput {
        site,
        time_zone: ZONE,
        date,
        now: midnight,
        forecast: &forecast,
        earlier: &NoRecords { carry_days: 7 },
    };
    plan_day(&input).unwrap()
}

/// A book that keeps everything in memory.
#[derive(Debug, Default)]
pub struct Memory {
    pub entries: Vec<NewEntry>,
    pub kept: Vec<KeptTrial>,
    pub withdrawn: Vec<(String, Correction)>,
    pub welders: Vec<fairseam::site::Welder>,
    pub broken: bool,
}

impl Memory {
    pub fn of(site: &Site) -> Self {
        Self { welders: site.welders.clone(), ..Self::default() }
    }
}

impl TrialSink for Memory {
    fn trials(&self) -> anyhow::Result<Vec<KeptTrial>> {
        Ok(self.kept.clone())
    }

    fn withdraw(&mut self, id: &str, said: &Correction) -> anyhow::Result<()> {
        anyhow::ensure!(!self.broken, "the disk is full");
        self.kept.retain(|kept| kept.id != id);
        self.withdrawn.push((id.to_owned(), said.clone()));
        Ok(())
    }

    fn write(&mut self, entry: &NewEntry) -> anyhow::Result<String> {
        anyhow::ensure!(!self.broken, "the disk is full");
        self.entries.push(entry.clone());
        let judging = Judging::default_for(fairseam::units::UnitSystem::Us);
        let place = entry.corrects.as_ref().map(|(id, _)| id.clone());
        let id = place.unwrap_or_else(|| (self.kept.len() + 1).to_string());
        let trial = entry.trial.clone();
        let mut new = KeptTrial::new(id.clone(), now(), trial, &self.welders, &judging);
        new.checkpoint.clone_from(&entry.checkpoint);
        new.forecast = entry.forecast;
        new.correction = entry.corrects.as_ref().map(|(_, correction)| correction.clone());
        let ran = entry.ran.map(|(heat, speed)| Ran { written_at: now(), heat, speed });
        new.ran.extend(ran);
        match self.kept.iter_mut().find(|kept| kept.id == id) {
            Some(old) => {
                new.earlier.clone_from(&old.earlier);
                new.earlier.push(EarlierForm {
                    written_at: old.written_at,
                    judged: old.judged.clone(),
                    checkpoint: old.checkpoint.clone(),
                    correction: old.correction.clone(),
                });
                *old = new;
            }
            None => self.kept.push(new),
        }
        Ok(id)
    }
}

#[derive(Parser)]
struct Line {
    #[command(flatten)]
    record: RecordArguments,
}

/// What stands behind `fairseam record roof.toml`.
pub fn arguments(flags: &[&str]) -> RecordArguments {
    Line::try_parse_from(["record", "roof.toml"].iter().chain(flags)).unwrap().record
}

pub fn usage_error(flags: &[&str]) -> String {
    match Line::try_parse_from(["record", "roof.toml"].iter().chain(flags)) {
        Ok(_) => panic!("{flags:?} was taken"),
        Err(error) => error.to_string(),
    }
}

/// One recording, and all that the questions printed.
pub struct Told {
    pub result: anyhow::Result<Recorded>,
    pub talk: String,
}

impl Told {
    pub fn shown(&self) -> &str {
        &self.result.as_ref().unwrap().shown
    }

    pub fn told(&self) -> &str {
        self.result.as_ref().unwrap().told.as_deref().unwrap_or_default()
    }

    /// The error with its causes.
    pub fn refusal(&self) -> String {
        format!("{:#}", self.result.as_ref().unwrap_err())
    }
}

pub fn record_into(
    book: &mut Memory,
    site: &Site,
    plan: Option<&DayPlan>,
    flags: &[&str],
    input: &str,
) -> Told {
    let trials = book.trials().unwrap();
    let desk = Desk { site, zone: ZONE, now: now() };
    let setup = Setup { desk, plan, trials: &trials };
    let mut talk = Vec::new();
    let result = record(&arguments(flags), &setup, book, &mut input.as_bytes(), &mut talk);
    Told { result, talk: String::from_utf8(talk).unwrap() }
}

/// Flags for `700 ccc, 800 ggg`: `g` good, `c` cold, `b` burnt though wide, `m` mixed, `a` along.
pub fn heat_flags(table: &str) -> Vec<String> {
    let strip = |letter| match letter {
        'g' => "1.5 film-tear",
        'c' => "1/4 cold",
        'b' => "2 film-tear+browning",
        'm' => "1.5 mixed",
        'a' => "1.5 film-tear along",
        other => panic!("no strip is called {other}"),
    };
    let row = |row: &str| {
        let (heat, strips) = row.trim().split_once(' ').unwrap();
        let strips: Vec<&str> = strips.chars().map(strip).collect();
        ["--heat".to_owned(), heat.to_owned(), "--strips".to_owned(), strips.join(", ")]
    };
    table.split(',').flat_map(row).collect()
}

pub const WHO: [&str; 8] =
    ["--welder", "automatic 1", "--who", "operator", "--air", "60", "--speed", "8"];

pub fn recorded(table: &str) -> Told {
    let site = site();
    let heats = heat_flags(table);
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    record_into(&mut Memory::of(&site), &site, None, &flags, "")
}
