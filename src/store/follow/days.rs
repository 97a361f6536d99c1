//! Followed days: what was published last, and with which forecast.

use std::path::Path;

use chrono::{DateTime, NaiveDate, Utc};
use chrono_tz::Tz;
use sqlx::{query, query_scalar};

use super::fault::FollowFault;
use super::opening::{FollowStore, stamp};
use super::outbox::Wanted;
use super::wire;
use crate::follow::Followed;
use crate::render::ics::Revised;
use crate::weather::Forecast;

/// A followed day with everything that it takes to go on, or to show what was published.
#[derive(Debug, Clone, PartialEq)]
pub struct FollowedDay {
    /// What the crew was told, and what waits.
    pub followed: Followed,
    /// The zone of the shift.
    pub time_zone: Tz,
    /// What phones hold, cancelled entries included.
    pub events: Vec<Revised>,
    /// The newest forecast with the hours that are over.
    pub forecast: Forecast,
}

impl FollowedDay {
    /// Reads a day as the store keeps it.
    ///
    /// # Errors
    /// In a sentence, for a text that is no such record, or one of another version.
    pub fn from_record(text: &str) -> Result<Self, String> {
        wire::read(text)
    }
}

impl FollowStore {
    /// A followed day as it was last published; `None` where it never was.
    ///
    /// # Errors
    /// What keeps the database from being read.
    pub async fn day(
        &self,
        site_key: &str,
        date: NaiveDate,
    ) -> Result<Option<FollowedDay>, FollowFault> {
        let record: Option<String> =
            query_scalar("SELECT record FROM day WHERE site_key = ?1 AND date = ?2")
                .bind(site_key.to_owned())
                .bind(date.to_string())
                .fetch_optional(&self.pool)
                .await
                .map_err(|error| self.fault(&error))?;
        record.map(|text| self.read(&text)).transpose()
    }

    /// The followed days of a site from `first` on, ascending.
    ///
    /// # Errors
    /// What keeps the database from being read.
    pub async fn days_from(
        &self,
        site_key: &str,
        first: NaiveDate,
    ) -> Result<Vec<FollowedDay>, FollowFault> {
        let records: Vec<String> =
            query_scalar("SELECT record FROM day WHERE site_key = ?1 AND date >= ?2 ORDER BY date")
                .bind(site_key.to_owned())
                .bind(first.to_string())
                .fetch_all(&self.pool)
                .await
                .map_err(|error| self.fault(&error))?;
        records.iter().map(|text| self.read(text)).collect()
    }

    /// Keeps a day, and with it what a calendar server is to take: both or neither, and only while
    /// `holder` has the site. Whether it had.
    ///
    /// # Errors
    /// What keeps the database from being written.
    pub async fn keep(
        &self,
        day: &FollowedDay,
        wanted: &[Wanted],
        holder: &str,
        now: DateTime<Utc>,
    ) -> Result<bool, FollowFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let key = &day.followed.site_key;
        let mut writing = self.pool.begin_with("BEGIN IMMEDIATE").await.map_err(fault)?;
        let ours: i64 = query_scalar(
            "SELECT count(*) FROM lease WHERE site_key = ?1 AND holder = ?2 AND until > ?3",
        )
        .bind(key.clone())
        .bind(holder.to_owned())
        .bind(stamp(now))
        .fetch_one(&mut *writing)
        .await
        .map_err(fault)?;
        if ours == 0 {
            return Ok(false);
        }
        let what = format!("{} {}", key, day.followed.date);
        let record = wire::write(day).map_err(|cause| self.unreadable(&what, cause))?;
        query(
            "INSERT INTO day (site_key, date, published_at, record) VALUES (?1, ?2, ?3, ?4) \
             ON CONFLICT (site_key, date) DO UPDATE SET published_at = ?3, record = ?4",
        )
        .bind(key.clone())
        .bind(day.followed.date.to_string())
        .bind(day.followed.published.as_ref().map(|published| stamp(published.at)))
        .bind(record)
        .execute(&mut *writing)
        .await
        .map_err(fault)?;
        for one in wanted {
            one.insert(&mut writing, key).await.map_err(fault)?;
        }
        writing.commit().await.map_err(fault)?;
        Ok(true)
    }

    fn read(&self, text: &str) -> Result<FollowedDay, FollowFault> {
        FollowedDay::from_record(text).map_err(|cause| self.unreadable("a followed day", cause))
    }
}

/// When `fairseam follow` last published a day of a site; `None` where it never did.
///
/// Whoever writes a calendar of such a day by another way would withdraw what was published.
///
/// # Errors
/// What keeps the record from being read.
pub async fn published_at(
    data_folder: &Path,
    site_key: &str,
    date: NaiveDate,
) -> Result<Option<DateTime<Utc>>, FollowFault> {
    let Some(store) = FollowStore::open_to_read(data_folder).await? else { return Ok(None) };
    let day = store.day(site_key, date).await;
    store.close().await;
    Ok(day?.and_then(|day| day.followed.published).map(|published| published.at))
}
