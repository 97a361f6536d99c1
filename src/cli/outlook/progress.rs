//! How far long work has come, on stderr, where someone is watching.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

const WIDTH: usize = 24;
/// No line oftener than this.
const PAUSE: Duration = Duration::from_millis(100);

/// A line that is drawn over and over; nothing at all unless stderr is a terminal.
pub(super) struct Progress {
    what: &'static str,
    total: usize,
    done: usize,
    begun: Instant,
    drawn: Option<Instant>,
    shown: bool,
}

impl Progress {
    /// Of `total` pieces of work, called `what`.
    pub(super) fn new(what: &'static str, total: usize) -> Self {
        let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
        let shown = std::io::stderr().is_terminal() && !dumb && total > 1;
        Self { what, total, done: 0, begun: Instant::now(), drawn: None, shown }
    }

    /// One more is done.
    pub(super) fn step(&mut self) {
        self.done += 1;
        // The number of years in a file is known when it has been read.
        self.total = self.total.max(self.done);
        let is_last = self.done == self.total;
        let due = self.drawn.is_none_or(|at| at.elapsed() >= PAUSE);
        if self.shown && (due || is_last) {
            self.drawn = Some(Instant::now());
            let line = line(self.what, self.done, self.total, self.begun.elapsed());
            let _ = write!(std::io::stderr().lock(), "\r{line}\u{1b}[K");
        }
    }

    /// Clears the line, so that what is said next stands by itself.
    pub(super) fn clear(&mut self) {
        if self.shown && self.drawn.take().is_some() {
            let _ = write!(std::io::stderr().lock(), "\r\u{1b}[K");
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.clear();
    }
}

fn line(what: &str, done: usize, total: usize, taken: Duration) -> String {
    let filled = WIDTH * done / total.max(1);
    let bar = format!("{}{}", "#".repeat(filled), ".".repeat(WIDTH - filled));
    let left = left(done, total, taken);
    format!("[{bar}] {done} of {total} {what}{left}")
}

/// The time left if the rest goes as the part before did.
fn left(done: usize, total: usize, taken: Duration) -> String {
    let (Ok(done), Ok(rest)) = (u32::try_from(done), u32::try_from(total.saturating_sub(done)))
    else {
        return String::new();
    };
    if done == 0 || rest == 0 {
        return String::new();
    }
    let seconds = (taken.as_secs_f64() / f64::from(done) * f64::from(rest)).ceil();
    match Duration::try_from_secs_f64(seconds).map(|left| left.as_secs()) {
        Ok(seconds) if seconds < 90 => format!(", about {seconds} s left"),
        Ok(seconds) => format!(", about {} min left", seconds.div_ceil(60)),
        Err(_) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rest_is_expected_to_go_as_the_part_before() {
        let shown = line("site-years", 6, 24, Duration::from_secs(10));
        assert_eq!(shown, "[######..................] 6 of 24 site-years, about 30 s left");
        let shown = line("sites", 1, 200, Duration::from_secs(3));
        assert!(shown.ends_with("1 of 200 sites, about 10 min left"), "{shown}");
        assert!(line("sites", 2, 2, Duration::from_secs(3)).ends_with("2 of 2 sites"));
    }
}
