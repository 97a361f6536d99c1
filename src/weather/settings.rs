//! Where the forecast comes from, and on what terms each service may be asked.

use std::fmt;
use std::path::PathBuf;

use url::Url;

use super::WeatherError;
use super::sources::{met_norway, nws, open_meteo};

/// A source by its name in the site file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The NWS inside its coverage, else MET Norway: both allow commercial use.
    Auto,
    /// The U.S. National Weather Service.
    Nws,
    /// MET Norway.
    MetNorway,
    /// Open-Meteo.
    OpenMeteo,
    /// A file on this machine.
    File,
}

/// Where the forecast comes from.
#[derive(Clone, PartialEq, Eq)]
pub struct SourceSettings {
    /// Which source.
    pub source: Source,
    /// An address of the user for the User-Agent. The NWS and MET Norway require it.
    pub contact: Option<String>,
    /// For [`Source::File`].
    pub path: Option<PathBuf>,
    /// Scheme, host and path prefix that stand in for every service's own.
    pub base_url: Option<String>,
    /// For the commercial host of Open-Meteo.
    pub api_key: Option<String>,
    /// The user declares that the use of Open-Meteo's free host is not commercial.
    pub non_commercial: bool,
}

/// A service that is asked over the network.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Service {
    /// The U.S. National Weather Service.
    Nws,
    /// MET Norway.
    MetNorway,
    /// Open-Meteo.
    OpenMeteo,
}

impl Source {
    /// The name in the site file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Nws => "nws",
            Self::MetNorway => "met-norway",
            Self::OpenMeteo => "open-meteo",
            Self::File => "file",
        }
    }
}

impl Service {
    /// The name in the site file and in the names of kept replies.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Nws => Source::Nws.name(),
            Self::MetNorway => Source::MetNorway.name(),
            Self::OpenMeteo => Source::OpenMeteo.name(),
        }
    }
}

impl fmt::Display for Service {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Nws => "the NWS",
            Self::MetNorway => "MET Norway",
            Self::OpenMeteo => "Open-Meteo",
        })
    }
}

/// The key never shows in a log.
impl fmt::Debug for SourceSettings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SourceSettings")
            .field("source", &self.source)
            .field("contact", &self.contact)
            .field("path", &self.path)
            .field("base_url", &self.base_url)
            .field("api_key", &self.api_key.as_ref().map(|_| "***"))
            .field("non_commercial", &self.non_commercial)
            .finish()
    }
}

impl SourceSettings {
    /// A source with nothing else set.
    pub const fn of(source: Source) -> Self {
        Self {
            source,
            contact: None,
            path: None,
            base_url: None,
            api_key: None,
            non_commercial: false,
        }
    }

    /// How fairseam introduces itself: name, version and the user's contact.
    pub(crate) fn user_agent(&self, service: Service) -> Result<String, WeatherError> {
        let name = concat!("fairseam/", env!("CARGO_PKG_VERSION"));
        match self.contact.as_deref().map(str::trim).filter(|contact| !contact.is_empty()) {
            None if service == Service::OpenMeteo => Ok(name.to_owned()),
            None => Err(WeatherError::NoContact { service }),
            Some(contact) if contact.bytes().all(|byte| (b' '..=b'~').contains(&byte)) => {
                Ok(format!("{name} ({contact})"))
            }
            Some(contact) => {
                Err(WeatherError::BadContact { found: contact.escape_debug().to_string() })
            }
        }
    }

    /// Scheme, host and path prefix to ask `service` at.
    pub(crate) fn base(&self, service: Service) -> Result<Url, WeatherError> {
        let own = match service {
            Service::Nws => nws::BASE,
            Service::MetNorway => met_norway::BASE,
            Service::OpenMeteo if self.base_url.is_some() => open_meteo::FREE_BASE,
            Service::OpenMeteo if self.api_key.is_some() => open_meteo::CUSTOMER_BASE,
            Service::OpenMeteo if self.non_commercial => open_meteo::FREE_BASE,
            Service::OpenMeteo => return Err(WeatherError::OpenMeteoTerms),
        };
        let text = self.base_url.as_deref().unwrap_or(own);
        let bad = |problem: &str| WeatherError::BadBaseUrl {
            found: text.escape_debug().to_string(),
            problem: problem.to_owned(),
        };
        let url = Url::parse(text).map_err(|error| bad(&error.to_string()))?;
        if !matches!(url.scheme(), "http" | "https") {
            return Err(bad("it is neither http nor https"));
        }
        if !url.username().is_empty() || url.password().is_some() {
            return Err(bad("it holds a user name or password"));
        }
        if url.query().is_some() || url.fragment().is_some() {
            return Err(bad("it holds a `?` or a `#`"));
        }
        Ok(url)
    }

    /// The key, for the one service that takes one.
    pub(crate) fn key_for(&self, service: Service) -> Option<&str> {
        self.api_key.as_deref().filter(|_| service == Service::OpenMeteo)
    }
}
