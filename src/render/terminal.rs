//! What must not reach a terminal from a name in a file or on the command line.

/// Whether `c` steers a terminal or turns the order of the text after it: a control character, or a
/// directional embedding, override or isolate of Unicode. Source: UAX9, sections 2.1 to 2.5.
///
/// The implicit marks of right-to-left text (section 2.6) stay: they turn nothing around them.
pub fn steers_a_terminal(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn controls_steer_and_letters_of_any_script_do_not() {
        // The nine explicit directional formatting characters, as the tables of UAX9 list them.
        for c in "\u{1b}\u{7}\r\n\u{9b}\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\
                  \u{2068}\u{2069}"
            .chars()
        {
            assert!(steers_a_terminal(c), "{c:?}");
        }
        for c in "Üß °F ½ 冷蔵 שלום\u{200f} مرحبا 🔨".chars() {
            assert!(!steers_a_terminal(c), "{c:?}");
        }
    }
}
