//! A reply of the NWS: the cell of a point.

#![no_main]

use fairseam_fuzz::{bounded};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::nws::parse_point(body)));
