//! The site file: place, shift, breaks, sheet, welders, power, rules; its defaults and faults.
//!
//! [`keys`] is the one table of every key. [`load`] reads a file by it and tells every fault at
//! once; [`rules_in_force`] shows what holds and [`reference()`] documents it, by the same table.

mod build;
mod checks;
mod fault;
mod found;
mod identity;
pub mod keys;
mod lines;
mod load;
mod model;
mod names;
mod nearest;
mod origin;
mod parse_value;
mod read;
mod reference;
mod rules_in_force;
mod section;
mod shift_check;
mod syntax;
mod value;

pub use fault::{Fault, SiteFaults};
pub use identity::site_key;
pub use load::{Loaded, MAX_BYTES, load};
pub use model::{
    Break, Color, Kind, Optics, Polymer, Power, Publish, Reminders, Roll, Rules, Sheet, Shift,
    Site, SourceName, WeatherSettings, Welder,
};
pub use origin::{Origin, Origins};
pub use reference::reference;
pub use rules_in_force::rules_in_force;
