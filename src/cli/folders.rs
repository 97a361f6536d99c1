//! Where data and cache live on this machine.

use std::path::PathBuf;

use anyhow::Context;
use etcetera::BaseStrategy;

/// Data that must last and data that can be fetched again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Folders {
    /// Published calendars, the test-weld book.
    pub(super) data: PathBuf,
    /// Forecasts as the services sent them.
    pub(super) cache: PathBuf,
}

impl Folders {
    /// Below `FAIRSEAM_HOME` where it is set, else in the platform's own folders.
    ///
    /// # Errors
    /// When neither `FAIRSEAM_HOME` nor a home folder is known.
    pub(super) fn locate() -> anyhow::Result<Self> {
        if let Some(home) = std::env::var_os("FAIRSEAM_HOME").filter(|home| !home.is_empty()) {
            let home = PathBuf::from(home);
            return Ok(Self { cache: home.join("cache"), data: home });
        }
        let platform = etcetera::choose_base_strategy().context(
            "no home folder is known on this machine; set `FAIRSEAM_HOME` to a folder for \
             fairseam's data",
        )?;
        Ok(Self {
            data: platform.data_dir().join("fairseam"),
            cache: platform.cache_dir().join("fairseam"),
        })
    }
}
