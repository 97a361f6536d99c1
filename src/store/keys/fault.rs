//! Why the keys could not be used: one sentence each, with what to do.

use std::io;
use std::path::PathBuf;

/// The file of keys could not be used.
#[derive(Debug, thiserror::Error)]
pub enum KeysFault {
    /// The data folder cannot be made or reached.
    #[error(
        "the folder of the keys `{}` could not be opened: {cause}; check the rights on it",
        path.display()
    )]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// The file is there and is none of ours.
    #[error("`{}` holds no keys of fairseam: move it away and make new keys", path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
    },
    /// A newer version of this program has been here.
    #[error(
        "the keys `{}` were written by a newer fairseam (version {found}; this one knows \
         {known}): update fairseam",
        path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The newest that this program knows.
        known: i64,
    },
    /// It cannot be read or written.
    #[error(
        "the keys `{}` could not be used: {cause}; check the rights and the room on that disk",
        path.display()
    )]
    Database {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        cause: String,
    },
    /// The system gives no randomness; a key is not made without.
    #[error("this machine gives no randomness ({cause}), and no key is made without")]
    NoRandomness {
        /// What the system says.
        cause: String,
    },
    /// A row that this program has not written.
    #[error("key {id} in `{}` makes no sense ({cause}): revoke it and make a new one", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// The key's number.
        id: i64,
        /// What was expected and what was found.
        cause: String,
    },
    /// No key has that number.
    #[error("there is no key {id}; `fairseam serve --list-keys` lists them")]
    Unknown {
        /// As given.
        id: u64,
    },
}
