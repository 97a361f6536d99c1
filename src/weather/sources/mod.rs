//! One room a source: its addresses (pure) and its parser (pure). Field names, units and time
//! stamps of a source end here.
//!
//! | | rain stamped `t` covers | instants | default units |
//! |---|---|---|---|
//! | [`open_meteo`] | `[t - 1 h, t)` | at `t` | as `hourly_units` says |
//! | [`nws`] | the interval itself, as one total | the interval's value | as `uom` says |
//! | [`met_norway`] | `[t, t + 1 h)`, later `[t, t + 6 h)` | at `t` | as `meta.units` says |
//! | [`neutral_csv`] | `[t - 1 h, t)` | at `t` | as the column's name says |

pub(crate) mod json;
pub(crate) mod measure;
pub mod met_norway;
pub mod neutral_csv;
pub mod nws;
pub mod open_meteo;
mod parse_error;
pub mod recognize;
pub(crate) mod stamps;

pub use parse_error::ParseError;
