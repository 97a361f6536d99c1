//! The book in SQLite: every statement that touches a kept plan.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, Sqlite, Transaction, query, query_scalar};

use super::entry::BookSite;
use super::fault::BookFault;
use super::known_sites::KnownSite;
use super::plan_seal::SealedPlan;
use super::plans::opened;
use super::sqlite::SqliteBook;
use crate::quality::KeptPlan;

impl SqliteBook {
    /// Whether the book has a table of plans: one of an older version has none and is only read.
    async fn has_plans(&self) -> Result<bool, BookFault> {
        let tables: i64 = query_scalar(
            "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'plan'",
        )
        .fetch_one(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        Ok(tables > 0)
    }

    pub(super) async fn insert_plan(
        &self,
        site: &BookSite,
        plan: &KeptPlan,
    ) -> Result<bool, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mut writing = self.begin().await?;
        let of_day = query(
            "SELECT * FROM plan WHERE site_key = ?1 AND date = ?2 ORDER BY sequence DESC LIMIT 1",
        )
        .bind(site.key.clone())
        .bind(plan.date.to_string())
        .fetch_optional(&mut *writing)
        .await
        .and_then(|row| row.as_ref().map(sealed).transpose())
        .map_err(fault)?;
        if let Some(kept) = of_day
            && opened(&kept)?.says_the_same(plan)
        {
            return Ok(false);
        }
        let last = query("SELECT sequence, hash FROM plan ORDER BY sequence DESC LIMIT 1")
            .fetch_optional(&mut *writing)
            .await
            .and_then(|row| row.as_ref().map(number_and_hash).transpose())
            .map_err(fault)?;
        let last = last.as_ref().map(|(sequence, hash)| (*sequence, hash.as_str()));
        let new = SealedPlan::seal(site, plan, last)?;
        insert(&mut writing, &new).await.map_err(fault)?;
        writing.commit().await.map_err(fault)?;
        Ok(true)
    }

    pub(super) async fn select_plans_between(
        &self,
        site_key: &str,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Vec<SealedPlan>, BookFault> {
        if !self.has_plans().await? {
            return Ok(Vec::new());
        }
        let rows = query(
            "SELECT * FROM plan WHERE site_key = ?1 AND date BETWEEN ?2 AND ?3 ORDER BY sequence",
        )
        .bind(site_key.to_owned())
        .bind(first.to_string())
        .bind(last.to_string())
        .fetch_all(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        self.all_sealed(&rows)
    }

    pub(super) async fn select_plan_page(
        &self,
        after: u64,
        most: u32,
    ) -> Result<Vec<SealedPlan>, BookFault> {
        if !self.has_plans().await? {
            return Ok(Vec::new());
        }
        let after = i64::try_from(after).unwrap_or(i64::MAX);
        let rows = query("SELECT * FROM plan WHERE sequence > ?1 ORDER BY sequence LIMIT ?2")
            .bind(after)
            .bind(most)
            .fetch_all(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        self.all_sealed(&rows)
    }

    pub(super) async fn select_sites(&self) -> Result<Vec<KnownSite>, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        // SQLite takes the other columns from the row that has the maximum.
        let rows = query(
            "SELECT site_key, site, count(*) AS entries, max(sequence) FROM entry GROUP BY site_key",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(fault)?;
        let mut sites: BTreeMap<String, KnownSite> = BTreeMap::new();
        for row in &rows {
            let site = site_of(row).map_err(fault)?;
            let entries: i64 = row.try_get("entries").map_err(fault)?;
            let entries = entries.cast_unsigned();
            sites.insert(site.key.clone(), KnownSite { site, entries, place: None });
        }
        if !self.has_plans().await? {
            return Ok(sites.into_values().collect());
        }
        let rows = query(
            "SELECT * FROM plan WHERE sequence IN (SELECT max(sequence) FROM plan GROUP BY site_key)",
        )
        .fetch_all(&self.pool)
        .await
        .map_err(fault)?;
        for sealed in self.all_sealed(&rows)? {
            let plan = opened(&sealed)?;
            let site = BookSite { key: sealed.site_key, name: sealed.site };
            let known = sites.entry(site.key.clone());
            let known = known.or_insert(KnownSite { site, entries: 0, place: None });
            known.place = Some((plan.latitude_deg, plan.longitude_deg));
        }
        Ok(sites.into_values().collect())
    }

    fn all_sealed(&self, rows: &[SqliteRow]) -> Result<Vec<SealedPlan>, BookFault> {
        rows.iter().map(sealed).collect::<Result<_, _>>().map_err(|error| self.fault(&error))
    }
}

async fn insert(
    writing: &mut Transaction<'static, Sqlite>,
    sealed: &SealedPlan,
) -> Result<(), sqlx::Error> {
    query(
        "INSERT INTO plan (sequence, site_key, site, date, made_at, payload, previous_hash, hash) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )
    .bind(sealed.sequence.cast_signed())
    .bind(sealed.site_key.clone())
    .bind(sealed.site.clone())
    .bind(sealed.date.clone())
    .bind(sealed.made_at.clone())
    .bind(sealed.payload.clone())
    .bind(sealed.previous_hash.clone())
    .bind(sealed.hash.clone())
    .execute(&mut **writing)
    .await?;
    Ok(())
}

fn number_and_hash(row: &SqliteRow) -> Result<(u64, String), sqlx::Error> {
    let sequence: i64 = row.try_get("sequence")?;
    Ok((sequence.cast_unsigned(), row.try_get("hash")?))
}

fn site_of(row: &SqliteRow) -> Result<BookSite, sqlx::Error> {
    Ok(BookSite { key: row.try_get("site_key")?, name: row.try_get("site")? })
}

fn sealed(row: &SqliteRow) -> Result<SealedPlan, sqlx::Error> {
    let (sequence, hash) = number_and_hash(row)?;
    Ok(SealedPlan {
        sequence,
        site_key: row.try_get("site_key")?,
        site: row.try_get("site")?,
        date: row.try_get("date")?,
        made_at: row.try_get("made_at")?,
        payload: row.try_get("payload")?,
        previous_hash: row.try_get("previous_hash")?,
        hash,
    })
}
