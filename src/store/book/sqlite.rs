//! The book in SQLite: every statement that touches an entry.

use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::NaiveDate;
use sqlx::sqlite::{SqlitePool, SqliteRow};
use sqlx::{Row, Sqlite, Transaction, query, query_scalar};

use super::chain::ChainBreak;
use super::entry::{BookSite, EntryId, NewEntry, Supersedes};
use super::fault::BookFault;
use super::head_file::{self, HeadLag, Witness};
use super::keeping::{Adopted, Appended, BookStore, Inspection};
use super::known_sites::KnownSite;
use super::plan_seal::SealedPlan;
use super::refusal::{Refusal, Sort, Target};
use super::seal::{Head, SealedEntry};
use super::sendings::{Sending, Sent};
use crate::quality::KeptPlan;

/// The test-weld book in `<data folder>/book.sqlite3`.
#[derive(Debug, Clone)]
pub struct SqliteBook {
    pub(super) pool: SqlitePool,
    pub(super) folder: PathBuf,
    pub(super) path: PathBuf,
    pub(super) patience: Duration,
}

pub(super) type Writing = Transaction<'static, Sqlite>;

impl SqliteBook {
    /// The database file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Closes the book. Dropping it is as safe; this one also tidies up.
    pub async fn close(self) {
        self.pool.close().await;
    }

    /// Writers take turns from here on: SQLite lets one in at a time.
    pub(super) async fn begin(&self) -> Result<Writing, BookFault> {
        self.pool.begin_with("BEGIN IMMEDIATE").await.map_err(|error| self.fault(&error))
    }

    /// Commits and then, with `head` safe on the disk, notes it outside the database.
    async fn commit(
        &self,
        mut writing: Writing,
        witness: &Witness,
        head: Option<&Head>,
    ) -> Result<Option<HeadLag>, BookFault> {
        let contradicted = match witness {
            Witness::Head(known) => {
                let hash = hash_of(&mut writing, known.entry).await;
                hash.map_err(|error| self.fault(&error))?
                    .is_none_or(|hash| hash != known.hash)
                    .then_some(known.entry)
            }
            Witness::Absent | Witness::Unreadable { .. } => None,
        };
        writing.commit().await.map_err(|error| self.fault(&error))?;
        Ok(match (contradicted, head) {
            (Some(known), _) => Some(HeadLag::Contradicted { known }),
            (None, Some(head)) => head_file::save(&self.folder, head).err(),
            (None, None) => None,
        })
    }
}

impl BookStore for SqliteBook {
    async fn append_all(
        &self,
        entries: &[NewEntry],
        after: Option<Option<&Head>>,
    ) -> Result<Vec<Appended>, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mut writing = self.begin().await?;
        // Read while nobody else can write, so that it cannot be ahead of what is seen here.
        let witness = head_file::load(&self.folder);
        let mut head = last(&mut writing).await.map_err(fault)?;
        if after.is_some_and(|after| after != head.as_ref()) {
            return Err(BookFault::Moved);
        }
        let mut appended = self.append_to(&mut writing, entries, &mut head).await?;
        let lag = self.commit(writing, &witness, head.as_ref()).await?;
        if let Some(last) = appended.last_mut() {
            last.lag = lag;
        }
        Ok(appended)
    }

    async fn append_once(
        &self,
        entries: &[NewEntry],
        sending: &Sending,
    ) -> Result<Sent, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mut writing = self.begin().await?;
        if let Some(entry) = self.entry_of(&mut writing, sending).await? {
            return Ok(Sent::Before(entry));
        }
        let witness = head_file::load(&self.folder);
        let mut head = last(&mut writing).await.map_err(fault)?;
        let mut appended = self.append_to(&mut writing, entries, &mut head).await?;
        if let Some(first) = appended.first() {
            self.insert_sending(&mut writing, sending, first.id).await?;
        }
        let lag = self.commit(writing, &witness, head.as_ref()).await?;
        if let Some(last) = appended.last_mut() {
            last.lag = lag;
        }
        Ok(Sent::Now(appended))
    }

    async fn adopt(
        &self,
        entries: &mut (dyn Iterator<Item = Result<SealedEntry, BookFault>> + Send),
    ) -> Result<Adopted, BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mut writing = self.begin().await?;
        let witness = head_file::load(&self.folder);
        let mut head = last(&mut writing).await.map_err(fault)?;
        let mut adopted = Adopted::default();
        for sealed in entries {
            let sealed = sealed?;
            let entry = EntryId(sealed.sequence);
            match hash_of(&mut writing, entry).await.map_err(fault)? {
                Some(hash) if hash == sealed.hash => adopted.known += 1,
                Some(_) => return Err(BookFault::Conflict { entry }),
                None => {
                    insert(&mut writing, &sealed).await.map_err(fault)?;
                    head = Some(sealed.head());
                    adopted.added += 1;
                }
            }
        }
        self.commit(writing, &witness, head.as_ref()).await?;
        Ok(adopted)
    }

    async fn page(
        &self,
        after: u64,
        most: u32,
        site_key: Option<&str>,
    ) -> Result<Vec<SealedEntry>, BookFault> {
        let after = i64::try_from(after).unwrap_or(i64::MAX);
        let rows = match site_key {
            None => query("SELECT * FROM entry WHERE sequence > ?1 ORDER BY sequence LIMIT ?2")
                .bind(after)
                .bind(most),
            Some(site_key) => query(
                "SELECT * FROM entry WHERE site_key = ?3 AND sequence > ?1 \
                 ORDER BY sequence LIMIT ?2",
            )
            .bind(after)
            .bind(most)
            .bind(site_key.to_owned()),
        };
        let rows = rows.fetch_all(&self.pool).await.map_err(|error| self.fault(&error))?;
        rows.iter().map(sealed).collect::<Result<_, _>>().map_err(|error| self.fault(&error))
    }

    async fn head(&self) -> Result<Option<Head>, BookFault> {
        let row = query(LAST).fetch_optional(&self.pool).await;
        row.and_then(|row| row.as_ref().map(head).transpose()).map_err(|error| self.fault(&error))
    }

    async fn inspect(&self) -> Result<Inspection, BookFault> {
        let found: String = query_scalar("PRAGMA integrity_check(1)")
            .fetch_one(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        // A book of an older version has no plans or sendings yet.
        let expected: i64 = query_scalar(
            "SELECT 3 * count(*) FROM sqlite_schema WHERE type = 'table' AND name IN ('entry', 'plan', 'sent')",
        )
        .fetch_one(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        let guards: i64 = query_scalar(
            "SELECT count(*) FROM sqlite_schema WHERE type = 'trigger' AND name IN \
             ('entry_is_never_changed', 'entry_is_never_removed', 'entry_follows_the_last', \
             'plan_is_never_changed', 'plan_is_never_removed', 'plan_follows_the_last', \
             'sent_is_never_changed', 'sent_is_never_removed', 'sent_comes_once')",
        )
        .fetch_one(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        Ok(Inspection {
            damage: (found != "ok").then_some(ChainBreak::Damaged { cause: found }),
            guarded: guards == expected,
            witness: head_file::load(&self.folder),
        })
    }

    async fn keep_plan(&self, site: &BookSite, plan: &KeptPlan) -> Result<bool, BookFault> {
        self.insert_plan(site, plan).await
    }

    async fn plans_between(
        &self,
        site_key: &str,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Vec<SealedPlan>, BookFault> {
        self.select_plans_between(site_key, first, last).await
    }

    async fn plan_page(&self, after: u64, most: u32) -> Result<Vec<SealedPlan>, BookFault> {
        self.select_plan_page(after, most).await
    }

    async fn sites(&self) -> Result<Vec<KnownSite>, BookFault> {
        self.select_sites().await
    }
}

impl SqliteBook {
    /// Seals `entries` behind `head` and inserts them; `head` is the last of them then.
    async fn append_to(
        &self,
        writing: &mut Writing,
        entries: &[NewEntry],
        head: &mut Option<Head>,
    ) -> Result<Vec<Appended>, BookFault> {
        let mut appended = Vec::with_capacity(entries.len());
        for new in entries {
            let sealed = SealedEntry::seal(new, head.as_ref())?;
            if let Some(supersedes) = &new.supersedes {
                self.may_supersede(writing, supersedes, new).await?;
            }
            insert(writing, &sealed).await.map_err(|error| self.fault(&error))?;
            let (id, hash) = (EntryId(sealed.sequence), sealed.hash.clone());
            appended.push(Appended { id, hash, lag: None });
            *head = Some(sealed.head());
        }
        Ok(appended)
    }

    async fn may_supersede(
        &self,
        writing: &mut Writing,
        supersedes: &Supersedes,
        new: &NewEntry,
    ) -> Result<(), BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let entry = supersedes.entry;
        let unknown = || BookFault::Refused(Refusal::UnknownEntry { entry });
        let number = i64::try_from(entry.0).map_err(|_| unknown())?;
        let row = query("SELECT * FROM entry WHERE sequence = ?1")
            .bind(number)
            .fetch_optional(&mut **writing)
            .await
            .map_err(fault)?
            .ok_or_else(unknown)?;
        let by: Option<i64> = query_scalar("SELECT sequence FROM entry WHERE supersedes = ?1")
            .bind(number)
            .fetch_optional(&mut **writing)
            .await
            .map_err(fault)?;
        let old = sealed(&row)
            .map_err(fault)?
            .open()
            .map_err(|cause| ChainBreak::Unreadable { entry, cause })?;
        let target = Target {
            entry,
            sort: Sort::of(&old.content),
            site_key: old.site.key,
            superseded_by: by.map(|by| EntryId(by.cast_unsigned())),
        };
        Ok(target.gives_way_to(Sort::of(&new.content), &new.site.key)?)
    }
}

const LAST: &str = "SELECT sequence, hash FROM entry ORDER BY sequence DESC LIMIT 1";

async fn last(writing: &mut Writing) -> Result<Option<Head>, sqlx::Error> {
    let row = query(LAST).fetch_optional(&mut **writing).await?;
    row.as_ref().map(head).transpose()
}

async fn hash_of(writing: &mut Writing, entry: EntryId) -> Result<Option<String>, sqlx::Error> {
    let number = i64::try_from(entry.0).unwrap_or(i64::MAX);
    query_scalar("SELECT hash FROM entry WHERE sequence = ?1")
        .bind(number)
        .fetch_optional(&mut **writing)
        .await
}

async fn insert(writing: &mut Writing, sealed: &SealedEntry) -> Result<(), sqlx::Error> {
    query(
        "INSERT INTO entry (sequence, kind, site_key, site, recorded_at, recorded_by, supersedes, \
         because, payload, previous_hash, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )
    .bind(sealed.sequence.cast_signed())
    .bind(sealed.kind.clone())
    .bind(sealed.site_key.clone())
    .bind(sealed.site.clone())
    .bind(sealed.recorded_at.clone())
    .bind(sealed.recorded_by.clone())
    .bind(sealed.supersedes.map(u64::cast_signed))
    .bind(sealed.because.clone())
    .bind(sealed.payload.clone())
    .bind(sealed.previous_hash.clone())
    .bind(sealed.hash.clone())
    .execute(&mut **writing)
    .await?;
    Ok(())
}

fn head(row: &SqliteRow) -> Result<Head, sqlx::Error> {
    Ok(Head { entry: EntryId(number(row.try_get("sequence")?)), hash: row.try_get("hash")? })
}

fn sealed(row: &SqliteRow) -> Result<SealedEntry, sqlx::Error> {
    Ok(SealedEntry {
        sequence: number(row.try_get("sequence")?),
        kind: row.try_get("kind")?,
        site_key: row.try_get("site_key")?,
        site: row.try_get("site")?,
        recorded_at: row.try_get("recorded_at")?,
        recorded_by: row.try_get("recorded_by")?,
        supersedes: row.try_get::<Option<i64>, _>("supersedes")?.map(number),
        because: row.try_get("because")?,
        payload: row.try_get("payload")?,
        previous_hash: row.try_get("previous_hash")?,
        hash: row.try_get("hash")?,
    })
}

/// The table holds no number below 1.
const fn number(stored: i64) -> u64 {
    stored.cast_unsigned()
}
