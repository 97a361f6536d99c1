//! The start-speed rule step by step.

use super::{SpeedSteps, WelderSpeed};
use crate::plan::settings::start_speed;
use crate::site::Site;
use crate::units::Temperature;

/// The rule worked for `ambient` and kept within each automatic welder's range.
pub(super) fn steps(site: &Site, ambient: Temperature) -> SpeedSteps {
    let by_rule = start_speed(ambient);
    let welders = site.welders.iter().filter_map(|welder| {
        let (slowest, fastest) = welder.speed?;
        let speed = by_rule.clamp(slowest, fastest);
        Some(WelderSpeed { name: welder.name.clone(), slowest, fastest, speed })
    });
    // The rule read backwards, so that its rounding stands in one place only.
    let rounded = Temperature::from_fahrenheit((by_rule.feet_per_minute() - 2.0) * 10.0);
    SpeedSteps { ambient, rounded, by_rule, welders: welders.collect() }
}
