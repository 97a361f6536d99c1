//! A test weld in words: what was written down, what it proves, what to do next.
//!
//! Nothing is decided here: `testweld` has judged, `quality` has held trials against the plan. The
//! `_words` files hold every sentence; the others lay them out as text, JSON, CSV and a page for
//! the printer. No sentence says more of a weld than its strips showed.

mod amounts;
pub mod doubt_words;
pub mod finding_words;
mod from_judged;
mod from_trial;
mod judged_text;
mod layout;
pub mod setting_words;
pub mod strip_words;
pub mod verdict_words;
pub mod wire;
pub mod wire_judged;

pub use from_judged::recorded_json;
pub use from_trial::Show;
pub use judged_text::{judged_text, verdict_text};
pub use layout::clean;

/// What every output about test welds ends with.
pub const CERTIFIES_NOTHING: &str = "This tells what the strips showed. It certifies no seam: the \
                                     peel decides, and the membrane maker's instructions, the \
                                     specification and local codes come first.";
