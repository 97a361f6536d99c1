//! What nobody may do too often.

use std::net::{IpAddr, Ipv6Addr};
use std::num::NonZeroU32;

use governor::{DefaultKeyedRateLimiter, Quota, RateLimiter};

/// How often in a minute; `None` for no limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Requests from one address.
    pub per_address: Option<NonZeroU32>,
    /// Requests with one key.
    pub per_key: Option<NonZeroU32>,
    /// Keys that open nothing, from one address.
    pub wrong_keys: Option<NonZeroU32>,
}

impl Default for Limits {
    /// A crew behind one router: a page of a dozen files on each of a dozen phones at once is well
    /// inside. Wrong keys: what fingers get wrong, not what a program tries.
    fn default() -> Self {
        Self {
            per_address: NonZeroU32::new(1200),
            per_key: NonZeroU32::new(600),
            wrong_keys: NonZeroU32::new(10),
        }
    }
}

/// Counts.
pub(super) struct Limiter {
    addresses: Option<DefaultKeyedRateLimiter<IpAddr>>,
    keys: Option<DefaultKeyedRateLimiter<u64>>,
    wrong_keys: Option<DefaultKeyedRateLimiter<IpAddr>>,
}

impl Limiter {
    pub(super) fn new(limits: &Limits) -> Self {
        Self {
            addresses: limits.per_address.map(|most| RateLimiter::keyed(Quota::per_minute(most))),
            keys: limits.per_key.map(|most| RateLimiter::keyed(Quota::per_minute(most))),
            wrong_keys: limits.wrong_keys.map(|most| RateLimiter::keyed(Quota::per_minute(most))),
        }
    }

    pub(super) fn address_may(&self, address: Option<IpAddr>) -> bool {
        let Some(address) = address else { return true };
        self.addresses.as_ref().is_none_or(|limit| limit.check_key(&household(address)).is_ok())
    }

    pub(super) fn key_may(&self, key: u64) -> bool {
        self.keys.as_ref().is_none_or(|limit| limit.check_key(&key).is_ok())
    }

    pub(super) fn may_try_a_key(&self, address: Option<IpAddr>) -> bool {
        let address = household(address.unwrap_or(IpAddr::V6(Ipv6Addr::UNSPECIFIED)));
        self.wrong_keys.as_ref().is_none_or(|limit| limit.check_key(&address).is_ok())
    }

    /// Lets go of whoever has not been here lately.
    pub(super) fn forget(&self) {
        for limit in [&self.addresses, &self.wrong_keys].into_iter().flatten() {
            limit.retain_recent();
        }
        self.keys.iter().for_each(RateLimiter::retain_recent);
    }
}

/// One line to the network has 2^64 addresses of IPv6 and may use a new one each time.
fn household(address: IpAddr) -> IpAddr {
    match address {
        IpAddr::V4(_) => address,
        IpAddr::V6(six) => match six.to_ipv4_mapped() {
            Some(four) => IpAddr::V4(four),
            None => IpAddr::V6(Ipv6Addr::from_bits(six.to_bits() >> 64 << 64)),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_household_is_one_asker() {
        let of = |text: &str| household(text.parse().unwrap());
        assert_eq!(of("2001:db8:1:2:3:4:5:6"), of("2001:db8:1:2::1"));
        assert_ne!(of("2001:db8:1:2::1"), of("2001:db8:1:3::1"));
        assert_eq!(of("::ffff:192.0.2.7"), of("192.0.2.7"));
        assert_ne!(of("192.0.2.7"), of("192.0.2.8"));
    }

    #[test]
    fn wrong_keys_run_out_for_one_address_and_not_for_another() {
        let limiter = Limiter::new(&Limits::default());
        let (one, other) = ("192.0.2.7".parse().ok(), "192.0.2.8".parse().ok());
        let let_through = (0..10_000).filter(|_| limiter.may_try_a_key(one)).count();
        assert!((10..=11).contains(&let_through), "{let_through}");
        assert!(limiter.may_try_a_key(other));
        let none = Limits { per_address: None, per_key: None, wrong_keys: None };
        assert!((0..10_000).all(|_| Limiter::new(&none).may_try_a_key(one)));
    }
}
