//! A forecast file of whatever kind.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::recognize::parse_file(body, read_at())));
