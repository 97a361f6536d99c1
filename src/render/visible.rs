//! Text from outside as it may be shown: nothing invisible that reorders or breaks what stands by it.

/// `text` with control characters and line separators as blanks, and without bidirectional controls.
///
/// A name with a right-to-left override could otherwise turn `700` into `007` on the page. The joiner
/// that holds an emoji together stays. What no web page may hold becomes U+FFFD.
pub(super) fn visible(text: &str) -> String {
    text.chars()
        .filter(|&sign| !is_bidirectional_control(sign))
        .map(|sign| match sign {
            '\u{2028}' | '\u{2029}' | '\u{feff}' => ' ',
            sign if sign.is_control() => ' ',
            sign if is_noncharacter(sign) => char::REPLACEMENT_CHARACTER,
            sign => sign,
        })
        .collect()
}

const fn is_bidirectional_control(sign: char) -> bool {
    matches!(sign, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

const fn is_noncharacter(sign: char) -> bool {
    matches!(sign, '\u{fdd0}'..='\u{fdef}') || (sign as u32) & 0xfffe == 0xfffe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_invisible_gets_through() {
        assert_eq!(visible("east\nbay\u{85}\u{2028}2"), "east bay  2");
        assert_eq!(visible("a\u{202e}b\u{2066}c\u{200f}d\u{61c}"), "abcd");
        assert_eq!(visible("x\u{fffe}\u{1ffff}\u{fdd0}"), "x\u{fffd}\u{fffd}\u{fffd}");
        assert_eq!(visible("👷\u{200d}♀️ Müller"), "👷\u{200d}♀️ Müller");
    }
}
