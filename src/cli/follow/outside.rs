//! The real world: this machine's clock, the weather services, the book, stdout.

use std::time::{Duration, Instant};

use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};
use chrono_tz::Tz;

use super::stop;
use crate::cli::arguments::ForecastArguments;
use crate::cli::folders::Folders;
use crate::cli::kept_book::KeptBook;
use crate::cli::outcome::{one_line, print};
use crate::cli::{clock, earlier, keep_plan, shell};
use crate::plan::DayPlan;
use crate::publish::{FollowedSite, SiteForecast, Wake, World};
use crate::quality::{KeptTrial, WithdrawnTrial};
use crate::testweld::EarlierWindows;

/// The clock is looked at again after this, however long a wait is: a machine may sleep or be set.
const LONGEST_NAP: Duration = Duration::from_secs(20);

/// The real world.
pub(super) struct Outside {
    folders: Folders,
    forecast: ForecastArguments,
    /// Where `FAIRSEAM_NOW` sets the clock, it runs on from there.
    set: Option<(DateTime<Utc>, Instant)>,
}

impl Outside {
    pub(super) fn new(folders: Folders, forecast: ForecastArguments) -> anyhow::Result<Self> {
        let is_set = std::env::var_os("FAIRSEAM_NOW").is_some();
        let set = is_set.then(|| clock::now().map(|now| (now, Instant::now()))).transpose()?;
        Ok(Self { folders, forecast, set })
    }
}

impl World for Outside {
    fn now(&self) -> DateTime<Utc> {
        match self.set {
            Some((from, since)) => from + TimeDelta::from_std(since.elapsed()).unwrap_or_default(),
            // Only a bad `FAIRSEAM_NOW` is an error, and there is none.
            None => clock::now().unwrap_or(DateTime::UNIX_EPOCH),
        }
    }

    fn forecast(&mut self, site: &FollowedSite) -> Result<SiteForecast, String> {
        let now = self.now();
        let weather =
            shell::quiet_weather(&site.site, &site.file, &self.forecast, &self.folders, now);
        let shell::SiteWeather { forecast, time_zone, ask_again_at, warnings } =
            weather.map_err(|error| chain(&error))?;
        Ok(SiteForecast { forecast, time_zone, ask_again_at, notes: warnings })
    }

    fn trials(&mut self, site: &FollowedSite) -> Result<Vec<KeptTrial>, String> {
        KeptBook::trials_of(&site.site, &self.folders.data, self.now())
            .map_err(|error| chain(&error))
    }

    fn withdrawn(&mut self, site: &FollowedSite) -> Result<Vec<WithdrawnTrial>, String> {
        KeptBook::withdrawn_of(&site.site, &self.folders.data, self.now())
            .map_err(|error| chain(&error))
    }

    fn earlier<'a>(
        &'a self,
        site: &'a FollowedSite,
        time_zone: Tz,
    ) -> Result<Box<dyn EarlierWindows + 'a>, String> {
        earlier::from_book(&site.site, &self.folders.data, time_zone).map_err(|error| chain(&error))
    }

    fn keep(&mut self, site: &FollowedSite, plan: &DayPlan) {
        let now = self.now();
        if keep_plan::is_kept(plan, false, now).unwrap_or(false) {
            keep_plan::keep(plan, &site.site, &self.folders, now);
        }
    }

    fn say(&mut self, line: &str) {
        let at = self.now().to_rfc3339_opts(SecondsFormat::Secs, true);
        // A log that nobody takes is no reason to leave the crew without its plan.
        let _ = print(&format!("{at} {}\n", one_line(line)));
    }

    fn wait(&mut self, until: DateTime<Utc>) -> Wake {
        loop {
            if stop::asked() {
                return Wake::Stop;
            }
            match (until - self.now()).to_std() {
                Ok(left) if !left.is_zero() => stop::sleep(left.min(LONGEST_NAP)),
                _ => return Wake::Time,
            }
        }
    }
}

/// An error with its causes in one line.
fn chain(error: &anyhow::Error) -> String {
    error.chain().map(ToString::to_string).collect::<Vec<_>>().join(": ")
}
