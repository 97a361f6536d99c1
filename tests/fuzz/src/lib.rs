//! What every target shares: the bound on memory, and the moment at which everything is read.
//!
//! libFuzzer sees panics, stack overflows and hangs by itself; memory is counted here.

use chrono::{DateTime, TimeZone, Utc};
use peak_alloc::PeakAlloc;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Bytes that a parser may hold for each byte of its input: a number of two digits and its comma
/// become an optional hour of some twenty fields, and a table doubles while it grows.
pub const PER_BYTE: usize = 400;

/// Bytes that a parser may hold whatever the input: messages, buffers, a list of zones.
pub const AT_LEAST: usize = 4 << 20;

/// Runs `parser` and counts what it holds at most.
///
/// # Panics
/// When that is more than the bound: libFuzzer then keeps the input.
pub fn bounded<T>(input: &[u8], parser: impl FnOnce(&[u8]) -> T) {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    let result = parser(input);
    let held = MEMORY.peak_usage().saturating_sub(before);
    drop(result);
    let allowed = AT_LEAST + PER_BYTE * input.len();
    assert!(held <= allowed, "{} bytes of input made the parser hold {held}", input.len());
}

/// The moment at which a forecast is read.
pub fn read_at() -> DateTime<Utc> {
    Utc.timestamp_opt(1_365_460_200, 0).single().unwrap_or_default()
}
