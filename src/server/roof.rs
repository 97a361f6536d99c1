//! What is known of a site, and which version of it.

use std::sync::{Arc, RwLock};

use sha2::{Digest, Sha256};

use super::feed::Feed;
use super::house::{HouseFault, Look};
use crate::site::Site;

/// A site that is served.
pub(super) struct Roof {
    /// Its place among the sites.
    pub(super) number: usize,
    /// Stands for it in addresses.
    pub(super) key: String,
    pub(super) site: Arc<Site>,
    seen: RwLock<Seen>,
    /// One look at a time.
    pub(super) looking: tokio::sync::Mutex<()>,
}

/// The last look and all that is made of it once, for however many ask.
#[derive(Clone, Default)]
pub(super) struct Seen {
    /// `None` until the first look has come to something.
    pub(super) view: Option<Arc<View>>,
    /// Why the last look came to nothing; an earlier view then still stands.
    pub(super) fault: Option<HouseFault>,
}

/// A look with its versions.
pub(super) struct View {
    pub(super) look: Look,
    /// What the crew's phone keeps.
    pub(super) crew_json: Arc<str>,
    pub(super) feed: Arc<Feed>,
    /// Differs whenever anything of the plans differs that a page shows.
    pub(super) plan_version: String,
    /// Differs whenever anything of the trials does.
    pub(super) book_version: String,
}

impl Roof {
    pub(super) fn new(number: usize, site: &Arc<Site>) -> Self {
        Self {
            number,
            key: site.key(),
            site: Arc::clone(site),
            seen: RwLock::default(),
            looking: tokio::sync::Mutex::new(()),
        }
    }

    pub(super) fn seen(&self) -> Seen {
        // A thread that broke off while it held the lock has left one whole value or the other.
        self.seen.read().unwrap_or_else(std::sync::PoisonError::into_inner).clone()
    }

    pub(super) fn view(&self) -> Option<Arc<View>> {
        self.seen().view
    }

    pub(super) fn set(&self, seen: Seen) {
        *self.seen.write().unwrap_or_else(std::sync::PoisonError::into_inner) = seen;
    }
}

/// Sixteen hexadecimal digits that stand for `text`.
pub(super) fn version(text: &str) -> String {
    Sha256::digest(text).iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}
