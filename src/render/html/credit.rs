//! The credit that a weather service asks for, its addresses as links.

use super::markup::{Markup, element_of, text};

/// The attribution with every `http` and `https` address in it as a link; no other scheme is one.
pub(super) fn credit(attribution: &str) -> Markup {
    let mut pieces = Vec::new();
    let mut rest = attribution;
    while let Some(at) = next_address(rest) {
        let (before, from) = rest.split_at(at);
        let (address, after) = from.split_at(address_length(from));
        pieces.push(text(before));
        pieces.push(element_of("a", &[("href", address), ("rel", "noopener noreferrer")], address));
        rest = after;
    }
    pieces.push(text(rest));
    pieces.into_iter().collect()
}

fn next_address(text: &str) -> Option<usize> {
    ["https://", "http://"].iter().filter_map(|scheme| text.find(scheme)).min()
}

/// Up to the first sign that no plain address has, less the punctuation of the sentence around it.
fn address_length(text: &str) -> usize {
    let fits = |sign: char| sign.is_ascii_alphanumeric() || "-._~/%:?#@&=+".contains(sign);
    let address = text.split(|sign| !fits(sign)).next().unwrap_or_default();
    address.trim_end_matches(['.', ':', '?', '#', '&']).len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::html::markup::document;

    #[test]
    fn addresses_become_links_and_nothing_else_does() {
        let shown = |attribution| document(credit(attribution)).replace("<!DOCTYPE html>\n", "");
        assert_eq!(
            shown("Data (https://met.example/), CC."),
            "Data (<a href=\"https://met.example/\" rel=\"noopener noreferrer\">\
             https://met.example/</a>), CC."
        );
        assert_eq!(shown("javascript:alert(1) ftp://x"), "javascript:alert(1) ftp://x");
        assert_eq!(
            shown("https://a.example/?q=1&b=2\" onclick=\"x"),
            "<a href=\"https://a.example/?q=1&amp;b=2\" rel=\"noopener noreferrer\">\
             https://a.example/?q=1&amp;b=2</a>&quot; onclick=&quot;x"
        );
    }
}
