//! One question to a service: whether it may be asked, how often, and what to make of the answer.

use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use backon::{ConstantBuilder, Retryable};
use chrono::{DateTime, TimeDelta, Timelike, Utc};
use tokio::time::Instant;

use super::desk::{Desk, Document, Freshness, Parse};
use crate::weather::WeatherError;
use crate::weather::cache::Head;
use crate::weather::fetch::policy::{self, Next};
use crate::weather::fetch::{Ask, Client, Failure, Reply, Validity, host};
use crate::weather::settings::Service;

/// The NWS has sent a `Last-Modified` from the future, by which nothing is modified until then; a body
/// that was sent longer ago than this is asked for whole, however often it was confirmed since.
const CONDITIONAL_FOR: TimeDelta = TimeDelta::hours(3);
/// However long a service says that a reply is good.
const LONGEST_FRESH: TimeDelta = TimeDelta::hours(24);

/// What one question to the service gave.
pub(super) enum Asked<T> {
    NotModified(Head),
    New { head: Head, body: Vec<u8>, value: T, deprecated: bool },
}

impl Desk<'_> {
    /// Asks, unless the host wants to be left alone; remembers what the host said about that.
    pub(super) async fn ask_if_open<T>(
        &mut self,
        document: &Document,
        held: Option<&Head>,
        parse: Parse<T>,
    ) -> Result<Asked<T>, WeatherError> {
        let service = document.service;
        let agent = self.request.settings.user_agent(service)?;
        let host = document.need.host_name(service, &document.url);
        let mut state = self.cache.host(&host);
        if let Some((until, because)) = state.closed(self.now(), &agent) {
            return Err(WeatherError::NotBefore { service, until, because: because.to_owned() });
        }
        let key = self.request.settings.key_for(service);
        if key.is_some_and(|key| reqwest::header::HeaderValue::from_str(key).is_err()) {
            return Err(WeatherError::BadKey);
        }
        let patience = document.need.patience(self.request.patience);
        let client = Client::new(&agent, &document.url, patience)?;
        let (result, tries) = self.ask_patiently(&client, document, held, parse).await;
        match &result {
            Ok(_) if state.failures() > 0 => state = Default::default(),
            Ok(_) => {}
            Err(failure) => {
                let now = self.now();
                let strikes = state.failures().saturating_add(tries);
                let rest = document.need.rest_after(failure).map(|rest| now + rest);
                let not_before = policy::not_before(service, failure, strikes, now).max(rest);
                state.failed(tries, policy::counts(failure), not_before, failure.to_string(), now);
                if service == Service::MetNorway && failure.status() == Some(403) {
                    state.refused(&agent);
                }
            }
        }
        if let Err(error) = self.cache.remember_host(&host, &state) {
            self.warn_of_cache(&error);
        }
        result.map_err(|failure| WeatherError::Service { service, failure })
    }

    /// Asks as often as the document is worth; also says how often it was.
    async fn ask_patiently<T>(
        &self,
        client: &Client,
        document: &Document,
        held: Option<&Head>,
        parse: Parse<T>,
    ) -> (Result<Asked<T>, Failure>, u32) {
        let patience = self.request.patience;
        if document.service == Service::MetNorway {
            self.let_the_full_hour_pass().await;
        }
        // Not a `Cell`, so that a server can run this on any of its threads.
        let tries = AtomicU32::new(0);
        let retries = usize::try_from(document.need.tries() - 1).unwrap_or(0);
        let begun = Instant::now();
        let result = (|| {
            tries.fetch_add(1, Ordering::Relaxed);
            self.ask_once(client, document, held, parse)
        })
        .retry(ConstantBuilder::default().with_max_times(retries))
        .adjust(|failure, planned| {
            planned?;
            match policy::next(document.service, failure, tries.load(Ordering::Relaxed), self.now())
            {
                Next::Pause { at_least, at_most } if at_least <= patience.longest_pause => {
                    let pause = patience.pause(at_least, at_most);
                    (begun.elapsed() + pause <= patience.overall).then_some(pause)
                }
                _ => None,
            }
        })
        .await;
        (result, tries.load(Ordering::Relaxed))
    }

    async fn ask_once<T>(
        &self,
        client: &Client,
        document: &Document,
        held: Option<&Head>,
        parse: Parse<T>,
    ) -> Result<Asked<T>, Failure> {
        let now = self.now();
        let held = held.filter(|head| {
            document.service != Service::Nws || now - head.sent_at() <= CONDITIONAL_FOR
        });
        let ask = Ask {
            url: &document.url,
            accept: document.need.accept(),
            api_key: self.request.settings.key_for(document.service),
            etag: held.and_then(|head| head.etag.as_deref()),
            last_modified: held.and_then(|head| head.last_modified.as_deref()),
        };
        let reply = client.get(&ask, now).await?;
        let now = self.now();
        match reply {
            Reply::NotModified(validity) => {
                let fresh_until = document.freshness.until(&validity, now);
                let sent_at = held.map_or(now, Head::sent_at);
                let mut head = Head::new(&document.url, now, fresh_until).sent_earlier(sent_at);
                head.etag = validity.etag.or_else(|| held?.etag.clone());
                head.last_modified = validity.last_modified.or_else(|| held?.last_modified.clone());
                Ok(Asked::NotModified(head))
            }
            Reply::Body(body) => {
                let value = parse(&body.bytes, now).map_err(|problem| Failure::Unreadable {
                    host: host(&document.url),
                    problem,
                })?;
                let fresh_until = document.freshness.until(&body.validity, now);
                let mut head = Head::new(&document.url, now, fresh_until);
                head.etag = body.validity.etag;
                head.last_modified = body.validity.last_modified;
                Ok(Asked::New { head, body: body.bytes, value, deprecated: body.deprecated })
            }
        }
    }

    /// MET Norway asks not to be called on the full hour, when every clock calls at once.
    async fn let_the_full_hour_pass(&self) {
        let quiet = self.request.patience.quiet_after_full_hour;
        let now = self.now();
        let into = Duration::from_secs(u64::from(now.minute() * 60 + now.second()));
        if into < quiet {
            let rest = quiet - into;
            tokio::time::sleep(self.request.patience.pause(rest, rest + quiet)).await;
        }
    }
}

impl Freshness {
    fn until(self, validity: &Validity, now: DateTime<Utc>) -> DateTime<Utc> {
        match self {
            Self::Always(period) => now + period,
            Self::AsTold(otherwise) => {
                // Where both are given, the later one: MET Norway must not be asked before it.
                let told = validity.max_age.map(|age| now + age).max(validity.expires);
                told.unwrap_or(now + otherwise).min(now + LONGEST_FRESH)
            }
        }
    }
}
