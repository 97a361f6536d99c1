//! All integration tests in one binary, one file a feature.
#![allow(missing_docs, unreachable_pub, clippy::unwrap_used, clippy::panic)]

mod binary;
mod calendar_checker;
mod calendar_events;
mod calendar_hostile;
mod calendar_plan;
mod calendar_read_back;
mod calendar_revisions;
mod calendar_store;
mod explain;
mod house;
mod number_table;
mod physics_cord;
mod physics_drying;
mod physics_evaporation;
mod physics_forecast_error;
mod physics_fusion;
mod physics_humidity;
mod physics_optics;
mod physics_people;
mod physics_radiation;
mod physics_reference;
mod physics_sky;
mod physics_sun;
mod physics_surface;
mod plan_output;
