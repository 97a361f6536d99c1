//! Everything that a follower needs from outside.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

use super::one_site::FollowedSite;
use crate::plan::DayPlan;
use crate::quality::{KeptTrial, WithdrawnTrial};
use crate::testweld::EarlierWindows;
use crate::weather::Forecast;

/// A forecast as it came.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteForecast {
    /// The forecast; stale where an earlier reply stands in.
    pub forecast: Forecast,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// From when on the source has something new, by its own word.
    pub ask_again_at: Option<DateTime<Utc>>,
    /// What the log should know about how it came, a sentence each.
    pub notes: Vec<String>,
}

/// How a wait ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wake {
    /// The time has come.
    Time,
    /// Somebody wants the follower to end.
    Stop,
}

/// Clock, weather, book and log.
pub trait World {
    /// The present moment.
    fn now(&self) -> DateTime<Utc>;

    /// The forecast for a site.
    ///
    /// # Errors
    /// In one sentence, why there is none.
    fn forecast(&mut self, site: &FollowedSite) -> Result<SiteForecast, String>;

    /// Every trial of a site that the book has.
    ///
    /// # Errors
    /// In one sentence, why the book cannot be read.
    fn trials(&mut self, site: &FollowedSite) -> Result<Vec<KeptTrial>, String>;

    /// Every trial of a site that was withdrawn.
    ///
    /// # Errors
    /// In one sentence, why the book cannot be read.
    fn withdrawn(&mut self, _site: &FollowedSite) -> Result<Vec<WithdrawnTrial>, String> {
        Ok(Vec::new())
    }

    /// What worked before, for the next plan.
    ///
    /// # Errors
    /// In one sentence, why the book cannot be read.
    fn earlier<'a>(
        &'a self,
        site: &'a FollowedSite,
        time_zone: Tz,
    ) -> Result<Box<dyn EarlierWindows + 'a>, String>;

    /// Keeps a published plan for the daily report and the month.
    fn keep(&mut self, site: &FollowedSite, plan: &DayPlan);

    /// One line of the log.
    fn say(&mut self, line: &str);

    /// Waits until `until`, or until somebody wants the follower to end.
    fn wait(&mut self, until: DateTime<Utc>) -> Wake;
}
