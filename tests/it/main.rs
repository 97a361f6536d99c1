//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

mod physics_drying;
mod physics_evaporation;
mod physics_humidity;
mod physics_optics;
mod physics_radiation;
mod physics_reference;
mod physics_sky;
mod physics_sun;
mod physics_surface;
