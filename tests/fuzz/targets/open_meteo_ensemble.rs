//! A reply of Open-Meteo: the ensemble's members.

#![no_main]

use fairseam_fuzz::{bounded, read_at};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| bounded(body, |body| fairseam::weather::sources::open_meteo::parse_ensemble(body, read_at())));
