//! Physics, one file a phenomenon: pure functions of numbers in SI, each with its source.

mod balance;

pub mod drying;
pub mod ephemeris;
pub mod evaporation;
pub mod humidity;
pub mod optics;
pub mod pressure;
pub mod radiation;
pub mod sky;
pub mod sun;
pub mod surface;
