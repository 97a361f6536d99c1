//! Finished site-years on disk, so that no run repeats them.

use std::fmt::Write as _;
use std::fs::File;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::season::{SEASON_VERSION, SeasonDay, kept_year};
use crate::site::{Rules, Site};
use crate::store::write_atomically;

/// Longest file that is read, bytes; a year takes a twentieth of it.
const LONGEST: u64 = 1 << 20;

/// Where finished site-years are kept.
pub(super) struct Kept {
    folder: PathBuf,
}

impl Kept {
    /// Below the folder for what can be worked out again.
    pub(super) fn below(cache: &Path) -> Self {
        Self { folder: cache.join("outlook") }
    }

    /// The days of a finished site-year; `None` where there is none, or not a whole one.
    pub(super) fn find(&self, key: &str) -> Option<Vec<SeasonDay>> {
        let mut text = String::new();
        File::open(self.path(key)).ok()?.take(LONGEST).read_to_string(&mut text).ok()?;
        kept_year::read(&text)
    }

    /// Keeps a finished site-year.
    ///
    /// # Errors
    /// What the system says; the outlook goes on without.
    pub(super) fn keep(&self, key: &str, days: &[SeasonDay]) -> Result<(), String> {
        std::fs::create_dir_all(&self.folder).map_err(|error| error.to_string())?;
        let text = kept_year::write(days);
        write_atomically(&self.path(key), text.as_bytes()).map_err(|fault| fault.to_string())
    }

    fn path(&self, key: &str) -> PathBuf {
        self.folder.join(format!("{key}.txt"))
    }
}

/// What a site-year hangs on: the place, the crew's day, the sheet, the machines, the rules, the
/// weather and the program. Not on names, nor on what only the budget asks.
pub(super) fn key(site: &Site, zone: chrono_tz::Tz, weather: &str, year: i32) -> String {
    let rules =
        Rules { crew_size: None, crew_cost_per_hour: None, footage_target: None, ..site.rules };
    let text = format!(
        "{head}|{SEASON_VERSION}|{}|{:?}|{:?}|{:?}|{zone}|{:?}|{:?}|{:?}|{rules:?}|{weather}|{year}",
        env!("CARGO_PKG_VERSION"),
        site.latitude_deg,
        site.longitude_deg,
        site.elevation,
        site.shift,
        site.sheet,
        site.welders,
        head = kept_year::HEAD,
    );
    hex(&Sha256::digest(text.as_bytes()))
}

/// The first half of a digest, in hexadecimal: enough to tell files apart.
pub(super) fn hex(digest: &[u8]) -> String {
    digest.iter().take(16).fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}
