//! Why a moment cannot be explained.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;

/// Why a moment cannot be explained.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ExplainError {
    /// The forecast has no row for it.
    #[error(
        "the forecast says nothing of {}: it covers {} to {} ({time_zone})",
        show(*at, *time_zone),
        show(*covers_from, *time_zone),
        show(*covers_to, *time_zone)
    )]
    OutsideForecast {
        /// The moment asked for.
        at: DateTime<Utc>,
        /// Zone in which times are shown.
        time_zone: Tz,
        /// First minute covered.
        covers_from: DateTime<Utc>,
        /// Last minute covered.
        covers_to: DateTime<Utc>,
    },
}

impl ExplainError {
    /// One thing to do next.
    pub const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::OutsideForecast { .. } => Some(
                "choose a moment that the forecast covers, fetch a newer forecast, \
                 or give another file with `--forecast`",
            ),
        }
    }
}

fn show(at: DateTime<Utc>, zone: Tz) -> String {
    at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string()
}
