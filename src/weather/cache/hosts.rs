//! Until when a host is left alone, kept across runs: a planner started by a clock must not forget
//! what the last start was told.

use std::io;

use chrono::{DateTime, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use super::{Cache, plain};
use crate::units::instant;

/// Failures in a row after which a host is left alone for a while.
const FAILURES: u32 = 3;
/// For how long.
const REST: TimeDelta = TimeDelta::minutes(5);
/// A later time than this was written by a wrong clock.
const LATEST: TimeDelta = TimeDelta::hours(26);

/// What is remembered about a host.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct HostState {
    #[serde(deserialize_with = "instant::read_some")]
    not_before: Option<DateTime<Utc>>,
    because: String,
    /// In a row.
    failures: u32,
    /// The introduction that the host has refused; another one may be tried at once.
    refused_agent: Option<String>,
}

impl HostState {
    /// Until when, and why, the host must not be asked as `agent`.
    pub(crate) fn closed(&self, now: DateTime<Utc>, agent: &str) -> Option<(DateTime<Utc>, &str)> {
        let until = self.not_before.filter(|until| now < *until && *until <= now + LATEST)?;
        let concerned = self.refused_agent.as_ref().is_none_or(|refused| refused == agent);
        concerned.then_some((until, self.because.as_str()))
    }

    /// Failures in a row so far.
    pub(crate) const fn failures(&self) -> u32 {
        self.failures
    }

    /// After `tries` failed tries. `counts` when the host itself is in trouble.
    pub(crate) fn failed(
        &mut self,
        tries: u32,
        counts: bool,
        not_before: Option<DateTime<Utc>>,
        because: String,
        now: DateTime<Utc>,
    ) {
        self.refused_agent = None;
        if counts {
            self.failures = self.failures.saturating_add(tries);
        }
        let rest = (counts && self.failures >= FAILURES).then(|| now + REST);
        self.not_before = not_before.max(rest);
        self.because = because;
    }

    /// After the host has refused to answer `agent` at all.
    pub(crate) fn refused(&mut self, agent: &str) {
        self.refused_agent = Some(agent.to_owned());
    }
}

impl Cache {
    /// What is remembered about `host`; a file that cannot be read is as good as none.
    pub(crate) fn host(&self, host: &str) -> HostState {
        let bytes = self.read(&file(host), 64 << 10).ok().flatten();
        bytes.and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
    }

    /// Remembers `state`, when it differs from what is remembered.
    pub(crate) fn remember_host(&self, host: &str, state: &HostState) -> io::Result<()> {
        if self.host(host) == *state {
            return Ok(());
        }
        self.write(&file(host), &[&serde_json::to_vec(state)?])
    }
}

fn file(host: &str) -> String {
    format!("host_{}.json", plain(host))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_failures_close_a_host_and_one_success_forgets_them() {
        let now = DateTime::UNIX_EPOCH;
        let mut state = HostState::default();
        state.failed(2, true, None, "status 500".to_owned(), now);
        assert_eq!(state.closed(now, "agent"), None);
        state.failed(1, true, None, "status 500".to_owned(), now);
        assert_eq!(state.closed(now, "agent"), Some((now + REST, "status 500")));
        assert_eq!(state.closed(now + REST, "agent"), None, "half open: one may try");
    }

    #[test]
    fn no_signal_closes_nothing() {
        let now = DateTime::UNIX_EPOCH;
        let mut state = HostState::default();
        state.failed(9, false, None, "no route".to_owned(), now);
        assert_eq!(state.closed(now, "agent"), None);
    }

    #[test]
    fn a_refusal_concerns_the_introduction_that_was_refused() {
        let now = DateTime::UNIX_EPOCH;
        let mut state = HostState::default();
        state.failed(1, false, Some(now + TimeDelta::hours(24)), "status 403".to_owned(), now);
        state.refused("fairseam (nobody)");
        assert!(state.closed(now, "fairseam (nobody)").is_some());
        assert!(state.closed(now, "fairseam (foreman@example.com)").is_none());
    }

    #[test]
    fn a_time_written_by_a_wrong_clock_is_not_believed() {
        let now = DateTime::UNIX_EPOCH;
        let mut state = HostState::default();
        state.failed(1, true, Some(now + TimeDelta::days(400)), "status 429".to_owned(), now);
        assert_eq!(state.closed(now, "agent"), None);
    }
}
