//! The records of published days in the data folder, one file a day and site.

use std::fs::{self, File, TryLockError};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::time::Duration;

use serde::{Deserialize, Serialize};

use super::atomic::{WriteFault, write_atomically};
use super::published::{DayKey, Previous, PublishedDay};

/// Version of the records that this program writes and reads.
const VERSION: u32 = 1;
/// Largest record read, in bytes; a day of one site takes a few thousand.
const LARGEST_RECORD: u64 = 4 << 20;
/// How often and how long apart another process is waited for: ten seconds in all.
const LOCK_TRIES: u32 = 200;
const LOCK_PAUSE: Duration = Duration::from_millis(50);

/// The records of published days could not be used.
#[derive(Debug, thiserror::Error)]
pub enum StoreFault {
    /// The folder or its lock cannot be made.
    #[error("could not open the folder of published plans `{}`: {cause}", path.display())]
    Folder {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// Another process holds the lock.
    #[error(
        "another fairseam has been publishing into `{}` for 10 s; wait until it is done and run \
         this again",
        path.display()
    )]
    Busy {
        /// The folder.
        path: PathBuf,
    },
    /// The record is there and cannot be read.
    #[error(
        "could not read what was last published (`{}`): {cause}; every event of the day will \
         count as changed",
        path.display()
    )]
    Unreadable {
        /// The record.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// The record is not one of ours, or is damaged.
    #[error(
        "the record of what was last published (`{}`) is damaged: {cause}; every event of the \
         day will count as changed",
        path.display()
    )]
    Damaged {
        /// The record.
        path: PathBuf,
        /// What was expected and what was found.
        cause: String,
    },
    /// A later version of this program wrote the record.
    #[error(
        "a later fairseam wrote the record of what was last published (`{}`, version {version}; \
         this one knows {VERSION}); every event of the day will count as changed",
        path.display()
    )]
    Later {
        /// The record.
        path: PathBuf,
        /// Its version.
        version: u32,
    },
    /// The record cannot be written; the old one is kept.
    #[error(transparent)]
    Write(#[from] WriteFault),
}

/// Where published days are recorded: `<data folder>/published`.
#[derive(Debug, Clone)]
pub struct PublishedStore {
    folder: PathBuf,
}

/// The store while no other process can use it: until this is dropped.
///
/// Keep it from loading the record until the calendar file is written as well, and save the record
/// *before* that file: if the file then fails, the next run repeats a revision that nobody has seen,
/// which is harmless; the other way round, one SEQUENCE would stand for two contents.
#[derive(Debug)]
pub struct LockedStore {
    folder: PathBuf,
    _lock: File,
}

/// The version alone, so that a record of a later version is told from a damaged one.
#[derive(Deserialize)]
struct Versioned {
    fairseam_published: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Record {
    fairseam_published: u32,
    day: PublishedDay,
}

impl PublishedStore {
    /// The store inside the data folder `home`. Nothing is touched yet.
    pub fn new(home: &Path) -> Self {
        Self { folder: home.join("published") }
    }

    /// Makes the folder if need be and waits up to ten seconds for other processes to be done.
    ///
    /// # Errors
    /// [`StoreFault::Folder`] or [`StoreFault::Busy`].
    pub fn lock(&self) -> Result<LockedStore, StoreFault> {
        let fault = |cause| StoreFault::Folder { path: self.folder.clone(), cause };
        fs::create_dir_all(&self.folder).map_err(fault)?;
        let file = self.folder.join(".lock");
        let lock = File::options().create(true).append(true).open(file).map_err(fault)?;
        for _ in 0..LOCK_TRIES {
            match lock.try_lock() {
                Ok(()) => return Ok(LockedStore { folder: self.folder.clone(), _lock: lock }),
                Err(TryLockError::WouldBlock) => std::thread::sleep(LOCK_PAUSE),
                Err(TryLockError::Error(cause)) => return Err(fault(cause)),
            }
        }
        Err(StoreFault::Busy { path: self.folder.clone() })
    }
}

impl LockedStore {
    /// What was last published of a day: [`Previous::Unpublished`] or [`Previous::Known`].
    ///
    /// # Errors
    /// [`StoreFault::Unreadable`], [`StoreFault::Damaged`] or [`StoreFault::Later`]: warn with its
    /// sentence and go on with [`Previous::Lost`].
    pub fn load(&self, key: &DayKey) -> Result<Previous, StoreFault> {
        let path = self.path(key);
        let unreadable = |cause| StoreFault::Unreadable { path: path.clone(), cause };
        let file = match File::open(&path) {
            Ok(file) => file,
            Err(cause) if cause.kind() == io::ErrorKind::NotFound => {
                return Ok(Previous::Unpublished);
            }
            Err(cause) => return Err(unreadable(cause)),
        };
        let mut bytes = Vec::new();
        file.take(LARGEST_RECORD + 1).read_to_end(&mut bytes).map_err(unreadable)?;
        parse(&path, key, &bytes).map(Previous::Known)
    }

    /// Records what is published, in place of what was.
    ///
    /// # Errors
    /// [`StoreFault::Write`]; the old record is kept.
    pub fn save(&self, day: &PublishedDay) -> Result<(), StoreFault> {
        let path = self.path(&day.key);
        let record = Record { fairseam_published: VERSION, day: day.clone() };
        let bytes = serde_json::to_vec_pretty(&record)
            .map_err(|cause| WriteFault { path: path.clone(), cause: cause.into() })?;
        Ok(write_atomically(&path, &bytes)?)
    }

    fn path(&self, key: &DayKey) -> PathBuf {
        self.folder.join(format!("{}-{}.json", key.site, key.date))
    }
}

fn parse(path: &Path, key: &DayKey, bytes: &[u8]) -> Result<PublishedDay, StoreFault> {
    let damaged = |cause: String| StoreFault::Damaged { path: path.to_owned(), cause };
    if bytes.len() as u64 > LARGEST_RECORD {
        return Err(damaged(format!("expected at most {LARGEST_RECORD} bytes, found more")));
    }
    let version = serde_json::from_slice::<Versioned>(bytes)
        .map_err(|cause| damaged(cause.to_string()))?
        .fairseam_published;
    if version > VERSION {
        return Err(StoreFault::Later { path: path.to_owned(), version });
    }
    let day =
        serde_json::from_slice::<Record>(bytes).map_err(|cause| damaged(cause.to_string()))?.day;
    if day.key != *key {
        let (site, date) = (&day.key.site, day.key.date);
        return Err(damaged(format!("it is for {date} of site {site}")));
    }
    match day.fault() {
        Some(fault) => Err(damaged(fault)),
        None => Ok(day),
    }
}
