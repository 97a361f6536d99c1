//! What hangs on a document, and so how much is done for it.

use std::time::Duration;

use chrono::TimeDelta;
use url::Url;

use crate::weather::fetch::{Accept, Failure, Patience, host, policy};
use crate::weather::settings::Service;

/// For what the forecast stands without, unless the caller's own patience is shorter.
const BRIEFLY: Duration = Duration::from_secs(5);
/// How many times as long as a forecast a year of an archive may take.
const ARCHIVE_TAKES: u32 = 6;
/// A service that does not offer such a document is not asked for it again before this.
const REFUSED_FOR: TimeDelta = TimeDelta::hours(3);

/// What hangs on a document.
///
/// What the forecast stands without is asked for once and briefly, and what goes wrong with it does
/// not close the host to the documents that the forecast is made of.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    /// Without it there is no forecast, or one with less in it.
    Forecast,
    /// The forecast stands without it, and says less about how sure it is.
    Ensemble,
    /// There is a reply, and perhaps a better one.
    SecondOpinion,
    /// A year of an archive: long to make, and long to send.
    Archive,
}

impl Need {
    /// How often it is asked for at most.
    pub(super) const fn tries(self) -> u32 {
        match self {
            Self::Forecast | Self::Archive => policy::TRIES,
            Self::Ensemble | Self::SecondOpinion => 1,
        }
    }

    /// How long it is waited for.
    pub(super) fn patience(self, callers: Patience) -> Patience {
        match self {
            Self::Forecast => callers,
            Self::Archive => Patience { total: callers.total * ARCHIVE_TAKES, ..callers },
            Self::Ensemble | Self::SecondOpinion => Patience {
                connect: callers.connect.min(BRIEFLY),
                total: callers.total.min(BRIEFLY),
                ..callers
            },
        }
    }

    /// Which kinds of body are asked for. A cache on the way keeps each kind by itself, so that
    /// another kind can be newer.
    pub(super) const fn accept(self) -> Accept {
        match self {
            Self::Forecast | Self::Ensemble | Self::Archive => Accept::Json,
            Self::SecondOpinion => Accept::Anything,
        }
    }

    /// For how long it is not asked for after a failure that another try would repeat.
    pub(super) fn rest_after(self, failure: &Failure) -> Option<TimeDelta> {
        (matches!(self, Self::Ensemble | Self::SecondOpinion) && policy::refuses(failure))
            .then_some(REFUSED_FOR)
    }

    /// The name under which the host's wishes are remembered: by service, since one server may
    /// stand in for several.
    pub(super) fn host_name(self, service: Service, url: &Url) -> String {
        let apart = match self {
            Self::Forecast => "",
            Self::Ensemble => "-ensemble",
            Self::SecondOpinion => "-again",
            Self::Archive => "-archive",
        };
        format!("{}{apart}_{}", service.name(), host(url))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_forecast_stands_without_never_takes_longer_than_the_caller_would_wait() {
        let callers = Patience::default();
        assert_eq!(Need::Forecast.patience(callers), callers);
        assert_eq!(Need::Ensemble.patience(callers).total, BRIEFLY);
        let short = Patience { total: Duration::from_secs(1), ..callers };
        assert_eq!(Need::Ensemble.patience(short).total, Duration::from_secs(1));
    }

    #[test]
    fn each_is_remembered_by_itself() {
        let url = Url::parse("http://127.0.0.1:8080/x").unwrap();
        let name = |need: Need| need.host_name(Service::OpenMeteo, &url);
        assert_eq!(name(Need::Forecast), "open-meteo_127.0.0.1:8080");
        assert_eq!(name(Need::Ensemble), "open-meteo-ensemble_127.0.0.1:8080");
    }
}
