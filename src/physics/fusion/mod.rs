//! Hot air on the face of a sheet: how far the face follows, and what moves with what.
//!
//! The face of the sheet under the nozzle gains a share θ of the step from its own temperature to
//! the air's. Only ratios leave this room: how much more air a cooler sheet needs, how much heat a
//! foot per minute is worth. The face's temperature itself depends on numbers that nobody measures
//! on a roof, so there is no function for it, and no plan shows it.

mod sensitivity;
mod share;
mod solid;

pub use sensitivity::{
    CenterShift, Heater, Surroundings, air_for_speed, air_per_speed, nominal_center_shift,
    speed_gain_per_kelvin, window_center_shift,
};
pub use share::{FaceShare, ShareRange, face_share};
pub use solid::{PP_BASED, PVC, Plastic, Solid, heated_fraction};
