//! What heat and cold do to people at work: felt heat, felt cold, rest.
//!
//! Public guidance in numbers. It informs a competent person on site and replaces none.

mod heat_index;
mod wind_chill;
mod work_rest;

pub use heat_index::{FULL_SUN_ADDS_UP_TO, HeatBand, heat_index, rothfusz1990};
pub use wind_chill::{FROSTBITE_IN_30_MINUTES, frostbite_possible, wind_chill};
pub use work_rest::{Sun, WorkLoad, WorkRest, air_for_work_rest, work_rest};
