//! How much roof may be opened before rain, in words.

use super::figures;
use crate::plan::{DayPlan, Lack, OpenFrom, RoofToOpen};
use crate::units::{Area, CONVERSION_NOISE, UnitSystem};
use crate::words::{Language, tell};

/// Square feet in a square, the roofer's measure; *common practice*.
const SQUARE_FT2: f64 = 100.0;

/// What can be sealed in time, and what the site file would have to say for more.
pub(super) fn open_roof(roof: &RoofToOpen, plan: &DayPlan) -> String {
    let language = plan.language;
    if roof.lacks.contains(&Lack::AutomaticWelder) {
        return tell!(language, "advice-open-by-hand");
    }
    let sealed = figures::clock(roof.sealed_by, plan.time_zone);
    if roof.from.is_empty() {
        return tell!(language, "advice-open-none", sealed);
    }
    let stretches: Vec<String> = roof.from.iter().map(|open| open_from(open, plan)).collect();
    let stretches = stretches.join("; ");
    let keys: Vec<String> = roof.lacks.iter().map(|lack| format!("`{}`", lack.key())).collect();
    match keys.is_empty() {
        true => tell!(language, "advice-open", sealed, stretches),
        false => {
            tell!(language, "advice-open-lacks", sealed, stretches, keys = keys.join(", "))
        }
    }
}

fn open_from(open: &OpenFrom, plan: &DayPlan) -> String {
    let (language, units) = (plan.language, plan.units);
    let start = figures::clock(open.start, plan.time_zone);
    let seam = format!("{} {}", down(open.seam.in_units(units), 10.0), units.length());
    let Some(area) = open.area.map(|area| self::area(language, area, units)) else {
        return tell!(language, "open-seam", seam, start);
    };
    match open.rolls {
        Some(rolls) => tell!(language, "open-seam-rolls", seam, start, area, rolls),
        None => tell!(language, "open-seam-area", seam, start, area),
    }
}

fn area(language: Language, area: Area, units: UnitSystem) -> String {
    match units {
        UnitSystem::Us => {
            let feet = down(area.square_feet(), 10.0);
            let squares = down(area.square_feet() / SQUARE_FT2, 1.0);
            tell!(language, "open-area-us", feet, squares)
        }
        UnitSystem::Metric => {
            tell!(language, "open-area-metric", meters = down(area.square_meters(), 1.0))
        }
    }
}

/// To the whole step below: more is more than can be sealed.
fn down(value: f64, step: f64) -> String {
    figures::whole((value / step + CONVERSION_NOISE).floor() * step)
}
