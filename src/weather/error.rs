//! Why there is no forecast, for the person at the terminal.

use std::path::PathBuf;

use chrono::{DateTime, Utc};

use super::fetch::Failure;
use super::settings::Service;
use super::sources::ParseError;

/// Why there is no forecast.
#[derive(Debug, thiserror::Error)]
pub enum WeatherError {
    /// The place is not on the map.
    #[error(
        "the place {latitude_deg}, {longitude_deg} is not on the map; expected a latitude of -90 to 90 and a longitude of -180 to 180"
    )]
    BadPlace {
        /// As given.
        latitude_deg: f64,
        /// As given.
        longitude_deg: f64,
    },
    /// A service that must know whom it answers.
    #[error(
        "{service} answers only to those who give an address, and the site file has no `contact` under [weather]"
    )]
    NoContact {
        /// The service.
        service: Service,
    },
    /// The contact does not fit into a header.
    #[error(
        "the `contact` \"{found}\" has characters that a request cannot carry; expected plain letters, digits and signs, such as an e-mail address"
    )]
    BadContact {
        /// As given, made visible.
        found: String,
    },
    /// The key does not fit into a header.
    #[error(
        "the `api_key` has characters that a request cannot carry; expected plain letters and digits"
    )]
    BadKey,
    /// Open-Meteo's free host without the declaration that its terms ask for.
    #[error(
        "Open-Meteo's free host is for non-commercial use only, and the site file does not say on what terms it is asked"
    )]
    OpenMeteoTerms,
    /// `base_url` is none.
    #[error(
        "the `base_url` \"{found}\" is not usable: {problem}; expected one like https://weather.example.com"
    )]
    BadBaseUrl {
        /// As given.
        found: String,
        /// What is wrong with it.
        problem: String,
    },
    /// Source `file` without a path.
    #[error("the source is `file`, and no file is named")]
    NoPath,
    /// The file cannot be read.
    #[error("the forecast file {} cannot be read: {problem}", .path.display())]
    File {
        /// Which file.
        path: PathBuf,
        /// What the system says, or what it is instead of a file.
        problem: String,
    },
    /// The file holds no forecast.
    #[error("the forecast file {} cannot be used: {problem}", .path.display())]
    FileContent {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        problem: ParseError,
    },
    /// The NWS has no forecast for the place.
    #[error(
        "the NWS does not forecast for {latitude}, {longitude}: it covers the United States and their territories"
    )]
    OutsideCoverage {
        /// As asked.
        latitude: String,
        /// As asked.
        longitude: String,
    },
    /// The service was asked and did not give a forecast.
    #[error("no forecast from {service}: {failure}")]
    Service {
        /// The service.
        service: Service,
        /// What happened.
        failure: Failure,
    },
    /// The service has asked for a pause, or fails too often to be asked at once.
    #[error("{service} is not asked before {}: {because}", .until.format("%Y-%m-%d %H:%M UTC"))]
    NotBefore {
        /// The service.
        service: Service,
        /// When it may be asked again.
        until: DateTime<Utc>,
        /// Why.
        because: String,
    },
    /// Single replies were fine, and together they make no forecast.
    #[error("no forecast from {service}: {problem}")]
    Reply {
        /// The service.
        service: Service,
        /// What is wrong.
        problem: ParseError,
    },
    /// Offline, and nothing kept.
    #[error("no forecast of {service} is kept for this place, and nothing may be fetched offline")]
    OfflineWithoutCopy {
        /// The service.
        service: Service,
    },
    /// Offline, and what was kept is damaged.
    #[error("{service} may not be asked offline, and {problem}")]
    OfflineWithDamagedCopy {
        /// The service.
        service: Service,
        /// Which file, and what is wrong with it.
        problem: String,
    },
    /// Neither service of `auto` gave a forecast.
    #[error("{first}; and {second}")]
    Neither {
        /// What came of the NWS.
        first: Box<WeatherError>,
        /// What came of MET Norway.
        second: Box<WeatherError>,
    },
    /// The HTTP client cannot be set up.
    #[error("the connection to weather services cannot be set up: {problem}")]
    Client {
        /// What the library says.
        problem: String,
    },
}

impl WeatherError {
    /// One thing that the user can do next.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::NoContact { .. } | Self::BadContact { .. } => Some(
                "add `contact = \"you@example.com\"` under [weather]; it is sent to the service with each request",
            ),
            Self::OpenMeteoTerms => Some(
                "under [weather] give `api_key` for its commercial host, `base_url` for a server of \
                 your own, or `non_commercial = true`; or use `source = \"auto\"`, which is free for business",
            ),
            Self::NoPath => Some("give `path` under [weather], or `--forecast FILE`"),
            Self::OutsideCoverage { .. } => Some(
                "use `source = \"met-norway\"`, which covers the world, or `source = \"auto\"`",
            ),
            Self::OfflineWithoutCopy { .. } | Self::OfflineWithDamagedCopy { .. } => Some(
                "run once without `--offline` while there is a connection, or give `--forecast FILE`",
            ),
            Self::Service { failure, .. } => failure.hint(),
            Self::NotBefore { .. } => Some("wait until then, or give `--forecast FILE`"),
            Self::Neither { second, .. } => second.hint(),
            Self::Client { .. } => {
                Some("install the system's root certificates (`ca-certificates`)")
            }
            Self::BadPlace { .. }
            | Self::BadKey
            | Self::BadBaseUrl { .. }
            | Self::File { .. }
            | Self::FileContent { .. }
            | Self::Reply { .. } => None,
        }
    }
}
