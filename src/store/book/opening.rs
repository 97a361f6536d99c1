//! Finding, making and opening the database file.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migration, MigrationType, Migrator};
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{SqlSafeStr, query, query_scalar};

use super::fault::{BookFault, from_sqlx};
use super::head_file;
use super::sqlite::SqliteBook;
use crate::store::atomic::readable_as_usual;

/// The numbered migrations, oldest first. One that was released is never edited.
const MIGRATIONS: &[(i64, &str, &str)] = &[
    (1, "book", include_str!("migrations/0001_book.sql")),
    (2, "plan", include_str!("migrations/0002_plan.sql")),
    (3, "sent", include_str!("migrations/0003_sent.sql")),
];
/// `fstw`; set by the first migration.
const APPLICATION_ID: i64 = 1_718_842_487;
/// How long another process is waited for.
const PATIENCE: Duration = Duration::from_secs(10);
/// Readers of one process besides its one writer.
const MOST_CONNECTIONS: u32 = 4;

impl SqliteBook {
    /// The book in `data_folder` for reading and writing; made at first use.
    ///
    /// # Errors
    /// What keeps it from being opened; a file that is no book is left as it is.
    pub async fn open(data_folder: &Path) -> Result<Self, BookFault> {
        Self::open_waiting(data_folder, PATIENCE).await
    }

    /// The same, with another wait than ten seconds for other processes.
    ///
    /// # Errors
    /// See [`Self::open`].
    pub async fn open_waiting(data_folder: &Path, patience: Duration) -> Result<Self, BookFault> {
        let folder_fault = |cause| BookFault::Folder { path: data_folder.to_owned(), cause };
        fs::create_dir_all(data_folder).map_err(folder_fault)?;
        // An absolute path cannot be mistaken for the special names that SQLite knows.
        let folder = fs::canonicalize(data_folder).map_err(folder_fault)?;
        let path = folder.join("book.sqlite3");
        if !is_there(&folder, &path)? {
            create(&folder, &path, patience).await?;
        }
        let book = Self { pool: pool(common(&path, patience)), folder, path, patience };
        if book.version().await? < newest() {
            migrate(&book).await?;
        }
        book.log_ahead().await?;
        Ok(book)
    }

    /// The book in `data_folder` for reading, or `None` where none has been begun.
    ///
    /// Works on a folder that can only be read, too. A book of an older version is read as it is.
    ///
    /// # Errors
    /// What keeps it from being read.
    pub async fn open_to_read(data_folder: &Path) -> Result<Option<Self>, BookFault> {
        let folder = match fs::canonicalize(data_folder) {
            Ok(folder) => folder,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(cause) => return Err(BookFault::Folder { path: data_folder.to_owned(), cause }),
        };
        let path = folder.join("book.sqlite3");
        if !is_there(&folder, &path)? {
            return Ok(None);
        }
        let options = common(&path, PATIENCE);
        let book = Self { pool: pool(options.clone()), folder, path, patience: PATIENCE };
        match book.version().await {
            Ok(_) => Ok(Some(book)),
            // SQLite keeps a file beside a database in use. Where it cannot be made, nobody can be
            // writing either, and the database may be read as it lies there.
            Err(BookFault::ReadOnly { .. } | BookFault::CannotOpen { .. })
                if !beside(&book.path, "-wal").exists() =>
            {
                let options = options.read_only(true).immutable(true);
                let book = Self { pool: pool(options), ..book };
                book.version().await?;
                Ok(Some(book))
            }
            Err(fault) => Err(fault),
        }
    }

    /// The version of an existing book, at most the newest that is known.
    async fn version(&self) -> Result<i64, BookFault> {
        let path = || self.path.clone();
        let fault = |error: sqlx::Error| self.fault(&error);
        let id: i64 =
            query_scalar("PRAGMA application_id").fetch_one(&self.pool).await.map_err(fault)?;
        if id != APPLICATION_ID {
            let tables: i64 = query_scalar("SELECT count(*) FROM sqlite_schema")
                .fetch_one(&self.pool)
                .await
                .map_err(fault)?;
            return Err(match tables {
                0 => BookFault::Empty { path: path() },
                _ => BookFault::Foreign { path: path() },
            });
        }
        let found: i64 = query_scalar("SELECT coalesce(max(version), 0) FROM _sqlx_migrations")
            .fetch_one(&self.pool)
            .await
            .map_err(fault)?;
        match newest() {
            known if found > known => Err(BookFault::Newer { path: path(), found, known }),
            _ => Ok(found),
        }
    }

    /// Puts a book that was brought back from elsewhere into the mode of a new one. Asked for only
    /// where it is not in it, since that writes into the file.
    async fn log_ahead(&self) -> Result<(), BookFault> {
        let fault = |error: sqlx::Error| self.fault(&error);
        let mode: String =
            query_scalar("PRAGMA journal_mode").fetch_one(&self.pool).await.map_err(fault)?;
        if mode != "wal" {
            query("PRAGMA journal_mode = WAL").execute(&self.pool).await.map_err(fault)?;
        }
        Ok(())
    }

    pub(super) fn fault(&self, error: &sqlx::Error) -> BookFault {
        from_sqlx(&self.path, self.patience, error)
    }
}

/// Whether there is a file to open, and no trace of one that is gone.
fn is_there(folder: &Path, path: &Path) -> Result<bool, BookFault> {
    match fs::metadata(path) {
        Ok(found) if found.is_dir() => Err(BookFault::IsFolder { path: path.to_owned() }),
        Ok(_) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let traces = [head_file::path(folder), beside(path, "-wal"), beside(path, "-journal")];
            match traces.into_iter().find(|trace| trace.exists()) {
                Some(trace) => Err(BookFault::Gone { path: path.to_owned(), trace }),
                None => Ok(false),
            }
        }
        Err(error) => {
            Err(BookFault::CannotOpen { path: path.to_owned(), cause: error.to_string() })
        }
    }
}

/// Makes the database under another name and gives it its own at the end: there is no moment at
/// which a half-made book could be found. Of two processes, the second finds the first one's book.
async fn create(folder: &Path, path: &Path, patience: Duration) -> Result<(), BookFault> {
    let fault = |cause: io::Error| match cause.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::FileTooLarge => {
            BookFault::NoRoom { path: path.to_owned(), cause: cause.to_string() }
        }
        _ => BookFault::CannotOpen { path: path.to_owned(), cause: cause.to_string() },
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".fairseam-").suffix(".tmp");
    readable_as_usual(&mut builder);
    // The system's error would name the temporary file, which nobody has asked for.
    let nameless = |cause: io::Error| fault(io::Error::from(cause.kind()));
    let file = builder.tempfile_in(folder).map_err(nameless)?;
    let unfinished = SqliteBook {
        pool: pool(common(file.path(), patience).journal_mode(SqliteJournalMode::Wal)),
        folder: folder.to_owned(),
        path: path.to_owned(),
        patience,
    };
    let made = migrate(&unfinished).await;
    // Closing the last connection folds the write-ahead log into the file.
    unfinished.pool.close().await;
    made?;
    file.as_file().sync_all().map_err(fault)?;
    match file.persist_noclobber(path) {
        Ok(_) => sync_folder(folder).map_err(fault),
        Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        Err(error) => Err(fault(error.error)),
    }
}

/// Brings the book to the newest version, while no other process can write.
async fn migrate(book: &SqliteBook) -> Result<(), BookFault> {
    let fault = |error: sqlx::Error| book.fault(&error);
    let migrations = MIGRATIONS.iter().map(|&(version, name, sql)| {
        Migration::new(version, name.into(), MigrationType::Simple, sql.into_sql_str(), false)
    });
    let migrator = Migrator::with_migrations(migrations.collect());
    let mut transaction = book.pool.begin_with("BEGIN IMMEDIATE").await.map_err(fault)?;
    migrator.run_direct(None, &mut *transaction, false).await.map_err(|error| match error {
        MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => fault(error),
        MigrateError::VersionMissing(found) => {
            BookFault::Newer { path: book.path.clone(), found, known: newest() }
        }
        other => BookFault::Database { path: book.path.clone(), cause: other.to_string() },
    })?;
    transaction.commit().await.map_err(fault)
}

fn newest() -> i64 {
    MIGRATIONS.last().map_or(0, |&(version, ..)| version)
}

fn pool(options: SqliteConnectOptions) -> SqlitePool {
    SqlitePoolOptions::new()
        .max_connections(MOST_CONNECTIONS)
        .idle_timeout(None)
        .max_lifetime(None)
        .connect_lazy_with(options)
}

/// `FULL`: a commit returns when the log is on the disk, not before.
fn common(path: &Path, patience: Duration) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .foreign_keys(true)
        .synchronous(SqliteSynchronous::Full)
        .busy_timeout(patience)
}

/// A file that SQLite keeps beside the database.
fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// Makes a new name in `folder` last through a power cut.
#[cfg(unix)]
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
pub(super) fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
