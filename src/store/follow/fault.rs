//! Why the state of following could not be used.

use std::io;
use std::path::PathBuf;

/// What was published is not lost: phones and the calendar file still have it.
#[derive(Debug, thiserror::Error)]
pub enum FollowFault {
    /// The data folder cannot be made or reached.
    #[error("the data folder `{}` could not be opened: {cause}", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// SQLite says no.
    #[error(
        "the record of what is followed, `{}`, could not be used ({cause}); check the rights and the \
         room on that disk",
        path.display()
    )]
    Database {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        cause: String,
    },
    /// The file is another program's, or a later version's.
    #[error("`{}` is {what}; {hint}", path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
        /// What it is.
        what: String,
        /// What to do.
        hint: &'static str,
    },
    /// What stands in it makes no sense.
    #[error(
        "the record of {what} in `{}` cannot be read: {cause}; move the file away to begin anew",
        path.display()
    )]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// Of which day or event.
        what: String,
        /// What is wrong.
        cause: String,
    },
}
