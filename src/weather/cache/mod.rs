//! What is kept between runs: every service's last good reply, and until when a host is left alone.
//!
//! A file is written beside its name and then renamed, so that a reader sees the old one or the new
//! one and nothing in between. A good copy is never removed, only replaced by a better one.

mod entry;
mod hosts;

use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

pub(crate) use entry::{Head, name as entry_name};

/// The folder in which replies are kept.
pub(crate) struct Cache {
    folder: PathBuf,
}

impl Cache {
    pub(crate) fn new(folder: &Path) -> Self {
        Self { folder: folder.to_owned() }
    }

    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// The whole file, no more than `limit` bytes of it; `None` when there is none.
    fn read(&self, name: &str, limit: usize) -> io::Result<Option<Vec<u8>>> {
        let file = match fs::File::open(self.folder.join(name)) {
            Ok(file) => file,
            Err(error) if is_absent(error.kind()) => return Ok(None),
            Err(error) => return Err(error),
        };
        let mut bytes = Vec::new();
        let limit = u64::try_from(limit).unwrap_or(u64::MAX);
        let read = file.take(limit.saturating_add(1)).read_to_end(&mut bytes)?;
        if u64::try_from(read).is_ok_and(|read| read > limit) {
            return Err(io::Error::new(io::ErrorKind::FileTooLarge, "it is larger than any reply"));
        }
        Ok(Some(bytes))
    }

    /// Replaces the file by `parts` in one step.
    fn write(&self, name: &str, parts: &[&[u8]]) -> io::Result<()> {
        fs::create_dir_all(&self.folder)?;
        let mut file = tempfile::NamedTempFile::new_in(&self.folder)?;
        for part in parts {
            file.write_all(part)?;
        }
        file.as_file().sync_data()?;
        file.persist(self.folder.join(name)).map_err(|error| error.error)?;
        Ok(())
    }
}

/// Whether there is no such file, be it for want of the folder.
const fn is_absent(kind: io::ErrorKind) -> bool {
    matches!(kind, io::ErrorKind::NotFound | io::ErrorKind::NotADirectory)
}

/// `text` as part of a file name: nothing in it leads out of the folder.
fn plain(text: &str) -> String {
    let plain = |c: char| {
        if c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_') { c } else { '-' }
    };
    text.chars().take(120).map(plain).collect()
}
