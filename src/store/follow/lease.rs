//! Who follows a site: one at a time, so that two followers never publish the same day twice.

use chrono::{DateTime, Utc};
use sqlx::{Row, query};

use super::fault::FollowFault;
use super::opening::{FollowStore, stamp};

/// Whether a site could be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Taken {
    /// It is ours until the time asked for.
    Ours,
    /// Another follower has it.
    Other(Holder),
}

/// A follower as the others see it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Holder {
    /// Its own name for itself.
    pub holder: String,
    /// Until when nobody else takes the site, unless it is given back before.
    pub until: DateTime<Utc>,
    /// When it was last heard of.
    pub seen_at: DateTime<Utc>,
    /// Its last health line.
    pub health: String,
}

impl FollowStore {
    /// Takes or keeps a site until `until`, if it is free, ours already, or its holder is overdue.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn take(
        &self,
        site_key: &str,
        holder: &str,
        now: DateTime<Utc>,
        until: DateTime<Utc>,
    ) -> Result<Taken, FollowFault> {
        let done = query(
            "INSERT INTO lease (site_key, holder, until, seen_at, health) VALUES (?1, ?2, ?3, ?4, '') \
             ON CONFLICT (site_key) DO UPDATE SET holder = ?2, until = ?3, seen_at = ?4 \
             WHERE holder = ?2 OR until <= ?4",
        )
        .bind(site_key.to_owned())
        .bind(holder.to_owned())
        .bind(stamp(until))
        .bind(stamp(now))
        .execute(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        if done.rows_affected() > 0 {
            return Ok(Taken::Ours);
        }
        match self.holder(site_key).await? {
            Some(other) => Ok(Taken::Other(other)),
            // Given back between the two questions: it is there for the next look.
            None => Ok(Taken::Other(Holder {
                holder: String::new(),
                until: now,
                seen_at: now,
                health: String::new(),
            })),
        }
    }

    /// Gives a site back.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn give_back(&self, site_key: &str, holder: &str) -> Result<(), FollowFault> {
        query("DELETE FROM lease WHERE site_key = ?1 AND holder = ?2")
            .bind(site_key.to_owned())
            .bind(holder.to_owned())
            .execute(&self.pool)
            .await
            .map(|_| ())
            .map_err(|error| self.fault(&error))
    }

    /// Leaves a health line for whoever asks.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn note_health(
        &self,
        site_key: &str,
        holder: &str,
        health: &str,
    ) -> Result<(), FollowFault> {
        query("UPDATE lease SET health = ?3 WHERE site_key = ?1 AND holder = ?2")
            .bind(site_key.to_owned())
            .bind(holder.to_owned())
            .bind(health.to_owned())
            .execute(&self.pool)
            .await
            .map(|_| ())
            .map_err(|error| self.fault(&error))
    }

    /// Who follows a site, if anybody does.
    ///
    /// # Errors
    /// What keeps the database from being read.
    pub async fn holder(&self, site_key: &str) -> Result<Option<Holder>, FollowFault> {
        let row = query("SELECT holder, until, seen_at, health FROM lease WHERE site_key = ?1")
            .bind(site_key.to_owned())
            .fetch_optional(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        let Some(row) = row else { return Ok(None) };
        let text = |name: &str| row.try_get::<String, _>(name).map_err(|error| self.fault(&error));
        let instant = |name: &str| -> Result<DateTime<Utc>, FollowFault> {
            let text = text(name)?;
            let instant = DateTime::parse_from_rfc3339(&text).map(|at| at.to_utc());
            instant.map_err(|cause| self.unreadable("a follower", cause))
        };
        Ok(Some(Holder {
            holder: text("holder")?,
            until: instant("until")?,
            seen_at: instant("seen_at")?,
            health: text("health")?,
        }))
    }
}
