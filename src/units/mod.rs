//! Quantities as types, so that a unit mistake does not compile.
//!
//! Inside, every quantity is held in one unit; [`UnitSystem`] says how it is shown. A temperature
//! and a temperature *difference* are two types: 20 °F apart is not 20 °F.

pub(crate) mod instant;
mod length;
mod speed;
mod system;
mod temperature;

pub use length::{Area, BondWidth, Length, RainDepth, Thickness};
pub use speed::{TravelSpeed, WindSpeed};
pub use system::UnitSystem;
pub(crate) use temperature::ZERO_CELSIUS_K;
pub use temperature::{Temperature, TemperatureDifference};

/// Room for the rounding of unit conversions when a value is held against a threshold: a billionth
/// of the unit. Far below anything a thermometer, an anemometer or a rain gauge can show.
pub const CONVERSION_NOISE: f64 = 1e-9;
