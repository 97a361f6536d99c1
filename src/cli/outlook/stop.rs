//! Ctrl-C: once to finish what is at hand and show what is done, twice to leave at once.

use std::sync::atomic::{AtomicBool, Ordering};

use super::super::outcome::say;

static ASKED: AtomicBool = AtomicBool::new(false);

/// From now on, Ctrl-C is a wish and no end.
pub(super) fn listen() {
    // Where the system gives no handler, Ctrl-C ends the program, as it would without this.
    let _ = ctrlc::set_handler(|| {
        if ASKED.swap(true, Ordering::Relaxed) {
            std::process::exit(1);
        }
        say("\nstopping after what is at hand; Ctrl-C again leaves at once");
    });
}

/// Whether somebody has asked to stop.
pub(super) fn asked() -> bool {
    ASKED.load(Ordering::Relaxed)
}
