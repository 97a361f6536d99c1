//! Runs the real binary as a user would, with a fixed clock and a home of its own.

use std::path::{Path, PathBuf};
use std::process::Command;

/// What a user would see.
pub(crate) struct Run {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

/// The repository.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Runs in the repository with a fresh home folder and the clock at `now`.
pub fn fairseam(arguments: &[&str], now: &str) -> Run {
    let home = tempfile::tempdir().unwrap();
    fairseam_at(home.path(), arguments, now)
}

/// The same with a home folder that lasts over several runs.
pub fn fairseam_at(home: &Path, arguments: &[&str], now: &str) -> Run {
    let output = Command::new(env!("CARGO_BIN_EXE_fairseam"))
        .args(arguments)
        .current_dir(root())
        .env_clear()
        .env("FAIRSEAM_HOME", home)
        .env("FAIRSEAM_NOW", now)
        .output()
        .unwrap();
    Run {
        code: output.status.code().unwrap_or(-1),
        stdout: String::from_utf8_lossy(&output.stdout).into_owned(),
        stderr: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}
