//! Where the forecast comes from, and on what terms each service may be asked.

use std::fmt;
use std::path::PathBuf;

use url::Url;

use super::WeatherError;
use super::sources::{met_norway, nasa_power, nws, open_meteo};

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
    /// NASA POWER, which has past years only.
    NasaPower,
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
            Self::NasaPower => "nasa-power",
        }
    }
}

impl fmt::Display for Service {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Nws => "the NWS",
            Self::MetNorway => "MET Norway",
            Self::OpenMeteo => "Open-Meteo",
            Self::NasaPower => "NASA POWER",
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
            None if matches!(service, Service::OpenMeteo | Service::NasaPower) => {
                Ok(name.to_owned())
            }
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
        self.base_or(match service {
            Service::Nws => nws::BASE,
            Service::MetNorway => met_norway::BASE,
            Service::OpenMeteo => {
                self.by_terms(open_meteo::FREE_BASE, open_meteo::CUSTOMER_BASE)?
            }
            Service::NasaPower => nasa_power::BASE,
        })
    }

    /// As [`Self::base`], for Open-Meteo's ensembles, which have hosts of their own.
    pub(crate) fn ensemble_base(&self) -> Result<Url, WeatherError> {
        self.base_or(
            self.by_terms(open_meteo::ENSEMBLE_FREE_BASE, open_meteo::ENSEMBLE_CUSTOMER_BASE)?,
        )
    }

    /// As [`Self::base`], for Open-Meteo's archive, which has hosts of its own.
    pub(crate) fn archive_base(&self) -> Result<Url, WeatherError> {
        self.base_or(
            self.by_terms(open_meteo::ARCHIVE_FREE_BASE, open_meteo::ARCHIVE_CUSTOMER_BASE)?,
        )
    }

    /// The one of Open-Meteo's hosts that the site's terms allow.
    fn by_terms(
        &self,
        free: &'static str,
        customer: &'static str,
    ) -> Result<&'static str, WeatherError> {
        match self {
            Self { base_url: Some(_), .. } => Ok(free),
            Self { api_key: Some(_), .. } => Ok(customer),
            Self { non_commercial: true, .. } => Ok(free),
            _ => Err(WeatherError::OpenMeteoTerms),
        }
    }

    /// The configured address, else a service's own.
    fn base_or(&self, own: &str) -> Result<Url, WeatherError> {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forecast_and_ensemble_are_asked_for_on_the_same_terms() {
        let own = SourceSettings::of(Source::OpenMeteo);
        let free = SourceSettings { non_commercial: true, ..own.clone() };
        let paid = SourceSettings { api_key: Some("k".to_owned()), ..own.clone() };
        let server = "https://weather.example.com/om";
        let hosted = SourceSettings { base_url: Some(server.to_owned()), ..own.clone() };
        let hosts = |settings: &SourceSettings| {
            let forecast = settings.base(Service::OpenMeteo).ok()?;
            Some((forecast.to_string(), settings.ensemble_base().ok()?.to_string()))
        };
        let both = |forecast: &str, ensemble: &str| Some((forecast.into(), ensemble.into()));
        assert_eq!(
            hosts(&free),
            both("https://api.open-meteo.com/", "https://ensemble-api.open-meteo.com/")
        );
        assert_eq!(
            hosts(&paid),
            both(
                "https://customer-api.open-meteo.com/",
                "https://customer-ensemble-api.open-meteo.com/"
            )
        );
        assert_eq!(hosts(&hosted), both(server, server));
        assert_eq!(hosts(&own), None);
        assert!(matches!(own.ensemble_base(), Err(WeatherError::OpenMeteoTerms)));
    }
}
