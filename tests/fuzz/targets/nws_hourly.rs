//! A reply of the NWS: the hourly periods.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::nws::parse_hourly(body, read_at())));
