//! Figures of settings and trials as the phone shows and sends them: in the crew's units, to a tenth.

use crate::plan::Setting;
use crate::render::figures;
use crate::render::json::Figure;
use crate::site::Welder;
use crate::testweld::{JudgedTrial, RunSetting};
use crate::units::{Temperature, TravelSpeed, UnitSystem};

/// The first heat, step by step up to the maximum, which is the last: for a welder of which there is
/// no plan at hand.
pub(super) fn full_range(welder: &Welder, units: UnitSystem) -> Vec<Figure> {
    const MOST: usize = 60;
    let mut heats = Vec::new();
    let mut next = welder.heat_low;
    while next.is_below(welder.heat_max) && heats.len() < MOST {
        heats.push(next);
        next += welder.heat_step;
    }
    heats.push(welder.heat_max);
    heats.into_iter().filter_map(|heat| of_heat(heat, units)).collect()
}

pub(super) fn of_heat(heat: Temperature, units: UnitSystem) -> Option<Figure> {
    Figure::rounded(heat.in_units(units), 1)
}

pub(super) fn of_speed(speed: TravelSpeed, units: UnitSystem) -> Option<Figure> {
    Figure::rounded(speed.in_units(units), 1)
}

/// `8`, `2.4`; none by hand.
pub(super) fn speed_held(setting: &Setting, units: UnitSystem) -> Option<String> {
    setting.trial.speed_held.map(|speed| figures::travel_speed_figure(speed, units))
}

/// `925 °F · 8 ft/min`; `None` where there is nothing to weld at.
pub(super) fn to_run(judged: &JudgedTrial, units: UnitSystem) -> Option<String> {
    let RunSetting::RunAt { heat, speed } = judged.reading.setting else { return None };
    let heat = format!("{} {}", figures::round_to(heat.in_units(units), 10.0), units.temperature());
    let speed = speed.map(|speed| format!(" · {}", figures::travel_speed(speed, units)));
    Some(heat + &speed.unwrap_or_default())
}
