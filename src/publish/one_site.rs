//! A site that is followed, and what the follower remembers of it between two looks.

use std::collections::BTreeMap;
use std::path::PathBuf;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use super::caldav::Collection;
use crate::site::Site;
use crate::weather::Forecast;

/// A site that is followed.
#[derive(Debug, Clone)]
pub struct FollowedSite {
    /// The site.
    pub site: Site,
    /// Its file, for what has to be read anew.
    pub file: PathBuf,
    /// The calendar file to keep current.
    pub ics: Option<PathBuf>,
    /// The calendar on a server to keep current.
    pub caldav: Option<Collection>,
}

/// What a look depends on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Seen {
    pub(super) forecast: String,
    pub(super) trials: (usize, Option<DateTime<Utc>>),
    /// Checkpoints whose time has come.
    pub(super) past: usize,
}

/// What is remembered between two looks. All that matters after a restart is in the store.
#[derive(Debug)]
pub(super) struct OnSite {
    pub(super) followed: FollowedSite,
    pub(super) key: String,
    pub(super) time_zone: Option<Tz>,
    /// The newest good forecast, with the hours that are over.
    pub(super) forecast: Option<Forecast>,
    pub(super) ask_at: Option<DateTime<Utc>>,
    pub(super) failures: u32,
    /// The calendar file is known to hold what was published.
    pub(super) file_is_current: bool,
    /// We have the site.
    pub(super) is_ours: bool,
    pub(super) health_at: Option<DateTime<Utc>>,
    pub(super) last_published: Option<DateTime<Utc>>,
    /// What each day was last looked at with, and when its checkpoints fall due: the same again would
    /// say the same.
    pub(super) seen: BTreeMap<NaiveDate, (Seen, Vec<DateTime<Utc>>)>,
    /// What was said last about each topic: the same is not said again.
    said: Vec<(&'static str, String)>,
}

impl OnSite {
    pub(super) fn new(followed: FollowedSite) -> Self {
        let key = followed.site.key();
        let time_zone = followed.site.time_zone;
        Self {
            followed,
            key,
            time_zone,
            forecast: None,
            ask_at: None,
            failures: 0,
            file_is_current: false,
            is_ours: false,
            health_at: None,
            last_published: None,
            seen: BTreeMap::new(),
            said: Vec::new(),
        }
    }

    /// Whether `line` differs from what was said last of `topic`; it is remembered.
    pub(super) fn is_news(&mut self, topic: &'static str, line: &str) -> bool {
        match self.said.iter_mut().find(|(known, _)| *known == topic) {
            Some((_, said)) if said == line => false,
            Some((_, said)) => {
                line.clone_into(said);
                !line.is_empty()
            }
            None => {
                self.said.push((topic, line.to_owned()));
                !line.is_empty()
            }
        }
    }
}
