//! How long to work and to rest within an hour of heat.

use crate::units::{CONVERSION_NOISE, Temperature, TemperatureDifference};

/// How hard the work is. Source: NIOSHworkrest; the examples from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WorkLoad {
    /// Operating equipment, walking on the level, light hand tools.
    Light,
    /// Carrying 20 to 40 lb, hand tools for short periods.
    Moderate,
    /// Climbing, carrying more than 40 lb, hand tools for long periods, shoveling.
    Heavy,
}

/// What the schedule says for an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkRest {
    /// No rest beyond the usual breaks.
    Normal,
    /// Alternate; the two add up to an hour.
    Alternate {
        /// Minutes of work in an hour.
        work_minutes: u32,
        /// Minutes of rest in an hour, in shade.
        rest_minutes: u32,
    },
    /// The schedule stops: high danger of heat injury, other measures are needed.
    Caution,
}

/// Where people stand with respect to the sun.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sun {
    /// No shadows, in the shade or at night.
    Shade,
    /// Partly cloudy or overcast.
    PartCloud,
    /// No clouds.
    Full,
}

/// (whole °F at which it begins, minutes of work), ascending. Source: NIOSHworkrest.
type Steps = &'static [(f64, u32)];
const LIGHT: Steps = &[(106.0, 45), (107.0, 40), (108.0, 35), (109.0, 30), (110.0, 15), (111.0, 0)];
const MODERATE: Steps = &[
    (100.0, 45),
    (101.0, 40),
    (102.0, 35),
    (103.0, 30),
    (105.0, 25),
    (106.0, 20),
    (107.0, 15),
    (108.0, 0),
];
const HEAVY: Steps = &[
    (95.0, 45),
    (97.0, 40),
    (98.0, 35),
    (100.0, 30),
    (102.0, 25),
    (103.0, 20),
    (105.0, 15),
    (106.0, 0),
];

/// (relative humidity in %, °F to add). Source: NIOSHadjust, from memory.
const HUMIDITY_ADDS_F: &[(f64, f64)] =
    &[(10.0, -8.0), (20.0, -4.0), (30.0, 0.0), (40.0, 3.0), (50.0, 6.0), (60.0, 9.0)];

/// The schedule's hour for work of `load` in air of `adjusted` temperature.
///
/// Source: NIOSHworkrest, for people who are fit, rested, hydrated and under 40, in normal
/// clothing, at 30 % humidity and in air that can be felt to move. `adjusted` is the air
/// temperature after [`air_for_work_rest`]; it is read to the nearest whole °F, a half upwards.
/// Below the table's 90 °F: normal. Above its 112 °F: caution. `None` when it is not a number.
pub fn work_rest(adjusted: Temperature, load: WorkLoad) -> Option<WorkRest> {
    let whole_f = (adjusted.fahrenheit() + 0.5 + CONVERSION_NOISE).floor();
    if !whole_f.is_finite() {
        return None;
    }
    let steps = match load {
        WorkLoad::Light => LIGHT,
        WorkLoad::Moderate => MODERATE,
        WorkLoad::Heavy => HEAVY,
    };
    let minutes = steps.iter().rev().find(|(from, _)| whole_f >= *from).map(|(_, work)| *work);
    Some(match minutes {
        None => WorkRest::Normal,
        Some(0) => WorkRest::Caution,
        Some(work) => WorkRest::Alternate { work_minutes: work, rest_minutes: 60 - work },
    })
}

/// The air temperature to read the schedule at: `air` with what sun and humidity add.
///
/// Source: NIOSHadjust, from memory and not confirmed at the source: full sun +13 °F, part cloud
/// or overcast +7 °F; humidity 10 % −8, 20 % −4, 30 % 0, 40 % +3, 50 % +6, 60 % and more +9 °F.
/// Straight between those humidities (the source gives no rule), −8 °F below 10 %.
/// `None` when the humidity is outside 0 to 100 % or a value is not a number.
pub fn air_for_work_rest(air: Temperature, humidity_pct: f64, sun: Sun) -> Option<Temperature> {
    if !air.celsius().is_finite() || !(0.0..=100.0).contains(&humidity_pct) {
        return None;
    }
    let sun_adds = match sun {
        Sun::Shade => 0.0,
        Sun::PartCloud => 7.0,
        Sun::Full => 13.0,
    };
    Some(air + TemperatureDifference::from_fahrenheit(sun_adds + humidity_adds(humidity_pct)))
}

/// °F to add for the humidity: straight between the table's points, level beyond its ends.
fn humidity_adds(humidity_pct: f64) -> f64 {
    let mut added = HUMIDITY_ADDS_F[0].1;
    for pair in HUMIDITY_ADDS_F.windows(2) {
        let share = ((humidity_pct - pair[0].0) / (pair[1].0 - pair[0].0)).clamp(0.0, 1.0);
        added += share * (pair[1].1 - pair[0].1);
    }
    added
}
