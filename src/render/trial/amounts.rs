//! Amounts that only test welds have.

use crate::render::figures::{round_to, whole};
use crate::units::{BondWidth, Temperature, TemperatureDifference, Thickness, UnitSystem};
use crate::words::{Language, tell};

/// `1.5 in`, `38 mm`.
pub(super) fn width(value: BondWidth, units: UnitSystem) -> String {
    match units {
        UnitSystem::Us => format!("{} in", round_to(value.inches(), 100.0)),
        UnitSystem::Metric => format!("{} mm", round_to(value.millimeters(), 10.0)),
    }
}

/// `925 °F`, `487.5 °C`: a dial may stand between whole degrees.
pub(super) fn heat(value: Temperature, units: UnitSystem) -> String {
    format!("{} {}", heat_figure(value, units), units.temperature())
}

/// `925`, `487.5`.
pub(super) fn heat_figure(value: Temperature, units: UnitSystem) -> String {
    round_to(value.in_units(units), 10.0).to_string()
}

/// `700, 800 and 900 °F`.
pub(super) fn heats(language: Language, values: &[Temperature], units: UnitSystem) -> String {
    let figures: Vec<String> = values.iter().map(|value| heat_figure(*value, units)).collect();
    let listed = match figures.split_last() {
        Some((last, before)) if !before.is_empty() => {
            tell!(language, "list-and", before = before.join(", "), last)
        }
        _ => figures.concat(),
    };
    format!("{listed} {}", units.temperature())
}

/// `250 °F`, without its sign.
pub(super) fn degrees(value: TemperatureDifference, units: UnitSystem) -> String {
    format!("{} {}", whole(value.abs().in_units(units)), units.temperature())
}

/// `60 mil`, `1.5 mm`.
pub(super) fn thickness(value: Thickness, units: UnitSystem) -> String {
    let parts = match units {
        UnitSystem::Us => 1.0,
        UnitSystem::Metric => 100.0,
    };
    format!("{} {}", round_to(value.in_units(units), parts), units.thickness())
}

/// `1 strip`, `3 strips`.
pub(super) fn strips(language: Language, count: usize) -> String {
    tell!(language, "strips", count)
}

/// `1 trial`, `3 trials`, for the office.
pub(super) fn counted(count: usize, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}
