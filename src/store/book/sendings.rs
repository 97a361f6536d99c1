//! Sendings: a phone without signal sends again and again, and the book takes each in once.

use sha2::{Digest, Sha256};
use sqlx::{Row, query};

use super::entry::EntryId;
use super::fault::BookFault;
use super::keeping::Appended;
use super::sqlite::{SqliteBook, Writing};

/// What stands for one sending.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sending {
    /// By its sender: a UUID in lower case, the same however often it is sent.
    id: String,
    site_key: String,
    digest: String,
}

/// What became of a sending.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sent {
    /// It is in the book now.
    Now(Vec<Appended>),
    /// It was before; the first of its entries.
    Before(EntryId),
}

impl Sending {
    /// The sending `id` (36 signs of a UUID) of `content` for a site. What is sent under the same
    /// name must be the same.
    pub fn new(id: &str, site_key: &str, content: &str) -> Self {
        let digest = Sha256::digest(content).iter().map(|byte| format!("{byte:02x}")).collect();
        Self { id: id.to_owned(), site_key: site_key.to_owned(), digest }
    }
}

impl SqliteBook {
    /// The first entry of a sending that was taken in before.
    pub(super) async fn entry_of(
        &self,
        writing: &mut Writing,
        sending: &Sending,
    ) -> Result<Option<EntryId>, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let row = query("SELECT site_key, digest, entry FROM sent WHERE id = ?1")
            .bind(sending.id.clone())
            .fetch_optional(&mut **writing)
            .await
            .map_err(fault)?;
        let Some(row) = row else { return Ok(None) };
        let site_key: String = row.try_get("site_key").map_err(fault)?;
        let digest: String = row.try_get("digest").map_err(fault)?;
        if site_key != sending.site_key || digest != sending.digest {
            return Err(BookFault::SentOtherwise { id: sending.id.clone() });
        }
        let entry: i64 = row.try_get("entry").map_err(fault)?;
        Ok(Some(EntryId(entry.cast_unsigned())))
    }

    pub(super) async fn insert_sending(
        &self,
        writing: &mut Writing,
        sending: &Sending,
        first: EntryId,
    ) -> Result<(), BookFault> {
        query("INSERT INTO sent (id, site_key, digest, entry) VALUES (?1, ?2, ?3, ?4)")
            .bind(sending.id.clone())
            .bind(sending.site_key.clone())
            .bind(sending.digest.clone())
            .bind(first.0.cast_signed())
            .execute(&mut **writing)
            .await
            .map(drop)
            .map_err(|error| self.fault(&error))
    }
}
