//! One document at a time: from the cache while it is fresh, else from the service, else the last
//! good copy.

use chrono::{DateTime, TimeDelta, Utc};
use tokio::time::Instant;
use url::Url;

use super::Request;
use super::need::Need;
use super::question::Asked;
use crate::weather::WeatherError;
use crate::weather::cache::{Cache, Head, entry_name};
use crate::weather::fetch::{Failure, host};
use crate::weather::settings::Service;
use crate::weather::sources::ParseError;

/// A reply to get.
pub(super) struct Document {
    pub(super) service: Service,
    /// For the file's name: what and where, in words.
    pub(super) what: String,
    pub(super) url: Url,
    pub(super) freshness: Freshness,
    pub(super) need: Need,
}

/// How long a reply is good.
#[derive(Clone, Copy)]
pub(super) enum Freshness {
    /// As its headers say, else this long.
    AsTold(TimeDelta),
    /// This long, whatever they say.
    Always(TimeDelta),
}

/// A reply, read.
pub(super) struct Obtained<T> {
    pub(super) value: T,
    pub(super) fetched_at: DateTime<Utc>,
    pub(super) stale: bool,
    /// Whether the service sent it just now.
    pub(super) new: bool,
}

/// No good reply now; perhaps an earlier one.
pub(super) struct Missed<T> {
    pub(super) error: WeatherError,
    pub(super) last_good: Option<Obtained<T>>,
}

/// Reads a body that was fetched at a time.
pub(super) type Parse<T> = fn(&[u8], DateTime<Utc>) -> Result<T, ParseError>;

/// A kept copy, read.
struct Held<T> {
    head: Head,
    body: Vec<u8>,
    value: T,
}

/// What all documents of one request share.
pub(super) struct Desk<'a> {
    pub(super) request: &'a Request<'a>,
    pub(super) warnings: Vec<String>,
    pub(super) cache: Cache,
    /// The earliest end of freshness of what was used.
    pub(super) fresh_until: Option<DateTime<Utc>>,
    started: Instant,
}

impl<T> Missed<T> {
    /// The status that the service answered with, if that was the trouble.
    pub(super) const fn status(&self) -> Option<u16> {
        match &self.error {
            WeatherError::Service { failure, .. } => failure.status(),
            _ => None,
        }
    }

    /// The earlier reply with a warning, or the error.
    pub(super) fn or_last_good(self, desk: &mut Desk<'_>) -> Result<Obtained<T>, WeatherError> {
        let Some(last_good) = self.last_good else { return Err(self.error) };
        let fetched = last_good.fetched_at.format("%Y-%m-%d %H:%M UTC");
        desk.warnings.push(format!("{}; what was fetched {fetched} stands in", self.error));
        Ok(last_good)
    }
}

impl<'a> Desk<'a> {
    pub(super) fn new(request: &'a Request<'a>) -> Result<Self, WeatherError> {
        let (latitude_deg, longitude_deg) =
            (request.place.latitude_deg, request.place.longitude_deg);
        // Written so that NaN is refused too.
        if !(latitude_deg.abs() <= 90.0 && longitude_deg.abs() <= 180.0) {
            return Err(WeatherError::BadPlace { latitude_deg, longitude_deg });
        }
        Ok(Self {
            request,
            warnings: Vec::new(),
            cache: Cache::new(request.cache_dir),
            fresh_until: None,
            started: Instant::now(),
        })
    }

    /// The caller's time and what has passed since it was read.
    pub(super) fn now(&self) -> DateTime<Utc> {
        self.request.now + TimeDelta::from_std(self.started.elapsed()).unwrap_or_default()
    }

    /// Latitude and longitude, for names and messages.
    pub(super) fn place_words(&self) -> (String, String) {
        (self.request.place.latitude_text(), self.request.place.longitude_text())
    }

    /// Gets a document.
    pub(super) async fn obtain<T>(
        &mut self,
        document: &Document,
        parse: Parse<T>,
    ) -> Result<Obtained<T>, Missed<T>> {
        let name = entry_name(&document.what, &document.url);
        let warned = self.warnings.len();
        let held = self.held(&name, parse);
        let now = self.now();
        match held {
            Some(held) if held.head.is_fresh(now) => {
                self.note_fresh(&held.head);
                Ok(held.obtained(false))
            }
            Some(held) if self.request.offline => Ok(held.obtained(true)),
            None if self.request.offline => {
                // Its warning would be lost with the error.
                let problem = (self.warnings.len() > warned).then(|| self.warnings.pop()).flatten();
                let service = document.service;
                let error = match problem {
                    Some(problem) => WeatherError::OfflineWithDamagedCopy { service, problem },
                    None => WeatherError::OfflineWithoutCopy { service },
                };
                Err(Missed { error, last_good: None })
            }
            held => self.renew(document, &name, held, parse).await,
        }
    }

    /// Asks for a document again, however fresh the copy is.
    pub(super) async fn obtain_anew<T>(
        &mut self,
        document: &Document,
        parse: Parse<T>,
    ) -> Result<Obtained<T>, Missed<T>> {
        let name = entry_name(&document.what, &document.url);
        self.renew(document, &name, None, parse).await
    }

    /// The kept copy of a document, whatever its age; asks nobody.
    pub(super) fn kept<T>(&mut self, document: &Document, parse: Parse<T>) -> Option<Obtained<T>> {
        let name = entry_name(&document.what, &document.url);
        let now = self.now();
        let held = self.held(&name, parse)?;
        let stale = !held.head.is_fresh(now);
        Some(held.obtained(stale))
    }

    /// Asks for a document again in another way, and keeps the reply if it is better than that at
    /// hand. Without one there is nothing to report: what is at hand is good enough to be used.
    pub(super) async fn obtain_better<T>(
        &mut self,
        document: &Document,
        parse: Parse<T>,
        is_better: impl Fn(&T) -> bool,
    ) -> Option<Obtained<T>> {
        let Ok(Asked::New { head, body, value, .. }) =
            self.ask_if_open(document, None, parse).await
        else {
            return None;
        };
        if !is_better(&value) {
            return None;
        }
        self.keep(&entry_name(&document.what, &document.url), &head, &body);
        Some(Obtained { value, fetched_at: head.fetched_at, stale: false, new: true })
    }

    fn held<T>(&mut self, name: &str, parse: Parse<T>) -> Option<Held<T>> {
        let entry = self.cache.entry(name, self.request.patience.body_limit);
        let read = entry.and_then(|entry| {
            let Some(entry) = entry else { return Ok(None) };
            let value = parse(&entry.body, entry.head.fetched_at);
            let value = value.map_err(|error| error.to_string())?;
            Ok(Some(Held { head: entry.head, body: entry.body, value }))
        });
        read.unwrap_or_else(|problem| {
            self.warnings.push(format!(
                "the kept reply {} cannot be read and is left aside: {problem}",
                self.cache.folder().join(name).display()
            ));
            None
        })
    }

    async fn renew<T>(
        &mut self,
        document: &Document,
        name: &str,
        held: Option<Held<T>>,
        parse: Parse<T>,
    ) -> Result<Obtained<T>, Missed<T>> {
        let head = held.as_ref().map(|held| held.head.clone());
        match self.ask_if_open(document, head.as_ref(), parse).await {
            Ok(Asked::New { head, body, value, deprecated }) => {
                if deprecated {
                    self.warnings.push(format!(
                        "{} answers with status 203: this version of the service is to end; look for a newer fairseam",
                        document.service
                    ));
                }
                self.keep(name, &head, &body);
                self.note_fresh(&head);
                Ok(Obtained { value, fetched_at: head.fetched_at, stale: false, new: true })
            }
            Ok(Asked::NotModified(head)) => match held {
                Some(held) => {
                    self.keep(name, &head, &held.body);
                    self.note_fresh(&head);
                    Ok(Held { head, ..held }.obtained(false))
                }
                // The client answers "not modified" only to a question about a copy.
                None => Err(Missed { error: unasked(document), last_good: None }),
            },
            Err(error) => Err(Missed { error, last_good: held.map(|held| held.obtained(true)) }),
        }
    }

    fn note_fresh(&mut self, head: &Head) {
        let known = self.fresh_until.unwrap_or(head.fresh_until);
        self.fresh_until = Some(known.min(head.fresh_until));
    }

    fn keep(&mut self, name: &str, head: &Head, body: &[u8]) {
        if let Err(error) = self.cache.keep(name, head, body) {
            self.warn_of_cache(&error);
        }
    }

    /// Once is enough, however many documents there are.
    pub(super) fn warn_of_cache(&mut self, error: &std::io::Error) {
        let folder = self.cache.folder().display();
        let warning = format!(
            "the forecast could not be kept in {folder} ({error}): without a kept one there is none when the service is down"
        );
        if !self.warnings.contains(&warning) {
            self.warnings.push(warning);
        }
    }
}

impl<T> Held<T> {
    fn obtained(self, stale: bool) -> Obtained<T> {
        Obtained { value: self.value, fetched_at: self.head.fetched_at, stale, new: false }
    }
}

fn unasked(document: &Document) -> WeatherError {
    let failure = Failure::UnaskedNotModified { host: host(&document.url) };
    WeatherError::Service { service: document.service, failure }
}
