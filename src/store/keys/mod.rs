//! Keys for the server: who may come in, as what, until when.
//!
//! A key is 256 bits of the system's own randomness, shown once. Kept are its SHA-256 and what it
//! opens, in `<data folder>/keys.sqlite3`: a file apart from the book, so that a copy of the book
//! carries no key's hash.

mod fault;
mod key;
mod secret;
mod sqlite;

pub use fault::KeysFault;
pub use key::{Key, KeyState, NewKey, Role};
pub use secret::{KeyHash, Secret};
pub use sqlite::SqliteKeys;
