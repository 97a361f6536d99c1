//! What stands for a site in the test-weld book and in calendar entries.

use sha2::{Digest, Sha256};

use super::Site;

impl Site {
    /// See [`site_key`].
    pub fn key(&self) -> String {
        site_key(self.id.as_deref(), &self.name, self.latitude_deg, self.longitude_deg)
    }
}

/// The site's own `id` where it has one; else sixteen hexadecimal digits of its name and its place
/// to six decimals.
///
/// An `id` may be such a key: a site that was renamed or moved goes on under the key that it had.
pub fn site_key(id: Option<&str>, name: &str, latitude_deg: f64, longitude_deg: f64) -> String {
    if let Some(id) = id {
        return id.to_owned();
    }
    let mut hash = Sha256::new();
    // Adding zero makes -0 the same place as 0.
    let (latitude, longitude) = (latitude_deg + 0.0, longitude_deg + 0.0);
    // Each text has its length before it, so that no two of them run together.
    for part in [name, &format!("{latitude:.6}"), &format!("{longitude:.6}")] {
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part.as_bytes());
    }
    hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_site_key_tells_sites_apart_and_ignores_the_sign_of_zero() {
        let key = site_key(None, "roof", 40.5, -74.0);
        assert_eq!(key.len(), 16);
        assert!(key.chars().all(|c| c.is_ascii_hexdigit()));
        for other in [site_key(None, "roof 2", 40.5, -74.0), site_key(None, "roof", 40.6, -74.0)] {
            assert_ne!(key, other);
        }
        assert_eq!(site_key(None, "a", 0.0, -0.0), site_key(None, "a", -0.0, 0.0));
    }

    #[test]
    fn an_id_stands_for_the_site_whatever_its_name_and_place() {
        assert_eq!(site_key(Some("roof-b"), "roof", 40.5, -74.0), "roof-b");
        assert_eq!(site_key(Some("roof-b"), "other", 1.0, 2.0), "roof-b");
    }
}
