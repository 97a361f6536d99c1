//! Physics, one file a phenomenon: pure functions of numbers in SI, each with its source.

mod balance;
mod circle;
pub mod comfort;
pub mod cord;
pub mod drying;
pub mod ephemeris;
pub mod error_function;
pub mod evaporation;
pub mod exponential;
pub mod forecast_error;
pub mod fusion;
pub mod humidity;
pub(crate) mod lanes;
pub mod optics;
pub mod pressure;
pub mod radiation;
pub mod sky;
pub mod sun;
pub mod surface;
pub mod wet_balance;
pub(crate) mod wet_bounds;
