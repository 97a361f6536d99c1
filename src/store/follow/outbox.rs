//! What a calendar server has yet to take: one row an event, kept until the server has it.

use chrono::{DateTime, Utc};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, Sqlite, Transaction, query};

use super::fault::FollowFault;
use super::opening::{FollowStore, stamp};

/// An event as a server is to hold it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// The address of the calendar.
    pub collection: String,
    /// The event's UID.
    pub uid: String,
    /// The last part of its address, for an event that the server does not have yet.
    pub href: String,
    /// The whole calendar object.
    pub body: String,
}

/// An event that the server does not hold as it should.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outgoing {
    /// The address of the calendar.
    pub collection: String,
    /// The event's UID.
    pub uid: String,
    /// The last part of its address.
    pub href: String,
    /// The whole calendar object.
    pub wanted: String,
    /// The SEQUENCE that the server has seen; what is sent next must be higher.
    pub sequence: u32,
    /// Whether the server has taken it before.
    pub is_known: bool,
    /// The server's mark of what it holds.
    pub etag: Option<String>,
    /// Failed tries in a row.
    pub tries: u32,
}

impl Wanted {
    pub(super) async fn insert(
        &self,
        writing: &mut Transaction<'static, Sqlite>,
        site_key: &str,
    ) -> Result<(), sqlx::Error> {
        query(
            "INSERT INTO caldav_event (collection, uid, site_key, href, wanted) \
             VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (collection, uid) DO UPDATE SET \
             wanted = ?5, site_key = ?3, tries = 0, not_before = NULL WHERE wanted <> ?5",
        )
        .bind(self.collection.clone())
        .bind(self.uid.clone())
        .bind(site_key.to_owned())
        .bind(self.href.clone())
        .bind(self.body.clone())
        .execute(&mut **writing)
        .await
        .map(|_| ())
    }
}

impl FollowStore {
    /// What of a site is to be sent by `now`, in the order in which it was first wanted.
    ///
    /// # Errors
    /// What keeps the database from being read.
    pub async fn outgoing(
        &self,
        site_key: &str,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, FollowFault> {
        let rows = query(
            "SELECT * FROM caldav_event WHERE site_key = ?1 AND sent IS NOT wanted \
             AND (not_before IS NULL OR not_before <= ?2) ORDER BY rowid",
        )
        .bind(site_key.to_owned())
        .bind(stamp(now))
        .fetch_all(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        let read = rows.iter().map(outgoing).collect::<Result<Vec<_>, _>>();
        read.map_err(|error| self.fault(&error))
    }

    /// How many events of a site wait, and when the next may be tried; `None` where none waits.
    ///
    /// # Errors
    /// What keeps the database from being read.
    pub async fn waiting(
        &self,
        site_key: &str,
    ) -> Result<Option<(u64, Option<DateTime<Utc>>)>, FollowFault> {
        let row = query(
            "SELECT count(*) AS waiting, min(coalesce(not_before, '')) AS next FROM caldav_event \
             WHERE site_key = ?1 AND sent IS NOT wanted",
        )
        .bind(site_key.to_owned())
        .fetch_one(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        let waiting: i64 = row.try_get("waiting").map_err(|error| self.fault(&error))?;
        let next: Option<String> = row.try_get("next").map_err(|error| self.fault(&error))?;
        Ok((waiting > 0).then(|| (waiting.cast_unsigned(), next.and_then(|at| at.parse().ok()))))
    }

    /// The server has taken `body` with this SEQUENCE under `href`.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn sent(
        &self,
        event: &Outgoing,
        href: &str,
        sequence: u32,
        etag: Option<&str>,
    ) -> Result<(), FollowFault> {
        query(
            "UPDATE caldav_event SET sent = ?3, sequence = ?4, etag = ?5, href = ?6, tries = 0, \
             not_before = NULL WHERE collection = ?1 AND uid = ?2",
        )
        .bind(event.collection.clone())
        .bind(event.uid.clone())
        .bind(event.wanted.clone())
        .bind(i64::from(sequence))
        .bind(etag.map(str::to_owned))
        .bind(href.to_owned())
        .execute(&self.pool)
        .await
        .map(|_| ())
        .map_err(|error| self.fault(&error))
    }

    /// The server could not be made to take an event; it is left alone until `not_before`.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn put_off(
        &self,
        event: &Outgoing,
        not_before: DateTime<Utc>,
    ) -> Result<(), FollowFault> {
        query(
            "UPDATE caldav_event SET tries = tries + 1, not_before = ?3 \
             WHERE collection = ?1 AND uid = ?2",
        )
        .bind(event.collection.clone())
        .bind(event.uid.clone())
        .bind(stamp(not_before))
        .execute(&self.pool)
        .await
        .map(|_| ())
        .map_err(|error| self.fault(&error))
    }
}

fn outgoing(row: &SqliteRow) -> Result<Outgoing, sqlx::Error> {
    let whole = |name: &str| -> Result<u32, sqlx::Error> {
        Ok(u32::try_from(row.try_get::<i64, _>(name)?).unwrap_or(u32::MAX))
    };
    Ok(Outgoing {
        collection: row.try_get("collection")?,
        uid: row.try_get("uid")?,
        href: row.try_get("href")?,
        wanted: row.try_get("wanted")?,
        sequence: whole("sequence")?,
        is_known: row.try_get::<Option<String>, _>("sent")?.is_some(),
        etag: row.try_get("etag")?,
        tries: whole("tries")?,
    })
}
