//! What the crew was told last.

use chrono::{DateTime, Utc};

use crate::plan::{Cause, Checkpoint, Settled, TestMade};
use crate::render::ics::Entry;
use crate::units::{Temperature, TravelSpeed};

/// A day as it was last published.
#[derive(Debug, Clone, PartialEq)]
pub struct Published {
    /// When.
    pub at: DateTime<Utc>,
    /// Every checkpoint that stands, ascending.
    pub points: Vec<Point>,
    /// Every hold that stands, ascending.
    pub holds: Vec<Hold>,
    /// The entry of the evening before, where there is one.
    pub evening: Option<Entry>,
}

/// A published checkpoint.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Its id, unique in the day; the same in the plan, in the book and in the calendar's UID.
    pub id: String,
    /// When it falls due.
    pub time: DateTime<Utc>,
    /// What asks for it.
    pub cause: Cause,
    /// Ambient for that minute.
    pub air: Temperature,
    /// What each welder starts from.
    pub settings: Vec<PointSetting>,
    /// What phones hold.
    pub entry: Entry,
    /// Trials up to this one had been made when it was planned: they cannot be the test for it.
    pub counts_after: Option<DateTime<Utc>>,
    /// The test that was made for it.
    pub tested: Option<TestMade>,
}

/// What a welder starts from, as far as the crew dials it.
#[derive(Debug, Clone, PartialEq)]
pub struct PointSetting {
    /// Its name.
    pub welder: String,
    /// `None` for a hand welder.
    pub speed: Option<TravelSpeed>,
    /// Ascending.
    pub heats: Vec<Temperature>,
}

/// A published hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// Its id, unique in the day.
    pub id: String,
    /// Its first minute.
    pub start: DateTime<Utc>,
    /// The minute after its last.
    pub end: DateTime<Utc>,
    /// What phones hold.
    pub entry: Entry,
}

impl Published {
    /// Everything that phones hold.
    pub fn entries(&self) -> Vec<Entry> {
        let points = self.points.iter().map(|point| &point.entry);
        let holds = self.holds.iter().map(|hold| &hold.entry);
        self.evening.iter().chain(points).chain(holds).cloned().collect()
    }
}

impl Point {
    /// A checkpoint of a plan with its entry.
    pub(super) fn of(checkpoint: &Checkpoint, entry: Entry) -> Self {
        Self {
            id: checkpoint.id.clone(),
            time: checkpoint.time,
            cause: checkpoint.cause.clone(),
            air: checkpoint.air,
            settings: PointSetting::all_of(checkpoint),
            entry,
            counts_after: None,
            tested: None,
        }
    }

    /// Nothing moves it any more: it was tested, or its time has come.
    pub(super) fn is_settled(&self, now: DateTime<Utc>) -> bool {
        self.tested.is_some() || self.time <= now
    }

    /// As the rest of the day is planned on from it.
    pub(super) fn settled(&self) -> Settled {
        Settled {
            id: self.id.clone(),
            time: self.time,
            cause: self.cause.clone(),
            air: self.air,
            tested: self.tested,
        }
    }
}

impl PointSetting {
    /// Of every welder at a checkpoint.
    pub(super) fn all_of(checkpoint: &Checkpoint) -> Vec<Self> {
        let of = |setting: &crate::plan::Setting| Self {
            welder: setting.welder.clone(),
            speed: setting.trial.speed_held,
            heats: setting.trial.heats.clone(),
        };
        checkpoint.settings.iter().map(of).collect()
    }
}
