//! The site file: place, shift, breaks, sheet, welders, power, rules; its defaults and faults.

mod model;

pub use model::{
    Break, Color, Kind, Optics, Polymer, Power, Reminders, Rules, Sheet, Shift, Site, SourceName,
    WeatherSettings, Welder,
};
