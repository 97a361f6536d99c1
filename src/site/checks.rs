//! What no single value shows: values that do not go together.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::fault::Fault;
use super::found::shortened;
use super::keys;
use super::section::{Section, Sections};
use super::{Kind, shift_check};
use crate::units::{BondWidth, Length, UnitSystem};

/// Adds a fault for everything in the file that does not go together.
pub(super) fn check(sections: &Sections, units: UnitSystem, faults: &mut Vec<Fault>) {
    shift_check::check(sections, faults);
    welder_names(sections, faults);
    for welder in sections.list("welders[]") {
        heats(welder, units, faults);
        speeds(welder, units, faults);
    }
    for sheet in sections.list("sheet") {
        roll(sheet, units, faults);
    }
    for power in sections.list("power") {
        cord(power, faults);
    }
}

/// A fault of a key of this section, at its line.
pub(super) fn fault(section: &Section, path: &'static str, sentence: &str) -> Fault {
    let shown = keys::find(path).map_or(path.to_owned(), |key| section.shown_key(key));
    Fault {
        line: section.line_of(path).unwrap_or(section.line),
        sentence: format!("`{shown}` {sentence}"),
        key: Some(shown),
    }
}

/// Two welders of one name cannot be told apart in a plan or a book, nor can two that differ only
/// by case or by spaces around.
fn welder_names(sections: &Sections, faults: &mut Vec<Fault>) {
    let path = "welders[].name";
    let mut taken: BTreeMap<String, usize> = BTreeMap::new();
    for welder in sections.list("welders[]") {
        let Some(name) = welder.text(path) else { continue };
        let line = welder.line_of(path).unwrap_or(welder.line);
        match taken.entry(name.trim().to_lowercase()) {
            Entry::Vacant(free) => {
                free.insert(line);
            }
            Entry::Occupied(first) => {
                let (name, first) = (shortened(&name), first.get());
                let sentence = format!(
                    "is \"{name}\", which is taken on line {first}; expected every welder to have \
                     a name of its own"
                );
                faults.push(fault(welder, path, &sentence));
            }
        }
    }
}

fn heats(welder: &Section, units: UnitSystem, faults: &mut Vec<Fault>) {
    let (low_path, max_path) = ("welders[].heat_low", "welders[].heat_max");
    let (Some(low), Some(max)) = (welder.number(low_path), welder.number(max_path)) else {
        return;
    };
    if low < max {
        return;
    }
    let sign = units.temperature();
    let (low, max) = (said(welder, low_path, low, sign), said(welder, max_path, max, sign));
    // The one that the file gives is the one to change.
    faults.push(if welder.is_given(low_path) {
        fault(welder, low_path, &format!("is {low}; expected less than `heat_max`, {max}"))
    } else {
        fault(welder, max_path, &format!("is {max}; expected more than `heat_low`, {low}"))
    });
}

fn speeds(welder: &Section, units: UnitSystem, faults: &mut Vec<Fault>) {
    let (min_path, max_path) = ("welders[].speed_min", "welders[].speed_max");
    if welder.choice::<Kind>("welders[].kind") == Some(Kind::Hand) {
        let given = [min_path, max_path].into_iter().filter(|path| welder.is_given(path));
        faults.extend(given.map(|path| {
            let sentence = "is given, but a hand welder has no travel speed; expected a welder of \
                kind \"automatic\", or no such key";
            fault(welder, path, sentence)
        }));
        return;
    }
    let (Some(min), Some(max)) = (welder.number(min_path), welder.number(max_path)) else {
        return;
    };
    if min <= max {
        return;
    }
    let sign = units.travel_speed();
    let (min, max) = (said(welder, min_path, min, sign), said(welder, max_path, max, sign));
    faults.push(if welder.is_given(min_path) {
        fault(welder, min_path, &format!("is {min}; expected at most `speed_max`, {max}"))
    } else {
        fault(welder, max_path, &format!("is {max}; expected at least `speed_min`, {min}"))
    });
}

/// A lap of half a roll covers next to nothing: a slip of units.
fn roll(sheet: &Section, units: UnitSystem, faults: &mut Vec<Fault>) {
    let (width, lap) = ("sheet.width", "sheet.lap");
    let (Some(wide), Some(lapped)) = (sheet.number(width), sheet.number(lap)) else { return };
    let lap_of = Length::from_meters(BondWidth::from_units(lapped, units).millimeters() / 1000.0);
    if 2.0 * lap_of.meters() < Length::from_units(wide, units).meters() {
        return;
    }
    let (lapped, wide) =
        (format!("{lapped} {}", units.rain()), format!("{wide} {}", units.length()));
    let sentence = format!("is {lapped}; expected less than half of `width`, {wide}");
    faults.push(fault(sheet, lap, &sentence));
}

/// A number with its unit, and that it is the default where the file does not give it.
fn said(section: &Section, path: &str, number: f64, sign: &str) -> String {
    let origin = if section.is_given(path) { "" } else { " (its default)" };
    format!("{number} {sign}{origin}")
}

fn cord(power: &Section, faults: &mut Vec<Fault>) {
    let (awg, metric) = ("power.cord_gauge_awg", "power.cord_mm2");
    if power.is_given(awg) && power.is_given(metric) {
        // The later of the two is the one too many.
        let later = if power.line_of(awg) > power.line_of(metric) { awg } else { metric };
        let sentence = "says the cord's gauge a second time; expected `cord_gauge_awg` or \
            `cord_mm2`, not both";
        faults.push(fault(power, later, sentence));
    }
}
