//! How long to wait for a service, and how much to take from it.

use std::hash::{BuildHasher, Hasher, RandomState};
use std::time::Duration;

/// How long to wait for a service, and how much to take from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patience {
    /// For a connection.
    pub connect: Duration,
    /// For one whole try, redirects and body included.
    pub total: Duration,
    /// For all tries of one document together: no new one begins later than this.
    pub overall: Duration,
    /// A pause longer than this is not waited out; a kept forecast is used instead.
    pub longest_pause: Duration,
    /// Bytes of a body, unpacked.
    pub body_limit: usize,
    /// How long after each full hour MET Norway is left alone, when every clock asks at once.
    pub quiet_after_full_hour: Duration,
    /// Whether pauses are random within their bounds.
    pub jitter: Jitter,
    /// What a pause is multiplied by: 1, and less in tests.
    pub pace: f64,
}

/// Whether pauses are random within their bounds, so that many clients do not return as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Jitter {
    /// Anywhere within the bounds.
    Random,
    /// Always the lower bound.
    None,
}

impl Default for Patience {
    fn default() -> Self {
        Self {
            connect: Duration::from_secs(5),
            total: Duration::from_secs(20),
            overall: Duration::from_secs(45),
            longest_pause: Duration::from_secs(30),
            body_limit: 8 << 20,
            quiet_after_full_hour: Duration::from_secs(10),
            jitter: Jitter::Random,
            pace: 1.0,
        }
    }
}

impl Patience {
    /// A pause between the two bounds.
    pub(crate) fn pause(&self, at_least: Duration, at_most: Duration) -> Duration {
        let spread = at_most.saturating_sub(at_least);
        let within = match self.jitter {
            Jitter::None => 0.0,
            Jitter::Random => random_fraction(),
        };
        (at_least + spread.mul_f64(within)).mul_f64(self.pace.max(0.0))
    }
}

/// A number in `[0, 1]`. The standard library keys its hash maps at random; that is random enough
/// to part clients, and no crate is needed for it.
fn random_fraction() -> f64 {
    let random = RandomState::new().build_hasher().finish() >> 32;
    #[expect(clippy::cast_precision_loss, reason = "32 bits fit")]
    let fraction = random as f64 / f64::from(u32::MAX);
    fraction
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pause_stays_within_its_bounds() {
        let (low, high) = (Duration::from_secs(2), Duration::from_secs(3));
        let patience = Patience::default();
        assert!((0..100).all(|_| (low..=high).contains(&patience.pause(low, high))));
        let steady = Patience { jitter: Jitter::None, pace: 0.5, ..patience };
        assert_eq!(steady.pause(low, high), Duration::from_secs(1));
    }
}
