//! Lines of 80 columns, and names that cannot disturb a terminal.

use textwrap::{Options, WordSeparator, WordSplitter};

const COLUMNS: usize = 80;

/// `text` over as many lines as it takes, the first behind `first`, the others behind `rest`.
pub(super) fn wrap(text: &str, first: &str, rest: &str) -> Vec<String> {
    let options = Options::new(COLUMNS)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation);
    let text = clean(text);
    let lines = textwrap::wrap(&text, options);
    lines.iter().map(|line| line.trim_end().to_owned()).collect()
}

/// A list entry.
pub(super) fn bullet(text: &str) -> Vec<String> {
    wrap(text, "  - ", "    ")
}

/// A heading and what stands below it; nothing where that is nothing.
pub(super) fn section(lines: &mut Vec<String>, title: &str, body: Vec<String>) {
    if body.is_empty() {
        return;
    }
    lines.push(String::new());
    lines.extend(wrap(&title.to_uppercase(), "", "  "));
    lines.extend(body);
}

/// With a line end after every line.
pub(super) fn page(lines: &[String]) -> String {
    let mut page = lines.join("\n");
    page.push('\n');
    page
}

/// Names come from outside: control characters must not reach a terminal or break a line, and
/// nothing invisible may turn round the figures beside it.
pub fn clean(text: &str) -> String {
    text.chars()
        .filter(|sign| !turns_text_round(*sign))
        .map(|sign| match sign {
            '\u{2028}' | '\u{2029}' | '\u{feff}' => ' ',
            sign if sign.is_control() => ' ',
            sign => sign,
        })
        .collect()
}

/// Bidirectional controls. Source: UAX9, section 2.
const fn turns_text_round(sign: char) -> bool {
    matches!(sign, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// `text` in at most `width` columns, cut with an ellipsis, and filled up with blanks.
pub(super) fn cell(text: &str, width: usize) -> String {
    let text = clean(text);
    let text = text.trim();
    let mut cut = String::new();
    let whole = textwrap::core::display_width(text) <= width;
    for sign in text.chars() {
        let room = if whole { width } else { width.saturating_sub(1) };
        let mut longer = cut.clone();
        longer.push(sign);
        if textwrap::core::display_width(&longer) > room {
            break;
        }
        cut = longer;
    }
    if !whole {
        cut.push('…');
    }
    let fill = width.saturating_sub(textwrap::core::display_width(&cut));
    cut + &" ".repeat(fill)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_keep_to_their_cell_and_their_line() {
        assert_eq!(cell("J.", 4), "J.  ");
        assert_eq!(cell("operator", 4), "ope…");
        assert_eq!(cell("a\n\u{1b}[31mb", 10), "a  [31mb  ");
        assert_eq!(clean("7\u{202e}00\u{2066}"), "700");
    }
}
