//! One request: headers, redirects, bounds on time and size.

use std::error::Error;

use chrono::{DateTime, TimeDelta, Utc};
use reqwest::header::{self, HeaderMap, HeaderValue};
use reqwest::{Response, StatusCode};
use url::Url;

use super::{Failure, Patience};
use crate::weather::WeatherError;
use crate::weather::sources::json;

/// Redirects that are followed.
const REDIRECTS: usize = 5;
/// How much of an error's body is read for its reason, in bytes.
const REASON_LIMIT: usize = 64 << 10;

/// What is asked for.
pub(crate) struct Ask<'a> {
    pub(crate) url: &'a Url,
    pub(crate) accept: Accept,
    /// Sent to the host of `url` and to no other.
    pub(crate) api_key: Option<&'a str>,
    /// Of the copy at hand, exactly as the service gave them.
    pub(crate) etag: Option<&'a str>,
    pub(crate) last_modified: Option<&'a str>,
}

/// Which kinds of body are asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Accept {
    /// JSON, by its names. The NWS has been seen to serve days-old forecasts to those who send no
    /// such header.
    Json,
    /// Anything, which is another shelf of the same cache.
    Anything,
}

/// A good answer.
pub(crate) enum Reply {
    /// The copy at hand is still good.
    NotModified(Validity),
    /// A new body, JSON by its header.
    Body(Body),
}

/// A body and what was said about it.
pub(crate) struct Body {
    pub(crate) bytes: Vec<u8>,
    pub(crate) validity: Validity,
    /// Status 203: the service says that this version of it is to end.
    pub(crate) deprecated: bool,
}

/// What the headers say about how long a body is good.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Validity {
    pub(crate) etag: Option<String>,
    pub(crate) last_modified: Option<String>,
    pub(crate) expires: Option<DateTime<Utc>>,
    pub(crate) max_age: Option<TimeDelta>,
}

impl Accept {
    const fn text(self) -> &'static str {
        match self {
            Self::Json => "application/geo+json, application/json;q=0.9",
            Self::Anything => "*/*",
        }
    }
}

/// The HTTP client with its bounds.
pub(crate) struct Client {
    http: reqwest::Client,
    patience: Patience,
}

impl Client {
    /// For one service, introduced as `user_agent`.
    pub(crate) fn new(
        user_agent: &str,
        base: &Url,
        patience: Patience,
    ) -> Result<Self, WeatherError> {
        // Fails when another part of the process has chosen one already, which is as good.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let mut builder = reqwest::Client::builder()
            .user_agent(user_agent)
            .connect_timeout(patience.connect)
            // Followed by hand: the key must not travel, and https must not fall back to http.
            .redirect(reqwest::redirect::Policy::none());
        if is_loopback(base) {
            builder = builder.no_proxy();
        }
        let http = builder
            .build()
            .map_err(|error| WeatherError::Client { problem: root_cause(&error) })?;
        Ok(Self { http, patience })
    }

    /// Asks once.
    pub(crate) async fn get(&self, ask: &Ask<'_>, now: DateTime<Utc>) -> Result<Reply, Failure> {
        let host = host(ask.url);
        match tokio::time::timeout(self.patience.total, self.follow(ask, now)).await {
            Ok(result) => result,
            Err(_) => Err(Failure::Timeout { host, seconds: self.patience.total.as_secs_f64() }),
        }
    }

    async fn follow(&self, ask: &Ask<'_>, now: DateTime<Utc>) -> Result<Reply, Failure> {
        let mut url = ask.url.clone();
        for _ in 0..=REDIRECTS {
            let response = self.send(&url, ask).await?;
            // 304 is in the 300s too, and is no redirect.
            if !matches!(response.status().as_u16(), 301 | 302 | 303 | 307 | 308) {
                return self.read(response, &url, ask, now).await;
            }
            url = target(&url, response.headers())?;
        }
        Err(Failure::Redirect { host: host(&url), problem: format!("more than {REDIRECTS} times") })
    }

    async fn send(&self, url: &Url, ask: &Ask<'_>) -> Result<Response, Failure> {
        let mut request = self.http.get(url.clone()).header(header::ACCEPT, ask.accept.text());
        if let Some(etag) = ask.etag {
            request = request.header(header::IF_NONE_MATCH, etag);
        }
        if let Some(last_modified) = ask.last_modified {
            request = request.header(header::IF_MODIFIED_SINCE, last_modified);
        }
        if let Some(key) = ask.api_key.filter(|_| url.origin() == ask.url.origin())
            && let Ok(mut value) = HeaderValue::from_str(key)
        {
            value.set_sensitive(true);
            request = request.header("X-Api-Key", value);
        }
        request.send().await.map_err(|error| self.failure(url, &error))
    }

    async fn read(
        &self,
        response: Response,
        url: &Url,
        ask: &Ask<'_>,
        now: DateTime<Utc>,
    ) -> Result<Reply, Failure> {
        let status = response.status();
        let validity = validity(response.headers());
        if status == StatusCode::NOT_MODIFIED {
            let asked = ask.etag.is_some() || ask.last_modified.is_some();
            return if asked {
                Ok(Reply::NotModified(validity))
            } else {
                Err(Failure::UnaskedNotModified { host: host(url) })
            };
        }
        if !status.is_success() {
            let retry_after = retry_after(response.headers(), now);
            // Half a reason is better than none, so a break in it is not an error of its own.
            let (body, _) = self.body(response, url, REASON_LIMIT).await;
            let reason = reason(&body);
            return Err(Failure::Status {
                host: host(url),
                status: status.as_u16(),
                reason,
                retry_after,
            });
        }
        check_content_type(url, response.headers())?;
        let deprecated = status == StatusCode::NON_AUTHORITATIVE_INFORMATION;
        match self.body(response, url, self.patience.body_limit).await {
            (bytes, None) => Ok(Reply::Body(Body { bytes, validity, deprecated })),
            (_, Some(failure)) => Err(failure),
        }
    }

    /// Reads the body, unpacked, no further than `limit`; with what broke it off, if anything did.
    async fn body(
        &self,
        mut response: Response,
        url: &Url,
        limit: usize,
    ) -> (Vec<u8>, Option<Failure>) {
        let mut bytes = Vec::new();
        loop {
            match response.chunk().await {
                Ok(None) => return (bytes, None),
                Ok(Some(chunk)) if bytes.len() + chunk.len() > limit => {
                    return (bytes, Some(Failure::TooBig { host: host(url), limit }));
                }
                Ok(Some(chunk)) => bytes.extend_from_slice(&chunk),
                Err(error) => return (bytes, Some(self.failure(url, &error))),
            }
        }
    }

    fn failure(&self, url: &Url, error: &reqwest::Error) -> Failure {
        let host = host(url);
        let detail = match error.is_timeout() {
            true => format!("no connection within {} s", self.patience.connect.as_secs_f64()),
            false => root_cause(error),
        };
        if error.is_connect() {
            Failure::Unreachable { host, detail }
        } else {
            Failure::BrokenOff { host, detail }
        }
    }
}

/// Host and port, as messages and file names give them.
pub(crate) fn host(url: &Url) -> String {
    let name = url.host_str().unwrap_or("?");
    url.port().map_or_else(|| name.to_owned(), |port| format!("{name}:{port}"))
}

/// A server on this machine is never asked through a proxy.
fn is_loopback(url: &Url) -> bool {
    match url.host() {
        Some(url::Host::Domain(name)) => name == "localhost",
        Some(url::Host::Ipv4(address)) => address.is_loopback(),
        Some(url::Host::Ipv6(address)) => address.is_loopback(),
        None => false,
    }
}

fn target(from: &Url, headers: &HeaderMap) -> Result<Url, Failure> {
    let failure =
        |problem: &str| Failure::Redirect { host: host(from), problem: problem.to_owned() };
    let location =
        text(headers, &header::LOCATION).ok_or_else(|| failure("without saying where"))?;
    let to = from.join(&location).map_err(|_| failure("to an address that is none"))?;
    match (from.scheme(), to.scheme()) {
        ("http" | "https", "https") | ("http", "http") => Ok(to),
        _ => Err(failure("from https to an address that is not")),
    }
}

fn check_content_type(url: &Url, headers: &HeaderMap) -> Result<(), Failure> {
    match text(headers, &header::CONTENT_TYPE) {
        Some(found) if !found.to_ascii_lowercase().contains("json") => {
            Err(Failure::ContentType { host: host(url), found: json::quote(&found) })
        }
        _ => Ok(()),
    }
}

fn validity(headers: &HeaderMap) -> Validity {
    let max_age = text(headers, &header::CACHE_CONTROL).and_then(|control| {
        let seconds = control.split(',').find_map(|part| part.trim().strip_prefix("max-age="))?;
        TimeDelta::try_seconds(seconds.trim().parse().ok()?)
    });
    Validity {
        etag: text(headers, &header::ETAG),
        last_modified: text(headers, &header::LAST_MODIFIED),
        expires: text(headers, &header::EXPIRES).and_then(|date| http_date(&date)),
        max_age,
    }
}

/// Seconds or an HTTP date. Source: RFC9110, section 10.2.3.
fn retry_after(headers: &HeaderMap, now: DateTime<Utc>) -> Option<TimeDelta> {
    let value = text(headers, &header::RETRY_AFTER)?;
    let wait = match value.trim().parse::<u32>() {
        Ok(seconds) => TimeDelta::seconds(i64::from(seconds)),
        Err(_) => http_date(&value)? - now,
    };
    Some(wait.max(TimeDelta::zero()))
}

fn http_date(text: &str) -> Option<DateTime<Utc>> {
    httpdate::parse_http_date(text.trim()).ok().map(DateTime::from)
}

fn text(headers: &HeaderMap, name: &header::HeaderName) -> Option<String> {
    headers.get(name)?.to_str().ok().map(str::to_owned)
}

/// What an error's body says: Open-Meteo's `reason`, the NWS's `detail`, NASA POWER's first of
/// `messages`, a page's title.
fn reason(body: &[u8]) -> Option<String> {
    #[derive(serde::Deserialize)]
    struct Said {
        reason: Option<String>,
        detail: Option<String>,
        title: Option<String>,
        #[serde(default)]
        messages: Vec<String>,
    }
    if json::looks_like_html(body) {
        return json::html_title(body);
    }
    let said: Said = serde_json::from_slice(body).ok()?;
    let message = said.messages.into_iter().next();
    said.reason.or(said.detail).or(message).or(said.title).map(|text| json::quote(&text))
}

/// The innermost error: "connection refused" rather than "error sending request".
fn root_cause(error: &reqwest::Error) -> String {
    let mut cause: &dyn Error = error;
    while let Some(source) = cause.source() {
        cause = source;
    }
    json::quote(&cause.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(name: header::HeaderName, value: &'static str) -> HeaderMap {
        HeaderMap::from_iter([(name, HeaderValue::from_static(value))])
    }

    #[test]
    fn a_redirect_never_leads_from_https_to_http() {
        let from = Url::parse("https://a.example/points/1.00,2").unwrap();
        let to = |location| target(&from, &headers(header::LOCATION, location));
        assert_eq!(to("/points/1,2").unwrap().as_str(), "https://a.example/points/1,2");
        assert_eq!(to("https://b.example/x").unwrap().as_str(), "https://b.example/x");
        for location in ["http://a.example/points/1,2", "file:///etc/hosts", "javascript:0"] {
            assert!(matches!(to(location), Err(Failure::Redirect { .. })), "{location}");
        }
    }

    #[test]
    fn retry_after_is_seconds_or_a_date() {
        // The date is RFC9110's own example, section 5.6.7.
        let now = "1994-11-06T08:49:07Z".parse().unwrap();
        let wait = |value| retry_after(&headers(header::RETRY_AFTER, value), now);
        assert_eq!(wait("120"), Some(TimeDelta::seconds(120)));
        assert_eq!(wait("Sun, 06 Nov 1994 08:49:37 GMT"), Some(TimeDelta::seconds(30)));
        assert_eq!(wait("Sun, 06 Nov 1994 08:40:00 GMT"), Some(TimeDelta::zero()), "in the past");
        assert_eq!(wait("soon"), None);
        assert_eq!(wait("99999999999999999999"), None);
    }

    #[test]
    fn max_age_is_ours_and_not_that_of_shared_caches() {
        let of = |value| validity(&headers(header::CACHE_CONTROL, value)).max_age;
        assert_eq!(of("public, max-age=1800, s-maxage=3600"), Some(TimeDelta::minutes(30)));
        assert_eq!(of("s-maxage=3600"), None);
        assert_eq!(of("max-age=99999999999999999999"), None);
    }
}
