//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

mod number_table;
mod physics_cord;
mod physics_forecast_error;
mod physics_fusion;
mod physics_people;
