//! How the middle of the heat window moves with the sheet.
//!
//! From ratios only: no face temperature is ever shown, see `physics::fusion`.

use crate::physics::fusion::{
    self, CenterShift, Heater, PP_BASED, PVC, Plastic, ShareRange, Surroundings,
};
use crate::site::{Polymer, Site, Welder};
use crate::testweld::EarlierWindow;
use crate::units::{Temperature, TemperatureDifference, TravelSpeed};

use super::settings::start_speed;

/// What moves the middle of the window on one site.
#[derive(Debug, Clone)]
pub(crate) struct CenterModel {
    plastic: Plastic,
    /// Of each automatic welder; a hand welder is taken at the rule's speed.
    speeds: Vec<(TravelSpeed, TravelSpeed)>,
    /// A shift that asks for a test.
    pub(crate) limit: TemperatureDifference,
}

impl CenterModel {
    pub(crate) fn of(site: &Site) -> Self {
        // A bracket finds the middle no finer than half its step.
        let smallest = site
            .welders
            .iter()
            .map(|welder| welder.heat_step)
            .fold(None, |least: Option<TemperatureDifference>, step| match least {
                Some(least) if !step.reaches(least) => Some(step),
                Some(least) => Some(least),
                None => Some(step),
            })
            .unwrap_or(TemperatureDifference::from_fahrenheit(100.0));
        Self {
            plastic: plastic(site.sheet.polymer),
            speeds: site.welders.iter().filter_map(|welder| welder.speed).collect(),
            limit: site.rules.sheet_shift_heat.unwrap_or(smallest / 2.0),
        }
    }

    /// The share that the face gains at the speed held after a test at `ambient`.
    ///
    /// Of the fastest automatic welder, whatever their order: the faster, the smaller the share and
    /// the further a change of the sheet moves the middle.
    pub(super) fn share(&self, ambient: Temperature) -> Option<ShareRange> {
        let by_rule = start_speed(ambient);
        let held = self.speeds.iter().map(|&(slow, fast)| by_rule.clamp(slow, fast));
        let fastest = |one: TravelSpeed, other: TravelSpeed| {
            if other.feet_per_minute() > one.feet_per_minute() { other } else { one }
        };
        fusion::face_share(self.plastic, held.reduce(fastest).unwrap_or(by_rule))
    }
}

/// How far the middle moves from one test to a later moment, at the same speed.
pub(super) fn shift(share: ShareRange, then: Surroundings, now: Surroundings) -> CenterShift {
    // The setting is taken for the temperature of the air at the lap, which the machine controls.
    fusion::window_center_shift(share, Heater::TemperatureControlled, then, now)
}

/// The likeliest of [`shift`], for a `rise_per_sheet_drop` of the share at the test.
pub(super) fn nominal_shift(
    rise_per_sheet_drop: f64,
    then: Surroundings,
    now: Surroundings,
) -> TemperatureDifference {
    fusion::nominal_center_shift(rise_per_sheet_drop, Heater::TemperatureControlled, then, now)
}

/// Where the middle of an earlier window is to be expected over a sheet of another temperature, at
/// the speed now held. Within the welder's heats; the bracket itself is left where it is.
pub(super) fn middle_now(
    site: &Site,
    welder: &Welder,
    window: &EarlierWindow,
    speed: Option<TravelSpeed>,
    sheet: Temperature,
) -> Option<Temperature> {
    let (record_sheet, record_speed) = (window.sheet?, window.speed?);
    let share = fusion::face_share(plastic(site.sheet.polymer), record_speed)?;
    // The air's own part drops out for a machine that controls the heat of its air.
    let around = |sheet| Surroundings { sheet, ambient: sheet };
    let by_sheet = shift(share, around(record_sheet), around(sheet)).nominal;
    let by_speed = match speed {
        Some(speed) if !speed.same_as(record_speed) => {
            fusion::air_for_speed(share.nominal, window.center, record_sheet, record_speed, speed)?
        }
        _ => TemperatureDifference::from_kelvin(0.0),
    };
    let middle = window.center + by_sheet + by_speed;
    Some(middle.max(welder.heat_low).min(welder.heat_max))
}

/// Heat that one more unit of speed is worth to `welder` at its setting `heat` over `sheet`.
pub(super) fn heat_per_foot_per_minute(
    site: &Site,
    welder: &Welder,
    speed: TravelSpeed,
    heat: Temperature,
    sheet: Temperature,
) -> Option<TemperatureDifference> {
    welder.speed?;
    let share = fusion::face_share(plastic(site.sheet.polymer), speed)?;
    fusion::air_per_speed(share.nominal, heat, sheet, speed)
}

const fn plastic(polymer: Polymer) -> Plastic {
    match polymer {
        // A ketone ethylene ester sheet is a PVC alloy.
        Polymer::Pvc | Polymer::Kee => PVC,
        Polymer::Tpo => PP_BASED,
    }
}
