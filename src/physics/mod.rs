//! Physics, one file a phenomenon: pure functions of numbers in SI, each with its source.

pub mod comfort;
pub mod cord;
pub mod error_function;
pub mod forecast_error;
pub mod fusion;
