//! Finding, making and opening the database of followed days.

use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{DateTime, SecondsFormat, Utc};
use sqlx::migrate::{MigrateError, Migration, MigrationType, Migrator};
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{SqlSafeStr, query_scalar};

use super::fault::FollowFault;

/// The numbered migrations, oldest first. One that was released is never edited.
const MIGRATIONS: &[(i64, &str, &str)] =
    &[(1, "follow", include_str!("migrations/0001_follow.sql"))];
/// `fsfo`; set by the first migration.
const APPLICATION_ID: i64 = 1_718_840_943;
/// How long another process is waited for.
const PATIENCE: Duration = Duration::from_secs(10);
/// Readers of one process besides its one writer.
const MOST_CONNECTIONS: u32 = 2;

/// What is followed, in `<data folder>/follow.sqlite3`.
#[derive(Debug, Clone)]
pub struct FollowStore {
    pub(super) pool: SqlitePool,
    pub(super) path: PathBuf,
}

impl FollowStore {
    /// The record in `data_folder` for reading and writing; made at first use.
    ///
    /// # Errors
    /// What keeps it from being opened.
    pub async fn open(data_folder: &Path) -> Result<Self, FollowFault> {
        let folder = |cause| FollowFault::Folder { path: data_folder.to_owned(), cause };
        std::fs::create_dir_all(data_folder).map_err(folder)?;
        let store = Self::at(data_folder.join("follow.sqlite3"), true);
        store.refuse_foreign().await?;
        store.migrate().await?;
        Ok(store)
    }

    /// The record in `data_folder` for reading; `None` where nothing was ever followed.
    ///
    /// # Errors
    /// What keeps it from being read.
    pub async fn open_to_read(data_folder: &Path) -> Result<Option<Self>, FollowFault> {
        let path = data_folder.join("follow.sqlite3");
        if !path.is_file() {
            return Ok(None);
        }
        let store = Self::at(path, false);
        let id = store.application_id().await?;
        if id == 0 {
            // Another process has just begun it.
            return Ok(None);
        }
        store.refuse_foreign().await?;
        Ok(Some(store))
    }

    fn at(path: PathBuf, make: bool) -> Self {
        let mut options = SqliteConnectOptions::new()
            .filename(&path)
            .create_if_missing(make)
            .synchronous(SqliteSynchronous::Full)
            .busy_timeout(PATIENCE);
        if make {
            options = options.journal_mode(SqliteJournalMode::Wal);
        }
        let pool = SqlitePoolOptions::new()
            .max_connections(MOST_CONNECTIONS)
            .idle_timeout(None)
            .max_lifetime(None)
            .connect_lazy_with(options);
        Self { pool, path }
    }

    async fn application_id(&self) -> Result<i64, FollowFault> {
        query_scalar("PRAGMA application_id")
            .fetch_one(&self.pool)
            .await
            .map_err(|error| self.fault(&error))
    }

    async fn refuse_foreign(&self) -> Result<(), FollowFault> {
        let tables: i64 = query_scalar("SELECT count(*) FROM sqlite_schema")
            .fetch_one(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        if tables > 0 && self.application_id().await? != APPLICATION_ID {
            return Err(FollowFault::Foreign {
                path: self.path.clone(),
                what: "a database of another program".to_owned(),
                hint: "move it away",
            });
        }
        Ok(())
    }

    async fn migrate(&self) -> Result<(), FollowFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let migrations = MIGRATIONS.iter().map(|&(version, name, sql)| {
            Migration::new(version, name.into(), MigrationType::Simple, sql.into_sql_str(), false)
        });
        let migrator = Migrator::with_migrations(migrations.collect());
        let mut transaction = self.pool.begin_with("BEGIN IMMEDIATE").await.map_err(fault)?;
        migrator.run_direct(None, &mut *transaction, false).await.map_err(|error| match error {
            MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => fault(error),
            MigrateError::VersionMissing(found) => FollowFault::Foreign {
                path: self.path.clone(),
                what: format!("of a newer fairseam (version {found})"),
                hint: "update fairseam",
            },
            other => FollowFault::Database { path: self.path.clone(), cause: other.to_string() },
        })?;
        transaction.commit().await.map_err(fault)
    }

    /// Closes the database. Dropping it is as safe; this one also tidies up.
    pub async fn close(self) {
        self.pool.close().await;
    }

    pub(super) fn fault(&self, error: &sqlx::Error) -> FollowFault {
        FollowFault::Database { path: self.path.clone(), cause: error.to_string() }
    }

    pub(super) fn unreadable(&self, what: &str, cause: impl ToString) -> FollowFault {
        let (path, what) = (self.path.clone(), what.to_owned());
        FollowFault::Unreadable { path, what, cause: cause.to_string() }
    }
}

/// An instant as text that sorts as instants do.
pub(super) fn stamp(at: DateTime<Utc>) -> String {
    at.to_rfc3339_opts(SecondsFormat::Millis, true)
}
