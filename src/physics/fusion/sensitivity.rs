//! What has to move when the sheet, the air or the speed moves, for the weld to stay the same.

use super::share::{FaceShare, ShareRange};
use crate::units::{Temperature, TemperatureDifference, TravelSpeed};

/// Share of the setting's rise over ambient that arrives at the lap when the jet draws in the most
/// outdoor air. An assumption: 0.7 to 0.9 is usual, and wind lowers it.
const JET_REACH_LEAST: f64 = 0.7;
/// The nominal reading of a setting: that the air at the lap has it.
const JET_REACH_NOMINAL: f64 = 1.0;

/// How the welder makes its heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heater {
    /// It holds the set temperature of its air, whatever air it draws in.
    TemperatureControlled,
    /// It adds a fixed rise to the air it draws in: the air falls with ambient.
    FixedPower,
}

/// The temperatures around a lap at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Of the sheet's face before the welder comes.
    pub sheet: Temperature,
    /// Of the outdoor air.
    pub ambient: Temperature,
}

/// How far the middle of a heat window moves, with its range: `low` ≤ `nominal` ≤ `high`.
///
/// Positive: the middle lies hotter than before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CenterShift {
    /// The least, with its sign.
    pub low: TemperatureDifference,
    /// The middle: by the ratio (1 − θ)/θ alone.
    pub nominal: TemperatureDifference,
    /// The most, with its sign.
    pub high: TemperatureDifference,
}

/// How far the middle of the heat window moves from `then` to `now` at the same speed.
///
/// From the ratio only: to keep the face as it was, the air must rise (1 − θ)/θ for each degree
/// that the sheet is cooler. A heater of fixed power also has to make up what ambient has lost.
/// The nominal value takes the setting for the temperature of the air at the lap; the range holds
/// a jet that reaches only 0.7 of its rise over ambient, and the range of θ.
///
/// Derived from [`FaceShare::fraction`]: the face's balance, solved for the setting. Linear: exact
/// for any change as long as θ holds. A change that is not a number gives one that is not.
pub fn window_center_shift(
    share: ShareRange,
    heater: Heater,
    then: Surroundings,
    now: Surroundings,
) -> CenterShift {
    let sheet = now.sheet - then.sheet;
    let ambient = now.ambient - then.ambient;
    let nominal = nominal_center_shift(share.air_rise_per_sheet_drop(), heater, then, now);
    let corners = [share.low, share.high].into_iter().flat_map(|share| {
        let per_sheet = share.air_rise_per_sheet_drop();
        [JET_REACH_LEAST, JET_REACH_NOMINAL]
            .map(|reach| setting_shift(per_sheet, reach, heater, sheet, ambient).kelvin())
    });
    let (low, high) = corners.fold((nominal.kelvin(), nominal.kelvin()), |(low, high), corner| {
        (low.min(corner), high.max(corner))
    });
    CenterShift {
        low: TemperatureDifference::from_kelvin(low),
        nominal,
        high: TemperatureDifference::from_kelvin(high),
    }
}

/// [`CenterShift::nominal`] alone, for a `rise_per_sheet_drop` of [`ShareRange::air_rise_per_sheet_drop`]:
/// what a walk from minute to minute needs again and again.
pub fn nominal_center_shift(
    rise_per_sheet_drop: f64,
    heater: Heater,
    then: Surroundings,
    now: Surroundings,
) -> TemperatureDifference {
    let (sheet, ambient) = (now.sheet - then.sheet, now.ambient - then.ambient);
    setting_shift(rise_per_sheet_drop, JET_REACH_NOMINAL, heater, sheet, ambient)
}

/// With the air at the lap = ambient + reach·rise, and the face held:
/// rise = −((1 − θ)/θ·sheet + ambient)/reach; a controlled setting is ambient + rise.
fn setting_shift(
    rise_per_sheet_drop: f64,
    reach: f64,
    heater: Heater,
    sheet: TemperatureDifference,
    ambient: TemperatureDifference,
) -> TemperatureDifference {
    let wanted = sheet.kelvin() * rise_per_sheet_drop + ambient.kelvin();
    let rise = -wanted / reach;
    let setting = match heater {
        Heater::TemperatureControlled => rise + ambient.kelvin(),
        Heater::FixedPower => rise,
    };
    TemperatureDifference::from_kelvin(setting)
}

/// Heat that one more foot per minute is worth: how much hotter the air must be to keep the face
/// when the welder goes 1 ft/min faster than `speed`. The slope at `speed`.
///
/// `share` is the share at `speed`; `air` the setting, `sheet` the sheet before the welder comes.
/// Only the step between the two enters. `None` unless `air` is above `sheet` and the speed above 0.
pub fn air_per_speed(
    share: FaceShare,
    air: Temperature,
    sheet: Temperature,
    speed: TravelSpeed,
) -> Option<TemperatureDifference> {
    let step = step_to_air(air, sheet)?;
    let v = speed.feet_per_minute();
    let worth = step * (0.5 * share.b() * share.slope() / share.fraction() / v);
    (v > 0.0 && v.is_finite()).then_some(worth)
}

/// How much hotter the air must be to keep the face when the speed goes from `from` to `to`.
///
/// `share` is the share at `from`. Exact for a change of any size within the range of
/// [`FaceShare::from_b`]. `None` outside it, and unless `air` is above `sheet` and both speeds are
/// above 0.
pub fn air_for_speed(
    share: FaceShare,
    air: Temperature,
    sheet: Temperature,
    from: TravelSpeed,
    to: TravelSpeed,
) -> Option<TemperatureDifference> {
    let step = step_to_air(air, sheet)?;
    let faster = share.at_speed_ratio(to.feet_per_minute() / from.feet_per_minute())?;
    Some(step * (share.fraction() / faster.fraction() - 1.0))
}

/// Share of the speed that one kelvin of warmer sheet lets the welder gain at the same setting,
/// per kelvin: 0.01 is one percent.
///
/// With a heater of fixed power the air warms together with the sheet, so the gain is greater by
/// 1/(1 − θ). `None` unless `air` is above `sheet`.
pub fn speed_gain_per_kelvin(
    share: FaceShare,
    heater: Heater,
    air: Temperature,
    sheet: Temperature,
) -> Option<f64> {
    let step = step_to_air(air, sheet)?;
    let follows = match heater {
        Heater::TemperatureControlled => 1.0 - share.fraction(),
        Heater::FixedPower => 1.0,
    };
    Some(2.0 * follows / (step.kelvin() * share.b() * share.slope()))
}

fn step_to_air(air: Temperature, sheet: Temperature) -> Option<TemperatureDifference> {
    (air.is_above(sheet) && air.celsius().is_finite() && sheet.celsius().is_finite())
        .then(|| air - sheet)
}
