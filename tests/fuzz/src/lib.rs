//! The parsers by name, and the bound on memory.
//!
//! libFuzzer sees panics, stack overflows and hangs by itself; memory is counted here.

use peak_alloc::PeakAlloc;

mod parsers;

pub use parsers::Parser;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Bytes that a parser may hold for each byte of its input: a number of two digits and its comma
/// become an optional hour of some twenty fields, and a table doubles while it grows.
pub const PER_BYTE: usize = 400;

/// Bytes that a parser may hold whatever the input: messages, buffers, a list of zones.
pub const AT_LEAST: usize = 4 << 20;

/// The parser of that name.
pub fn named(name: &str) -> Option<&'static Parser> {
    parsers::PARSERS.iter().find(|parser| parser.name == name)
}

/// Runs `parser` and counts what it holds at most.
///
/// What is packed is given what it may become: a reader of packed files has its own limit for that.
///
/// # Panics
/// When that is more than the bound: libFuzzer then keeps the input.
pub fn bounded(input: &[u8], parser: fn(&[u8]) -> bool) {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    parser(input);
    let held = MEMORY.peak_usage().saturating_sub(before);
    let allowed =
        AT_LEAST + PER_BYTE * input.len() * if is_packed(input) { MOST_PACKED } else { 1 };
    assert!(held <= allowed, "{} bytes of input made the parser hold {held}", input.len());
}

/// How much a packed byte can become. By RFC 1951, section 3.2.5: 258 bytes out of
/// two bits.
const MOST_PACKED: usize = 1032;

fn is_packed(input: &[u8]) -> bool {
    input.starts_with(&[0x1f, 0x8b])
}
