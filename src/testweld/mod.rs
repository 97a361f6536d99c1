//! Test welds: what worked before and where the next trial starts.

mod carry;

pub use carry::{ByHand, Carry, EarlierWindow, EarlierWindows, NoRecords, Origin, WhyFullRange};
