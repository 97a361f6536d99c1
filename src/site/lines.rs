//! From a place in a text to the number of its line.

use std::ops::Range;

/// The lines of a text.
#[derive(Debug)]
pub(super) struct Lines<'a> {
    text: &'a str,
    /// Where each line starts, in bytes.
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        let after_breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0)
            .chain(after_breaks.map(|(at, _)| at + 1))
            // What stands after the last line break is a line only if there is something.
            .filter(|&start| start == 0 || start < text.len())
            .collect();
        Self { text, starts }
    }

    /// The number, from 1, of the line in which a span begins; the last line for what lies beyond.
    pub(super) fn number(&self, span: &Range<usize>) -> usize {
        self.starts.partition_point(|&start| start <= span.start).max(1)
    }

    /// The text of a line, without white space around it; empty where there is no such line.
    pub(super) fn text(&self, number: usize) -> &'a str {
        let Some(&start) = number.checked_sub(1).and_then(|index| self.starts.get(index)) else {
            return "";
        };
        let end = self.starts.get(number).copied().unwrap_or(self.text.len());
        self.text.get(start..end).map_or("", str::trim)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_fall_on_the_line_an_editor_shows() {
        let lines = Lines::of("one\ntwo\r\n\nfour\n");
        for (place, number) in [(0, 1), (3, 1), (4, 2), (9, 3), (10, 4), (14, 4), (15, 4), (99, 4)]
        {
            assert_eq!(lines.number(&(place..place)), number, "byte {place}");
        }
        assert_eq!(lines.text(2), "two");
        assert_eq!(lines.text(4), "four");
        assert_eq!(lines.text(5), "");
        assert_eq!(Lines::of("").number(&(0..0)), 1);
    }
}
