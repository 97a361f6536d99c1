//! A reply of MET Norway.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::met_norway::parse_forecast(body, read_at())));
