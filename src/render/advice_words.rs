//! Advice, cautions and how a test weld is made, in words; each piece of advice with its source or
//! *common practice*.

use chrono::{DateTime, Utc};

use super::{figures, open_roof};
use crate::plan::{Advice, DayPlan, HeatSchedule};
use crate::units::{Temperature, UnitSystem};
use crate::words::{Language, tell};

/// A piece of advice, with its source or *common practice*.
pub fn advice(advice: &Advice, plan: &DayPlan) -> String {
    let (language, units) = (plan.language, plan.units);
    let clock = |at: DateTime<Utc>| figures::clock(at, plan.time_zone);
    let watts = |watts: f64| figures::whole(watts);
    match advice {
        Advice::Stale => tell!(language, "advice-stale"),
        Advice::Lightning { clear_minutes } => {
            tell!(language, "advice-lightning", minutes = *clear_minutes)
        }
        Advice::StormWind { from } => {
            tell!(language, "advice-storm-wind", from = figures::wind(*from, units))
        }
        Advice::Seal { rain_from, sealed_by, after_shift } => {
            let (rain, sealed) = (clock(*rain_from), clock(*sealed_by));
            if *after_shift {
                tell!(language, "advice-seal-after-work", rain, sealed)
            } else {
                tell!(language, "advice-seal", rain, sealed)
            }
        }
        Advice::Open(roof) => open_roof::open_roof(roof, plan),
        Advice::Dusk { dark_from } => tell!(language, "advice-dusk", dark = clock(*dark_from)),
        Advice::Wet => tell!(language, "advice-wet"),
        Advice::Dew => {
            let margin = match units {
                UnitSystem::Us => "5 °F",
                UnitSystem::Metric => "3 °C",
            };
            tell!(language, "advice-dew", margin)
        }
        Advice::Ice => tell!(language, "advice-ice"),
        Advice::Heat { index, schedule, test_after_minutes } => {
            let index = figures::temperature(*index, units);
            heat(language, index, *schedule, *test_after_minutes)
        }
        Advice::Cold { below, wind_chill } => cold(language, *below, *wind_chill, units),
        Advice::Gust => tell!(language, "advice-gust"),
        Advice::Shield => tell!(language, "advice-shield"),
        Advice::GeneratorShort { available_w, wanted_w } => {
            let (available, wanted) = (watts(*available_w), watts(*wanted_w));
            tell!(language, "advice-generator-short", available, wanted)
        }
        Advice::GeneratorSmall { rated_w, wanted_w } => {
            let (rated, wanted) = (watts(*rated_w), watts(*wanted_w));
            tell!(language, "advice-generator-small", rated, wanted)
        }
        Advice::GeneratorShared => tell!(language, "advice-generator-shared"),
        Advice::CordDrop { welder, drop_pct, watts_pct } => {
            let (drop, watts) = (format!("{drop_pct:.1}"), watts(*watts_pct));
            tell!(language, "advice-cord", welder, drop, watts)
        }
    }
}

fn heat(language: Language, index: String, schedule: HeatSchedule, minutes: u32) -> String {
    match schedule {
        HeatSchedule::Usual => tell!(language, "advice-heat", index, minutes),
        HeatSchedule::Rest { work_minutes: work, rest_minutes: rest } => {
            tell!(language, "advice-heat-rest", index, rest, work, minutes)
        }
        HeatSchedule::Beyond => tell!(language, "advice-heat-beyond", index, minutes),
    }
}

fn cold(
    language: Language,
    below: Temperature,
    wind_chill: Option<Temperature>,
    units: UnitSystem,
) -> String {
    let below = figures::temperature(below, units);
    match wind_chill {
        Some(chill) => {
            let chill = figures::temperature(chill, units);
            tell!(language, "advice-cold-chill", below, chill)
        }
        None => tell!(language, "advice-cold", below),
    }
}

/// How the trial is cut and peeled, in the site's units. *Common practice.*
pub fn how_to_test(language: Language, units: UnitSystem) -> [String; 5] {
    let (width, system) = match units {
        UnitSystem::Us => ("1 in", "us"),
        UnitSystem::Metric => ("25 mm", "metric"),
    };
    let widths = tell!(language, "how-widths", units = system);
    [
        tell!(language, "how-weld"),
        tell!(language, "how-cut", width),
        tell!(language, "how-peel", widths),
        tell!(language, "how-window"),
        tell!(language, "how-none"),
    ]
}

/// The usual cautions. The crew's own competent person and local rules decide.
pub fn cautions(language: Language) -> [String; 4] {
    [
        tell!(language, "caution-nozzle"),
        tell!(language, "caution-generator"),
        tell!(language, "caution-edge"),
        tell!(language, "caution-peel-decides"),
    ]
}
