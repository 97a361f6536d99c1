//! A neutral CSV forecast.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::neutral_csv::parse_forecast(body, read_at())));
