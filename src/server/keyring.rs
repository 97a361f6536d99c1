//! The keys at hand, so that no request has to ask the disk.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

use chrono::{DateTime, Utc};

use super::access::Visitor;
use crate::store::keys::{Key, KeyHash, KeyState, KeysFault, Secret, SqliteKeys};

type ByHash = HashMap<KeyHash, Arc<Key>>;

/// The keys as they were read last.
pub(super) struct Keyring {
    store: SqliteKeys,
    keys: RwLock<Arc<ByHash>>,
}

impl Keyring {
    pub(super) async fn open(store: SqliteKeys) -> Result<Self, KeysFault> {
        let keyring = Self { store, keys: RwLock::default() };
        keyring.reload().await?;
        Ok(keyring)
    }

    /// Reads them again: one that was revoked elsewhere opens nothing from then on.
    pub(super) async fn reload(&self) -> Result<(), KeysFault> {
        let keys = self.store.all().await?;
        let keys = keys.into_iter().map(|(hash, key)| (hash, Arc::new(key))).collect();
        *self.keys.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(keys);
        Ok(())
    }

    fn at_hand(&self) -> Arc<ByHash> {
        Arc::clone(&self.keys.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// The key that `secret` is, if it is one at hand.
    pub(super) fn known(&self, secret: &Secret) -> Option<Arc<Key>> {
        self.at_hand().get(&secret.hash()).cloned()
    }

    /// The same from the disk: a key that was made a moment ago.
    pub(super) async fn look_up(&self, secret: &Secret) -> Result<Option<Arc<Key>>, KeysFault> {
        Ok(self.store.find(&secret.hash()).await?.map(Arc::new))
    }

    /// Whether the key of an open page still opens it.
    pub(super) fn still_opens(&self, visitor: &Visitor, now: DateTime<Utc>) -> bool {
        let keys = self.at_hand();
        keys.get(&visitor.hash).is_none_or(|key| key.state(now) == KeyState::Valid)
            && visitor.key.state(now) == KeyState::Valid
    }
}
