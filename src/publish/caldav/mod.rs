//! A calendar server: one resource an event, changed only where it is ours.
//!
//! Source: RFC4791, section 4.1, for what a calendar object is. Source: RFC9110, section 13, for the
//! conditional requests.
//! `login` reads the credentials, `client` sends, `object` reads what a server holds, `push` brings
//! one event over, `elsewhere` reads where a server has an event of ours already, `send` brings all that
//! waits.

mod client;
mod elsewhere;
mod login;
mod object;
mod push;
mod send;

use std::fmt;

use sha2::{Digest, Sha256};
use url::Url;

pub use elsewhere::{UidConflict, hrefs, uid_conflict};
pub use login::{Login, LoginFault};
pub use object::{Found, found, with_sequence};
pub use send::{Sent, send};

/// A calendar on a server, and who we are there.
#[derive(Clone, PartialEq, Eq)]
pub struct Collection {
    url: Url,
    login: Login,
}

/// Why an address cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AddressFault {
    /// No address.
    #[error("`publish.caldav` is `{found}`, which is no address: {cause}")]
    Unreadable {
        /// What stands there.
        found: String,
        /// What is wrong with it.
        cause: String,
    },
    /// A password would go over the network in the open.
    #[error(
        "`publish.caldav` is `{found}`; expected https://, since http:// sends the password in the \
         open and is taken for this machine (127.0.0.1, localhost) only"
    )]
    Open {
        /// What stands there.
        found: String,
    },
}

impl Collection {
    /// The calendar at `address`.
    ///
    /// # Errors
    /// [`AddressFault`] for an address that is none, or that is neither https nor on this machine.
    pub fn new(address: &str, login: Login) -> Result<Self, AddressFault> {
        let found = address.to_owned();
        let mut url = Url::parse(address).map_err(|cause| AddressFault::Unreadable {
            found: found.clone(),
            cause: cause.to_string(),
        })?;
        let is_safe = url.scheme() == "https" || (url.scheme() == "http" && is_loopback(&url));
        if !is_safe {
            return Err(AddressFault::Open { found });
        }
        if !url.path().ends_with('/') {
            let path = format!("{}/", url.path());
            url.set_path(&path);
        }
        Ok(Self { url, login })
    }

    /// Its address, always with a slash at the end.
    pub fn address(&self) -> String {
        self.url.to_string()
    }

    fn at(&self, href: &str) -> Url {
        let mut url = self.url.clone();
        // Our own is made of hexadecimal digits and one ending, another was looked at by `elsewhere`:
        // nothing in it leads out of the calendar.
        url.set_path(&format!("{}{href}", self.url.path()));
        url
    }
}

/// The login never shows.
impl fmt::Debug for Collection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Collection").field("url", &self.url.as_str()).finish_non_exhaustive()
    }
}

fn is_loopback(url: &Url) -> bool {
    match url.host() {
        Some(url::Host::Ipv4(address)) => address.is_loopback(),
        Some(url::Host::Ipv6(address)) => address.is_loopback(),
        Some(url::Host::Domain(name)) => name == "localhost",
        None => false,
    }
}

/// The last part of an event's address: opaque, and the same however often it is worked out.
pub fn href(uid: &str) -> String {
    let digest = Sha256::digest(uid);
    let short: String = digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect();
    format!("{short}.ics")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_password_never_goes_over_the_network_in_the_open() {
        let login = || Login::parse("foreman:s3cret").unwrap();
        for good in ["https://c.example.com/a/", "http://127.0.0.1:5232/a", "http://[::1]:1/a/"] {
            let collection = Collection::new(good, login()).unwrap();
            assert!(collection.address().ends_with('/'), "{good}");
            assert!(!format!("{collection:?}").contains("s3cret"));
        }
        for bad in ["http://c.example.com/a/", "http://127.0.0.1.example.com/", "ftp://a/", "a"] {
            assert!(Collection::new(bad, login()).is_err(), "{bad}");
        }
    }
}
