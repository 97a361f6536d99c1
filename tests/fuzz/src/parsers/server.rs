//! The server: any request, any body. It never fails, and what it took in can be shown.

use std::cell::RefCell;
use std::path::PathBuf;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Request, StatusCode, header};
use chrono::{DateTime, TimeDelta, TimeZone, Utc};
use fairseam::cli::serve::open_at;
use fairseam::server::{Limits, Settings, router};
use fairseam::store::keys::{NewKey, Role, SqliteKeys};
use tempfile::TempDir;
use tokio::runtime::{Builder, Runtime};
use tower::ServiceExt;

const SITE: &str = include_str!("../../../../config/demo/site.toml");
const FORECAST: &[u8] = include_bytes!("../../../../config/demo/forecast.json");
const FIRST_TRIAL: &[u8] = include_bytes!("../../seeds/server/trial.http");
/// Requests that went in after which a new server is made: the book would grow and grow.
const MOST_TAKEN: u32 = 64;
/// Larger than any page.
const LARGEST_ANSWER: usize = 16 << 20;

/// Half past eight in the morning of the demo's day, on its clock.
fn now() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2027, 4, 21, 13, 30, 0).single().expect("a moment")
}

/// A server without sockets on one roof, with a key for each role.
struct Served {
    runtime: Runtime,
    router: Router,
    keys: [(&'static str, String); 3],
    taken: u32,
    _home: TempDir,
}

impl Served {
    fn new() -> Self {
        let runtime = Builder::new_current_thread().enable_all().build().expect("a runtime");
        let home = tempfile::tempdir().expect("a folder");
        let site = SITE.replacen("\nname = ", "\nid = \"roof-a\"\nname = ", 1);
        assert!(site.contains("roof-a"), "the demo's site has no line `name`");
        let file: PathBuf = home.path().join("site.toml");
        std::fs::write(&file, site).expect("room for a file");
        std::fs::write(home.path().join("forecast.json"), FORECAST).expect("room for a file");
        let limits = Limits { per_address: None, per_key: None, wrong_keys: None };
        let settings = Settings { limits, ..Settings::default() };
        let (app, keys) = runtime.block_on(async {
            let keys = SqliteKeys::open(home.path()).await.expect("keys");
            let mut made = Vec::new();
            for role in [Role::Crew, Role::Office, Role::Feed] {
                let new = NewKey {
                    role,
                    site_key: (role != Role::Office).then(|| "roof-a".to_owned()),
                    holder: "the holder".to_owned(),
                    made_at: now(),
                    expires_at: now() + TimeDelta::days(10),
                };
                let (_, secret) = keys.make(&new).await.expect("a key");
                made.push(secret.shown());
            }
            let app = open_at(home.path(), &[file], Arc::new(now), settings).await;
            (app.expect("a server"), made)
        });
        let [crew, office, feed] = keys.try_into().expect("three keys");
        let keys = [("crew", crew), ("office", office), ("feed", feed)];
        let mut served = Self { runtime, router: router(&app), keys, taken: 0, _home: home };
        // Something to look at and to correct.
        let first = served.ask(FIRST_TRIAL);
        assert_eq!(first, Some(StatusCode::CREATED), "the sound trial was not taken in");
        served
    }

    /// The status of the answer; `None` for what no client can send.
    fn ask(&mut self, message: &[u8]) -> Option<StatusCode> {
        let request = self.request(message)?;
        let is_post = request.method() == "POST";
        let router = self.router.clone();
        let status = self.runtime.block_on(async move {
            let answer = router.oneshot(request).await.expect("an answer");
            let status = answer.status();
            // A live page has no end.
            if !is_endless(answer.headers()) {
                let body =
                    to_bytes(answer.into_body(), LARGEST_ANSWER).await.expect("a whole body");
                assert!(std::str::from_utf8(&body).is_ok(), "an answer that is no text");
            }
            status
        });
        self.taken += u32::from(is_post && (status.is_success() || status.is_redirection()));
        Some(status)
    }

    /// A request out of a message as it goes over the wire, with LF as line end: method and path,
    /// headers, an empty line, the body. A role in `{}`, such as `{crew}`, stands for its key.
    fn request(&self, message: &[u8]) -> Option<Request<Body>> {
        let end = message.windows(2).position(|pair| pair == b"\n\n").unwrap_or(message.len());
        let (head, body) = message.split_at(end);
        let head = self.with_keys(std::str::from_utf8(head).ok()?);
        let body = body.get(2..).unwrap_or_default();
        let body = match std::str::from_utf8(body) {
            Ok(text) => self.with_keys(text).into_bytes(),
            Err(_) => body.to_vec(),
        };
        let mut lines = head.lines();
        let (method, path) = lines.next()?.split_once(' ')?;
        let mut request = Request::builder().method(method).uri(path);
        for (name, value) in lines.filter_map(|line| line.split_once(": ")) {
            let name = name.parse::<HeaderName>().ok()?;
            request = request.header(name, HeaderValue::from_bytes(value.as_bytes()).ok()?);
        }
        request.body(Body::from(body)).ok()
    }

    fn with_keys(&self, text: &str) -> String {
        let put =
            |text: String, (role, key): &(&str, String)| text.replace(&format!("{{{role}}}"), key);
        self.keys.iter().fold(text.to_owned(), put)
    }
}

fn is_endless(headers: &HeaderMap) -> bool {
    headers.get(header::CONTENT_TYPE).is_some_and(|kind| kind == "text/event-stream")
}

thread_local! {
    static SERVED: RefCell<Option<Served>> = const { RefCell::new(None) };
}

/// One request to the server.
pub(super) fn server(message: &[u8]) -> bool {
    SERVED.with_borrow_mut(|kept| {
        let served = kept.get_or_insert_with(Served::new);
        let before = served.taken;
        let Some(status) = served.ask(message) else { return false };
        assert!(!status.is_server_error(), "{status}");
        if served.taken > before {
            for page in [
                &b"GET /office/roof-a/book\ncookie: fairseam-key={office}"[..],
                b"GET /crew/roof-a/day.json\ncookie: fairseam-key={crew}",
            ] {
                assert_eq!(
                    served.ask(page),
                    Some(StatusCode::OK),
                    "what was taken in cannot be shown"
                );
            }
        }
        if served.taken >= MOST_TAKEN {
            *kept = None;
        }
        status.is_success() || status.is_redirection()
    })
}
