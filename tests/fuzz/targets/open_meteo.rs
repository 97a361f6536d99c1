//! A reply of Open-Meteo: the forecast.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::open_meteo::parse_forecast(body, read_at())));
