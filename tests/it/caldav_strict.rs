//! A calendar server of our own, strict where servers differ: each UID once, every write on a condition.
//!
//! It keeps RFC 4791 (5.3.2.1: the precondition and its `DAV:href`; 7.8: the query) and RFC 9110 (13:
//! the conditions) in its own words.

use std::collections::BTreeMap;
use std::net::TcpListener;
use std::sync::{Arc, Mutex};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::Response;

pub(crate) const OURS: &str = "/cal/foreman%40roof.example/crew/";
pub(crate) const THEIRS: &str = "/cal/foreman%40roof.example/private/";

/// How the server tells of a UID that is in use.
#[derive(Clone)]
pub(crate) struct Tells {
    pub(crate) status: u16,
    /// The body; `{href}` stands for the path of the other event.
    pub(crate) body: &'static str,
    pub(crate) answers_queries: bool,
    pub(crate) gives_etags: bool,
}

pub(crate) const NAMED: &str = "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<D:error xmlns:D=\"DAV:\" \
    xmlns:C=\"urn:ietf:params:xml:ns:caldav\">\n  <C:no-uid-conflict>\n    <D:href>{href}</D:href>\n  \
    </C:no-uid-conflict>\n</D:error>\n";
pub(crate) const UNNAMED: &str = "<error xmlns=\"DAV:\"><no-uid-conflict \
    xmlns=\"urn:ietf:params:xml:ns:caldav\"/></error>";

pub(crate) const PLAIN: Tells =
    Tells { status: 409, body: NAMED, answers_queries: true, gives_etags: true };

pub(crate) struct Shelf {
    pub(crate) tells: Tells,
    /// By path: how often it was written, and the text.
    pub(crate) events: BTreeMap<String, (u32, String)>,
    /// Method and path of each request.
    pub(crate) asked: Vec<String>,
}

#[derive(Clone)]
pub(crate) struct Strict {
    pub(crate) shelf: Arc<Mutex<Shelf>>,
    pub(crate) port: u16,
}

pub(crate) fn uid_of(text: &str) -> String {
    let line = text.lines().find_map(|line| line.strip_prefix("UID:"));
    line.unwrap_or_else(|| panic!("{text}")).trim().to_owned()
}

fn answer(status: u16, etag: Option<u32>, body: &str) -> Response {
    let mut answer = Response::builder().status(StatusCode::from_u16(status).unwrap());
    if let Some(etag) = etag {
        answer = answer.header("etag", format!("\"{etag}\""));
    }
    answer.body(Body::from(body.to_owned())).unwrap()
}

impl Shelf {
    fn etag(&self, count: u32) -> Option<u32> {
        self.tells.gives_etags.then_some(count)
    }

    fn put(&mut self, path: &str, headers: &HeaderMap, body: &str) -> Response {
        let header = |name: &str| headers.get(name).map(|value| value.to_str().unwrap());
        let held = self.events.get(path).map(|(count, _)| *count);
        let fits = match (header("if-match"), header("if-none-match")) {
            (Some(etag), None) => held.is_some_and(|held| etag == format!("\"{held}\"")),
            (None, Some("*")) => held.is_none(),
            other => panic!("a write without a condition: {other:?}"),
        };
        if !fits {
            return answer(412, None, "");
        }
        let uid = uid_of(body);
        let mut elsewhere =
            self.events.iter().filter(|(at, (_, text))| at.as_str() != path && uid_of(text) == uid);
        if let Some((other, _)) = elsewhere.next() {
            return answer(self.tells.status, None, &self.tells.body.replace("{href}", other));
        }
        let count = held.unwrap_or(0) + 1;
        self.events.insert(path.to_owned(), (count, body.to_owned()));
        answer(if held.is_some() { 204 } else { 201 }, self.etag(count), "")
    }

    /// Every event of this calendar whose UID holds the text that is looked for.
    fn report(&self, path: &str, headers: &HeaderMap, body: &str) -> Response {
        if !self.tells.answers_queries {
            return answer(501, None, "");
        }
        assert_eq!(headers["depth"], "1");
        let (_, text) = body.split_once("<C:text-match collation=\"i;octet\">").unwrap();
        let (wanted, _) = text.split_once('<').unwrap();
        let found = self
            .events
            .iter()
            .filter(|(at, (_, text))| at.starts_with(path) && uid_of(text).contains(wanted));
        let parts: String = found
            .map(|(at, (count, _))| {
                format!(
                    "<d:response><d:href>{at}</d:href><d:propstat><d:prop><d:getetag>&quot;{count}\
                     &quot;</d:getetag></d:prop><d:status>HTTP/1.1 200 OK</d:status></d:propstat>\
                     </d:response>"
                )
            })
            .collect();
        let body = format!("<d:multistatus xmlns:d=\"DAV:\">{parts}</d:multistatus>");
        answer(207, None, &body)
    }
}

async fn serve(State(shelf): State<Arc<Mutex<Shelf>>>, request: Request) -> Response {
    let (parts, body) = request.into_parts();
    let body = String::from_utf8(to_bytes(body, 1 << 20).await.unwrap().to_vec()).unwrap();
    // The same path, however it is written.
    let path = parts.uri.path().replace("foreman@", "foreman%40");
    let mut shelf = shelf.lock().unwrap();
    shelf.asked.push(format!("{} {path}", parts.method));
    match parts.method.as_str() {
        "PUT" => shelf.put(&path, &parts.headers, &body),
        "GET" => match shelf.events.get(&path).cloned() {
            Some((count, text)) => answer(200, shelf.etag(count), &text),
            None => answer(404, None, ""),
        },
        "REPORT" => shelf.report(&path, &parts.headers, &body),
        other => panic!("{other} {path}: nothing else may be asked"),
    }
}

impl Strict {
    pub(crate) fn start(tells: Tells) -> Self {
        let shelf = Shelf { tells, events: BTreeMap::new(), asked: Vec::new() };
        let shelf = Arc::new(Mutex::new(shelf));
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let port = listener.local_addr().unwrap().port();
        listener.set_nonblocking(true).unwrap();
        let routes = Router::new().fallback(serve).with_state(Arc::clone(&shelf));
        // It ends with the process of the tests.
        std::thread::spawn(move || {
            let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
            runtime.unwrap().block_on(async {
                let listener = tokio::net::TcpListener::from_std(listener).unwrap();
                axum::serve(listener, routes).await.unwrap();
            });
        });
        Self { shelf, port }
    }

    pub(crate) fn holds(&self, path: &str, uid: &str, sequence: u32) {
        let text = format!(
            "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//somebody//EN\r\nBEGIN:VEVENT\r\nUID:{uid}\r\n\
             SEQUENCE:{sequence}\r\nDTSTAMP:20130401T000000Z\r\nDTSTART:20130409T120000Z\r\n\
             SUMMARY:Copied by a phone\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
        );
        self.shelf.lock().unwrap().events.insert(path.to_owned(), (1, text));
    }

    pub(crate) fn get(&self, path: &str) -> String {
        self.shelf.lock().unwrap().events[path].1.clone()
    }

    pub(crate) fn asked(&self) -> Vec<String> {
        std::mem::take(&mut self.shelf.lock().unwrap().asked)
    }

    pub(crate) fn count(&self) -> usize {
        self.shelf.lock().unwrap().events.len()
    }
}
