//! Why a day cannot be planned.

use std::fmt;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

use crate::words::{Language, tell};

/// Why a day cannot be planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlanError {
    /// The forecast lacks air temperatures that the shift needs.
    AirMissing {
        /// The local day.
        date: NaiveDate,
        /// Zone in which the hours are shown.
        time_zone: Tz,
        /// Hours without a value.
        missing: Vec<DateTime<Utc>>,
        /// First hour with an air temperature.
        covers_from: DateTime<Utc>,
        /// Last hour with an air temperature.
        covers_to: DateTime<Utc>,
    },
    /// The clock change swallows the whole shift.
    ShiftVanishes {
        /// The local day.
        date: NaiveDate,
        /// The site's zone.
        time_zone: Tz,
    },
    /// A date beyond what a calendar can hold.
    DateOutOfReach {
        /// The date asked for.
        date: NaiveDate,
    },
}

/// For the command line and the log.
impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(Language::En))
    }
}

impl std::error::Error for PlanError {}

impl PlanError {
    /// In one sentence, for whoever reads that language.
    pub fn said(&self, language: Language) -> String {
        match self {
            Self::AirMissing { date, time_zone, missing, covers_from, covers_to } => {
                let missing = list_hours(language, missing, *time_zone, *date);
                let date = date.to_string();
                let (from, to) = (show(*covers_from, *time_zone), show(*covers_to, *time_zone));
                tell!(language, "no-plan-air-missing", date, missing, from, to)
            }
            Self::ShiftVanishes { date, time_zone } => {
                let (date, zone) = (date.to_string(), time_zone.name());
                tell!(language, "no-plan-no-shift", date, zone)
            }
            Self::DateOutOfReach { date } => {
                tell!(language, "no-plan-out-of-reach", date = date.to_string())
            }
        }
    }

    /// One thing to do next.
    pub const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::AirMissing { .. } => Some(
                "choose a day that the forecast covers, fetch a newer forecast, \
                 or give another file with `--forecast`",
            ),
            Self::ShiftVanishes { .. } | Self::DateOutOfReach { .. } => None,
        }
    }
}

/// Hours in local time, runs of neighbors drawn together, the day left out where it is `date`:
/// `10:00 to 12:00 and 2013-04-10 01:00`.
fn list_hours(language: Language, hours: &[DateTime<Utc>], zone: Tz, date: NaiveDate) -> String {
    let mut runs: Vec<(DateTime<Utc>, DateTime<Utc>)> = Vec::new();
    for &hour in hours {
        match runs.last_mut() {
            Some((_, last)) if (hour - *last).num_hours() <= 1 => *last = hour,
            _ => runs.push((hour, hour)),
        }
    }
    let local = |at: DateTime<Utc>| at.with_timezone(&zone);
    let short = |at| match local(at).date_naive() == date {
        true => local(at).format("%H:%M").to_string(),
        false => show(at, zone),
    };
    let shown = runs
        .iter()
        .map(|&(from, to)| match from == to {
            true => short(from),
            false => tell!(language, "evening-span", start = short(from), end = short(to)),
        })
        .reduce(|before, last| tell!(language, "list-and", before, last));
    shown.unwrap_or_default()
}

fn show(at: DateTime<Utc>, zone: Tz) -> String {
    at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()
}
