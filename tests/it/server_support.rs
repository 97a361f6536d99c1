//! A server on two invented roofs, with a clock that the test sets.

use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use axum::body::Body;
use axum::http::{HeaderMap, Request, StatusCode, header};
use chrono::{DateTime, TimeDelta, Utc};
use fairseam::cli::serve::open_at;
use fairseam::server::{App, Limits, Settings, router};
use fairseam::store::keys::{Key, NewKey, Role, SqliteKeys};
use tempfile::TempDir;
use tower::ServiceExt;

use crate::binary::root;

/// Nobody is held up.
pub(crate) const NO_LIMITS: Limits = Limits { per_address: None, per_key: None, wrong_keys: None };
/// Half past eight in the morning of the demo's day, on its clock (CDT, UTC - 5 h).
pub(crate) const MORNING: &str = "2027-04-21T13:30:00Z";
/// The key of the roof in question.
pub(crate) const ROOF: &str = "roof-a";
/// The key of the other one.
pub(crate) const OTHER: &str = "roof-b";

/// What a server answered.
#[derive(Debug, Clone)]
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) text: String,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().unwrap())
    }

    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.text).unwrap_or_else(|error| panic!("{error}: {}", self.text))
    }
}

/// A server without sockets, on a data folder of its own.
pub(crate) struct Served {
    pub(crate) app: Arc<App>,
    pub(crate) home: TempDir,
    clock: Arc<Mutex<DateTime<Utc>>>,
    keys: SqliteKeys,
}

/// The demo's site under another `id`, its forecast beside it.
pub(crate) fn site_file(folder: &TempDir, id: &str, name: &str) -> PathBuf {
    let demo = root().join("config/demo");
    let text = std::fs::read_to_string(demo.join("site.toml")).unwrap();
    let text = text
        .replace("name = \"Prairie grain store, roof B\"", &format!("name = {name}\nid = \"{id}\""))
        .replace("forecast.json", &demo.join("forecast.json").display().to_string());
    assert!(text.contains(id));
    let file = folder.path().join(format!("{id}.toml"));
    std::fs::write(&file, text).unwrap();
    file
}

impl Served {
    pub(crate) async fn start() -> Self {
        Self::with(Settings { limits: NO_LIMITS, ..Settings::default() }, "\"Roof A\"").await
    }

    pub(crate) async fn with(settings: Settings, name: &str) -> Self {
        let home = tempfile::tempdir().unwrap();
        let files = [site_file(&home, ROOF, name), site_file(&home, OTHER, "\"Roof B\"")];
        let clock = Arc::new(Mutex::new(MORNING.parse::<DateTime<Utc>>().unwrap()));
        let told = Arc::clone(&clock);
        let clock_function = Arc::new(move || *told.lock().unwrap());
        let app = open_at(home.path(), &files, clock_function, settings).await.unwrap();
        let keys = SqliteKeys::open(home.path()).await.unwrap();
        Self { app, home, clock, keys }
    }

    pub(crate) fn set_clock(&self, at: &str) {
        *self.clock.lock().unwrap() = at.parse().unwrap();
    }

    /// A key that is good for ten days.
    pub(crate) async fn key(&self, role: Role, site: Option<&str>) -> (Key, String) {
        self.key_of(role, site, "the holder", TimeDelta::days(10)).await
    }

    pub(crate) async fn key_of(
        &self,
        role: Role,
        site: Option<&str>,
        holder: &str,
        good_for: TimeDelta,
    ) -> (Key, String) {
        let made_at = *self.clock.lock().unwrap();
        let new = NewKey {
            role,
            site_key: site.map(str::to_owned),
            holder: holder.to_owned(),
            made_at,
            expires_at: made_at + good_for,
        };
        let (key, secret) = self.keys.make(&new).await.unwrap();
        (key, secret.shown())
    }

    pub(crate) async fn revoke(&self, key: &Key) {
        let now = *self.clock.lock().unwrap();
        self.keys.revoke(key.id, now).await.unwrap();
    }

    pub(crate) async fn send(&self, request: Request<Body>) -> Answer {
        let answer = router(&self.app).oneshot(request).await.unwrap();
        let (status, headers) = (answer.status(), answer.headers().clone());
        let body = axum::body::to_bytes(answer.into_body(), 16 << 20).await.unwrap();
        let text = String::from_utf8(body.to_vec()).unwrap();
        Answer { status, headers, text }
    }

    pub(crate) async fn get(&self, path: &str, key: &str) -> Answer {
        self.send(request("GET", path, Some(key)).body(Body::empty()).unwrap()).await
    }

    /// A trial as the crew's page sends it.
    pub(crate) async fn post_trial(&self, key: &str, json: impl Into<String>) -> Answer {
        let request = request("POST", &format!("/crew/{ROOF}/trials"), Some(key))
            .header(header::CONTENT_TYPE, "application/json");
        self.send(request.body(Body::from(json.into())).unwrap()).await
    }
}

/// A request with a key as the browser's cookie has it.
pub(crate) fn request(method: &str, path: &str, key: Option<&str>) -> axum::http::request::Builder {
    let request = Request::builder().method(method).uri(path);
    match key {
        Some(key) => request.header(header::COOKIE, format!("fairseam-key={key}")),
        None => request,
    }
}

/// A sound trial: four heats, three strips each; cold, good, good, burnt.
pub(crate) fn trial(sent_id: &str, who: &str) -> serde_json::Value {
    let strips = |width: f64, parted: &str, signs: &[&str]| {
        serde_json::json!(vec![
            serde_json::json!({ "width": width, "parted": parted, "signs": signs });
            3
        ])
    };
    serde_json::json!({
        "sent_id": sent_id,
        "who": who,
        "welder": "automatic 1",
        "air": 55,
        "speed": 8,
        "at": "2027-04-21T08:05:00-05:00",
        "heats": [
            { "heat": 700, "strips": strips(0.2, "cold", &[]) },
            { "heat": 800, "strips": strips(1.5, "film-tear", &[]) },
            { "heat": 900, "strips": strips(1.6, "film-tear", &[]) },
            { "heat": 1000, "strips": strips(2.0, "film-tear", &["browning"]) },
        ],
    })
}

/// A name for a sending.
pub(crate) fn uuid(number: u32) -> String {
    format!("6f1c2e0a-9d3b-4a57-8a31-{number:012x}")
}

/// Runs a test on a runtime of several threads, as the server does.
pub(crate) fn on_runtime(test: impl Future<Output = ()>) {
    tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .unwrap()
        .block_on(test);
}
