//! All integration tests in one binary, one file a feature.
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
