//! What every request has at hand.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::Duration;

use chrono::{DateTime, Utc};

use super::house::{House, HouseFault};
use super::keyring::Keyring;
use super::limits::Limits;
use super::live::Live;
use super::roof::Roof;
use crate::store::keys::{KeysFault, SqliteKeys};

/// How the server is set up.
#[derive(Debug, Clone)]
pub struct Settings {
    /// Whether phones reach it by TLS, ours or a proxy's: cookies then go no other way.
    pub secure: bool,
    /// Whether a proxy stands before it, whose word on the asker's address is taken.
    pub behind_proxy: bool,
    /// What nobody may do too often.
    pub limits: Limits,
    /// How long an answer may take to be made, the body of the request included.
    pub patience: Duration,
    /// How long a client may take for the head of a request, or keep still between two.
    pub head_patience: Duration,
    /// Connections at once; more wait until one ends.
    pub most_connections: u32,
    /// Pages that may be open live at once.
    pub most_live_pages: usize,
    /// How often the book and the forecasts are looked at.
    pub look_every: Duration,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            secure: false,
            behind_proxy: false,
            limits: Limits::default(),
            patience: Duration::from_secs(15),
            head_patience: Duration::from_secs(20),
            most_connections: 2048,
            most_live_pages: 1500,
            look_every: Duration::from_secs(2),
        }
    }
}

/// What every request has at hand.
pub struct App {
    pub(super) house: Arc<dyn House>,
    pub(super) settings: Settings,
    pub(super) keys: Keyring,
    pub(super) roofs: Vec<Arc<Roof>>,
    pub(super) live: Live,
    pub(super) limiter: super::limits::Limiter,
    pub(super) open_pages: AtomicUsize,
    closing: AtomicBool,
}

impl App {
    /// With the keys of the data folder; every site has been looked at once when this returns.
    ///
    /// # Errors
    /// When the keys cannot be read.
    pub async fn open(
        house: Arc<dyn House>,
        keys: SqliteKeys,
        settings: Settings,
    ) -> Result<Arc<Self>, KeysFault> {
        let roofs = house.sites().iter().enumerate();
        let roofs = roofs.map(|(number, site)| Arc::new(Roof::new(number, site))).collect();
        let app = Arc::new(Self {
            keys: Keyring::open(keys).await?,
            limiter: super::limits::Limiter::new(&settings.limits),
            live: Live::new(),
            open_pages: AtomicUsize::new(0),
            closing: AtomicBool::new(false),
            house,
            settings,
            roofs,
        });
        for roof in &app.roofs {
            super::refresh::look(&app, roof).await;
        }
        Ok(app)
    }

    pub(super) fn now(&self) -> DateTime<Utc> {
        self.house.now()
    }

    /// The site of that key, if it is served.
    pub(super) fn roof(&self, site_key: &str) -> Option<&Arc<Roof>> {
        self.roofs.iter().find(|roof| roof.key == site_key)
    }

    /// Whether the server is about to end; open pages then let go.
    pub(super) fn is_closing(&self) -> bool {
        self.closing.load(Ordering::Relaxed)
    }

    pub(super) fn close(&self) {
        self.closing.store(true, Ordering::Relaxed);
        self.live.tell_closing();
    }

    /// Has the house do something on a thread where it may take its time.
    pub(super) async fn with_house<T: Send + 'static>(
        &self,
        work: impl FnOnce(&dyn House) -> Result<T, HouseFault> + Send + 'static,
    ) -> Result<T, HouseFault> {
        let house = Arc::clone(&self.house);
        tokio::task::spawn_blocking(move || work(house.as_ref()))
            .await
            .map_err(|error| HouseFault::Inside(format!("a task was broken off: {error}")))?
    }
}
