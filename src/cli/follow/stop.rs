//! SIGINT and SIGTERM: once to finish what is at hand, twice to leave at once.

use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::Thread;
use std::time::Duration;

static ASKED: AtomicBool = AtomicBool::new(false);

/// From now on a signal is a wish and no end; it wakes `sleeper`.
pub(super) fn listen(sleeper: Thread) -> anyhow::Result<()> {
    ctrlc::set_handler(move || {
        // Whatever is at hand is written whole or not at all.
        if ASKED.swap(true, Ordering::SeqCst) {
            std::process::exit(1);
        }
        sleeper.unpark();
    })?;
    Ok(())
}

/// Whether somebody has asked to stop.
pub(super) fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}

/// Sleeps, on the thread that [`listen`] was given, until `pause` is over or somebody asks to stop.
pub(super) fn sleep(pause: Duration) {
    if !asked() {
        std::thread::park_timeout(pause);
    }
}
