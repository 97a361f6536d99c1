//! The keys in SQLite: every statement that touches one.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{DateTime, SecondsFormat, SubsecRound, Utc};
use sqlx::migrate::{MigrateError, Migration, MigrationType, Migrator};
use sqlx::sqlite::{SqliteConnectOptions, SqlitePool, SqlitePoolOptions, SqliteRow};
use sqlx::{Row, SqlSafeStr, query, query_scalar};

use super::fault::KeysFault;
use super::key::{Key, NewKey, Role};
use super::secret::{KeyHash, Secret};

/// `fsky`; set by the first migration.
const APPLICATION_ID: i64 = 1_718_842_489;
/// The numbered migrations, oldest first. One that was released is never edited.
const MIGRATIONS: &[(i64, &str, &str)] = &[(1, "keys", include_str!("migrations/0001_keys.sql"))];
/// How long another process is waited for.
const PATIENCE: Duration = Duration::from_secs(10);

/// The keys in `<data folder>/keys.sqlite3`.
#[derive(Debug, Clone)]
pub struct SqliteKeys {
    pool: SqlitePool,
    path: PathBuf,
}

impl SqliteKeys {
    /// The keys in `data_folder`; the file is made at first use, for its owner alone.
    ///
    /// # Errors
    /// What keeps it from being opened; a file that is none of ours is left as it is.
    pub async fn open(data_folder: &Path) -> Result<Self, KeysFault> {
        let folder_fault = |cause| KeysFault::Folder { path: data_folder.to_owned(), cause };
        fs::create_dir_all(data_folder).map_err(folder_fault)?;
        // An absolute path cannot be mistaken for the special names that SQLite knows.
        let path = fs::canonicalize(data_folder).map_err(folder_fault)?.join("keys.sqlite3");
        for_its_owner_alone(&path).map_err(folder_fault)?;
        let options =
            SqliteConnectOptions::new().filename(&path).foreign_keys(true).busy_timeout(PATIENCE);
        let pool = SqlitePoolOptions::new()
            .max_connections(2)
            .idle_timeout(None)
            .max_lifetime(None)
            .connect_lazy_with(options);
        let keys = Self { pool, path };
        keys.migrate().await?;
        Ok(keys)
    }

    async fn migrate(&self) -> Result<(), KeysFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mut writing = self.pool.begin_with("BEGIN IMMEDIATE").await.map_err(fault)?;
        let id: i64 =
            query_scalar("PRAGMA application_id").fetch_one(&mut *writing).await.map_err(fault)?;
        let tables: i64 = query_scalar("SELECT count(*) FROM sqlite_schema")
            .fetch_one(&mut *writing)
            .await
            .map_err(fault)?;
        if tables > 0 && id != APPLICATION_ID {
            return Err(KeysFault::Foreign { path: self.path.clone() });
        }
        let migrations = MIGRATIONS.iter().map(|&(version, name, sql)| {
            Migration::new(version, name.into(), MigrationType::Simple, sql.into_sql_str(), false)
        });
        let known = MIGRATIONS.last().map_or(0, |&(version, ..)| version);
        let path = || self.path.clone();
        Migrator::with_migrations(migrations.collect())
            .run_direct(None, &mut *writing, false)
            .await
            .map_err(|error| match error {
                MigrateError::VersionMissing(found) => {
                    KeysFault::Newer { path: path(), found, known }
                }
                other => KeysFault::Database { path: path(), cause: other.to_string() },
            })?;
        writing.commit().await.map_err(fault)
    }

    /// Makes a key. What is returned is the only time that it is seen.
    ///
    /// # Errors
    /// No randomness, or whatever keeps the file from being written.
    pub async fn make(&self, new: &NewKey) -> Result<(Key, Secret), KeysFault> {
        let secret = Secret::make()?;
        let id: i64 = query_scalar(
            "INSERT INTO key (hash, role, site_key, holder, made_at, expires_at) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id",
        )
        .bind(secret.hash().hex())
        .bind(new.role.name())
        .bind(new.site_key.clone())
        .bind(new.holder.clone())
        .bind(instant(new.made_at))
        .bind(instant(new.expires_at))
        .fetch_one(&self.pool)
        .await
        .map_err(|error| self.fault(&error))?;
        let NewKey { role, site_key, holder, made_at, expires_at } = new.clone();
        let id = id.cast_unsigned();
        Ok((Key { id, role, site_key, holder, made_at, expires_at, revoked_at: None }, secret))
    }

    /// Takes a key back; it opens nothing any more. A second time changes nothing.
    ///
    /// # Errors
    /// [`KeysFault::Unknown`], or whatever keeps the file from being written.
    pub async fn revoke(&self, id: u64, now: DateTime<Utc>) -> Result<(), KeysFault> {
        let number = i64::try_from(id).map_err(|_| KeysFault::Unknown { id })?;
        let done = query("UPDATE key SET revoked_at = coalesce(revoked_at, ?2) WHERE id = ?1")
            .bind(number)
            .bind(instant(now))
            .execute(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        if done.rows_affected() == 0 { Err(KeysFault::Unknown { id }) } else { Ok(()) }
    }

    /// Every key, oldest first, with its hash.
    ///
    /// # Errors
    /// Whatever keeps the file from being read; [`KeysFault::Damaged`].
    pub async fn all(&self) -> Result<Vec<(KeyHash, Key)>, KeysFault> {
        let rows = query("SELECT * FROM key ORDER BY id").fetch_all(&self.pool).await;
        let rows = rows.map_err(|error| self.fault(&error))?;
        rows.iter().map(|row| self.key(row)).collect()
    }

    /// The key of that hash.
    ///
    /// # Errors
    /// Whatever keeps the file from being read; [`KeysFault::Damaged`].
    pub async fn find(&self, hash: &KeyHash) -> Result<Option<Key>, KeysFault> {
        let row = query("SELECT * FROM key WHERE hash = ?1")
            .bind(hash.hex())
            .fetch_optional(&self.pool)
            .await
            .map_err(|error| self.fault(&error))?;
        row.map(|row| self.key(&row).map(|(_, key)| key)).transpose()
    }

    fn key(&self, row: &SqliteRow) -> Result<(KeyHash, Key), KeysFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let id: i64 = row.try_get("id").map_err(fault)?;
        let damaged = |cause: &str| KeysFault::Damaged {
            path: self.path.clone(),
            id,
            cause: cause.to_owned(),
        };
        let text = |column: &str| row.try_get::<String, _>(column).map_err(fault);
        let at = |text: &str| {
            DateTime::parse_from_rfc3339(text)
                .map(|at| at.to_utc())
                .map_err(|_| damaged("expected an instant, found something else"))
        };
        let hash = KeyHash::from_hex(&text("hash")?);
        let hash = hash.ok_or_else(|| damaged("expected a hash, found something else"))?;
        let role = Role::parse(&text("role")?);
        let revoked_at: Option<String> = row.try_get("revoked_at").map_err(fault)?;
        Ok((
            hash,
            Key {
                id: id.cast_unsigned(),
                role: role.ok_or_else(|| damaged("expected a role, found something else"))?,
                site_key: row.try_get("site_key").map_err(fault)?,
                holder: text("holder")?,
                made_at: at(&text("made_at")?)?,
                expires_at: at(&text("expires_at")?)?,
                revoked_at: revoked_at.as_deref().map(at).transpose()?,
            },
        ))
    }

    fn fault(&self, error: &sqlx::Error) -> KeysFault {
        KeysFault::Database { path: self.path.clone(), cause: error.to_string() }
    }
}

fn instant(at: DateTime<Utc>) -> String {
    at.trunc_subsecs(0).to_rfc3339_opts(SecondsFormat::Secs, true)
}

/// Makes the file where there is none, so that nobody else can read it from its first moment on.
#[cfg(unix)]
fn for_its_owner_alone(path: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::OpenOptionsExt;
    fs::OpenOptions::new().append(true).create(true).mode(0o600).open(path).map(drop)
}

#[cfg(not(unix))]
fn for_its_owner_alone(_: &Path) -> std::io::Result<()> {
    Ok(())
}
