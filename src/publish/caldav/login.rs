//! Who we are on the calendar server: from the environment or from a file for its owner alone.

use std::fmt;
use std::io::Read;
use std::path::{Path, PathBuf};

/// Longest login file that is read, in bytes.
const LONGEST: u64 = 4096;

/// User and password of a calendar server. Never shown.
#[derive(Clone, PartialEq, Eq)]
pub struct Login {
    user: String,
    password: String,
}

/// Why there is no login.
#[derive(Debug, thiserror::Error)]
pub enum LoginFault {
    /// Neither the environment nor a file gives one.
    #[error(
        "`publish.caldav` is given and no login for it: set FAIRSEAM_CALDAV_LOGIN to \
         `user:password`, or name a file for its owner alone as `publish.caldav_login`"
    )]
    Missing,
    /// The file cannot be read.
    #[error("the login file `{}` cannot be read: {cause}", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: std::io::Error,
    },
    /// Others could read it.
    #[error(
        "the login file `{}` has mode {mode:04o}, so others can read the password in it: \
         run `chmod 600 {}`",
        path.display(), path.display()
    )]
    Open {
        /// The file.
        path: PathBuf,
        /// Its permissions.
        mode: u32,
    },
    /// No user and password.
    #[error("the login of the calendar server must be `user:password` on one line; found {found}")]
    Malformed {
        /// What was found, without a secret in it.
        found: &'static str,
    },
}

impl Login {
    /// From `environment` where it is set, else from `file`.
    ///
    /// # Errors
    /// [`LoginFault`], none of which shows the password.
    pub fn find(environment: Option<String>, file: Option<&Path>) -> Result<Self, LoginFault> {
        match (environment, file) {
            (Some(text), _) => Self::parse(&text),
            (None, Some(path)) => Self::parse(&read(path)?),
            (None, None) => Err(LoginFault::Missing),
        }
    }

    /// `user:password`; the password may hold colons.
    ///
    /// # Errors
    /// [`LoginFault::Malformed`].
    pub fn parse(text: &str) -> Result<Self, LoginFault> {
        let malformed = |found| LoginFault::Malformed { found };
        let line = text.trim_end_matches(['\n', '\r']);
        if line.contains(char::is_control) {
            return Err(malformed("more than one line"));
        }
        let (user, password) = line.split_once(':').ok_or(malformed("no colon"))?;
        if user.is_empty() || password.is_empty() {
            return Err(malformed("an empty user or password"));
        }
        Ok(Self { user: user.to_owned(), password: password.to_owned() })
    }

    pub(super) fn user(&self) -> &str {
        &self.user
    }

    pub(super) fn password(&self) -> &str {
        &self.password
    }
}

impl fmt::Debug for Login {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Login(***)")
    }
}

fn read(path: &Path) -> Result<String, LoginFault> {
    let fault = |cause| LoginFault::Unreadable { path: path.to_owned(), cause };
    let file = std::fs::File::open(path).map_err(fault)?;
    // Of the open file, so that what was looked at is what is read.
    let found = file.metadata().map_err(fault)?;
    refuse_open(path, &found)?;
    let mut text = String::new();
    file.take(LONGEST).read_to_string(&mut text).map_err(fault)?;
    Ok(text)
}

#[cfg(unix)]
fn refuse_open(path: &Path, found: &std::fs::Metadata) -> Result<(), LoginFault> {
    use std::os::unix::fs::PermissionsExt;
    let mode = found.permissions().mode() & 0o7777;
    if mode & 0o077 == 0 { Ok(()) } else { Err(LoginFault::Open { path: path.to_owned(), mode }) }
}

#[cfg(not(unix))]
fn refuse_open(_: &Path, _: &std::fs::Metadata) -> Result<(), LoginFault> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_login_is_one_line_and_never_shows() {
        let login = Login::parse("foreman:a:b\n").unwrap();
        assert_eq!((login.user(), login.password()), ("foreman", "a:b"));
        assert_eq!(format!("{login:?}"), "Login(***)");
        for bad in ["", "foreman", ":x", "foreman:", "a:b\nc:d", "a:b\0"] {
            let fault = Login::parse(bad).unwrap_err().to_string();
            assert!(fault.contains("user:password"), "{fault}");
        }
        assert!(matches!(Login::find(None, None), Err(LoginFault::Missing)));
    }

    #[cfg(unix)]
    #[test]
    fn a_file_that_others_can_read_is_refused() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("login");
        std::fs::write(&path, "foreman:s3cret\n").unwrap();
        for (mode, good) in [(0o600, true), (0o400, true), (0o640, false), (0o604, false)] {
            std::fs::set_permissions(&path, std::fs::Permissions::from_mode(mode)).unwrap();
            let found = Login::find(None, Some(&path));
            assert_eq!(found.is_ok(), good, "{mode:o}");
            if let Err(fault) = found {
                let sentence = fault.to_string();
                assert!(
                    sentence.contains("chmod 600") && !sentence.contains("s3cret"),
                    "{sentence}"
                );
            }
        }
        let environment = Some("other:word".to_owned());
        assert_eq!(Login::find(environment, Some(&path)).unwrap().user(), "other");
    }
}
