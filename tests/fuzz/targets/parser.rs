//! The parser that `FAIRSEAM_FUZZ` names, within the bound on memory.

#![no_main]

use std::sync::LazyLock;

use fairseam_fuzz::{Parser, bounded, named};
use libfuzzer_sys::fuzz_target;

static PARSER: LazyLock<&Parser> = LazyLock::new(|| {
    let name = std::env::var("FAIRSEAM_FUZZ").unwrap_or_default();
    named(&name).expect("FAIRSEAM_FUZZ names one of the parsers in tests/fuzz/src/parsers")
});

fuzz_target!(|body: &[u8]| bounded(body, PARSER.read));
