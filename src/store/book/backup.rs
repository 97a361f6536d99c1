//! A copy of the book while it is in use.

use std::fs;
use std::io;
use std::path::Path;

use sqlx::query;

use super::fault::BookFault;
use super::opening::sync_folder;
use super::sqlite::SqliteBook;
use crate::store::atomic::readable_as_usual;

impl SqliteBook {
    /// Writes the book as it stands at this moment to `to`, while others may go on reading and
    /// writing. The copy is there whole or not at all; to put it back, give it the book's name in a
    /// folder that has no other file of a book.
    ///
    /// # Errors
    /// [`BookFault::BackupExists`] where there is a file already and `replace` is not set;
    /// [`BookFault::Backup`] where it cannot be written.
    pub async fn backup(&self, to: &Path, replace: bool) -> Result<(), BookFault> {
        let fault = |cause: String| BookFault::Backup { path: to.to_owned(), cause };
        let system = |cause: io::Error| fault(cause.to_string());
        match fs::symlink_metadata(to) {
            Ok(found) if found.is_dir() => return Err(fault("it is a folder".to_owned())),
            Ok(_) if !replace => return Err(BookFault::BackupExists { path: to.to_owned() }),
            Ok(_) | Err(_) => {}
        }
        if fs::canonicalize(to).is_ok_and(|to| to == self.path) {
            return Err(fault("it is the book itself".to_owned()));
        }
        let folder = match to.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let folder = fs::canonicalize(folder).map_err(system)?;
        let mut builder = tempfile::Builder::new();
        builder.prefix(".fairseam-").suffix(".tmp");
        readable_as_usual(&mut builder);
        let file = builder.tempfile_in(&folder).map_err(system)?;
        let Some(name) = file.path().to_str() else {
            return Err(fault("the name of its folder is not UTF-8".to_owned()));
        };
        query("VACUUM INTO ?1")
            .bind(name.to_owned())
            .execute(&self.pool)
            .await
            .map_err(|error| fault(error.to_string()))?;
        // SQLite leaves it to the system when the copy reaches the disk.
        file.as_file().sync_all().map_err(system)?;
        let kept = if replace { file.persist(to) } else { file.persist_noclobber(to) };
        match kept {
            Ok(_) => sync_folder(&folder).map_err(system),
            Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => {
                Err(BookFault::BackupExists { path: to.to_owned() })
            }
            Err(error) => Err(system(error.error)),
        }
    }
}
