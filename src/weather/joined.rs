//! A forecast that has dropped the hours that are over, put behind the one before it.

use chrono::{DateTime, TimeDelta, Utc};

use super::{Forecast, Hour};
use crate::units::Temperature;

/// Hours that are over are kept this long: a sheet's water is followed from the evening before.
const KEPT_PAST: TimeDelta = TimeDelta::hours(36);

impl Forecast {
    /// This forecast with the hours before its own first one that `earlier` has.
    ///
    /// Services leave out the hours that are over, and a day under way still needs them. What this
    /// forecast says of an hour itself stays. Members of an ensemble follow `earlier` where they
    /// say nothing: what is over is known.
    #[must_use]
    pub fn with_past_of(&self, earlier: &Self, now: DateTime<Utc>) -> Self {
        let known = self.hours().iter().find(|hour| hour.air.is_some());
        let first = known.map_or_else(|| self.first(), |hour| hour.time);
        let is_past =
            |hour: &&Hour| hour.time < first && hour.time <= now && now - hour.time <= KEPT_PAST;
        let past: Vec<Hour> = earlier.hours().iter().filter(is_past).copied().collect();
        let own = self.hours().iter().filter(|hour| hour.time >= first).copied();
        let rows: Vec<Hour> = past.iter().copied().chain(own).collect();
        let Ok(joined) = Self::from_hours(self.provenance.clone(), rows) else {
            return self.clone();
        };
        let members = (0..self.members()).map(|member| {
            let air = |hour: &Hour| {
                let own = self.member_air_at(member, hour.time).filter(|_| hour.time >= first);
                let told = if hour.time < first { hour.air } else { own };
                Some((hour.time, told?))
            };
            joined.hours().iter().filter_map(air).collect::<Vec<(DateTime<Utc>, Temperature)>>()
        });
        let members: Vec<_> = members.collect();
        joined.with_members(members)
    }
}
