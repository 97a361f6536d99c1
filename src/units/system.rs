//! Which units a crew reads.

use serde::{Deserialize, Serialize};

/// The units of a site: what its numbers mean and how results are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystem {
    /// °F, ft/min, mph, in, ft, mil.
    Us,
    /// °C, m/min, m/s, mm, m.
    Metric,
}

impl UnitSystem {
    /// The sign behind a temperature.
    pub const fn temperature(self) -> &'static str {
        match self {
            Self::Us => "°F",
            Self::Metric => "°C",
        }
    }

    /// The same in plain letters, for other programs.
    pub const fn temperature_code(self) -> &'static str {
        match self {
            Self::Us => "degF",
            Self::Metric => "degC",
        }
    }

    /// The unit of a welder's speed.
    pub const fn travel_speed(self) -> &'static str {
        match self {
            Self::Us => "ft/min",
            Self::Metric => "m/min",
        }
    }

    /// The unit of wind and gust.
    pub const fn wind(self) -> &'static str {
        match self {
            Self::Us => "mph",
            Self::Metric => "m/s",
        }
    }

    /// The unit of rain.
    pub const fn rain(self) -> &'static str {
        match self {
            Self::Us => "in",
            Self::Metric => "mm",
        }
    }

    /// The unit of a length on the roof.
    pub const fn length(self) -> &'static str {
        match self {
            Self::Us => "ft",
            Self::Metric => "m",
        }
    }

    /// The unit of a stretch of roof.
    pub const fn area(self) -> &'static str {
        match self {
            Self::Us => "sq ft",
            Self::Metric => "m²",
        }
    }

    /// The same in plain letters, for other programs.
    pub const fn area_code(self) -> &'static str {
        match self {
            Self::Us => "ft2",
            Self::Metric => "m2",
        }
    }

    /// The unit of a sheet's thickness.
    pub const fn thickness(self) -> &'static str {
        match self {
            Self::Us => "mil",
            Self::Metric => "mm",
        }
    }
}
