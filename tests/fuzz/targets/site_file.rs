//! A site file; what loads says its rules without a panic.

#![no_main]

use fairseam_fuzz::bounded;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|body: &[u8]| {
    let Ok(text) = std::str::from_utf8(body) else { return };
    bounded(body, |_| match fairseam::site::load(text, "roof.toml") {
        Ok(loaded) => fairseam::site::rules_in_force(&loaded),
        Err(faults) => faults.to_string(),
    });
});
