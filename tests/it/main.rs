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
mod days;
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
mod site_file;
mod speed_rule;
mod support;
mod year;
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

mod weather_asking;
mod weather_choice;
mod weather_client;
mod weather_mutations;
mod weather_parse_file;
mod weather_parse_met_norway;
mod weather_parse_nws;
mod weather_parse_open_meteo;
mod weather_server;
mod weather_trouble;
