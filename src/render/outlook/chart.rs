//! Bars in a line of text.

/// What bars are drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Chart {
    /// Eighths of a block, by Unicode's block elements.
    Blocks,
    /// For terminals that can draw letters only.
    Ascii,
}

const EIGHTHS: [&str; 8] = ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"];

impl Chart {
    /// A bar of `share` (0 to 1, kept within) of `width` columns, blanks behind it.
    pub(super) fn bar(self, share: f64, width: usize) -> String {
        #[expect(clippy::cast_precision_loss, reason = "a few columns")]
        let columns = share.clamp(0.0, 1.0) * width as f64;
        let bar = match self {
            Self::Ascii => "#".repeat(whole(columns.round())),
            Self::Blocks => {
                let eighths = whole((columns * 8.0).round());
                format!("{}{}", "█".repeat(eighths / 8), EIGHTHS[eighths % 8])
            }
        };
        format!("{bar:<width$}")
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few columns, not below 0"
)]
const fn whole(value: f64) -> usize {
    value as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_its_share() {
        assert_eq!(Chart::Blocks.bar(0.5, 4), "██  ");
        assert_eq!(Chart::Blocks.bar(0.4375, 4), "█▊  ");
        assert_eq!(Chart::Blocks.bar(1.7, 4), "████");
        assert_eq!(Chart::Blocks.bar(f64::NAN, 2), "  ");
        assert_eq!(Chart::Ascii.bar(0.6, 5), "###  ");
        assert_eq!(Chart::Ascii.bar(-1.0, 2), "  ");
    }
}
