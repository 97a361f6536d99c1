//! Lines from whoever answers, read with a limit.

use std::io::{self, BufRead, Read};

/// Longest answer that is read.
const LONGEST: u64 = 16 << 10;

/// What came in.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Line {
    /// A whole line, without its end and without blanks around it.
    Text(String),
    /// A line that is too long.
    TooLong,
    /// A line that is no text.
    NoText,
    /// Nothing more comes: ctrl-D, or the end of the file. A line without its end counts as this,
    /// so that nothing half typed is ever written down.
    End,
}

/// The next line.
pub(super) fn next_line(input: &mut dyn BufRead) -> io::Result<Line> {
    let mut bytes = Vec::new();
    let read = input.take(LONGEST).read_until(b'\n', &mut bytes)?;
    if bytes.last() != Some(&b'\n') {
        if (read as u64) < LONGEST {
            return Ok(Line::End);
        }
        return Ok(if skip_line(input)? { Line::TooLong } else { Line::End });
    }
    Ok(match String::from_utf8(bytes) {
        Ok(text) => Line::Text(text.trim().to_owned()),
        Err(_) => Line::NoText,
    })
}

/// Reads on to the end of a line; `false` where none comes.
fn skip_line(input: &mut dyn BufRead) -> io::Result<bool> {
    loop {
        let (used, ended) = {
            let buffer = input.fill_buf()?;
            match buffer.iter().position(|byte| *byte == b'\n') {
                Some(at) => (at + 1, true),
                None => (buffer.len(), false),
            }
        };
        input.consume(used);
        if ended || used == 0 {
            return Ok(ended);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_read_whole_or_not_at_all() {
        let long = "x".repeat(20_000);
        let text = format!(" yes \r\n{long}\nno\n\u{0}\nhalf");
        let mut input = text.as_bytes();
        let mut next = || next_line(&mut input).unwrap();
        assert_eq!(next(), Line::Text("yes".to_owned()));
        assert_eq!(next(), Line::TooLong);
        assert_eq!(next(), Line::Text("no".to_owned()));
        assert_eq!(next(), Line::Text("\u{0}".to_owned()));
        assert_eq!(next(), Line::End);
        assert_eq!(next(), Line::End);
        assert_eq!(next_line(&mut &b"\xff\n"[..]).unwrap(), Line::NoText);
        assert_eq!(next_line(&mut long.as_bytes()).unwrap(), Line::End);
    }
}
