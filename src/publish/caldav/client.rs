//! One request to a calendar server, within bounds.

use std::time::Duration;

use reqwest::{Method, StatusCode, header};

use super::Collection;
use super::elsewhere::{self, Place};

const CONNECT: Duration = Duration::from_secs(10);
/// For one request, the answer's body included.
const TOTAL: Duration = Duration::from_secs(20);
/// Bytes of an answer that are read; an event of ours takes a few thousand.
const LONGEST_BODY: usize = 1 << 20;

/// The HTTP client with its bounds.
pub(super) struct Client<'a> {
    http: reqwest::Client,
    collection: &'a Collection,
}

/// On what condition a resource is written.
pub(super) enum Only<'a> {
    /// There is none of this address yet.
    New,
    /// It is as this mark says.
    Unchanged(&'a str),
}

/// What the server said.
#[derive(Debug)]
pub(super) struct Answer {
    pub(super) status: StatusCode,
    pub(super) etag: Option<String>,
    pub(super) body: String,
}

impl<'a> Client<'a> {
    pub(super) fn new(collection: &'a Collection) -> Result<Self, String> {
        // Fails when another part of the process has chosen one already, which is as good.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let mut builder = reqwest::Client::builder()
            .user_agent(concat!("fairseam/", env!("CARGO_PKG_VERSION")))
            .connect_timeout(CONNECT)
            .timeout(TOTAL)
            // The password must not travel to where a server points.
            .redirect(reqwest::redirect::Policy::none());
        if super::is_loopback(&collection.url) {
            builder = builder.no_proxy();
        }
        let http = builder.build().map_err(|error| root(&error))?;
        Ok(Self { http, collection })
    }

    pub(super) async fn put(
        &self,
        href: &str,
        body: String,
        only: &Only<'_>,
    ) -> Result<Answer, String> {
        let request = self
            .request(Method::PUT, href)
            .header(header::CONTENT_TYPE, "text/calendar; charset=utf-8")
            .body(body);
        let request = match only {
            Only::New => request.header(header::IF_NONE_MATCH, "*"),
            Only::Unchanged(etag) => request.header(header::IF_MATCH, *etag),
        };
        self.answer(request).await
    }

    pub(super) async fn get(&self, href: &str) -> Result<Answer, String> {
        self.answer(self.request(Method::GET, href)).await
    }

    /// Asks the calendar itself for the addresses of events of this UID.
    pub(super) async fn find(&self, uid: &str) -> Result<Answer, String> {
        let report = Method::from_bytes(b"REPORT").map_err(|error| error.to_string())?;
        let request = self
            .request(report, "")
            .header("Depth", "1")
            .header(header::CONTENT_TYPE, "application/xml; charset=utf-8")
            .body(elsewhere::query_for(uid));
        self.answer(request).await
    }

    /// Where an address that the server names lies.
    pub(super) fn place(&self, href: &str) -> Place {
        elsewhere::place(&self.collection.url, href)
    }

    fn request(&self, method: Method, href: &str) -> reqwest::RequestBuilder {
        let login = &self.collection.login;
        self.http
            .request(method, self.collection.at(href))
            .basic_auth(login.user(), Some(login.password()))
    }

    async fn answer(&self, request: reqwest::RequestBuilder) -> Result<Answer, String> {
        let mut response = request.send().await.map_err(|error| root(&error))?;
        let status = response.status();
        let etag = response.headers().get(header::ETAG);
        let etag = etag.and_then(|etag| etag.to_str().ok()).map(str::to_owned);
        let mut bytes = Vec::new();
        while let Some(chunk) = response.chunk().await.map_err(|error| root(&error))? {
            if bytes.len() + chunk.len() > LONGEST_BODY {
                return Err(format!("its answer is larger than {LONGEST_BODY} bytes"));
            }
            bytes.extend_from_slice(&chunk);
        }
        Ok(Answer { status, etag, body: String::from_utf8_lossy(&bytes).into_owned() })
    }
}

/// What lies at the bottom of an error, without the address that was asked.
fn root(error: &reqwest::Error) -> String {
    if error.is_timeout() {
        return format!("no complete answer within {} s", TOTAL.as_secs());
    }
    let mut cause: &dyn std::error::Error = error;
    while let Some(deeper) = cause.source() {
        cause = deeper;
    }
    cause.to_string()
}
