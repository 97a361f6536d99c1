//! What a process that was killed while it wrote has left behind.

use std::fs;
use std::time::Duration;

use tempfile::NamedTempFile;

/// How the name of every temporary file begins.
pub(super) const PREFIX: &str = ".fairseam-";
/// No write takes as long: what is older is nobody's any more.
const OLD: Duration = Duration::from_secs(24 * 60 * 60);

/// Removes the temporary files of ours beside `fresh` that are more than a day older than it; what
/// cannot be removed stays.
pub(super) fn sweep(fresh: &NamedTempFile) {
    let written = fresh.as_file().metadata().and_then(|metadata| metadata.modified());
    let folder = fresh.path().parent().map(fs::read_dir);
    let (Ok(written), Some(Ok(folder))) = (written, folder) else { return };
    for entry in folder.flatten() {
        let is_ours = entry.file_name().to_str().is_some_and(|name| {
            name.strip_prefix(PREFIX).is_some_and(|rest| rest.contains(".tmp"))
        });
        let is_old = || {
            let modified = entry.metadata().ok().filter(fs::Metadata::is_file)?.modified().ok()?;
            Some(OLD < written.duration_since(modified).ok()?)
        };
        if is_ours && is_old() == Some(true) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs::File;

    use super::*;
    use crate::store::atomic::write_atomically;

    #[test]
    fn only_what_is_ours_and_more_than_a_day_old_goes() {
        let folder = tempfile::tempdir().unwrap();
        let make = |name: &str, hours: u64| {
            let file = File::create(folder.path().join(name)).unwrap();
            let now = file.metadata().unwrap().modified().unwrap();
            file.set_modified(now - Duration::from_secs(hours * 3600)).unwrap();
        };
        make(".fairseam-aB3xyz.tmp", 25);
        make(".fairseam-aB3xyz.tmp-wal", 25);
        make(".fairseam-young1.tmp", 23);
        make(".fairseam-notes", 100);
        make("mine.tmp", 100);
        write_atomically(&folder.path().join("day.ics"), b"x").unwrap();
        let names = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name());
        let mut names: Vec<_> = names.map(|name| name.into_string().unwrap()).collect();
        names.sort();
        assert_eq!(names, [".fairseam-notes", ".fairseam-young1.tmp", "day.ics", "mine.tmp"]);
    }
}
