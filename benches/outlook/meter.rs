//! Time and memory as the machine counts them.

use std::time::Duration;

use rustix::time::{ClockId, clock_gettime};

/// Seconds that this thread has had a processor: what other programs take does not count.
pub(crate) struct Meter(Duration);

impl Meter {
    pub(crate) fn start() -> Self {
        Self(ran())
    }

    pub(crate) fn seconds(&self) -> f64 {
        (ran() - self.0).as_secs_f64()
    }
}

fn ran() -> Duration {
    let time = clock_gettime(ClockId::ThreadCPUTime);
    Duration::try_from(time).unwrap_or_default()
}

/// Most memory held so far, MiB; `None` where the system does not tell.
pub(crate) fn peak_mib() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = text.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<f64>().ok().map(|kib| kib / 1024.0)
}
