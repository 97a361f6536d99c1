//! Files that are there whole or not at all.

use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::litter;

/// A file could not be written; what was there before is untouched.
#[derive(Debug, thiserror::Error)]
#[error("could not write `{}`: {cause}", path.display())]
pub struct WriteFault {
    /// The file.
    pub path: PathBuf,
    /// What the system says.
    pub cause: io::Error,
}

/// A file that is written in full beside its place and only has to be moved there.
///
/// Dropped, it leaves nothing behind.
#[derive(Debug)]
pub struct Staged {
    path: PathBuf,
    place: Place,
}

#[derive(Debug)]
enum Place {
    /// A temporary file, and the file that it becomes.
    Beside(NamedTempFile, PathBuf),
    /// A pipe, a terminal or another thing without an old content to keep.
    Straight(Vec<u8>),
}

/// Writes `bytes` to a temporary file beside `path`; [`Staged::put_in_place`] renames it to `path`,
/// so that a reader, a full disk or a power cut sees the old file or the new one, never half of one.
///
/// A link is followed, and the new file has the old one's permissions. What is neither file nor
/// folder, such as a pipe or a terminal, is written straight, at the end.
///
/// # Errors
/// [`WriteFault`] names the file and the cause; the old file is kept. A file that its owner has made
/// read-only is not replaced.
pub fn stage(path: &Path, bytes: &[u8]) -> Result<Staged, WriteFault> {
    let fault = |cause| WriteFault { path: path.to_owned(), cause };
    let place = match fs::metadata(path) {
        Ok(found) if found.is_dir() => Err(io::Error::other("it is a folder")),
        Ok(found) if !found.is_file() => Ok(Place::Straight(bytes.to_owned())),
        Ok(found) if found.permissions().readonly() => Err(io::Error::other("it is read-only")),
        Ok(found) => {
            fs::canonicalize(path).and_then(|real| beside(real, bytes, Some(found.permissions())))
        }
        Err(_) if path.is_symlink() => Err(io::Error::other("it is a link that leads nowhere")),
        Err(_) => beside(path.to_owned(), bytes, None),
    };
    Ok(Staged { path: path.to_owned(), place: place.map_err(fault)? })
}

impl Staged {
    /// Makes the file what its path names.
    ///
    /// # Errors
    /// [`WriteFault`] names the file and the cause; the old file is kept.
    pub fn put_in_place(self) -> Result<(), WriteFault> {
        let path = self.path;
        match self.place {
            Place::Beside(file, to) => file.persist(to).map(drop).map_err(|error| error.error),
            Place::Straight(bytes) => fs::write(&path, bytes),
        }
        .map_err(|cause| WriteFault { path, cause })
    }
}

/// [`stage`] and [`Staged::put_in_place`] in one.
///
/// # Errors
/// As theirs.
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<(), WriteFault> {
    stage(path, bytes)?.put_in_place()
}

fn beside(path: PathBuf, bytes: &[u8], permissions: Option<Permissions>) -> io::Result<Place> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    if !folder.is_dir() {
        let sentence = format!("there is no folder `{}`", folder.display());
        return Err(io::Error::new(io::ErrorKind::NotFound, sentence));
    }
    let mut builder = tempfile::Builder::new();
    builder.prefix(litter::PREFIX).suffix(".tmp");
    readable_as_usual(&mut builder);
    // The system's error would name the temporary file, which nobody has asked for.
    let mut file = builder.tempfile_in(folder).map_err(|cause| io::Error::from(cause.kind()))?;
    file.write_all(bytes).map_err(|cause| io::Error::from(cause.kind()))?;
    if let Some(permissions) = permissions {
        file.as_file().set_permissions(permissions)?;
    }
    file.as_file().sync_all()?;
    litter::sweep(&file);
    Ok(Place::Beside(file, path))
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
        let no_folder = folder.path().join("none");
        assert_eq!(
            fault,
            format!(
                "could not write `{}`: there is no folder `{}`",
                missing.display(),
                no_folder.display()
            )
        );
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn what_is_staged_and_never_put_in_place_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        drop(stage(&folder.path().join("day.ics"), b"x").unwrap());
        assert!(names(folder.path()).is_empty());
    }

    #[cfg(unix)]
    #[test]
    fn permissions_stay_and_what_is_read_only_or_leads_nowhere_is_left_alone() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("day.ics"), folder.path().join("link.ics"));
        let mode = |mode| fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
        fs::write(&path, "old").unwrap();
        mode(0o600);
        write_atomically(&path, b"new").unwrap();
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
        mode(0o400);
        let fault = write_atomically(&path, b"newer").unwrap_err().to_string();
        assert!(fault.ends_with("it is read-only"), "{fault}");
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        symlink(folder.path().join("none.ics"), &link).unwrap();
        let fault = write_atomically(&link, b"x").unwrap_err().to_string();
        assert!(fault.ends_with("it is a link that leads nowhere"), "{fault}");
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
