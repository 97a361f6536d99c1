//! One room a source: its addresses (pure) and its parser (pure). Field names, units and time
//! stamps of a source end here.
//!
//! | | rain stamped `t` covers | instants | default units |
//! |---|---|---|---|
//! | [`open_meteo`] | `[t - 1 h, t)` | at `t` | as `hourly_units` says |
//! | [`nws`] | the interval itself, as one total | the interval's value | as `uom` says |
//! | [`met_norway`] | `[t, t + 1 h)`, later `[t, t + 6 h)` | at `t` | as `meta.units` says |
//! | [`neutral_csv`] | `[t - 1 h, t)` | at `t` | as the column's name says |
//! | [`isd_lite`] | `[t - 1 h, t)`, or `[t - 6 h, t)` | at `t` | tenths of °C, hPa, m/s, mm |
//! | [`epw`] | `[t - 1 h, t)`, `t` in local standard time | at `t` | °C, Pa, m/s, mm |
//! | [`tmy3`] | `[t - 1 h, t)`, `t` in local standard time | at `t` | °C, mbar, m/s, tenths of mm |
//! | [`nasa_power`] | `[t, t + 1 h)` | means of `[t, t + 1 h)` | as `parameters` says |

pub mod epw;
pub mod isd_lite;
pub(crate) mod json;
pub(crate) mod local_year;
pub(crate) mod measure;
pub mod met_norway;
pub mod nasa_power;
pub mod neutral_csv;
pub mod nws;
pub mod open_meteo;
mod parse_error;
pub mod recognize;
pub mod record;
pub(crate) mod stamps;
pub mod tmy3;

pub use parse_error::ParseError;
