//! A trial on its way into the book: what somebody has written so far, in whatever form.

use chrono::{DateTime, NaiveDate, NaiveDateTime, NaiveTime, SubsecRound, Utc};
use chrono_tz::Tz;

use super::fault::{Fault, quoted};
use super::quantity::Typist;
use crate::plan::{WallTime, wall_moment};
use crate::site::{Kind, Polymer, Site};
use crate::testweld::{HeatTrial, Trial};
use crate::units::{Temperature, Thickness, TravelSpeed};
use crate::words::{Language, tell};

/// What is written so far; `None` is not written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Draft {
    /// When it was made.
    pub when: Option<DateTime<Utc>>,
    /// Who made it.
    pub who: Option<String>,
    /// The id of the plan's checkpoint that it was made for.
    pub checkpoint: Option<String>,
    /// Name of the welder.
    pub welder: Option<String>,
    /// Of a welder that the site file does not have.
    pub kind: Option<Kind>,
    /// Where it is not the site's.
    pub polymer: Option<Polymer>,
    /// Where it is not the site's.
    pub thickness: Option<Thickness>,
    /// The sheet's lot.
    pub lot: Option<String>,
    /// The roll.
    pub roll: Option<String>,
    /// Air in the shade.
    pub air: Option<Temperature>,
    /// The sheet's own surface.
    pub sheet: Option<Temperature>,
    /// The machine's weights.
    pub weights: Option<String>,
    /// The machine's air flow.
    pub air_flow: Option<String>,
    /// Held for every heat.
    pub speed: Option<TravelSpeed>,
    /// With their strips.
    pub heats: Vec<HeatTrial>,
    /// Anything else.
    pub note: Option<String>,
    /// The setting really run.
    pub ran: Option<(Temperature, Option<TravelSpeed>)>,
}

/// What a draft is read against.
#[derive(Debug, Clone, Copy)]
pub struct Desk<'a> {
    /// Its welders, sheet and units.
    pub site: &'a Site,
    /// In which wall times are meant.
    pub zone: Tz,
    /// Our clock.
    pub now: DateTime<Utc>,
}

impl Draft {
    /// All that `trial`, made for `checkpoint`, says, to be corrected.
    pub fn from_trial(trial: &Trial, checkpoint: Option<&String>) -> Self {
        let trial = trial.clone();
        Self {
            when: Some(trial.when),
            who: Some(trial.who),
            checkpoint: checkpoint.cloned(),
            welder: Some(trial.welder),
            kind: Some(trial.welder_kind),
            polymer: Some(trial.polymer),
            thickness: Some(trial.thickness),
            lot: trial.lot,
            roll: trial.roll,
            air: Some(trial.ambient),
            sheet: trial.sheet,
            weights: trial.weights,
            air_flow: trial.air_flow,
            speed: trial.speed,
            heats: trial.heats,
            note: trial.note,
            ran: None,
        }
    }

    /// This draft where it says something, else `base`. Heats count as one thing.
    #[must_use]
    pub fn over(self, base: Self) -> Self {
        // A corrected name brings its own kind along, by the site file.
        let kind = if self.welder.is_some() { self.kind } else { self.kind.or(base.kind) };
        Self {
            when: self.when.or(base.when),
            who: self.who.or(base.who),
            checkpoint: self.checkpoint.or(base.checkpoint),
            welder: self.welder.or(base.welder),
            kind,
            polymer: self.polymer.or(base.polymer),
            thickness: self.thickness.or(base.thickness),
            lot: self.lot.or(base.lot),
            roll: self.roll.or(base.roll),
            air: self.air.or(base.air),
            sheet: self.sheet.or(base.sheet),
            weights: self.weights.or(base.weights),
            air_flow: self.air_flow.or(base.air_flow),
            speed: self.speed.or(base.speed),
            heats: if self.heats.is_empty() { base.heats } else { self.heats },
            note: self.note.or(base.note),
            ran: self.ran,
        }
    }

    /// The trial, with the site's own where the draft is silent: now, its only welder, its sheet.
    ///
    /// # Errors
    /// Every thing that is needed and not there; the names of places are those of `name_of`.
    pub fn into_trial(
        self,
        desk: &Desk<'_>,
        name_of: fn(&str) -> String,
    ) -> Result<Trial, Vec<Fault>> {
        let mut faults = Vec::new();
        let mut missing = |place: &str, said: String| faults.push(Fault::new(name_of(place), said));
        let (site, language) = (desk.site, desk.site.language);
        if self.who.is_none() {
            missing("who", tell!(language, "typed-no-who"));
        }
        if self.air.is_none() {
            missing("air", tell!(language, "typed-no-air"));
        }
        let only = match site.welders.as_slice() {
            [only] => Some(only.name.clone()),
            _ => None,
        };
        let welder = self.welder.or(only);
        if welder.is_none() {
            let names: Vec<&str> = site.welders.iter().map(|one| one.name.as_str()).collect();
            missing("welder", tell!(language, "typed-no-welder", names = names.join(", ")));
        }
        let (Some(who), Some(ambient), Some(welder)) = (self.who, self.air, welder) else {
            return Err(faults);
        };
        let known = site.welders.iter().find(|one| one.name == welder).map(|one| one.kind);
        // Of a machine that nobody knows, a speed tells that it travels by itself.
        let told = if self.speed.is_some() { Kind::Automatic } else { Kind::Hand };
        Ok(Trial {
            when: self.when.unwrap_or(desk.now).trunc_subsecs(0),
            who: who.trim().to_owned(),
            welder_kind: self.kind.or(known).unwrap_or(told),
            welder,
            polymer: self.polymer.unwrap_or(site.sheet.polymer),
            thickness: self.thickness.unwrap_or(site.sheet.thickness),
            lot: self.lot,
            roll: self.roll,
            ambient,
            sheet: self.sheet,
            weights: self.weights,
            air_flow: self.air_flow,
            speed: self.speed,
            heats: self.heats,
            note: self.note,
        })
    }
}

impl Desk<'_> {
    /// Whoever types here.
    pub(super) const fn typist(&self) -> Typist {
        Typist { units: self.site.units, language: self.site.language }
    }

    /// A moment as typed: RFC 3339, a date and a time of day on the site's clock, or a time of day
    /// of today.
    ///
    /// A time that occurs twice, in the hour in which the clock is set back, means the first; an
    /// RFC 3339 time tells them apart.
    ///
    /// # Errors
    /// In words of `language`, also for a time that the site's clock skips.
    pub fn moment(&self, text: &str, language: Language) -> Result<DateTime<Utc>, String> {
        let text = text.trim();
        if let Ok(at) = DateTime::parse_from_rfc3339(text) {
            return Ok(at.with_timezone(&Utc));
        }
        let wall = ["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M"]
            .into_iter()
            .find_map(|format| NaiveDateTime::parse_from_str(text, format).ok())
            .or_else(|| Some(self.today().and_time(NaiveTime::parse_from_str(text, "%H:%M").ok()?)))
            .filter(|wall| (1900..=2200).contains(&chrono::Datelike::year(wall)))
            .ok_or_else(|| tell!(language, "typed-moment", found = quoted(text)))?;
        let moment = wall_moment(wall, self.zone);
        match moment.wall {
            WallTime::Skipped { .. } => {
                Err(tell!(language, "typed-moment-skipped", found = quoted(text)))
            }
            _ => Ok(moment.at),
        }
    }

    fn today(&self) -> NaiveDate {
        self.now.with_timezone(&self.zone).date_naive()
    }
}
