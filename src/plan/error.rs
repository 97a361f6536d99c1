//! Why a day cannot be planned.

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;

/// Why a day cannot be planned.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// The forecast lacks air temperatures that the shift needs.
    #[error(
        "the forecast cannot carry the shift of {date}: no air temperature for {}; \
         the forecast has hours from {} to {}",
        list_hours(missing, *time_zone),
        show(*covers_from, *time_zone),
        show(*covers_to, *time_zone)
    )]
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
    #[error(
        "no shift is left on {date} in {time_zone}: the clock change swallows it; \
         expected a `shift.end` after `shift.start` in real time, choose another date or hours"
    )]
    ShiftVanishes {
        /// The local day.
        date: NaiveDate,
        /// The site's zone.
        time_zone: Tz,
    },
    /// A date beyond what a calendar can hold.
    #[error("the date {date} is out of reach; expected a date from 1900-01-01 to 2200-12-31")]
    DateOutOfReach {
        /// The date asked for.
        date: NaiveDate,
    },
}

impl PlanError {
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

/// Hours in local time, runs of neighbors drawn together: `Apr 9 10:00-12:00 and 15:00`.
fn list_hours(hours: &[DateTime<Utc>], zone: Tz) -> String {
    let mut runs: Vec<(DateTime<Utc>, DateTime<Utc>)> = Vec::new();
    for &hour in hours {
        match runs.last_mut() {
            Some((_, last)) if (hour - *last).num_hours() <= 1 => *last = hour,
            _ => runs.push((hour, hour)),
        }
    }
    let shown: Vec<String> = runs
        .iter()
        .map(|&(from, to)| {
            if from == to {
                show(from, zone)
            } else {
                format!("{} to {}", show(from, zone), show(to, zone))
            }
        })
        .collect();
    shown.join(" and ")
}

fn show(at: DateTime<Utc>, zone: Tz) -> String {
    at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()
}
