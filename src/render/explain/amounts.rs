//! Numbers with one digit more than the crew reads.

use crate::plan::Measure;
use crate::render::figures::round_to;
use crate::units::{
    RainDepth, Temperature, TemperatureDifference, TravelSpeed, UnitSystem, WindSpeed,
};

/// `63.1 °F`.
pub(super) fn temperature(value: Temperature, units: UnitSystem) -> String {
    format!("{} {}", decimals(value.in_units(units), 1), units.temperature())
}

/// `10.1 °F`, with a minus where it is below zero.
pub(super) fn difference(value: TemperatureDifference, units: UnitSystem) -> String {
    format!("{} {}", decimals(value.in_units(units), 1), units.temperature())
}

/// `+10.1 °F`: a change, always with its sign.
pub(super) fn change(value: TemperatureDifference, units: UnitSystem) -> String {
    let shown = difference(value, units);
    if shown.starts_with('-') { shown } else { format!("+{shown}") }
}

/// `12.3 mph`.
pub(super) fn wind(value: WindSpeed, units: UnitSystem) -> String {
    format!("{} {}", decimals(value.in_units(units), 1), units.wind())
}

/// `0.010 in`, `0.25 mm`; a film is thin and gets a digit more: `0.0008 in`, `0.020 mm`.
pub(super) fn depth(value: RainDepth, units: UnitSystem) -> String {
    let (places, thin) = match units {
        UnitSystem::Us => (3, 0.01),
        UnitSystem::Metric => (2, 0.1),
    };
    let shown = value.in_units(units);
    let places = if shown != 0.0 && shown.abs() < thin { places + 1 } else { places };
    format!("{} {}", decimals(shown, places), units.rain())
}

/// `8 ft/min`, `2.4 m/min`.
pub(super) fn travel_speed(value: TravelSpeed, units: UnitSystem) -> String {
    crate::render::figures::travel_speed(value, units)
}

/// `83 %`.
pub(super) fn percent(value: f64) -> String {
    format!("{} %", decimals(value, 0))
}

/// `31.2°`.
pub(super) fn degrees(value: f64) -> String {
    format!("{}°", decimals(value, 1))
}

/// `488 W/m²`.
pub(super) fn radiation(w_m2: f64) -> String {
    format!("{} W/m²", decimals(w_m2, 0))
}

/// A measure of a rule in its own unit.
pub(super) fn measure(value: Measure, units: UnitSystem) -> String {
    match value {
        Measure::Temperature(value) => temperature(value, units),
        Measure::Difference(value) => difference(value, units),
        Measure::Wind(value) => wind(value, units),
        Measure::Depth(value) => depth(value, units),
        Measure::Percent(value) => percent(value),
        Measure::Degrees(value) => degrees(value),
        Measure::Named(true) => "named".to_owned(),
        Measure::Named(false) => "not named".to_owned(),
    }
}

/// To so many places behind the point, without `-0`.
pub(super) fn decimals(value: f64, places: u8) -> String {
    let rounded = round_to(value, 10_f64.powi(i32::from(places)));
    format!("{rounded:.0$}", usize::from(places))
}
