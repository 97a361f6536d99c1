//! Color, where the reader's terminal shows it. Every word reads the same without.

use crate::plan::Verdict;

/// Whether to color.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paint {
    /// For files, pipes, printers and `NO_COLOR`.
    Plain,
    /// For a terminal, with ANSI escape codes.
    Color,
}

const BOLD: &str = "1";
// Orange-brown, blue and bold: apart for every common kind of color blindness.
const CARE: &str = "38;5;172";
const HOLD: &str = "1;38;5;25";

impl Paint {
    /// A heading or a figure to find at a glance.
    pub fn strong(self, text: &str) -> String {
        self.with(BOLD, text)
    }

    /// A text in the color of a verdict.
    pub fn verdict(self, verdict: Verdict, text: &str) -> String {
        match verdict {
            Verdict::Weld => text.to_owned(),
            Verdict::Care => self.with(CARE, text),
            Verdict::Hold => self.with(HOLD, text),
        }
    }

    fn with(self, code: &str, text: &str) -> String {
        match self {
            Self::Plain => text.to_owned(),
            Self::Color => format!("\u{1b}[{code}m{text}\u{1b}[0m"),
        }
    }
}
