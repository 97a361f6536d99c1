//! Server-sent events: open pages hear what has changed and fetch it themselves.

use std::convert::Infallible;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::stream;
use tokio::sync::broadcast::{self, error::RecvError};

use super::access::Visitor;
use super::app::App;
use super::problem::Problem;
use super::roof::Roof;

/// Changes that a slow page may be behind; beyond, it is told all versions again.
const ROOM: usize = 64;
/// A line without meaning goes out this often: it tells proxies and phones that somebody is there,
/// and the server that nobody is.
const BEAT: Duration = Duration::from_secs(20);
/// A page asks again after this; its key is looked at once more then.
const LONGEST: Duration = Duration::from_secs(60 * 60);

/// What has changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A plan, or how a day stands against it.
    Plan,
    /// The trials of the book.
    Book,
    /// The server ends.
    Closing,
}

#[derive(Debug, Clone)]
struct Change {
    site: Arc<str>,
    kind: Kind,
    version: Arc<str>,
}

/// Where changes are told.
pub(super) struct Live(broadcast::Sender<Change>);

impl Kind {
    const fn name(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Book => "book",
            Self::Closing => "closing",
        }
    }
}

impl Live {
    pub(super) fn new() -> Self {
        Self(broadcast::Sender::new(ROOM))
    }

    /// Nobody listening is no fault.
    pub(super) fn tell(&self, site: &str, kind: Kind, version: &str) {
        let _ = self.0.send(Change { site: site.into(), kind, version: version.into() });
    }

    pub(super) fn tell_closing(&self) {
        self.tell("", Kind::Closing, "");
    }
}

/// Counts a page as long as it is open.
struct OpenPage(Arc<App>);

impl Drop for OpenPage {
    fn drop(&mut self) {
        self.0.open_pages.fetch_sub(1, Ordering::Relaxed);
    }
}

struct Page {
    app: Arc<App>,
    visitor: Visitor,
    roofs: Vec<Arc<Roof>>,
    changes: broadcast::Receiver<Change>,
    waiting: Vec<Event>,
    until: tokio::time::Instant,
    _open: OpenPage,
}

/// The events of `roofs`: first the versions at hand, then every change.
pub(super) fn events(app: &Arc<App>, visitor: Visitor, roofs: Vec<Arc<Roof>>) -> Response {
    let open = app.open_pages.fetch_add(1, Ordering::Relaxed);
    let counted = OpenPage(Arc::clone(app));
    if open >= app.settings.most_live_pages || app.is_closing() {
        return Problem::busy().into_response();
    }
    let mut page = Page {
        app: Arc::clone(app),
        visitor,
        // First the ear, then the versions: nothing in between is missed.
        changes: app.live.0.subscribe(),
        waiting: Vec::new(),
        roofs,
        until: tokio::time::Instant::now() + LONGEST,
        _open: counted,
    };
    page.all_versions();
    let events = stream::unfold(page, |mut page| async {
        let event = page.next().await?;
        Some((Ok::<_, Infallible>(event), page))
    });
    let mut response = Sse::new(events).into_response();
    // Some proxies gather what they pass on unless they are told not to.
    response.headers_mut().insert("x-accel-buffering", axum::http::HeaderValue::from_static("no"));
    response
}

impl Page {
    fn all_versions(&mut self) {
        // Taken from the end, so that the first site is told first.
        for roof in self.roofs.iter().rev() {
            let Some(view) = roof.view() else { continue };
            for (kind, version) in
                [(Kind::Book, &view.book_version), (Kind::Plan, &view.plan_version)]
            {
                self.waiting.push(event(&roof.key, kind, version));
            }
        }
    }

    /// `None` when the page has to ask again: its key opens nothing any more, its time is over, the
    /// server ends.
    async fn next(&mut self) -> Option<Event> {
        loop {
            if self.app.is_closing() || !self.app.keys.still_opens(&self.visitor, self.app.now()) {
                return None;
            }
            if let Some(event) = self.waiting.pop() {
                return Some(event);
            }
            if tokio::time::Instant::now() >= self.until {
                return None;
            }
            match tokio::time::timeout(BEAT, self.changes.recv()).await {
                Ok(Ok(change)) => {
                    if self.roofs.iter().any(|roof| *roof.key == *change.site) {
                        return Some(event(&change.site, change.kind, &change.version));
                    }
                }
                Ok(Err(RecvError::Lagged(_))) => self.all_versions(),
                Ok(Err(RecvError::Closed)) => return None,
                Err(_) => return Some(Event::default().comment("")),
            }
        }
    }
}

/// Its data is JSON of two texts that need no escape: a site's key and a version.
fn event(site: &str, kind: Kind, version: &str) -> Event {
    let data = serde_json::json!({ "site": site, "version": version }).to_string();
    Event::default().event(kind.name()).data(data)
}
