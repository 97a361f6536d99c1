//! One kept reply: a line about it, then the body as it came.

use std::io;

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};
use url::Url;

use super::{Cache, plain};
use crate::units::instant;

/// Room for the line in front of the body.
const HEAD_LIMIT: usize = 16 << 10;
/// A copy that claims to come from further in the future than this was kept by a wrong clock.
const CLOCK_TOLERANCE: TimeDelta = TimeDelta::minutes(5);

/// What is known about a kept body.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Head {
    /// Version of this layout.
    version: u32,
    /// Where it comes from.
    pub(crate) url: String,
    /// When the service last sent or confirmed it.
    #[serde(deserialize_with = "instant::read")]
    pub(crate) fetched_at: DateTime<Utc>,
    /// When the service last sent it; earlier where it was only confirmed since. Absent from copies
    /// that were kept before this was noted.
    #[serde(default, deserialize_with = "instant::read_some")]
    sent_at: Option<DateTime<Utc>>,
    /// Until when the service need not be asked.
    #[serde(deserialize_with = "instant::read")]
    pub(crate) fresh_until: DateTime<Utc>,
    /// For the next question, exactly as the service gave it.
    pub(crate) etag: Option<String>,
    /// For the next question, exactly as the service gave it.
    pub(crate) last_modified: Option<String>,
    /// Bytes of the body.
    length: usize,
}

/// A kept reply.
pub(crate) struct Entry {
    pub(crate) head: Head,
    pub(crate) body: Vec<u8>,
}

impl Head {
    const VERSION: u32 = 1;

    pub(crate) fn new(url: &Url, fetched_at: DateTime<Utc>, fresh_until: DateTime<Utc>) -> Self {
        Self {
            version: Self::VERSION,
            url: url.to_string(),
            fetched_at,
            sent_at: Some(fetched_at),
            fresh_until,
            etag: None,
            last_modified: None,
            length: 0,
        }
    }

    /// When the service last sent the body itself.
    pub(crate) fn sent_at(&self) -> DateTime<Utc> {
        self.sent_at.unwrap_or(self.fetched_at)
    }

    /// The same for a body that was confirmed, and sent at another time.
    pub(crate) fn sent_earlier(self, sent_at: DateTime<Utc>) -> Self {
        Self { sent_at: Some(sent_at), ..self }
    }

    /// Whether the service need not be asked.
    pub(crate) fn is_fresh(&self, now: DateTime<Utc>) -> bool {
        now < self.fresh_until && self.fetched_at <= now + CLOCK_TOLERANCE
    }
}

/// The file's name: readable, and one for each address, since a part of it is made from that.
pub(crate) fn name(what: &str, url: &Url) -> String {
    use sha2::Digest;
    let digest = sha2::Sha256::digest(url.as_str());
    let short: String = digest.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("{}_{short}.reply", plain(what))
}

impl Cache {
    /// The kept reply, `None` when there is none.
    ///
    /// # Errors
    /// In one clause, what is wrong with the file.
    pub(crate) fn entry(&self, name: &str, limit: usize) -> Result<Option<Entry>, String> {
        let bytes = self.read(name, limit + HEAD_LIMIT).map_err(|error| error.to_string())?;
        bytes.map(|bytes| split(&bytes)).transpose()
    }

    /// Keeps a reply in place of the one before.
    pub(crate) fn keep(&self, name: &str, head: &Head, body: &[u8]) -> io::Result<()> {
        let head = Head { length: body.len(), ..head.clone() };
        let mut line = serde_json::to_vec(&head)?;
        line.push(b'\n');
        self.write(name, &[&line, body])
    }
}

fn split(bytes: &[u8]) -> Result<Entry, String> {
    let end = bytes.iter().position(|byte| *byte == b'\n').ok_or("it has no first line")?;
    let (line, rest) = bytes.split_at(end);
    let head: Head = serde_json::from_slice(line)
        .map_err(|error| format!("its first line is broken: {error}"))?;
    if head.version != Head::VERSION {
        return Err("it was kept by another version".to_owned());
    }
    let body = rest.get(1..).unwrap_or_default().to_vec();
    if body.len() != head.length {
        return Err(format!("it has {} bytes instead of {}", body.len(), head.length));
    }
    Ok(Entry { head, body })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_nowhere_and_differ_by_address() {
        let url = |text: &str| Url::parse(text).unwrap();
        let one = name("nws_../../etc_ü", &url("https://a.example/?lat=1"));
        assert!(one.starts_with("nws_..-..-etc_-_") && one.ends_with(".reply"), "{one}");
        assert_ne!(one, name("nws_../../etc_ü", &url("https://a.example/?lat=2")));
    }

    #[test]
    fn a_damaged_file_is_told_from_a_missing_one() {
        let folder = tempfile::tempdir().unwrap();
        let cache = Cache::new(folder.path());
        let url = Url::parse("https://a.example/").unwrap();
        let head = Head::new(&url, DateTime::UNIX_EPOCH, DateTime::UNIX_EPOCH);
        assert!(cache.entry("x.reply", 100).unwrap().is_none());
        cache.keep("x.reply", &head, b"{\n}").unwrap();
        assert_eq!(cache.entry("x.reply", 100).unwrap().unwrap().body, b"{\n}");
        let path = folder.path().join("x.reply");
        let whole = std::fs::read(&path).unwrap();
        for broken in [&whole[..whole.len() - 1], b"", b"{}\n", b"\xff\xfe\n"] {
            std::fs::write(&path, broken).unwrap();
            assert!(cache.entry("x.reply", 100).is_err(), "{broken:?}");
        }
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1, "nothing left beside");
    }
}
