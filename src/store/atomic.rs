//! Files that are there whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A file could not be written; what was there before is untouched.
#[derive(Debug, thiserror::Error)]
#[error("could not write `{}`: {cause}", path.display())]
pub struct WriteFault {
    /// The file.
    pub path: PathBuf,
    /// What the system says.
    pub cause: io::Error,
}

/// Writes `bytes` to a temporary file beside `path` and renames it to `path`, so that a reader, a
/// full disk or a power cut sees the old file or the new one, never half of one.
///
/// A link is followed. What is neither file nor folder, such as a pipe or a terminal, has no old
/// content to keep and is written straight.
///
/// # Errors
/// [`WriteFault`] names the file and the cause; the old file is kept.
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<(), WriteFault> {
    let fault = |cause| WriteFault { path: path.to_owned(), cause };
    match fs::metadata(path) {
        Ok(found) if found.is_dir() => Err(fault(io::Error::other("it is a folder"))),
        Ok(found) if !found.is_file() => fs::write(path, bytes).map_err(fault),
        Ok(_) => fs::canonicalize(path).and_then(|real| replace(&real, bytes)).map_err(fault),
        Err(_) => replace(path, bytes).map_err(fault),
    }
}

fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".fairseam-").suffix(".tmp");
    readable_as_usual(&mut builder);
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}

/// Temporary files are for their owner alone; a calendar is not, so the user's mask decides.
#[cfg(unix)]
pub(super) fn readable_as_usual(builder: &mut tempfile::Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
pub(super) fn readable_as_usual(_: &mut tempfile::Builder<'_, '_>) {}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
    }

    #[test]
    fn a_file_is_replaced_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("day.ics");
        for content in ["old", "new"] {
            write_atomically(&path, content.as_bytes()).unwrap();
            assert_eq!(fs::read_to_string(&path).unwrap(), content);
        }
        assert_eq!(names(folder.path()), ["day.ics"]);
    }

    #[test]
    fn a_folder_in_the_way_or_a_missing_one_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let fault = write_atomically(folder.path(), b"x").unwrap_err().to_string();
        assert_eq!(fault, format!("could not write `{}`: it is a folder", folder.path().display()));
        let missing = folder.path().join("none").join("day.ics");
        let fault = write_atomically(&missing, b"x").unwrap_err().to_string();
        assert!(
            fault.starts_with(&format!("could not write `{}`: ", missing.display())),
            "{fault}"
        );
        assert!(names(folder.path()).is_empty());
    }

    #[cfg(unix)]
    #[test]
    fn links_are_followed_and_a_device_is_not_replaced() {
        use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (real, link) = (folder.path().join("real.ics"), folder.path().join("link.ics"));
        fs::write(&real, "old").unwrap();
        symlink(&real, &link).unwrap();
        write_atomically(&link, b"new").unwrap();
        assert_eq!(fs::read_to_string(&real).unwrap(), "new");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_ne!(fs::metadata(&real).unwrap().permissions().mode() & 0o400, 0);
        let null = Path::new("/dev/null");
        write_atomically(null, b"gone").unwrap();
        assert!(fs::metadata(null).unwrap().file_type().is_char_device());
    }
}
